import { DEG, G, mpsToKmh } from "./units.ts";

/** Sizes of units against the first one of their kind, as people type them. g stands for grams; as an acceleration it is a kind of its own. */
const KINDS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  length: { mm: 1, cm: 10, m: 1000, in: 25.4, inch: 25.4, '"': 25.4 },
  mass: { kg: 1, g: 0.001, gram: 0.001, grams: 0.001 },
  // a weight put on something pushes with g times its mass
  force: { N: 1, kN: 1000, kg: G, g: G / 1000, gram: G / 1000, grams: G / 1000 },
  angle: { "°": 1, deg: 1, degrees: 1, rad: 1 / DEG },
  speed: { "km/h": 1, kmh: 1, kph: 1, "m/s": mpsToKmh(1) },
  turning: { rpm: 1, "1/min": 1, "/min": 1, "rev/min": 1 },
  stiffness: { "N/mm": 1, "N/cm": 0.1, "N/m": 0.001 },
  tilting: { "N·mm/°": 1, "Nmm/°": 1, "Nmm/deg": 1, "N·m/°": 1000, "Nm/°": 1000, "Nm/deg": 1000 },
  moment: { N·m: 1, Nm: 1, N·cm: 0.01, Ncm: 0.01, N·mm: 0.001, Nmm: 0.001 },
  weightOfLength: { "g/mm": 1, "g/cm": 0.1 },
  stress: { "N/mm²": 1, "N/mm2": 1, MPa: 1, GPa: 1000 },
  share: { "%": 1 },
  time: { min: 1, s: 1 / 60, h: 60 },
  acceleration: { g: 1, "m/s²": 1 / G, "m/s2": 1 / G },
  warmth: { "°C": 1, C: 1 },
};

export type Quantity = { ok: true; value: number } | { ok: false; message: string };

/** Tables of a column's cells ask for the same few units again and again. */
const found = new Map<string, Readonly<Record<string, number>>>();
const MOST_FOUND = 64;

function unitsFor(unit: string, kind: string | undefined, pitchMm: number | null): Readonly<Record<string, number>> {
  const key = `${unit}\n${kind}\n${pitchMm}`;
  let sizes = found.get(key);
  if (!sizes) {
    if (found.size >= MOST_FOUND) found.clear();
    sizes = sizesFor(unit, kind, pitchMm);
    found.set(key, sizes);
  }
  return sizes;
}

/** Sizes of the units that may stand behind a number whose field is in `unit`, in that unit. */
function sizesFor(unit: string, kind: string | undefined, pitchMm: number | null): Readonly<Record<string, number>> {
  if (unit === "holes")
    return {
      holes: 1,
      hole: 1,
      ...Object.fromEntries(pitchMm === null ? [] : Object.entries(KINDS.length as object).map(([name, size]) => [name, size / pitchMm])),
    };
  const same = (kind === undefined ? null : KINDS[kind]) ?? Object.values(KINDS).find((k) => k[unit] !== undefined) ?? {};
  const one = same[unit] ?? 1;
  const holes = KINDS.length === same && pitchMm !== null ? { hole: pitchMm, holes: pitchMm } : {};
  return Object.fromEntries(Object.entries({ ...same, ...holes }).map(([name, size]) => [name, size / one]));
}

/**
 * A number as people type it, in the unit of its field: decimal comma or point, a sign of either kind, blanks between thousands, and
 * behind it nothing or a unit of the same kind ("1,65 kg", "1650 g", "2 holes").
 * @param kind the kind of unit where the field's own unit does not tell it (g: mass or acceleration)
 * @param pitchMm hole pitch for lengths in holes; null: not asked for
 */
export function readQuantity(text: string, unit: string, kind?: string, pitchMm: number | null = null): Quantity {
  const clean = text
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .replace(/\u2212/g, "-")
    .trim();
  if (clean === "") return { ok: false, message: "a number is wanted" };
  const found = /^([+-]?)\s*(\d[\d .,]*|[.,]\d+)\s*(.*)$/.exec(clean);
  const number = found && plainNumber(found[2] as string);
  if (!found || number === null) return { ok: false, message: `“${clean.slice(0, 20)}” is no number` };
  const typed = (found[3] as string).trim().replace(/\*/g, "·");
  const sizes = unitsFor(unit, kind, pitchMm);
  const size = typed === "" ? 1 : (sizes[typed] ?? sizes[Object.keys(sizes).find((u) => u.toLowerCase() === typed.toLowerCase()) ?? ""]);
  if (size === undefined) {
    const known = Object.keys(sizes).filter((u) => !["gram", "grams", "inch", '"', "kmh", "kph", "hole"].includes(u));
    return { ok: false, message: `“${typed.slice(0, 12)}” is no unit here${known.length > 0 ? `; ${known.slice(0, 4).join(", ")}` : ""}` };
  }
  return { ok: true, value: (found[1] === "-" ? -1 : 1) * number * size };
}

/** "1,8", "4 500", "1.234,5": where both signs stand, the last is the decimal one; null where the figures make no number. */
function plainNumber(figures: string): number | null {
  const tight = figures.trim().replace(/ (?=\d{3}(\D|$))/g, "");
  if (/ /.test(tight)) return null;
  const last = Math.max(tight.lastIndexOf(","), tight.lastIndexOf("."));
  const decimal = last < 0 ? "" : (tight[last] as string);
  const other = decimal === "," ? "." : ",";
  const whole = last < 0 ? tight : tight.slice(0, last);
  const groups = whole.split(other);
  // thousands between the other signs come in threes, and the decimal sign comes once
  if (whole.includes(decimal || "\0") || groups.slice(1).some((g) => g.length !== 3)) return null;
  const value = Number(`${groups.join("")}.${last < 0 ? "0" : tight.slice(last + 1) || "0"}`);
  return Number.isFinite(value) ? value : null;
}

/** Size of a unit in another one of the same kind: 1000 of kg in g, 0.001 of N in kN. Null where either is none of that kind. */
export function unitSize(unit: string, inUnit: string, kind?: string, pitchMm: number | null = null): number | null {
  const read = readQuantity(`1 ${unit}`, inUnit, kind, pitchMm);
  return read.ok ? read.value : null;
}
