// What a reading says, held against what the step expects, while the server cannot be asked. The
// server judges every reading anew once it gets it, and may be stricter: it knows what the proving
// source gives.
const UNITS = {
  "dc voltage": { V: 1, mV: 1e-3, kV: 1e3 },
  "ac voltage": { V: 1, mV: 1e-3, kV: 1e3 },
  resistance: { ohm: 1, mohm: 1e-3, kohm: 1e3, Mohm: 1e6, Gohm: 1e9 },
  current: { A: 1, mA: 1e-3, kA: 1e3 },
  temperature: { degC: 1 },
};
const ZERO = { degC: 273.15 };
const NUMBER = /^\s*([-+\u2212]?)\s*(\d*)(?:([.,])(\d+))?\s*(.*?)\s*$/s;
const ABOUT = /^\s*([<>\u2264\u2265~\u2248])/;
const OVER = /^\s*([-+\u2212]?\s*OL|over\s*range|overload)\b/i;

// Returns {si, step}, or {again} with {isKept} for a number whose unit is not one of the step's.
export function read(text, quantity) {
  if (OVER.test(text)) return { si: Infinity, step: 0 };
  const about = ABOUT.exec(text);
  if (about) {
    const told = read(text.slice(about[0].length), quantity);
    const isAbove = (about[1] === ">" || about[1] === "\u2265") && quantity.endsWith("voltage");
    return told.again === undefined && isAbove ? { si: Infinity, step: 0 } : told;
  }
  const found = NUMBER.exec(text);
  if (!found || !(found[2] || found[4])) {
    return { again: "not a number with a unit: type it as on the meter", isKept: false };
  }
  const [, sign, whole, mark, part = "", unit] = found;
  const factor = UNITS[quantity]?.[unit.replace(/\u03a9|\u2126/g, "ohm")];
  if (factor === undefined) {
    return { again: "which unit? Type the number with it; the first entry is kept", isKept: true };
  }
  const minus = sign === "-" || sign === "\u2212" ? -1 : 1;
  let size = Number(`${whole || "0"}.${part || "0"}`);
  // A comma may part thousands or decimals: the larger of both counts.
  if (mark === "," && part.length === 3) size = Math.max(size, Number(whole + part));
  return {
    si: minus * size * factor + (ZERO[unit] ?? 0),
    step: factor * 10 ** -part.length,
  };
}

// Returns why a reading stops the job; empty where it does not. `first` is the reading it repeats.
export function stops(spec, entered, first) {
  const isVoltage = spec.quantity.endsWith("voltage");
  const value = isVoltage ? Math.abs(entered.si) : entered.si;
  if (spec.limit !== null && value > spec.limit) return "above what absence may be verified at";
  if (value > spec.high) return "higher than expected";
  if (value < spec.low) return "lower than expected";
  if (first && isVoltage) {
    const allowed = Math.max(entered.step, first.step) * 1.000001;
    if (value - Math.abs(first.si) > allowed) return "risen since the first reading";
  }
  return "";
}
