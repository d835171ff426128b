// Moves a mass on the side view, by pointer or by arrow keys. Where it is on the drawing is all
// that is known here: the workbench answers what that does, and keeps it through the page's own
// form once it is let go.
(() => {
  "use strict";
  const STEP = 0.01;
  const LONG_STEP = 0.1;
  let held = null;
  let wanted = null;
  let running = null;
  let put = "";

  const sheet = () => document.querySelector("[data-side]");
  const svgOf = (mass) => mass.ownerSVGElement;
  const scaleOf = (mass) => Number(svgOf(mass).dataset.scale);
  const tell = (words) => {
    const line = document.getElementById("side-told");
    if (line) line.textContent = words;
  };

  // Without a script a mass is a picture; with one it can be moved.
  const ready = () => {
    const side = sheet();
    if (!side) return;
    for (const mass of side.querySelectorAll(".mass[tabindex]")) {
      mass.setAttribute("role", "slider");
      mass.setAttribute("aria-valuemin", side.dataset.least);
      mass.setAttribute("aria-valuemax", side.dataset.most);
      mass.setAttribute("aria-valuenow", mass.dataset.x);
      mass.setAttribute("aria-valuetext", mass.getAttribute("aria-label"));
    }
    const last = put && document.getElementById(put);
    if (last) {
      if (document.activeElement === document.body) last.focus({ preventScroll: true });
      tell(`Saved: ${last.getAttribute("aria-label")}.`);
    }
    put = "";
  };
  document.addEventListener("DOMContentLoaded", ready);
  document.addEventListener("htmx:after:swap", ready);

  const place = (mass, x) => {
    const away = (x - Number(mass.dataset.x)) * scaleOf(mass);
    const leader = svgOf(mass).querySelector(`[data-leader-of="${mass.dataset.row}"]`);
    for (const each of [mass, leader]) if (each) each.setAttribute("transform", `translate(${away} 0)`);
    mass.setAttribute("aria-valuenow", String(x));
  };

  const show = (element, isShown) => {
    if (element instanceof SVGElement) {
      if (isShown) element.removeAttribute("display");
      else element.setAttribute("display", "none");
    } else {
      element.hidden = !isShown;
    }
  };

  const apply = (answer) => {
    const side = sheet();
    if (!side) return;
    for (const each of side.querySelectorAll("[data-live]")) {
      if (each.dataset.live in answer.texts) each.textContent = answer.texts[each.dataset.live];
    }
    for (const group of side.querySelectorAll("[data-verdict-of]")) {
      for (const each of group.querySelectorAll("[data-verdict]")) {
        show(each, each.dataset.verdict === answer.verdicts[group.dataset.verdictOf]);
      }
    }
    for (const each of side.querySelectorAll("[data-place]")) {
      const at = answer.places[each.dataset.place];
      show(each, at !== undefined);
      if (at === undefined) continue;
      const away = (at - Number(each.dataset.x)) * Number(each.ownerSVGElement.dataset.scale);
      each.setAttribute("transform", `translate(${away} 0)`);
    }
  };

  // One question at a time; of those that come meanwhile only the last is asked.
  const send = async ({ row, x }) => {
    const form = new URLSearchParams({ token: document.querySelector("input[name=token]").value });
    if (row !== null) form.set(`x:${row}`, String(x));
    try {
      const response = await fetch(sheet().dataset.weights, { method: "POST", body: form });
      const answer = await response.json();
      return answer;
    } catch {
      return { problem: "The workbench does not answer: the mass is put back." };
    }
  };
  const run = async () => {
    let answer = null;
    while (wanted) {
      const now = wanted;
      wanted = null;
      answer = await send(now);
      if (answer.problem) tell(answer.problem);
      else {
        apply(answer);
        if (now.row !== null) {
          const mass = document.getElementById(`mass-${now.row}`);
          mass?.setAttribute("aria-valuetext", answer.rows[now.row]);
          tell(`${answer.rows[now.row]}: ${answer.told}`);
        }
      }
    }
    running = null;
    return answer;
  };
  const ask = (row, x) => {
    wanted = { row, x };
    running ??= run();
    return running;
  };

  const take = (mass, pointer, offset) => {
    const x = Number(mass.dataset.x);
    held = { mass, row: mass.dataset.row, start: x, x, pointer, offset };
    mass.classList.add("held");
  };
  const move = (x) => {
    const to = Math.round(x / STEP) * STEP;
    if (to === held.x) return;
    held.x = Number(to.toFixed(2));
    place(held.mass, held.x);
    ask(held.row, held.x);
  };
  const back = () => {
    if (!held) return;
    const { mass, start } = held;
    held = null;
    mass.classList.remove("held");
    place(mass, start);
    mass.setAttribute("aria-valuetext", mass.getAttribute("aria-label"));
    ask(null, 0).then((answer) => {
      if (answer && !answer.problem) tell("Put back where it was.");
    });
  };
  const letGo = async () => {
    if (!held) return;
    const now = held;
    held = null;
    now.mass.classList.remove("held");
    if (now.x === now.start) {
      place(now.mass, now.start);
      return;
    }
    const answer = await ask(now.row, now.x);
    const form = document.getElementById(`form-entry-mass-${now.row}-x`);
    if (!answer || answer.problem || !form) {
      place(now.mass, now.start);
      ask(null, 0);
      return;
    }
    put = now.mass.id;
    form.elements.text.value = answer.rows[now.row];
    form.requestSubmit();
  };

  const onDrawing = (svg, event) => {
    const point = new DOMPoint(event.clientX, event.clientY);
    return point.matrixTransform(svg.getScreenCTM().inverse()).x;
  };
  const massAt = (event) => event.target.closest?.("[data-side] .mass[tabindex]");

  document.addEventListener("pointerdown", (event) => {
    const mass = massAt(event);
    if (!mass || event.button !== 0) return;
    event.preventDefault();
    mass.focus({ preventScroll: true });
    const origin = Number(svgOf(mass).dataset.origin);
    const at = (onDrawing(svgOf(mass), event) - origin) / scaleOf(mass);
    take(mass, event.pointerId, at - Number(mass.dataset.x));
    mass.setPointerCapture(event.pointerId);
  });
  // A finger on a mass moves it, not the page.
  const hold = (event) => massAt(event) && event.preventDefault();
  document.addEventListener("touchstart", hold, { passive: false });
  document.addEventListener("pointermove", (event) => {
    if (!held || held.pointer !== event.pointerId) return;
    const svg = svgOf(held.mass);
    const at = (onDrawing(svg, event) - Number(svg.dataset.origin)) / scaleOf(held.mass);
    move(at - held.offset);
  });
  document.addEventListener("pointerup", (event) => {
    if (held && held.pointer === event.pointerId) letGo();
  });
  document.addEventListener("pointercancel", (event) => {
    if (held && held.pointer === event.pointerId) back();
  });

  document.addEventListener("keydown", (event) => {
    const mass = massAt(event);
    if (!mass || event.ctrlKey || event.altKey || event.metaKey) return;
    const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (way) {
      event.preventDefault();
      if (!held) take(mass, null, 0);
      move(held.x + way * (event.shiftKey ? LONG_STEP : STEP));
    } else if (event.key === "Escape") {
      back();
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      letGo();
    }
  });
  document.addEventListener("focusout", (event) => {
    if (held && held.pointer === null && massAt(event) === held.mass) letGo();
  });
})();
