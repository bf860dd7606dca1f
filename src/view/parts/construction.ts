import type { AxleState, CornerState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import type { Camera } from "../camera.ts";
import { dashes, meet } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";

/** Straight line through the two pins of an arm meets the other's: the point the hub turns about just now. */
export function instantCentre(corner: CornerState): V2 | null {
  const end = (arm: "upper" | "lower"): [V2, V2] => {
    const nodes = corner.arms[arm].nodes;
    return [nodes[0] as V2, nodes[nodes.length - 1] as V2];
  };
  const [u1, u2] = end("upper");
  const [l1, l2] = end("lower");
  return meet(u1, u2, l1, l2);
}

/** Where the lines from each tread through its instant centre meet (Aronhold-Kennedy); parallel arms give their direction. */
export function rollCentre(state: AxleState): V2 | null {
  const line = (corner: CornerState): [V2, V2] => {
    const from = corner.tyre.contact;
    const ic = instantCentre(corner);
    if (ic) return [from, ic];
    const nodes = corner.arms.lower.nodes;
    const a = nodes[0] as V2;
    const b = nodes[nodes.length - 1] as V2;
    return [from, [from[0] + b[0] - a[0], from[1] + b[1] - a[1]]];
  };
  const [l1, l2] = line(state.left);
  const [r1, r2] = line(state.right);
  return meet(l1, l2, r1, r2);
}

export interface Construction {
  marks: Mark[];
  rollCentrePx: V2 | null;
  rollCentreMm: V2 | null;
  offSheet: { side: "left" | "right"; at: V2; pastMm: number }[];
}

const ringCross = (at: V2): Prim[] => [
  { kind: "circle", at, radius: 6, stroke: { tone: "ink", width: 1.25 } },
  {
    kind: "segments",
    pairs: [
      [at[0] - 9, at[1]],
      [at[0] + 9, at[1]],
      [at[0], at[1] - 9],
      [at[0], at[1] + 9],
    ],
    stroke: { tone: "ink", width: 1.25 },
  },
];

/** dot, gap, px */
const DOTS = [2, 6];

/** Fine dots from the arms to the instant centres and from the treads to the roll centre. */
export function construction(state: AxleState, camera: Camera, px: (p: V2) => V2): Construction {
  const dots: V2[] = [];
  const points: Prim[] = [];
  const offSheet: Construction["offSheet"] = [];
  for (const side of ["left", "right"] as const) {
    const corner = state[side];
    const ic = instantCentre(corner);
    if (!ic) continue;
    const icPx = px(ic);
    const onSheet = icPx[0] > 0 && icPx[0] < camera.widthPx && icPx[1] > 0 && icPx[1] < camera.heightPx;
    for (const arm of ["upper", "lower"] as const) {
      const nodes = corner.arms[arm].nodes;
      const inner = px(nodes[0] as V2);
      dots.push(...dashes(cutToSheet(inner, icPx, camera), DOTS));
    }
    if (onSheet) points.push(...ringCross(icPx));
    else {
      const leftEdge = icPx[0] < camera.widthPx / 2;
      const x = leftEdge ? 13 : camera.widthPx - 13;
      const edge = cutToSheet(px(corner.tyre.contact), icPx, camera)[1] ?? icPx;
      const y = Math.max(80, Math.min(camera.heightPx - 130, edge[1]));
      const dir = leftEdge ? 1 : -1;
      points.push({
        kind: "segments",
        pairs: [
          [x, y],
          [x + 9 * dir, y - 5],
          [x, y],
          [x + 9 * dir, y + 5],
        ],
        stroke: { tone: "ink-2", width: 1.25 },
      });
      offSheet.push({ side, at: [x + 12 * dir, y], pastMm: Math.abs((leftEdge ? icPx[0] : icPx[0] - camera.widthPx) / camera.scale) });
    }
  }
  const rc = rollCentre(state);
  let rcPx = rc ? px(rc) : null;
  if (rcPx) {
    for (const side of ["left", "right"] as const) dots.push(...dashes(cutToSheet(px(state[side].tyre.contact), rcPx, camera), DOTS));
    const onSheet = rcPx[0] > 0 && rcPx[0] < camera.widthPx && rcPx[1] > 0 && rcPx[1] < camera.heightPx;
    if (onSheet) points.push(...ringCross(rcPx));
    else rcPx = null;
  }
  return {
    marks: [
      mark("build.lines", "construction", [{ kind: "segments", pairs: dots, stroke: { tone: "ink-2", width: 1 } }]),
      mark("build.points", "lean", points),
    ],
    rollCentrePx: rcPx,
    rollCentreMm: rc,
    offSheet,
  };
}

/** The stretch of a line that lies on the sheet; endless lines are not dashed to the end. */
function cutToSheet(a: V2, b: V2, camera: Camera): V2[] {
  let t = 1;
  const reach = (from: number, to: number, low: number, high: number): void => {
    if (to < low) t = Math.min(t, (low - from) / (to - from));
    if (to > high) t = Math.min(t, (high - from) / (to - from));
  };
  reach(a[0], b[0], 0, camera.widthPx);
  reach(a[1], b[1], 0, camera.heightPx);
  const k = Math.max(0, t);
  return [a, [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k]];
}
