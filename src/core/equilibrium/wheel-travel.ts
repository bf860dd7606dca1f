import type { Side } from "../design/types.ts";
import type { V2 } from "../vec.ts";
import type { AxleModel, CornerModel } from "./model.ts";
import { cornerModel } from "./model.ts";
import type { AxleState } from "./state.ts";

/**
 * Rise of a wheel's centre against the body, mm: in the body's own frame, from as-built, positive in bump.
 * @param builtCg the body's centre of gravity as built; @param cg where it stands now; @param bodyTurn its turn, rad
 * @param wheelCentre where the wheel's centre stands now
 */
export function wheelTravelAt(c: CornerModel, builtCg: V2, cg: V2, bodyTurn: number, wheelCentre: V2): number {
  const x = wheelCentre[0] - cg[0];
  const z = wheelCentre[1] - cg[1];
  return Math.cos(bodyTurn) * z - Math.sin(bodyTurn) * x + builtCg[1] - c.centre[1];
}

/** The same of a solved axle. */
export const wheelTravelMm = (model: AxleModel, state: AxleState, side: Side): number =>
  wheelTravelAt(cornerModel(model, side), model.cg, state.body.cg, state.body.angleRad, state[side].wheelCentre);
