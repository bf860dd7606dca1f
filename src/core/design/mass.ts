import { cornerOf } from "./sides.ts";
import { type Scenario, SIDES } from "./types.ts";

/**
 * The car's weight has one place: the whole car, and the share of it that stands on this axle. All else follows from these and from
 * what each corner carries below its spring.
 */

/** What the scale shows under both wheels of this axle, kg. */
export const axleMassKg = (s: Pick<Scenario, "body">): number => s.body.carMassKg * s.body.axleShare;

/** What both corners carry below their springs, kg. */
export const unsprungMassKg = (s: Scenario): number => SIDES.reduce((sum, side) => sum + cornerOf(s, side).wheel.unsprungMassKg, 0);

/** A share of a weight is not exact in binary; a microgram is below anything that counts. */
const round = (kg: number): number => Math.round(kg * 1e9) / 1e9;

/** What stands on this axle's springs, kg: its share of the car without wheels, hubs and what moves with them. Below 0 for what no file may hold. */
export const sprungMassKg = (s: Scenario): number => round(axleMassKg(s) - unsprungMassKg(s)) + 0;

/** The car with this axle's share as the scale under its two wheels tells it, kg. */
export const withAxleMass = (s: Scenario, kg: number): Scenario => ({ ...s, body: { ...s.body, axleShare: kg / s.body.carMassKg } });
