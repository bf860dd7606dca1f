import { sprungMassKg } from "../../core/design/mass.ts";
import { SIDES, type Side } from "../../core/design/types.ts";
import { G } from "../../core/units.ts";
import type { V2 } from "../../core/vec.ts";
import { add, mix, normalOf, scale, sub, unit } from "../geometry.ts";
import type { Box } from "../labels.ts";
import type { Mark } from "../marks.ts";
import { signOf } from "../poses.ts";
import type { Drawn } from "../scene.ts";
import { insideArrow, loadArrow, reactionArrow } from "./forces.ts";
import { springMiddle } from "./spring.ts";

/** longest drawn spring arrow, px; the value beside it stays true */
const INSIDE_MAX_PX = 90;
/** how far above its arm the arrow of the force along it lies */
const ARM_ARROW_OFF_PX = 15;

export interface ForcePlan {
  marks: Mark[];
  obstacles: Box[];
  weight: { tip: V2; newtons: number };
  vertical: Record<Side, { at: V2; newtons: number }>;
  lateral: Record<Side, { at: V2; newtons: number; outward: boolean }>;
  spring: Record<Side, { at: V2; newtons: number; half: number }>;
  arms: { key: string; at: V2; newtons: number; side: Side; arm: "upper" | "lower" }[];
}

/** Force arrows of one axle at one scale, and where their values want to stand. */
export function forceMarks(a: Drawn, bend: number, armForces: boolean, spare: boolean, pxPerN: number, px: (p: V2) => V2): ForcePlan {
  const marks: Mark[] = [];
  const obstacles: Box[] = [];
  const cg = px(a.state.body.cg);
  const weightN = sprungMassKg(a.scenario) * G;
  const weightTip: V2 = [cg[0], cg[1] + Math.max(14, Math.min(weightN * pxPerN, 110))];
  if (!spare) {
    marks.push(loadArrow("weight", cg, weightTip));
    obstacles.push({ x: cg[0] - 7, y: cg[1], w: 14, h: weightTip[1] - cg[1] });
  }
  const vertical = {} as ForcePlan["vertical"];
  const lateral = {} as ForcePlan["lateral"];
  const spring = {} as ForcePlan["spring"];
  const arms: ForcePlan["arms"] = [];
  for (const side of SIDES) {
    const s = a.state[side];
    const foot = px(s.tyre.contact);
    // on a narrow sheet the arrow stands beside the pressure bars, else below them
    const tip: V2 = spare ? [foot[0] - signOf(side) * 22, foot[1] + 9] : [foot[0], foot[1] + 34];
    const from: V2 = [tip[0], tip[1] + Math.max(13, s.tyre.verticalN * pxPerN)];
    marks.push(reactionArrow(`vertical.${side}`, from, tip));
    vertical[side] = { at: [from[0] + 4, from[1] - 4], newtons: s.tyre.verticalN };
    obstacles.push({ x: tip[0] - 7, y: foot[1], w: 14, h: from[1] - foot[1] });
    if (!spare) {
      const size = s.tyre.lateralN * pxPerN;
      const dir = Math.sign(size) || -1;
      const reach = (a.corners[side].wheel.treadWidthMm / 2 + 4) * pxPerMmOf(px);
      const start = dir < 0 ? reach : -reach;
      const tipX: V2 = [foot[0] + start, foot[1] + 14];
      const fromX: V2 = [tipX[0] - size, tipX[1]];
      if (Math.abs(s.tyre.lateralN) > 0.05) marks.push(reactionArrow(`lateral.${side}`, fromX, tipX));
      lateral[side] = { at: fromX, newtons: Math.abs(s.tyre.lateralN), outward: dir < 0 };
      obstacles.push({ x: Math.min(tipX[0], fromX[0]), y: tipX[1] - 6, w: Math.abs(size), h: 12 });
    }
    const middle = springMiddle(a.corners[side], s, bend, px);
    const along = sub(px(s.spring.seat), px(s.spring.top));
    const n = normalOf(unit(along));
    const beside = add(middle, scale(n, -signOf(side) * Math.sign(n[0] || 1) * -1 * (5.5 * pxPerMmOf(px) + 8)));
    const length = Math.min(INSIDE_MAX_PX, Math.abs(s.spring.totalN) * pxPerN);
    if (!spare) marks.push(insideArrow(`springForce.${side}`, beside, along, length));
    spring[side] = { at: beside, newtons: s.spring.totalN, half: length / 2 };
    if (armForces && !spare) {
      for (const arm of ["upper", "lower"] as const) {
        const nodes = s.arms[arm].nodes;
        const p = px(nodes[0] as V2);
        const q = px(nodes[nodes.length - 1] as V2);
        const axial = s.arms[arm].axialN;
        const force = axial[axial.length - 1] ?? 0;
        const up = normalOf(unit(sub(q, p)));
        const lift = scale(up, -ARM_ARROW_OFF_PX * Math.sign(up[1] || 1));
        const at = add(mix(p, q, 0.5), lift);
        marks.push(insideArrow(`armForce.${side}.${arm}`, at, sub(q, p), Math.min(INSIDE_MAX_PX, Math.abs(force) * pxPerN)));
        arms.push({ key: `armForce.${side}.${arm}`, at, newtons: force, side, arm });
      }
    }
  }
  return { marks, obstacles, weight: { tip: weightTip, newtons: weightN }, vertical, lateral, spring, arms };
}

const pxPerMmOf = (px: (p: V2) => V2): number => px([1, 0])[0] - px([0, 0])[0];
