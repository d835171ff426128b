// A drawing as a picture file: the server draws it, the browser only puts it on dots.
(() => {
  "use strict";
  const WIDE = 2400;

  const picture = async (button) => {
    const answer = await fetch(button.dataset.png);
    if (!answer.ok) throw new Error("no drawing");
    const address = URL.createObjectURL(new Blob([await answer.text()], { type: "image/svg+xml" }));
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = WIDE;
    canvas.height = Math.round((WIDE * image.naturalHeight) / image.naturalWidth);
    const paper = canvas.getContext("2d");
    paper.fillStyle = "#ffffff";
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(image, 0, 0, canvas.width, canvas.height);
    URL.revokeObjectURL(address);
    const blob = await new Promise((done) => { canvas.toBlob(done, "image/png"); });
    const link = document.createElement("a");
    link.href = URL.createObjectURL(blob);
    link.download = button.dataset.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  };

  const offer = () => {
    for (const button of document.querySelectorAll("button[data-png]")) button.hidden = false;
  };
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("button[data-png]");
    if (button) picture(button).catch(() => { button.textContent = "no picture: the drawing did not come"; });
  });
  document.addEventListener("DOMContentLoaded", offer);
  document.addEventListener("htmx:after:swap", offer);
})();
