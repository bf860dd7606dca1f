import { cornerOf } from "./sides.ts";
import { type Corner, type DeepPartial, type Scenario, SIDES, type Side } from "./types.ts";

type Plain = Record<string, unknown>;
const isPlain = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);
/** keys that tell which member of a choice an object is: such an object is replaced whole when they differ */
const TAGS = ["shape", "on", "kind"];
/** fields that a side overrides as a whole or not at all, as its file does */
const WHOLE = new Set(["section", "stemSection", "seat", "retention", "material", "droopStop"]);

const same = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((v, i) => same(v, b[i]));
  if (!isPlain(a) || !isPlain(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((k) => k in b && same(a[k], b[k]));
};

/** What has to be laid over `base` to get `whole`; undefined when nothing has to. */
function difference(base: unknown, whole: unknown): unknown {
  if (same(base, whole)) return undefined;
  if (!isPlain(base) || !isPlain(whole) || TAGS.some((t) => base[t] !== whole[t]) || Object.keys(base).some((k) => !(k in whole))) return whole;
  const out: Plain = {};
  for (const key of Object.keys(whole)) {
    const d = WHOLE.has(key) ? (same(base[key], whole[key]) ? undefined : whole[key]) : difference(base[key], whole[key]);
    if (d !== undefined) out[key] = d;
  }
  return out;
}

/**
 * The scenario with the same edit made to both corners as they stand after their overrides; what differs between the sides stays in the
 * overrides. Pure: `edit` must return a new corner and leave its argument alone.
 */
export function editCorners(s: Scenario, edit: (c: Corner, side: Side) => Corner): Scenario {
  const left = edit(cornerOf(s, "left"), "left");
  const right = edit(cornerOf(s, "right"), "right");
  // a side without overrides is the common description; with both overridden it is edited as a corner of its own
  const plain = Object.keys(s.right).length === 0 ? right : Object.keys(s.left).length === 0 ? left : edit(s.corner, "right");
  return {
    ...s,
    corner: plain,
    left: (difference(plain, left) ?? {}) as DeepPartial<Corner>,
    right: (difference(plain, right) ?? {}) as DeepPartial<Corner>,
  };
}

/** Which sides an edit is for. */
export type Sides = Side | "both";

/**
 * The scenario with an edit made to one side alone, or to both and to what they share. What a side has of its own stays in its override,
 * and is gone from there where it is as the shared one. Pure: `edit` must return a new corner and leave its argument alone.
 * @param fits whether the edit can be made to the shared description, which both sides may override by another kind
 */
export function editSides(s: Scenario, sides: Sides, edit: (c: Corner) => Corner, fits: (shared: Corner) => boolean): Scenario {
  const corner = sides === "both" && fits(s.corner) ? edit(s.corner) : s.corner;
  const [left, right] = SIDES.map((side) => {
    const c = cornerOf(s, side);
    return (difference(corner, sides === "both" || sides === side ? edit(c) : c) ?? {}) as DeepPartial<Corner>;
  });
  return { ...s, corner, left: left ?? {}, right: right ?? {} };
}
