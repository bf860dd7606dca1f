import type { LimitName, LimitResult } from "../analysis.ts";
import type { Arm3d } from "../arm/arm-frame.ts";
import { cornerArms3d } from "../arm/corner-arms.ts";
import type { ArmName, Side } from "../design/types.ts";
import type { PushAsked } from "../drive/push.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import type { AxleState, CornerState } from "../equilibrium/state.ts";
import { LIMITS } from "./records.ts";

/** What every limit looks at. */
export interface LimitContext {
  model: AxleModel;
  state: AxleState;
  /** vertical load of each wheel at rest on a flat road, N */
  restLoadN: Record<Side, number>;
  /** speed that the cornering level means on the given curve, m/s */
  speedMps: number;
  arms3d: Record<Side, Record<ArmName, Arm3d>>;
  /** push that each wheel is asked for; absent: what the load's throttle and brake ask for at the speed */
  push?: PushAsked;
}

/** Model and solved state of one corner. */
export const cornerOfContext = (x: LimitContext, side: Side): { c: CornerModel; s: CornerState } => ({
  c: x.model.corners[side === "left" ? 0 : 1],
  s: x.state[side],
});

/** Spatial frames of the four arms; they depend on the design alone. */
export function buildArms3d(model: AxleModel): LimitContext["arms3d"] {
  const [left, right] = model.corners;
  const bar = left.arms.lower.barNode === null ? null : model.scenario.antiRollBar.atFraction;
  return { left: cornerArms3d(left.corner, bar), right: cornerArms3d(right.corner, bar) };
}

export interface LimitDraft {
  part: string;
  demand: number;
  capacity: number;
  unit: string;
  inputs: LimitResult["inputs"];
}

/** A limit with its utilization, demand over capacity; the largest number where there is demand and no capacity. */
export function limitResult(name: LimitName, wheel: Side | "both", d: LimitDraft): LimitResult {
  const utilization = d.demand <= 0 ? 0 : d.capacity > 0 ? d.demand / d.capacity : Number.MAX_VALUE;
  return { name, wheel, part: d.part, utilization, demand: d.demand, capacity: d.capacity, unit: d.unit, caution: LIMITS[name].caution, inputs: d.inputs };
}
