// A run of a procedure on a device beside the car. Every act goes into the browser's own database
// first and then, in order, to the server; while the network is gone the page goes on by itself.
// It may only ever make things here more dangerous than the server says, never less for others.
import * as queue from "./run-queue.js";
import { read } from "./run-judge.js";
import { dropPage, keepPage } from "./run-kept.js";
import { pads } from "./run-pads.js";
import { madeSmaller } from "./run-photo.js";
import { standing, typed } from "./run-standing.js";

const page = JSON.parse(document.getElementById("run-data").textContent);
const steps = page.steps;
const AGAIN = 3000;
const SILENCE = 20000;
const EVERY = 10000;
const PATIENCE = 8000;
const AT_ONCE = 20;

let state = { ...page.state, mark: queue.mark() };
let waiting = [];
let ofOthers = [];
let refused = [];
let hasNetwork = navigator.onLine;
let heard = -SILENCE;
let why = "";
let told = "";
let sending = false;
let later = 0;
const others = new BroadcastChannel(`run ${page.run}`);

const at = (id) => document.getElementById(id);
const act = at("act");
const cards = [...document.querySelectorAll(".card")];
const specOf = (id) => steps.find((each) => each.id === id);

// --- how it stands: what the server said, and what was done here since -------------------------

function left(step, now) {
  const spec = specOf(step);
  if (!spec) return null;
  const mark = queue.mark();
  if (spec.act === "wait") {
    const begun = now.begun[step] ?? state.begun[step];
    if (begun && (now.begun[step] || begun.boot === mark.boot)) {
      return Math.max(spec.wait - queue.elapsed(begun, mark), 0);
    }
  } else if (spec.reading?.first && now.since[spec.reading.first]) {
    return Math.max(spec.reading.after - queue.elapsed(now.since[spec.reading.first], mark), 0);
  }
  if (state.left[step] === undefined) return null;
  return Math.max(state.left[step] - queue.elapsed(state.mark, mark), 0);
}

// --- showing it ---------------------------------------------------------------------------------

function show(isMoved = false) {
  const now = standing(page, state, waiting);
  for (const card of cards) {
    const isDue = card.dataset.step === now.current && !state.ended;
    card.hidden = !isDue;
    card.disabled = !isDue;
    if (isDue) showCard(card, now);
  }
  for (const line of document.querySelectorAll(".progress [data-step]")) showLine(line, now);
  showNotes(now);
  if (isMoved) document.querySelector(".card:not([hidden]) h1")?.focus({ preventScroll: false });
}

function showCard(card, now) {
  showLocks(card);
  const remains = left(card.dataset.step, now);
  const line = card.querySelector(".countdown, .after[data-first]:not([data-first=''])");
  if (!line) return;
  const isWait = line.classList.contains("countdown");
  line.hidden = remains === null || (!isWait && remains <= 0);
  const number = isWait ? minutes(remains ?? 0) : String(Math.ceil(remains ?? 0));
  if (line.querySelector(".left").textContent !== number) line.querySelector(".left").textContent = number;
  if (!isWait) return;
  card.querySelector("[value='wait.begun']").hidden = remains !== null;
  card.querySelector("[value='wait.over']").hidden = remains === null || remains > 0;
}

const minutes = (time) => {
  const whole = Math.ceil(time);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
};

// A lock hangs once: one that hangs, or was hung here and not yet sent, is not offered again.
function showLocks(card) {
  const field = card.querySelector("select[name=lock]");
  if (!field) return;
  const used = new Set(waiting.map((each) => each.fields.lock));
  for (const each of field.options) each.disabled = each.hidden = !state.free.includes(each.value) || used.has(each.value);
  if (!field.selectedOptions[0] || field.selectedOptions[0].disabled) {
    field.value = [...field.options].find((each) => !each.disabled)?.value ?? "";
  }
}

function showLine(line, now) {
  const id = line.dataset.step;
  const word = now.done.has(id) ? "done" : now.here.has(id) ? "done here, not sent" : id === now.current ? "now" : "";
  if (line.dataset.state === word) return;
  line.dataset.state = word;
  line.querySelector(".state").textContent = word;
}

const counted = (count) => (count === 1 ? "1 act" : `${count} acts`);

