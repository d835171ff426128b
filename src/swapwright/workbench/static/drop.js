// A build file dropped anywhere on a page that takes one goes into its file field and is sent.
(() => {
  "use strict";
  const field = () => document.querySelector("#drop input[type=file]");
  const carriesFile = (event) => field() && [...(event.dataTransfer?.types || [])].includes("Files");
  const mark = (isOver) => document.getElementById("drop")?.classList.toggle("over", isOver);

  document.addEventListener("dragover", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "copy";
    mark(true);
  });
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) mark(false);
  });
  document.addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    mark(false);
    const taken = new DataTransfer();
    taken.items.add(event.dataTransfer.files[0]);
    field().files = taken.files;
    field().form.requestSubmit();
  });
  document.addEventListener("change", (event) => {
    if (event.target === field() && event.target.files.length) event.target.form.requestSubmit();
  });
})();
