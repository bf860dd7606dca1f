import type { V2 } from "../../core/vec.ts";
import { add, dashes, length, normalOf, scale, sub, unit } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";

const DOT_BELOW_PX = 12;

/** A load that pushes: solid head at its end. Under 12 px a dot. */
export function loadArrow(key: string, from: V2, to: V2, tone = "load"): Mark {
  const d = sub(to, from);
  if (length(d) < DOT_BELOW_PX) return mark(key, "force", [{ kind: "circle", at: from, radius: 3.5, fill: tone }]);
  const u = unit(d);
  const n = normalOf(u);
  const base = add(to, scale(u, -13));
  return mark(key, "force", [
    { kind: "poly", points: [from, base], closed: false, stroke: { tone, width: 2.5 } },
    { kind: "poly", points: [to, add(base, scale(n, 6)), add(base, scale(n, -6))], closed: true, fill: tone },
  ]);
}

/** What the road answers: open head, bar at the foot. */
export function reactionArrow(key: string, from: V2, to: V2): Mark {
  const tone = "react";
  const d = sub(to, from);
  if (length(d) < DOT_BELOW_PX) return mark(key, "force", [{ kind: "circle", at: to, radius: 3.5, fill: tone }]);
  const u = unit(d);
  const n = normalOf(u);
  const back = add(to, scale(u, -8));
  return mark(key, "force", [
    { kind: "poly", points: [from, to], closed: false, stroke: { tone, width: 2.5 } },
    { kind: "poly", points: [add(back, scale(n, 6)), to, add(back, scale(n, -6))], closed: false, stroke: { tone, width: 2.5 } },
    { kind: "segments", pairs: [add(from, scale(n, 5)), add(from, scale(n, -5))], stroke: { tone, width: 2.5 } },
  ]);
}

/** What a part carries: heads at both ends, lying beside its part; pulled or pressed is said in words. */
export function insideArrow(key: string, middle: V2, along: V2, lengthPx: number): Mark {
  const tone = "inside";
  if (lengthPx < DOT_BELOW_PX) return mark(key, "force", [{ kind: "circle", at: middle, radius: 3.5, fill: tone }]);
  const u = unit(along);
  const n = normalOf(u);
  const a = add(middle, scale(u, -lengthPx / 2));
  const b = add(middle, scale(u, lengthPx / 2));
  const prims: Prim[] = [{ kind: "poly", points: [a, b], closed: false, stroke: { tone, width: 2.5 } }];
  for (const [tip, dir] of [
    [a, 1],
    [b, -1],
  ] as const) {
    const wing = add(tip, scale(u, dir * 7));
    prims.push({ kind: "poly", points: [add(wing, scale(n, 5)), tip, add(wing, scale(n, -5))], closed: false, stroke: { tone, width: 2.5 } });
  }
  return mark(key, "force", prims);
}

/** A force that can be gripped carries a dotted ring. */
export const gripRing = (key: string, at: V2, radius: number): Mark => {
  const ring: V2[] = [];
  for (let i = 0; i < 48; i++) ring.push([at[0] + radius * Math.cos((i * Math.PI) / 24), at[1] + radius * Math.sin((i * Math.PI) / 24)]);
  return mark(key, "force", [{ kind: "segments", pairs: dashes(ring, [3, 3], true), stroke: { tone: "load", width: 1.25 } }]);
};

const PULL_TO_G = 1.2;
const PULL_STEP_G = 0.2;

/** Marks along the way of the cornering arrow, every 0.2 g: its scale, while it is pulled. */
export function pullMarks(from: V2, way: 1 | -1, pxPerG: number): Mark {
  const pairs: V2[] = [from, [from[0] + way * PULL_TO_G * pxPerG, from[1]]];
  for (let i = 1; i * PULL_STEP_G <= PULL_TO_G + 1e-9; i++) {
    const x = from[0] + way * i * PULL_STEP_G * pxPerG;
    pairs.push([x, from[1] - 5], [x, from[1] + 5]);
  }
  return mark("pullMarks", "force", [{ kind: "segments", pairs, stroke: { tone: "load", width: 1 } }]);
}

/** The centre of gravity: a quartered circle. */
export function gravityMark(at: V2): Mark {
  const r = 8.5;
  const quarter = (from: number): Prim => {
    const points: V2[] = [at];
    for (let i = 0; i <= 6; i++) points.push([at[0] + r * Math.cos(from + (i * Math.PI) / 12), at[1] + r * Math.sin(from + (i * Math.PI) / 12)]);
    return { kind: "poly", points, closed: true, fill: "ink" };
  };
  return mark("gravity", "top", [{ kind: "circle", at, radius: r, fill: "sheet", stroke: { tone: "ink", width: 1.5 } }, quarter(0), quarter(Math.PI)]);
}

/** px per newton so that half the weight is a clear arrow; a round figure, so that the scale can be read. */
export function forceScale(weightN: number, targetPx: number): number {
  const raw = targetPx / Math.max(1e-6, weightN);
  const power = 10 ** Math.floor(Math.log10(raw));
  const steps = [1, 1.5, 2, 3, 4, 5, 7, 10];
  return (steps.filter((s) => s * power <= raw).at(-1) ?? 1) * power;
}
