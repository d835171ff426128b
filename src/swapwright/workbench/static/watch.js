// The build file may be changed in an editor, or in another tab: the sheet follows it, but never
// while a field is being filled in; then one line says so, with a button.
(() => {
  "use strict";
  const EVERY = 2000;
  let asked = 0;
  const sheet = () => document.querySelector("#page[data-watch]");
  const line = () => document.getElementById("elsewhere");

  const isTyped = (field) => field.value !== field.defaultValue;
  const isBeingEdited = () => {
    const main = document.getElementById("main");
    const at = document.activeElement;
    if (main.contains(at) && at.matches("input, select, textarea")) return true;
    const fields = [...main.querySelectorAll("input:not([type=hidden], [type=range]), textarea")];
    return main.querySelector(".entry.refused") !== null || fields.some(isTyped);
  };

  const show = async () => {
    const page = sheet();
    line().hidden = true;
    if (!page) return;
    await window.htmx.ajax("GET", page.dataset.here, {
      target: "#page", select: "#page", swap: "outerMorph",
    });
  };

  const look = async () => {
    const page = sheet();
    if (!page) line().hidden = true;
    if (!page || document.hidden || asked > 0) return;
    const from = page.dataset.hash;
    let now = "";
    try {
      const answer = await fetch(page.dataset.watch, { cache: "no-store" });
      if (!answer.ok) return;
      now = (await answer.text()).trim();
    } catch {
      return; // the line is down: what is typed next will say so
    }
    if (asked > 0 || sheet()?.dataset.hash !== from) return;
    if (now === from) line().hidden = true;
    else if (isBeingEdited()) line().hidden = false;
    else await show();
  };

  document.addEventListener("htmx:before:request", () => { asked += 1; });
  document.addEventListener("htmx:finally:request", () => { asked = Math.max(0, asked - 1); });
  document.addEventListener("click", (event) => {
    if (!event.target.closest("#elsewhere button")) return;
    if (asked > 0) line().hidden = true; // what was typed is on its way: its answer shows the file
    else show();
  });
  document.addEventListener("visibilitychange", look);
  setInterval(look, EVERY);
})();
