import { type Corner, JOINT_NAMES, type JointName, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import type { V2 } from "../core/vec.ts";
import { fixed, holes, withUnit } from "./format.ts";
import { distance } from "./geometry.ts";
import { type FitHandleId, fitWords, isFitHandle } from "./parts/fit.ts";
import { bumpOf } from "./parts/paper.ts";
import { drawnSeat } from "./poses.ts";
import { JOINT_WORDS } from "./words.ts";

/** Everything on the picture that can be taken in hand. */
export type HandleId =
  | `pin.${Side}.${JointName}`
  | `wheel.${Side}`
  | `springTop.${Side}`
  | `seat.${Side}`
  | `road.${Side}`
  | FitHandleId
  | "gravity"
  | "cornering";

export interface Handle {
  id: HandleId;
  /** px */
  at: V2;
  /** how far from it a touch still counts, px */
  reach: number;
  name: string;
  value: string;
  /** in which directions it can go */
  axes: "both" | "across" | "up";
}

const holeWords = (sMm: number, zMm: number, pitchMm: number): string => `hole ${holes(sMm, pitchMm)} out, ${holes(zMm, pitchMm)} up`;

const FINE_REACH = 14;

/** The cornering arrow's tip, px: it is pulled, so it is drawn to a scale of its own that a hand can divide. */
export function corneringTip(cgPx: V2, lateralG: number, pxPerG: number): V2 {
  return [cgPx[0] + lateralG * pxPerG, cgPx[1]];
}

/** px per g of the cornering arrow: what tyres hold takes a good part of half the sheet. */
export const corneringScale = (sheetPx: number): number => Math.max(80, Math.min(170, sheetPx * 0.26));

export function handlesOf(scenario: Scenario, corners: Record<Side, Corner>, state: AxleState, bend: number, px: (p: V2) => V2, tip: V2): Handle[] {
  const out: Handle[] = [];
  const pitch = scenario.holePitchMm;
  // tab order: outboard to inboard, left to right, top to bottom
  for (const side of SIDES) {
    const corner = corners[side];
    const solved = state[side];
    const list: Handle[] = [];
    list.push({
      id: `road.${side}`,
      at: px([solved.tyre.contact[0], bumpOf(state.load, side)]),
      reach: 16,
      name: `road under the ${side} wheel`,
      value: withUnit(bumpOf(state.load, side), 1, "mm"),
      axes: "up",
    });
    list.push({
      id: `wheel.${side}`,
      at: px(solved.wheelCentre),
      reach: FINE_REACH,
      name: `wheel centre, ${side}`,
      value: `${fixed(corner.wheelCentre.sMm, 1)} mm out, ${withUnit(corner.wheelCentre.zMm, 1, "mm")} up`,
      axes: "both",
    });
    for (const j of ["upperOuter", "lowerOuter", "upperInner", "lowerInner"] as const) {
      const p = corner[j];
      list.push({
        id: `pin.${side}.${j}`,
        at: px(solved.joints[j].hole),
        reach: FINE_REACH,
        name: `${JOINT_WORDS[j]}, ${side}`,
        value: holeWords(p.sMm, p.zMm, pitch),
        axes: "both",
      });
    }
    list.push({
      id: `springTop.${side}`,
      at: px(solved.spring.top),
      reach: FINE_REACH,
      name: `spring top, ${side}`,
      value: holeWords(corner.spring.top.sMm, corner.spring.top.zMm, pitch),
      axes: "both",
    });
    const seat = corner.spring.seat;
    if (seat.on !== "hub")
      list.push({
        id: `seat.${side}`,
        at: px(drawnSeat(corner, solved, bend)),
        reach: FINE_REACH,
        name: `spring seat, ${side}`,
        value: `${fixed(seat.fraction * 100, 0)} % along the arm`,
        axes: "across",
      });
    out.push(...(side === "left" ? list : [...list].reverse()));
  }
  const middle: Handle[] = [
    { id: "gravity", at: px(state.body.cg), reach: 13, name: "centre of gravity", value: `${withUnit(scenario.body.cgHeightMm, 1, "mm")} up`, axes: "up" },
    { id: "cornering", at: tip, reach: 22, name: "cornering", value: withUnit(state.load.lateralG, 2, "g"), axes: "across" },
  ];
  const split = out.findIndex((h) => h.id.includes(".right"));
  out.splice(split < 0 ? out.length : split, 0, ...middle);
  return out;
}

/** The handle under a point: the nearest one within reach. */
export function pick(handles: readonly Handle[], at: V2, extraReach = 0): Handle | null {
  let best: Handle | null = null;
  let bestD = Number.POSITIVE_INFINITY;
  for (const h of handles) {
    const d = distance(h.at, at);
    if (d <= Math.max(h.reach, extraReach) && d < bestD) [best, bestD] = [h, d];
  }
  return best;
}

/** Distances that matter while a point is dragged: "hole 5 out, 9 up" and "40 mm, 72 mm · arm 6 holes". */
export function dragWords(id: HandleId, scenario: Scenario, corners: Record<Side, Corner>, load: AxleState["load"]): [string, string] {
  if (isFitHandle(id)) return fitWords(id, scenario);
  const [kind, sideText, joint] = id.split(".") as [string, Side | undefined, JointName | undefined];
  const side = sideText ?? "right";
  const c = corners[side];
  const pitch = scenario.holePitchMm;
  const place = (s: number, z: number): string => `${fixed(s, 1).replace(/\.0$/, "")} mm, ${fixed(z, 1).replace(/\.0$/, "")} mm`;
  if (kind === "pin" && joint && JOINT_NAMES.includes(joint)) {
    const arm = joint.startsWith("upper") ? "upper" : "lower";
    const a = c[`${arm}Inner`];
    const b = c[`${arm}Outer`];
    const mm = distance([a.sMm, a.zMm], [b.sMm, b.zMm]);
    return [
      holeWords(c[joint].sMm, c[joint].zMm, pitch),
      `${place(c[joint].sMm, c[joint].zMm)} · arm ${fixed(mm, 1)} mm, ${fixed(mm / pitch, 2).replace(/\.?0+$/, "")} holes`,
    ];
  }
  if (kind === "wheel")
    return [
      holeWords(c.wheelCentre.sMm, c.wheelCentre.zMm, pitch),
      `${place(c.wheelCentre.sMm, c.wheelCentre.zMm)} · track ${fixed(corners.left.wheelCentre.sMm + corners.right.wheelCentre.sMm, 0)} mm`,
    ];
  if (kind === "springTop") return [holeWords(c.spring.top.sMm, c.spring.top.zMm, pitch), place(c.spring.top.sMm, c.spring.top.zMm)];
  if (kind === "seat" && c.spring.seat.on !== "hub") return [`${fixed(c.spring.seat.fraction * 100, 0)} % along the arm`, "0 % is the inner pin"];
  if (kind === "road") return [`${fixed(bumpOf(load, side), 1)} mm`, bumpOf(load, side) >= 0 ? "road raised here" : "road sunk here"];
  if (kind === "gravity") return [`${fixed(scenario.body.cgHeightMm, 1)} mm up`, `${fixed(scenario.body.cgHeightMm / pitch, 1)} holes`];
  return [`${fixed(load.lateralG, 2)} g`, load.lateralG >= 0 ? "left-hand curve" : "right-hand curve"];
}