function showNotes(now) {
  const count = waiting.length;
  const acts = counted(count);
  let words = "";
  if (ofOthers.length) {
    const names = [...new Set(ofOthers.map((each) => page.people[each.fields.by] ?? "somebody else"))].join(", ");
    words = `${counted(ofOthers.length)} of ${names} to be sent from this device: who did them logs in here and opens this page. Until then the run stands where the server has it.`;
  } else if (!hasNetwork) {
    words = `no network: ${acts} kept on this device; nothing here is less dangerous for anybody else until they are sent`;
  } else if (why) words = `${acts} kept on this device: ${why}`;
  else if (count) words = `sending ${acts}`;
  put("network", words);
  at("marks-old").hidden = isLive();
  document.documentElement.dataset.live = isLive() ? "yes" : "no";
  const judgedHere = now.last && now.last.again === undefined
    ? `${now.last.text}: ${now.last.stop || "as expected"} (judged on this device; the server judges it again)` : "";
  put("judged-here", judgedHere);
  put("stopped-here", now.stop ? `Stopped: treat it as live. ${now.stop}. Prove the meter again and find the source; naming what was found needs the network.` : "");
  put("told-here", told);
  const list = at("refused-here");
  list.hidden = refused.length === 0;
  list.querySelector("ul").replaceChildren(...refused.map(refusal));
}

function put(id, words) {
  const line = at(id);
  if (line.textContent !== words) line.textContent = words;
  line.hidden = !words;
}

function refusal(each) {
  const line = document.createElement("li");
  const title = specOf(each.fields.step)?.title ?? "";
  const text = each.fields.text ? ` ${typed(each.fields)}` : "";
  line.append(`${page.names[each.do] ?? each.do}: ${title}${text} (${each.read_at}). Not taken: ${each.words} `);
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "I have read this";
  button.addEventListener("click", async () => {
    await queue.forget(each.key);
    await look();
  });
  line.append(button);
  return line;
}

// --- doing something ----------------------------------------------------------------------------

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("[data-acts]")) return;
  event.preventDefault();
  take(form, event.submitter).catch((error) => tell(`not kept: ${error.message}`));
});

function tell(words) {
  told = words;
  show();
}

async function take(form, submitter) {
  told = "";
  const { fields, photo } = gathered(form, submitter);
  forgetPins(form);
  const name = fields.do;
  delete fields.do;
  if ("pin" in fields) return sign(name, fields, form);
  if (name === "reading.entered") {
    const spec = specOf(fields.step).reading;
    const found = read(typed(fields), spec.quantity);
    if (found.again && !found.isKept) return tell(found.again);
    if (found.again) told = found.again;
  }
  const smaller = photo && (await madeSmaller(photo));
  if (photo && !smaller) return tell("this is no photo this browser can read: take another one");
  if (photo) await keep("photo.added", { step: fields.step, by: fields.by, what: specOf(fields.step)?.title ?? "photo" }, smaller);
  else if (name === "step.done" && specOf(fields.step).photo) return tell("this step takes a photo: take it first");
  if (name !== "photo.added" || !photo) await keep(name, fields);
  clear(form);
  if (fields.mode) setModes(fields.mode);
  await look(true);
  send();
}

function gathered(form, submitter) {
  const data = new FormData(form, submitter);
  const fields = {};
  let photo = null;
  for (const [name, value] of data) {
    if (value instanceof File) photo = value.size ? value : photo;
    else if (name !== "token" && name !== "key") fields[name] = value;
  }
  if ("seen" in fields) fields.seen = state.seen;
  const person = act.elements.by;
  if (person && !("by" in fields)) fields.by = person.value;
  return { fields, photo };
}

// Where this browser keeps nothing the act goes to the server straight away: STOP and readings do not
// hang on a full disk.
async function keep(name, fields, photo = null) {
  const act = { ...made(name, fields), ...(photo ? { photo } : {}) };
  try {
    await queue.add(act);
  } catch {
    const answer = await post([act]);
    told = answer.results[0].refused || answer.results[0].again || "";
    await stand(answer.state).catch(() => {});
  }
}

function made(name, fields) {
  return {
    run: page.run, key: crypto.randomUUID(), do: name, fields, device: queue.device(),
    read_at: new Date().toISOString(), clock: queue.mark(),
  };
}

// A PIN stays in its field no longer than it takes to send it, whatever becomes of that.
function forgetPins(within = document) {
  for (const field of within.querySelectorAll("input.pin")) field.value = "";
}

