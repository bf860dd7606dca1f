import type { Scenario } from "../core/design/types.ts";

/** One value that two designs do not share. */
export interface Difference {
  path: string;
  a: string;
  b: string;
}

const shown = (v: unknown): string => (v === undefined ? "–" : v === null ? "none" : typeof v === "object" ? JSON.stringify(v) : String(v));

const isPlain = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null && !Array.isArray(v);

/** names of a file do not make a difference to the car */
const NO_PARTS = new Set(["name", "teaches", "loadCases", "tracks", "$schema"]);

/** Every parameter in which two designs differ, by its path in the file. */
export function differences(a: Scenario, b: Scenario): Difference[] {
  const out: Difference[] = [];
  const walk = (x: unknown, y: unknown, path: string): void => {
    if (Object.is(x, y)) return;
    if (isPlain(x) && isPlain(y)) {
      for (const key of new Set([...Object.keys(x), ...Object.keys(y)])) if (path || !NO_PARTS.has(key)) walk(x[key], y[key], path ? `${path}.${key}` : key);
      return;
    }
    if (Array.isArray(x) && Array.isArray(y) && JSON.stringify(x) === JSON.stringify(y)) return;
    if (shown(x) !== shown(y)) out.push({ path, a: shown(x), b: shown(y) });
  };
  walk(a, b, "");
  return out;
}

/** "corner.lowerArm.section.heightMm" in words: "lower arm, section height (mm)". */
export function pathWords(path: string): string {
  let words = known.get(path);
  if (words === undefined) {
    words = wordsOf(path);
    known.set(path, words);
  }
  return words;
}

const known = new Map<string, string>();

function wordsOf(path: string): string {
  const unit = /(NPerMm|NmmPerDeg|Mm|Kg|MPa|Deg|N)$/.exec(path)?.[1] ?? "";
  const units: Record<string, string> = { NPerMm: "N/mm", NmmPerDeg: "N·mm/°", Mm: "mm", Kg: "kg", MPa: "MPa", Deg: "°", N: "N" };
  const bare = unit ? path.slice(0, -unit.length) : path;
  const words = bare
    .replace(/^corner\./, "")
    .split(".")
    .map((s) => s.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase())
    .join(", ");
  return unit ? `${words} (${units[unit]})` : words;
}
