import type { Run } from "../design/tried.ts";
import { readQuantity } from "../quantity.ts";

/** How fast a run was, as people tell it in one line. */
export type TypedPace = { ok: true; pace: Run["pace"]; radiusM: number | null } | { ok: false; message: string };

const ASKED = "a speed (18 km/h), a lap (14.2 s on a circle of 3 m) or a phone's cornering (0.6 g) is wanted";

/** What the schema takes: a value beyond it is told with what is allowed. */
const RANGES = { kmh: [0.1, 300, "km/h"], seconds: [0.1, 3600, "s"], g: [0, 5, "g"], radiusM: [0.1, 1000, "m"] } as const;

function within(name: keyof typeof RANGES, value: number): string | null {
  const [min, max, unit] = RANGES[name];
  return value >= min && value <= max ? null : `${Math.round(value * 1e4) / 1e4} ${unit} is out of range; allowed ${min} to ${max} ${unit}`;
}

const NUMBER = String.raw`[+\-\u2212]?\d[\d.,\s]*`;
/** "14.2 s", "18 km/h", "0,6 g", "6 m across": a number with letters behind it */
const QUANTITY = new RegExp(`(${NUMBER})\\s*([a-zA-Z/²]+|")?`, "g");
const ACROSS = /across|diameter|wide|⌀|ø/i;

/**
 * Reads "lap 14.2 s on a circle of 3 m", "18 km/h", "5 m/s on 6 m", "0,6 g": a circle is told by its radius, or by its width where the
 * words say so ("6 m across"). A pace must be there, the circle need not be.
 */
export function readPace(text: string): TypedPace {
  const told: { pace: Run["pace"] | null; radiusM: number | null } = { pace: null, radiusM: null };
  const found = [...text.matchAll(QUANTITY)];
  if (found.length === 0) return { ok: false, message: ASKED };
  for (const [whole, figures, unit = ""] of found) {
    const read = (as: string, kind?: string): number | null => {
      const r = readQuantity(`${figures} ${unit}`, as, kind);
      return r.ok ? r.value : null;
    };
    const put = (pace: Run["pace"], name: keyof typeof RANGES, value: number): string | null => {
      if (told.pace) return "two paces are told; one is wanted";
      told.pace = pace;
      return within(name, value);
    };
    let problem: string | null = `“${whole.trim().slice(0, 20)}”: ${ASKED}`;
    if (/^(km\/?h|kmh|kph|m\/s)$/i.test(unit)) {
      const kmh = read("km/h");
      if (kmh !== null) problem = put({ by: "speed", kmh }, "kmh", kmh);
    } else if (/^(s|sec|seconds?|min)$/i.test(unit)) {
      const minutes = readQuantity(`${figures} ${/^min$/i.test(unit) ? "min" : "s"}`, "min");
      if (minutes.ok) problem = put({ by: "lap", seconds: Math.round(minutes.value * 60 * 1e6) / 1e6 }, "seconds", minutes.value * 60);
    } else if (/^(g|m\/s²|m\/s2)$/.test(unit)) {
      const g = read("g", "acceleration");
      if (g !== null) problem = put({ by: "g", g }, "g", g);
    } else if (/^(m|cm|mm)$/i.test(unit)) {
      const mm = read("mm");
      if (mm !== null) {
        told.radiusM = mm / (ACROSS.test(text) ? 2000 : 1000);
        problem = within("radiusM", told.radiusM);
      }
    }
    if (problem !== null) return { ok: false, message: problem };
  }
  return told.pace ? { ok: true, pace: told.pace, radiusM: told.radiusM } : { ok: false, message: ASKED };
}
