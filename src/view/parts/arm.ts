import type { Arm, ArmName, Side } from "../../core/design/types.ts";
import type { CornerState, JointState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { dashes, distance, length, normalOf, smooth, sub, unit } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { armHeightAt, bentNodes } from "../poses.ts";
import { rampStep } from "./hub.ts";

const ARM_MIN_PX = 6;
/** the clearance ring is drawn at least this wide, mm, whatever the true clearance */
const RING_MIN_MM = 0.7;

export interface EyeRadii {
  eye: number;
  hole: number;
  pin: number;
}

export function eyeRadii(pxPerMm: number, clearanceMm: number): EyeRadii {
  const eye = Math.max(5.5, Math.min(18, 2.7 * pxPerMm));
  const hole = eye * 0.7;
  const ring = Math.min(hole * 0.45, Math.max(RING_MIN_MM, clearanceMm) * pxPerMm);
  return { eye, hole, pin: Math.max(2, hole - ring) };
}

/** One arm: solid, true section height, its bow multiplied; the straight line between the pins dotted. */
export function armMarks(name: ArmName, arm: Arm, corner: CornerState, factor: number, worst: number, pxPerMm: number, px: (p: V2) => V2): Mark[] {
  const state = corner.arms[name];
  const nodes = bentNodes(state, factor);
  const line = smooth(nodes.map(px), 2);
  const half = (fraction: number): number => Math.max(ARM_MIN_PX, armHeightAt(arm, fraction) * pxPerMm) / 2;
  const sideLine = (dir: 1 | -1): V2[] =>
    line.map((p, i) => {
      const d = unit(sub(line[Math.min(i + 1, line.length - 1)] as V2, line[Math.max(i - 1, 0)] as V2));
      const n = normalOf(d);
      const h = half(i / (line.length - 1)) * dir;
      return [p[0] + n[0] * h, p[1] + n[1] * h];
    });
  const outline = [...sideLine(1), ...sideLine(-1).reverse()];
  const step = rampStep(worst);
  const prims: Prim[] = [{ kind: "poly", points: outline, closed: true, fill: "arm", stroke: { tone: "paper", width: 1.5 } }];
  if (step >= 2) {
    // near the limit: a broken seam along the part, so that colour is not the only sign
    prims.push({ kind: "segments", pairs: dashes(line, step === 3 ? [4, 3] : [8, 5]), stroke: { tone: step === 3 ? "u-3" : "u-2", width: 2.5 } });
  }
  const marks = [mark(`arm.${corner.side}.${name}`, "arm", prims)];
  const a = px(nodes[0] as V2);
  const b = px(nodes[nodes.length - 1] as V2);
  const bowPx = Math.abs(state.bowMm) * factor * pxPerMm;
  const straight = bowPx > 2 ? dashes([a, b], [2, 4]) : [];
  marks.push(mark(`chord.${corner.side}.${name}`, "construction", [{ kind: "segments", pairs: straight, stroke: { tone: "ink", width: 1 } }]));
  return marks;
}

/** Picture outline line of an arm as design B shows it: a thin dashed contour round the bent arm. */
export function armContour(arm: Arm, corner: CornerState, name: ArmName, factor: number, pxPerMm: number, px: (p: V2) => V2): V2[] {
  const line = smooth(bentNodes(corner.arms[name], factor).map(px), 2);
  const h = Math.max(ARM_MIN_PX, armHeightAt(arm, 0.5) * pxPerMm) / 2;
  const shifted = (dir: number): V2[] =>
    line.map((p, i) => {
      const n = normalOf(unit(sub(line[Math.min(i + 1, line.length - 1)] as V2, line[Math.max(i - 1, 0)] as V2)));
      return [p[0] + n[0] * h * dir, p[1] + n[1] * h * dir];
    });
  return [...shifted(1), ...shifted(-1).reverse()];
}

/** Dark eye, light clearance ring, dark pin pushed to the side it bears on; carries nothing: pin in the middle. */
export function jointMark(key: string, side: Side, joint: JointState, clearanceMm: number, pxPerMm: number, px: (p: V2) => V2, hot: boolean): Mark {
  const at = px(joint.hole);
  const r = eyeRadii(pxPerMm, clearanceMm);
  const push = px(joint.pin);
  const d = sub(push, at);
  const free = r.hole - r.pin;
  const gap = joint.floats || length(d) < 1e-6 ? 0 : free;
  const to = unit(d);
  const pin: V2 = [at[0] + to[0] * gap, at[1] + to[1] * gap];
  const c = r.pin * 0.55;
  return mark(`joint.${side}.${key}`, "joint", [
    { kind: "circle", at, radius: r.eye + (hot ? 1 : 0), fill: "arm", stroke: { tone: "paper", width: 1 } },
    { kind: "circle", at, radius: r.hole, fill: "hole" },
    { kind: "circle", at: pin, radius: r.pin, fill: "ink" },
    {
      kind: "segments",
      pairs: [
        [pin[0] - c, pin[1]],
        [pin[0] + c, pin[1]],
        [pin[0], pin[1] - c],
        [pin[0], pin[1] + c],
      ],
      stroke: { tone: "hole", width: 1 },
    },
  ]);
}

/** Measure beside the larger bow: a thin tick bar from the straight line to the drawn arm. */
export function bowMeasure(corner: CornerState, name: ArmName, factor: number, px: (p: V2) => V2): { mark: Mark; at: V2 } | null {
  const state = corner.arms[name];
  const nodes = bentNodes(state, factor);
  const a = nodes[0] as V2;
  const b = nodes[nodes.length - 1] as V2;
  let best = -1;
  let deepest: V2 = a;
  let foot: V2 = a;
  const d = unit(sub(b, a));
  for (const p of nodes) {
    const r = sub(p, a);
    const along = r[0] * d[0] + r[1] * d[1];
    const on: V2 = [a[0] + d[0] * along, a[1] + d[1] * along];
    const bow = distance(p, on);
    if (bow > best) [best, deepest, foot] = [bow, p, on];
  }
  if (best <= 0) return null;
  const out = corner.side === "right" ? 1 : -1;
  const x = px(b)[0] - out * 36;
  const y0 = px(foot)[1];
  const y1 = px(deepest)[1];
  if (Math.abs(y1 - y0) < 9) return null;
  return {
    mark: mark(`bow.${corner.side}.${name}`, "construction", [
      {
        kind: "segments",
        pairs: [
          [x, y0],
          [x, y1],
          [x - 4, y0],
          [x + 4, y0],
          [x - 4, y1],
          [x + 4, y1],
        ],
        stroke: { tone: "ink-2", width: 1 },
      },
    ]),
    at: [px(deepest)[0], y1],
  };
}