// What the meter is set to is said once, and again where it changes.
function setModes(mode) {
  for (const field of document.querySelectorAll("select[name=mode]")) field.value = mode;
}

function clear(form) {
  for (const field of form.querySelectorAll("input[name=text], input[name=what], input[name=pin], input[type=file]")) field.value = "";
  for (const field of form.querySelectorAll("input[name=unit]")) field.checked = false;
}

// What takes a PIN goes to the server at once, behind everything that was done before it, or not at
// all: a PIN is never kept on a device.
let unsure = null;
async function sign(name, fields, form) {
  await send();
  waiting = await own();
  if (waiting.length || !hasNetwork) return tell("this takes a PIN, which the server alone checks: it has to wait for the network");
  const same = unsure && unsure.do === name && unsure.fields.step === fields.step && unsure.fields.person === fields.person;
  const one = { ...made(name, fields), ...(same ? { key: unsure.key } : {}) };
  unsure = { ...one, fields: { ...fields, pin: "", second_pin: "" } };
  try {
    const answer = await post([one]);
    unsure = null;
    told = answer.results[0].refused || "";
    clear(form);
    await stand(answer.state);
  } catch (error) {
    return lost(error);
  }
  await look(true);
}

// --- to the server and back ---------------------------------------------------------------------

// How old an act is when it is sent, in seconds: at least by what this page counted, which a tablet
// asleep does not; at most by the time of day as well.
function aged({ clock }) {
  const now = queue.mark();
  const young = clock.boot === now.boot ? Math.max(now.ticks - clock.ticks, 0) : 0;
  const byWall = Math.max((Date.parse(now.wall) - Date.parse(clock.wall)) / 1000, 0);
  return { ...clock, young, old: Math.max(young, byWall) };
}

async function post(acts, isSecond = false) {
  const data = new FormData();
  data.set("token", state.token);
  data.set("acts", JSON.stringify(acts.map(({ photo, run, ...rest }) => ({ ...rest, clock: aged(rest) }))));
  const photo = acts.length === 1 && acts[0].photo;
  if (photo) data.set("photo", photo, photo.name || "photo.jpg");
  const answer = await fetch(page.acts, {
    method: "POST", body: data, cache: "no-store", redirect: "error",
    signal: AbortSignal.timeout(photo ? 60000 : PATIENCE),
  });
  if (answer.ok) return answer.json();
  if (answer.status === 401) await dropPage();
  const words = (await answer.text()).slice(0, 300);
  // A server that was started anew does not know this page's word: it is asked for a new one once.
  if (answer.status === 403 && !isSecond) {
    await refresh();
    return post(acts, true);
  }
  throw Object.assign(new Error(answer.status === 401 ? "log in again in another tab; they are sent then" : words), { status: answer.status });
}

function batchOf(acts) {
  if (acts[0].photo) return acts.slice(0, 1);
  const end = acts.findIndex((each) => each.photo);
  return acts.slice(0, Math.min(AT_ONCE, end < 0 ? acts.length : end));
}

// On a device several people use each one's acts are sent under their own login and no other.
const isOwn = (each) => !page.own || !each.fields.by || each.fields.by === page.own;
const own = async () => (await queue.acts(page.run)).filter(isOwn);

async function send() {
  if (sending) return sending;
  clearTimeout(later);
  sending = navigator.locks.request(`sender ${page.run}`, async () => {
    for (let acts = await own(); acts.length; acts = await own()) {
      const batch = batchOf(acts);
      const answer = await posted(batch);
      for (const each of batch) {
        const result = answer.results.find((found) => found.key === each.key);
        if (!result) continue;
        if (result?.refused) await queue.refuse({ ...each, words: result.refused, photo: undefined });
        if (result?.again) told = result.again;
        await queue.drop(each.sequence);
      }
      await stand(answer.state);
      found(true);
    }
  }).catch(lost);
  await sending;
  sending = false;
  await look();
  others.postMessage("sent");
}

// What the server cannot even read holds nothing up behind it: it is told here, and kept to be read.
async function posted(batch) {
  try {
    return await post(batch);
  } catch (error) {
    if (![400, 413, 422].includes(error.status)) throw error;
    if (batch.length > 1) return posted(batch.slice(0, 1));
    const results = [{ key: batch[0].key, refused: error.message }];
    return { results, state };
  }
}

function found(isThere) {
  hasNetwork = isThere;
  why = "";
  if (isThere) heard = performance.now();
}

