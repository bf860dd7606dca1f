import type { Corner } from "../../core/design/types.ts";
import type { CornerState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { add, arc, dashes, turn } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { signOf } from "../poses.ts";

export interface LeanStep {
  key: string;
  deg: number;
}

/** the bracket of what is not known lies so far outside of the arc, half as high as its caps, px */
const BRACKET_PX = 6;
const CAP_PX = 2.5;

/**
 * The plumb line: a bracket over the wheel, a string whose bob points at the wheel's centre, the wheel
 * plane, the arc between the two and its wedge; a band where play leaves a range. What is not known better is a bracket outside of the arc.
 */
export function leanMarks(
  corner: Corner,
  state: CornerState,
  bandDeg: readonly [number, number] | null,
  doubtDeg: readonly [number, number] | null,
  steps: readonly LeanStep[] | null,
  pxPerMm: number,
  px: (p: V2) => V2,
): { marks: Mark[]; label: V2 } {
  const side = state.side;
  const r = corner.wheel.radiusMm;
  const c = state.wheelCentre;
  const above = r + Math.max(10, 50 / pxPerMm);
  const top: V2 = [c[0], c[1] + above];
  const axis = (deg: number, out: number): V2 => add(c, turn([0, out], (-signOf(side) * deg * Math.PI) / 180));
  const plane = (out: number): V2 => add(c, turn([0, out], state.wheelAngleRad));
  const topPx = px(top);
  const bobPx = px(c);
  const prims: Prim[] = [];
  const reach = above - 18 / pxPerMm;
  const centrePx = px(c);
  const radiusPx = reach * pxPerMm;
  const screenAngle = (rad: number): number => -Math.PI / 2 - rad;
  const wedge = (from: number, to: number): V2[] => [centrePx, ...arc(centrePx, radiusPx, screenAngle(from), screenAngle(to))];
  if (bandDeg) {
    const k = (-signOf(side) * Math.PI) / 180;
    prims.push({ kind: "poly", points: wedge(bandDeg[0] * k, bandDeg[1] * k), closed: true, fill: "ink", fillAlpha: 0.07 });
  }
  prims.push({ kind: "poly", points: wedge(0, state.wheelAngleRad), closed: true, fill: "ink", fillAlpha: 0.1 });
  prims.push({ kind: "segments", pairs: dashes([px(plane(-r - 8)), px(plane(above + 2))], [14, 3, 3, 3]), stroke: { tone: "ink-2", width: 1 } });
  prims.push({
    kind: "segments",
    pairs: [topPx, [bobPx[0], bobPx[1] - 15], [topPx[0] - 7, topPx[1]], [topPx[0] + 7, topPx[1]]],
    stroke: { tone: "plumb", width: 1.25 },
  });
  prims.push({
    kind: "segments",
    pairs: [
      [topPx[0] - 7, topPx[1]],
      [topPx[0] + 7, topPx[1]],
    ],
    stroke: { tone: "plumb", width: 2.5 },
  });
  if (steps) {
    let from = 0;
    steps.forEach((s, i) => {
      const k = (-signOf(side) * Math.PI) / 180;
      prims.push({
        kind: "poly",
        points: arc(centrePx, radiusPx - i * 3, screenAngle(from * k), screenAngle((from + s.deg) * k)),
        closed: false,
        stroke: { tone: i % 2 ? "arm-hi" : "arm", width: 3 },
      });
      from += s.deg;
    });
  } else {
    prims.push({
      kind: "poly",
      points: arc(centrePx, radiusPx, screenAngle(0), screenAngle(state.wheelAngleRad)),
      closed: false,
      stroke: { tone: "ink", width: 2 },
    });
  }
  if (doubtDeg) {
    const [low, high] = doubtDeg.map((deg) => screenAngle((-signOf(side) * deg * Math.PI) / 180)) as [number, number];
    const at = (radius: number, angle: number): V2 => [centrePx[0] + radius * Math.cos(angle), centrePx[1] + radius * Math.sin(angle)];
    const stroke = { tone: "ink-2", width: 1.25 } as const;
    prims.push({ kind: "poly", points: arc(centrePx, radiusPx + BRACKET_PX, low, high), closed: false, stroke });
    prims.push({
      kind: "segments",
      pairs: [low, high].flatMap((angle) => [at(radiusPx + BRACKET_PX - CAP_PX, angle), at(radiusPx + BRACKET_PX + CAP_PX, angle)]),
      stroke,
    });
  }
  const bob: V2[] = [
    [0, -15],
    [2.6, -13],
    [4, -7],
    [0, 4],
    [-4, -7],
    [-2.6, -13],
  ].map(([x, y]) => [bobPx[0] + (x as number), bobPx[1] + (y as number)]);
  prims.push({ kind: "poly", points: bob, closed: true, fill: "plumb" });
  const label = px(axis(0, above));
  return { marks: [mark(`lean.${side}`, "lean", prims)], label: [label[0], label[1] + 4] };
}
