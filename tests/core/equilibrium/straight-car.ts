import type { Load, Scenario } from "../../../src/core/design/types.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { REST, solveCold } from "../../../src/core/equilibrium/solve.ts";
import { shipped } from "../../support/shipped.ts";

/** The straight-armed car on few elements an arm, for tests of how the search goes about it. */
export function straightCar(change: (s: Scenario) => void = () => {}, elementsPerArm = 2): AxleModel {
  const s = structuredClone(shipped("heavy-straight.json"));
  change(s);
  return buildAxle(s, { elementsPerArm });
}

/** Takes all play out: forces without corners near rest. */
export const withoutPlay = (s: Scenario): void => {
  for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
  s.corner.hub.tiltPlayDeg = 0;
};

export const curve = (lateralG: number): Load => ({ ...REST, lateralG });
export const rad = (deg: number): number => (deg * Math.PI) / 180;

/** The answer at a load that must have one. */
export function solved(m: AxleModel, load: Load): Float64Array {
  const r = solveCold(m, load);
  if (!r.ok) throw new Error(r.reason.message);
  return r.q;
}
