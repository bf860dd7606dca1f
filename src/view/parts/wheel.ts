import type { Corner } from "../../core/design/types.ts";
import type { CornerState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { clipHalfPlane, hatch } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { wheelPose } from "../poses.ts";

const HATCH_PX = 7;
const BAR_EVERY_MM = 2;
/** longest pressure bar on screen, px; the pressure it stands for follows the drawing's force scale */
const BAR_MAX_PX = 34;

export interface WheelSizes {
  half: number;
  tyreInner: number;
  rim: number;
}

/** Section of tyre and rim, mm: drawn proportions that no calculation uses. */
export function wheelSizes(corner: Corner): WheelSizes {
  const r = corner.wheel.radiusMm;
  return { half: corner.wheel.treadWidthMm / 2, tyreInner: r * 0.75, rim: r * 0.72 };
}

const outline = (pose: (e: number, v: number) => V2, points: readonly (readonly [number, number])[]): V2[] => points.map(([e, v]) => pose(e, v));

/** Picture outline of the whole wheel, for the wash and for design B. */
export function wheelOutline(corner: Corner, state: CornerState): V2[] {
  const { half } = wheelSizes(corner);
  const r = corner.wheel.radiusMm;
  const c = half * 0.16;
  const pose = wheelPose(state);
  return outline(pose, [
    [-half, -r + c],
    [-half, r - c],
    [-half + c, r],
    [half - c, r],
    [half, r - c],
    [half, -r + c],
    [half - c, -r],
    [-half + c, -r],
  ]);
}

function tyreHalf(corner: Corner, up: 1 | -1): [number, number][] {
  const { half, tyreInner } = wheelSizes(corner);
  const r = corner.wheel.radiusMm;
  const t = r - tyreInner;
  const s = up;
  return [
    [-half * 0.95, s * tyreInner],
    [-half, s * (r - t * 0.55)],
    [-half * 0.97, s * (r - t * 0.25)],
    [-half * 0.84, s * r],
    [half * 0.84, s * r],
    [half * 0.97, s * (r - t * 0.25)],
    [half, s * (r - t * 0.55)],
    [half * 0.95, s * tyreInner],
  ];
}

/** The wheel in section: wash, tyre halves hatched at 45 degrees and flattened on the road, rim and web. */
export function wheelMarks(corner: Corner, state: CornerState, roadMm: number, px: (p: V2) => V2): Mark[] {
  const side = state.side;
  const pose = wheelPose(state);
  const clip = (points: V2[]): V2[] => clipHalfPlane(points, [0, -1], -roadMm);
  const toPx = (points: readonly V2[]): V2[] => points.map(px);
  const { half, tyreInner, rim } = wheelSizes(corner);
  const prims: Prim[] = [];
  for (const up of [1, -1] as const) {
    const block = toPx(clip(outline(pose, tyreHalf(corner, up))));
    if (block.length > 2) {
      prims.push({ kind: "poly", points: block, closed: true, fill: "tyre", stroke: { tone: "ink", width: 1.5 } });
      prims.push({ kind: "segments", pairs: hatch(block, -Math.PI / 4, HATCH_PX), stroke: { tone: "tyre-line", width: 1 } });
    }
    const wall = half * 0.1;
    const barrel: [number, number][] = [
      [-half * 0.86, up * (tyreInner + 0.5)],
      [-half * 0.95, up * (tyreInner - 1)],
      [-half * 0.8, up * (rim - wall)],
      [half * 0.8, up * (rim - wall)],
      [half * 0.95, up * (tyreInner - 1)],
      [half * 0.86, up * (tyreInner + 0.5)],
      [half * 0.7, up * rim],
      [-half * 0.7, up * rim],
    ];
    prims.push({ kind: "poly", points: toPx(outline(pose, barrel)), closed: true, fill: "body-wash", stroke: { tone: "ink", width: 1 } });
  }
  const wash = toPx(clip(wheelOutline(corner, state)));
  return [mark(`wash.${side}`, "wash", [{ kind: "poly", points: wash, closed: true, fill: "tyre", fillAlpha: 0.28 }]), mark(`wheel.${side}`, "wheel", prims)];
}

/** Pressure under the tread: one bar per 2 mm, and a bracket under the edge that is off the road. */
export function treadMarks(state: CornerState, roadMm: number, px: (p: V2) => V2): { marks: Mark[]; liftedAt: V2 | null } {
  const t = state.tyre;
  const pose = wheelPose(state);
  const sign = state.side === "right" ? 1 : -1;
  const ground = (eRight: number): V2 => {
    // strip coordinate is positive to the right; the wheel frame counts outboard
    const at = pose(sign * eRight, 0);
    const down = pose(sign * eRight, -1);
    const fall = at[1] - down[1];
    const k = fall > 0.1 ? (at[1] - roadMm) / fall : 0;
    return [at[0] + (down[0] - at[0]) * k, roadMm];
  };
  if (!(t.verticalN > 0)) return { marks: [mark(`tread.${state.side}`, "force", [])], liftedAt: px(ground(0)) };
  const deepest = Math.max(1e-6, ...[t.fromMm, t.toMm, (t.fromMm + t.toMm) / 2].map((e) => t.penetration.d0 + t.penetration.d1 * e - t.penetration.d2 * e * e));
  const peak = deepest * t.rateNPerMm2;
  // mean pressure of a straight wheel carries a third of the longest bar, so bars of both wheels compare
  const perPressure = BAR_MAX_PX / Math.max(peak, (3 * t.verticalN) / Math.max(1, 2 * t.halfWidthMm));
  const bars: V2[] = [];
  for (let e = Math.ceil(-t.halfWidthMm / BAR_EVERY_MM) * BAR_EVERY_MM; e <= t.halfWidthMm + 1e-9; e += BAR_EVERY_MM) {
    if (e < t.fromMm - 1e-9 || e > t.toMm + 1e-9) continue;
    const depth = t.penetration.d0 + t.penetration.d1 * e - t.penetration.d2 * e * e;
    if (depth <= 0) continue;
    const at = px(ground(e));
    bars.push([at[0], at[1] + 3], [at[0], at[1] + 3 + Math.max(1.5, depth * t.rateNPerMm2 * perPressure)]);
  }
  const prims: Prim[] = [{ kind: "segments", pairs: bars, stroke: { tone: "react", width: 3 } }];
  let liftedAt: V2 | null = null;
  if (t.lifted) {
    const leftGap = t.fromMm + t.halfWidthMm;
    const rightGap = t.halfWidthMm - t.toMm;
    const [from, to] = leftGap > rightGap ? [-t.halfWidthMm, t.fromMm] : [t.toMm, t.halfWidthMm];
    const a = px(ground(from));
    const b = px(ground(to));
    const y = a[1] + 7;
    if (Math.abs(b[0] - a[0]) > 5) {
      prims.push({
        kind: "segments",
        pairs: [
          [a[0], y],
          [b[0], y],
          [a[0], y - 3],
          [a[0], y + 3],
          [b[0], y - 3],
          [b[0], y + 3],
        ],
        stroke: { tone: "ink", width: 1 },
      });
      liftedAt = [(a[0] + b[0]) / 2, y];
    }
  }
  return { marks: [mark(`tread.${state.side}`, "force", prims)], liftedAt };
}
