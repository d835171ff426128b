// What was done on this device and is not yet with the server: kept in the browser's own database,
// in order, until the server says it has it. No PIN is ever kept.
const NAME = "swapwright-runs";
let opened = null;

function database() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      const made = asked.result;
      made.createObjectStore("acts", { keyPath: "sequence", autoIncrement: true }).createIndex("run", "run");
      made.createObjectStore("refused", { keyPath: "key" }).createIndex("run", "run");
      made.createObjectStore("states", { keyPath: "run" });
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return opened;
}

async function within(store, mode, work) {
  const base = await database();
  return new Promise((resolve, reject) => {
    const transaction = base.transaction(store, mode, { durability: "strict" });
    const asked = work(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(asked?.result);
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export const add = (act) => within("acts", "readwrite", (store) => store.add(act));
// A browser that keeps nothing has nothing waiting: what is done goes to the server straight away.
export const acts = (run) => within("acts", "readonly", (store) => store.index("run").getAll(run)).catch(() => []);
export const drop = (sequence) => within("acts", "readwrite", (store) => store.delete(sequence));
export const refuse = (act) => within("refused", "readwrite", (store) => store.put(act));
export const refused = (run) => within("refused", "readonly", (store) => store.index("run").getAll(run)).catch(() => []);
export const forget = (key) => within("refused", "readwrite", (store) => store.delete(key));
export const keepState = (state) => within("states", "readwrite", (store) => store.put(state)).catch(() => {});
export const keptState = (run) => within("states", "readonly", (store) => store.get(run)).catch(() => undefined);

export function device() {
  let name = localStorage.getItem("swapwright-device");
  if (!name) {
    name = `device-${crypto.randomUUID()}`;
    localStorage.setItem("swapwright-device", name);
  }
  return name;
}

// A clock nobody sets: seconds this page has been open, carried over a reload of the same tab. What
// went by while no page was open is not counted, so a wait may come out longer, never shorter.
const CLOCK = "swapwright-clock";
let boot = `device:${crypto.randomUUID()}`;
let before = 0;
const openedAt = performance.now();

function held(name) {
  return new Promise((resolve) => {
    navigator.locks.request(name, { ifAvailable: true }, (lock) => {
      resolve(lock !== null);
      return lock === null ? undefined : new Promise(() => {});
    }).catch(() => resolve(false));
  });
}

export async function startClock() {
  const kept = JSON.parse(sessionStorage.getItem(CLOCK) || "null");
  const fresh = boot;
  // A tab that was doubled has a copy of the first one's clock: only one of them goes on with it.
  if (kept && (await held(`clock ${kept.boot}`))) {
    boot = kept.boot;
    before = kept.ticks;
  } else {
    await held(`clock ${fresh}`);
  }
  const note = () => sessionStorage.setItem(CLOCK, JSON.stringify({ boot, ticks: ticks() }));
  note();
  setInterval(note, 1000);
  addEventListener("pagehide", note);
}

export const ticks = () => before + (performance.now() - openedAt) / 1000;
export const mark = () => ({ wall: new Date().toISOString(), boot, ticks: ticks() });

// The same as the server's: within one start of a clock its own count decides.
export function elapsed(begun, now) {
  if (begun.boot === now.boot) return Math.max(now.ticks - begun.ticks, 0);
  const byWall = (Date.parse(now.wall) - Date.parse(begun.wall)) / 1000;
  return Math.max(Math.min(byWall, now.ticks), 0);
}
