import { cornerOf } from "./sides.ts";
import type { Corner, DeepPartial, Scenario, Side } from "./types.ts";

type Plain = Record<string, unknown>;
const isPlain = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);
/** keys that tell which member of a choice an object is: such an object is replaced whole when they differ */
const TAGS = ["shape", "on", "kind"];

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
    const d = difference(base[key], whole[key]);
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
