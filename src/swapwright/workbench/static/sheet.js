// What a page does beyond forms and links: send an entry as soon as it is changed, keep what was
// typed while the line is down. Nothing is computed here.
(() => {
  "use strict";
  document.documentElement.classList.add("scripted");
  const wire = () => document.getElementById("wire");
  const kept = "swapwright:unsent:";

  document.addEventListener("change", (event) => {
    const form = event.target.closest("form[data-at-once]");
    if (form) form.requestSubmit();
  });

  // What is sent leaves no address behind: going back leads to pages, never to an act. But what
  // makes a new car leads to its page.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.method === "post" && !("leads" in form.dataset)) form.setAttribute("hx-push-url", "false");
  }, true);

  const tell = (words) => {
    const line = wire();
    if (!line) return;
    line.textContent = words;
    line.hidden = !words;
  };

  // A change that could not be sent stays in its field and in this tab until it could.
  const formOf = (detail) => (detail && detail.ctx && detail.ctx.sourceElement) || null;
  document.addEventListener("htmx:error", (event) => {
    const form = formOf(event.detail);
    if (!form || !form.matches) return;
    if (form.matches("form.entry[id]")) {
      sessionStorage.setItem(kept + form.id, form.elements.text.value);
      tell("Not saved: the workbench does not answer. What you typed is kept here and sent again.");
      setTimeout(() => document.getElementById(form.id)?.requestSubmit(), 3000);
    } else if (form.method === "post") {
      tell("Not sent: the workbench does not answer. What you typed is still here: send it again.");
    }
  });
  // A workbench started anew does not know the pages of the one before: the form gets its word from
  // the page as it is now, and is sent once more.
  const renewed = async (form) => {
    const answer = await fetch(location.href);
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const token = fresh.querySelector("input[name=token]")?.value;
    if (!token) return;
    for (const field of document.querySelectorAll("input[name=token]")) field.value = token;
    form.dataset.renewed = "yes";
    form.requestSubmit();
  };
  document.addEventListener("htmx:before:response", (event) => {
    const form = formOf(event.detail);
    if (event.detail.ctx.response.status !== 403 || form?.method !== "post" || form.dataset.renewed) return;
    event.preventDefault();
    renewed(form).catch(() => tell("Not sent: the workbench does not answer. What you typed is still here."));
  });
  document.addEventListener("htmx:after:request", (event) => {
    const form = formOf(event.detail);
    if (form && form.id) sessionStorage.removeItem(kept + form.id);
    tell("");
  });
  const restore = () => {
    for (const key of Object.keys(sessionStorage)) {
      if (!key.startsWith(kept)) continue;
      const form = document.getElementById(key.slice(kept.length));
      if (form) form.elements.text.value = sessionStorage.getItem(key);
    }
  };
  document.addEventListener("DOMContentLoaded", restore);

  // An address may point at one entry or one finding: open what it lies in.
  const open = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!target) return;
    for (let at = target; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true;
    target.scrollIntoView({ block: "center" });
    if (target.matches("input, select")) target.focus({ preventScroll: true });
  };
  document.addEventListener("DOMContentLoaded", open);
  window.addEventListener("hashchange", open);

  // What a person unfolded stays so when the page is made anew after a change.
  const folds = new Map();
  document.addEventListener("click", (event) => {
    const fold = event.target.closest("summary")?.parentElement;
    if (fold?.id) folds.set(fold.id, !fold.open);
  });
  document.addEventListener("htmx:after:swap", () => {
    for (const [id, isOpen] of folds) {
      const fold = document.getElementById(id);
      if (fold) fold.open = isOpen;
    }
  });

  // After a link the new page is where one reads on: from its top, and by the keyboard too.
  let shown = location.pathname, place = location.href;
  document.addEventListener("htmx:after:swap", (event) => {
    if (["watch", "candidates"].includes(event.target.id)) return; // a job going on is no new page
    if (location.pathname !== shown && !location.hash) {
      document.getElementById("main")?.focus({ preventScroll: true });
      scrollTo(0, 0);
    }
    if (location.href !== place && location.hash) open();
    shown = location.pathname;
    place = location.href;
  });
})();
