// How a run stands on this device: what the server said last, and what was done here since.
import { read, stops } from "./run-judge.js";

function judged(each, entered, steps) {
  const spec = steps.find((one) => one.id === each.fields.step)?.reading;
  if (!spec) return { again: "" };
  const found = read(typed(each.fields), spec.quantity);
  if (found.again) return found;
  return { ...found, stop: stops(spec, found, entered[spec.first]) };
}

// Where the text and the button tell two units it is asked which.
export const typed = (fields) => {
  const text = (fields.text ?? "").trim();
  return fields.unit && !text.endsWith(fields.unit) ? `${text} ${fields.unit}`.trim() : text;
};

export function standing({ steps, lapses }, state, waiting) {
  const now = {
    done: new Set(state.done), here: new Set(), stop: "", held: state.held, begun: {}, since: {},
    entered: { ...state.entered }, last: null,
  };
  for (const each of waiting) {
    const step = each.fields.step;
    if (each.do === "step.done" || each.do === "lock.hung" || each.do === "wait.over") now.here.add(step);
    else if (each.do === "wait.begun") now.begun[step] = each.clock;
    else if (each.do === "step.differs") now.stop = "the car differs from its file: this run is over";
    else if (each.do === "run.stopped") now.stop = "stopped here";
    else if (each.do === "run.held") now.held = true;
    else if (each.do === "run.resumed") now.held = false;
    else if (lapses.includes(each.do)) now.stop ||= "what was measured no longer holds";
    else if (each.do === "reading.entered") {
      const found = judged(each, now.entered, steps);
      now.last = { step, text: typed(each.fields), ...found };
      if (found.again !== undefined) continue;
      if (found.stop) now.stop = `${typed(each.fields)}: ${found.stop}`;
      else now.here.add(step);
      now.entered[step] = { si: found.si, step: found.step };
      now.since[step] = each.clock;
    }
  }
  // Waiting here after a stop is of no use: what was read before it no longer counts.
  const open = steps.filter((each) => !now.done.has(each.id) && !now.here.has(each.id));
  const proving = steps.find((each) => each.act === "prove");
  now.current = now.stop && proving ? proving.id : (waiting.length && !state.stop ? open[0]?.id : state.current) ?? "";
  return now;
}
