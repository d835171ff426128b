// The one-line diagram: the element pointed at, or reached by keyboard, tells its figures in a line
// beside the drawing. The words are those of the drawing's own titles.
(() => {
  "use strict";
  const tell = (event) => {
    const part = event.target.closest && event.target.closest(".one-line .element, .one-line .label");
    if (!part) return;
    const title = part.querySelector("title");
    const line = part.closest("section, .circuit-sheet")?.querySelector("[data-told]");
    if (!title || !line) return;
    line.textContent = title.textContent;
    line.classList.add("is-figure");
  };
  document.addEventListener("pointerover", tell);
  document.addEventListener("focusin", tell);

  // A box a person has touched keeps its own tick when the page is changed under it: the switches
  // stand as the page was sent, never as they were clicked before.
  document.addEventListener("htmx:after:swap", () => {
    for (const box of document.querySelectorAll("#throw input[type=checkbox]")) {
      box.checked = box.defaultChecked;
    }
  });
})();