// What was not heard of for a while is not known: the mark of the voltage says so itself.
const isLive = () => hasNetwork && performance.now() - heard < SILENCE;

function lost(error) {
  if (error.status) {
    found(true);
    why = error.message;
  } else found(false);
  clearTimeout(later);
  later = setTimeout(send, AGAIN);
  show();
}

async function refresh() {
  const answer = await fetch(page.state_at, { cache: "no-store", redirect: "error", signal: AbortSignal.timeout(PATIENCE) });
  if (answer.status === 401) await dropPage();
  if (!answer.ok) throw Object.assign(new Error(await answer.text()), { status: answer.status });
  await stand(await answer.json());
  found(true);
}

async function stand(fresh) {
  if (fresh.head < state.head) return;
  state = { ...fresh, mark: queue.mark() };
  showServer();
  await keepState();
}

// The word this page's forms carry is not kept: it belongs to whoever is logged in.
function keepState() {
  const { token, ...kept } = state;
  return queue.keepState({ run: page.run, ...kept });
}

function showServer() {
  at("now").innerHTML = state.now_html;
  at("conditions").innerHTML = state.conditions_html;
  at("clearing").hidden = !state.clear;
  at("resuming").hidden = !state.held;
  at("holding").hidden = state.held;
  const hung = state.hung.length ? state.hung : [["", "none hangs"]];
  at("lifted").replaceChildren(...hung.map(([value, words]) => new Option(words, value)));
  for (const card of cards) {
    const line = card.querySelector("[data-signed]");
    if (line) line.textContent = (state.signed[card.dataset.step] ?? []).join(", ") || "nobody yet";
  }
}

async function look(isMoved = false) {
  const kept = await queue.acts(page.run);
  waiting = kept.filter(isOwn);
  ofOthers = kept.filter((each) => !isOwn(each));
  refused = await queue.refused(page.run);
  show(isMoved);
}

async function ask() {
  try {
    await refresh();
    show();
    if (waiting.length) send();
  } catch (error) {
    lost(error);
  }
}

function follow() {
  const source = new EventSource(page.live);
  source.onmessage = (event) => {
    const isFresh = JSON.parse(event.data).number > state.head;
    if (isFresh || !hasNetwork) ask();
  };
  source.addEventListener("beat", () => {
    if (hasNetwork) heard = performance.now();
    else ask();
  });
  source.onerror = () => {
    if (source.readyState === EventSource.CLOSED) setTimeout(follow, AGAIN);
    ask();
  };
}

// --- beginning ----------------------------------------------------------------------------------

function remembered() {
  for (const field of act.querySelectorAll("select[name=by], select[name^='item.']")) {
    const name = `swapwright ${page.run} ${field.name}`;
    const kept = sessionStorage.getItem(name);
    if (kept && [...field.options].some((each) => each.value === kept)) field.value = kept;
    field.addEventListener("change", () => sessionStorage.setItem(name, field.value));
  }
}

async function begin() {
  // A page that was kept shows an older step: none is shown until it is known which is due.
  document.documentElement.classList.add("scripted", "starting");
  pads();
  remembered();
  await queue.startClock();
  state.mark = queue.mark();
  const kept = await queue.keptState(page.run);
  if (kept && kept.head >= state.head) {
    // The page may be a copy: what is shown of it is what the server said last.
    state = { ...kept, token: page.state.token };
    showServer();
  } else {
    await keepState();
  }
  await look();
  document.documentElement.classList.remove("starting");
  others.onmessage = () => queue.keptState(page.run).then((fresh) => {
    if (fresh && fresh.head > state.head) {
      state = { ...fresh, token: state.token };
      showServer();
    }
    return look();
  });
  addEventListener("online", ask);
  addEventListener("pagehide", () => forgetPins());
  document.addEventListener("visibilitychange", () => { if (document.hidden) forgetPins(); });
  addEventListener("offline", () => lost({}));
  setInterval(show, 500);
  setInterval(ask, EVERY);
  navigator.storage?.persist?.().catch(() => {});
  follow();
  keepPage(page).catch(() => { at("not-kept").hidden = Boolean(navigator.serviceWorker?.controller); });
  await ask();
}

begin().catch((error) => {
  document.documentElement.classList.remove("starting");
  tell(`this page cannot keep what is done on it: ${error.message}`);
});
