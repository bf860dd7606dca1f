import { unsprungMassKg } from "../../src/core/design/mass.ts";
import type { Scenario } from "../../src/core/design/types.ts";

type Weights = Pick<Scenario["body"], "carMassKg" | "axleShare">;

/** The whole car and this axle's share of it for so much on the axle's springs, kg; the car weighs so many times what stands on the axle. */
export function weightsFor(s: Scenario, sprungKg: number, times = 2): Weights {
  const axleKg = sprungKg + unsprungMassKg(s);
  return { carMassKg: times * axleKg, axleShare: 1 / times };
}

/** The car with so much on this axle's springs, kg. */
export const withSprung = (s: Scenario, sprungKg: number, times = 2): Scenario => ({ ...s, body: { ...s.body, ...weightsFor(s, sprungKg, times) } });
