// A pad of digits beside each PIN, large enough for a gloved hand.
function number(button) {
  const field = document.getElementById(button.closest("[data-for]").dataset.for);
  field.value = button.value === "back" ? field.value.slice(0, -1) : (field.value + button.value).slice(0, 12);
}

export function pads() {
  for (const field of document.querySelectorAll("input.pin")) {
    const pad = document.createElement("div");
    pad.className = "pad";
    pad.dataset.for = field.id;
    for (const each of ["1", "2", "3", "4", "5", "6", "7", "8", "9", "back", "0"]) {
      const button = document.createElement("button");
      button.type = "button";
      button.value = each;
      button.textContent = each === "back" ? "⌫" : each;
      if (each === "back") button.setAttribute("aria-label", "take the last digit back");
      button.addEventListener("click", () => number(button));
      pad.append(button);
    }
    field.closest(".field").after(pad);
  }
}
