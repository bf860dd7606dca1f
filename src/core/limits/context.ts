import type { LimitName, LimitResult } from "../analysis.ts";
import { type Arm3d, arm3dOf } from "../arm/arm-frame.ts";
import type { ArmName, Side } from "../design/types.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import type { AxleState, CornerState } from "../equilibrium/state.ts";

/** What every limit looks at. */
export interface LimitContext {
  model: AxleModel;
  state: AxleState;
  /** vertical load of each wheel at rest on a flat road, N */
  restLoadN: Record<Side, number>;
  /** speed that the cornering level means on the given curve, m/s */
  speedMps: number;
  arms3d: Record<Side, Record<ArmName, Arm3d>>;
}

export const cornerOfContext = (x: LimitContext, side: Side): { c: CornerModel; s: CornerState } => ({
  c: x.model.corners[side === "left" ? 0 : 1],
  s: x.state[side],
});

/** Spatial frames of the four arms; they depend on the design alone. */
export function buildArms3d(model: AxleModel): LimitContext["arms3d"] {
  const make = (side: Side, name: ArmName): Arm3d => {
    const c = model.corners[side === "left" ? 0 : 1];
    const seat = c.corner.spring.seat;
    return arm3dOf(
      name === "upper" ? c.corner.upperArm : c.corner.lowerArm,
      c.arms[name].length,
      seat.on !== "hub" && seat.on === `${name}Arm` ? seat.fraction : null,
      c.arms[name].barNode === null ? null : model.scenario.antiRollBar.atFraction,
    );
  };
  return { left: { upper: make("left", "upper"), lower: make("left", "lower") }, right: { upper: make("right", "upper"), lower: make("right", "lower") } };
}

export interface LimitDraft {
  part: string;
  demand: number;
  capacity: number;
  unit: string;
  caution?: boolean;
  inputs: LimitResult["inputs"];
}

export function limitResult(name: LimitName, wheel: Side | "both", d: LimitDraft): LimitResult {
  const utilization = d.demand <= 0 ? 0 : d.capacity > 0 ? d.demand / d.capacity : Number.MAX_VALUE;
  return { name, wheel, part: d.part, utilization, demand: d.demand, capacity: d.capacity, unit: d.unit, caution: d.caution ?? false, inputs: d.inputs };
}
