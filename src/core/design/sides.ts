import type { Corner, Scenario, Side } from "./types.ts";

/** Keys that tell which member of a choice an object is: sections, spring seats and retentions. */
const TAGS = ["shape", "on", "kind"] as const;

type Plain = Record<string, unknown>;

const isPlain = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);

/** Members with the same fields: changing the arm alone keeps the seat's fraction, changing how a tyre is held keeps its values. */
const ALIKE: readonly (readonly unknown[])[] = [
  ["lowerArm", "upperArm"],
  ["stretchedBand", "sideDiscs", "glue"],
];

const alike = (a: unknown, b: unknown): boolean => a === b || ALIKE.some((g) => g.includes(a) && g.includes(b));

function otherChoice(base: Plain, over: Plain): boolean {
  return TAGS.some((t) => t in over && !alike(over[t], base[t]));
}

/**
 * The whole corner of one side: the common description with that side's overrides laid over it. Objects are
 * merged field by field; arrays, plain values and choices of another kind are replaced whole. Pure: neither
 * input is changed, unchanged parts are shared with the scenario.
 */
export function cornerOf(scenario: Pick<Scenario, "corner" | "left" | "right">, side: Side): Corner {
  return merge(scenario.corner, scenario[side]) as Corner;
}

/** What was laid over what: neither is ever changed in place, so that both sides' parts stay the same objects from one answer to the next. */
const known = new WeakMap<Plain, WeakMap<Plain, Plain>>();

/** `over` laid over `base`; a field that is undefined in `over` keeps its value. */
export function merge(base: unknown, over: unknown): unknown {
  if (over === undefined) return base;
  if (!isPlain(base) || !isPlain(over) || otherChoice(base, over)) return over;
  const keys = Object.keys(over);
  if (keys.length === 0) return base;
  let onBase = known.get(base);
  if (!onBase) {
    onBase = new WeakMap();
    known.set(base, onBase);
  }
  const found = onBase.get(over);
  if (found) return found;
  const out: Plain = { ...base };
  for (const key of keys) out[key] = merge(base[key], over[key]);
  onBase.set(over, out);
  return out;
}
