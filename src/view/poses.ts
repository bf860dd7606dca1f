import type { Arm, Corner, Scenario, Section, Side } from "../core/design/types.ts";
import type { ArmState, AxleState, CornerState } from "../core/equilibrium/state.ts";
import type { V2 } from "../core/vec.ts";
import { add, length, mix, sub, turn, unit } from "./geometry.ts";

export const signOf = (side: Side): 1 | -1 => (side === "right" ? 1 : -1);

/** As-built picture point (x, z) of the body to where the solved body has it. */
export function bodyPose(scenario: Scenario, state: AxleState): (p: V2) => V2 {
  const cg0: V2 = [0, scenario.body.cgHeightMm];
  return (p) => add(state.body.cg, turn(sub(p, cg0), state.body.angleRad));
}

/** Wheel frame (outboard e, up v, mm) to the picture. */
export function wheelPose(corner: CornerState): (e: number, v: number) => V2 {
  const sign = signOf(corner.side);
  return (e, v) => add(corner.wheelCentre, turn([sign * e, v], corner.wheelAngleRad));
}

/** Hub frame (outboard e, up v from the as-built wheel centre, mm) to the picture. */
export function hubPose(corner: CornerState): (e: number, v: number) => V2 {
  const sign = signOf(corner.side);
  return (e, v) => add(corner.hub.at, turn([sign * e, v], corner.hub.angleRad));
}

/** Nodes of an arm with the bow off the straight line between its pins multiplied; the ends stay true. */
export function bentNodes(arm: ArmState, factor: number): V2[] {
  const a = arm.nodes[0] as V2;
  const b = arm.nodes[arm.nodes.length - 1] as V2;
  const d = unit(sub(b, a));
  const total = length(sub(b, a));
  return arm.nodes.map((p) => {
    const r = sub(p, a);
    const along = r[0] * d[0] + r[1] * d[1];
    const onLine = total > 0 ? mix(a, b, along / total) : a;
    return [onLine[0] + (p[0] - onLine[0]) * factor, onLine[1] + (p[1] - onLine[1]) * factor];
  });
}

/** Up-down measure of a section, mm. */
function sectionHeight(section: Section): number {
  switch (section.shape) {
    case "round":
      return section.diameterMm;
    case "tube":
      return section.outerMm;
    default:
      return section.heightMm;
  }
}

/** Drawn height of an arm at a fraction of its length from the inner pin, mm. */
export const armHeightAt = (arm: Arm, fraction: number): number =>
  sectionHeight(arm.layout === "split" && arm.stemSection && fraction > 1 - arm.stemShare ? arm.stemSection : arm.section);

/** Where the spring's lower end is drawn: on the drawn (bent) arm, or where it truly is. */
export function drawnSeat(corner: Corner, state: CornerState, factor: number): V2 {
  const on = corner.spring.seat.on;
  if (on === "hub") return state.spring.seat;
  const arm = state.arms[on === "lowerArm" ? "lower" : "upper"];
  if (arm.seatNode === null) return state.spring.seat;
  return bentNodes(arm, factor)[arm.seatNode] ?? state.spring.seat;
}

/** Middle of the spring of an outer-inner pair: which wheel carries the curve. */
export const outerSide = (lateralG: number): Side => (lateralG >= 0 ? "right" : "left");
