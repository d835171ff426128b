// The board follows the shop: told by the server's events, or by asking now and then. Where neither
// answers it says so, since an old board must not be read as a new one.
(() => {
  "use strict";
  const EVERY = 4000;
  const LATE = 15000;
  let source = null;
  let heard = 0;

  const board = () => document.querySelector("#board[data-part]");
  const note = (isLive) => {
    const line = document.getElementById("not-live");
    if (line) line.hidden = isLive;
  };

  const read = async () => {
    const place = board();
    if (!place) return;
    try {
      const answer = await fetch(place.dataset.part, { cache: "no-store" });
      if (!answer.ok || answer.redirected) throw new Error("no board");
      const text = await answer.text();
      if (board() !== place) return;
      const held = place.contains(document.activeElement) && document.activeElement.getAttribute("href");
      place.innerHTML = text;
      if (held) place.querySelector(`[href="${held.replaceAll('"', "")}"]`)?.focus();
      heard = Date.now();
    } catch {
      // The line below tells it once it lasts.
    }
    note(Date.now() - heard < LATE);
  };

  const listen = () => {
    const place = board();
    if (!place || source || !place.dataset.live) return;
    source = new EventSource(place.dataset.live);
    source.onmessage = read;
    source.onerror = () => {
      if (source && source.readyState === EventSource.CLOSED) source = null;
    };
  };

  const look = () => {
    if (!board()) {
      if (source) source.close();
      source = null;
      return;
    }
    read();
  };

  listen();
  look();
  setInterval(look, EVERY);
})();
