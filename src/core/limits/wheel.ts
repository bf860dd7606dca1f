import type { LimitResult } from "../analysis.ts";
import { JOINT_WORDS } from "../design/part-words.ts";
import { JOINT_NAMES, type Side, type TyreSeat } from "../design/types.ts";
import { mpsToKmh, radToDeg } from "../units.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";

/**
 * Sideways force that a tyre seat holds at a speed, N. A stretched band presses on the rim with its tension T along the whole
 * circumference: friction · 2π · (T - m'v²); the spinning band lifts at v² = T/m' (thin rotating ring: Carvill 1993, p. 15, 1.2.7).
 * Side discs or glue add what they hold, whatever the speed.
 */
export function tyreHoldN(seat: TyreSeat, speedMps: number): number {
  // g/mm is kg/m: m'v² is in N
  const tension = Math.max(0, seat.bandTensionN - seat.bandMassGPerMm * speedMps * speedMps);
  return 2 * Math.PI * seat.friction * tension + (seat.kind === "stretchedBand" ? 0 : seat.extraHoldN);
}

/** Side force against what holds the tyre on its rim, N. */
export function tyreOffRim(x: LimitContext, side: Side): LimitResult {
  const { c, s } = cornerOfContext(x, side);
  const seat = c.corner.tyre.seat;
  const hold = tyreHoldN(seat, x.speedMps);
  return limitResult("tyreOffRim", side, {
    part: seat.kind === "stretchedBand" ? "tyre on its rim" : seat.kind === "glue" ? "glued tyre" : "tyre between its discs",
    demand: Math.abs(s.tyre.lateralN),
    capacity: hold,
    unit: "N",
    inputs: [
      { name: "speed", value: mpsToKmh(x.speedMps), unit: "km/h" },
      { name: "band tension left", value: Math.max(0, seat.bandTensionN - seat.bandMassGPerMm * x.speedMps ** 2), unit: "N" },
      { name: "holds at rest", value: tyreHoldN(seat, 0), unit: "N" },
    ],
  });
}

/** The ball or pin joint of the corner nearest to being pulled out, N. */
export function jointPullOut(x: LimitContext, side: Side): LimitResult {
  const { c, s } = cornerOfContext(x, side);
  let worst: LimitResult | undefined;
  for (const name of JOINT_NAMES) {
    const r = limitResult("jointPullOut", side, {
      part: JOINT_WORDS[name],
      demand: s.joints[name].forceN,
      capacity: c.corner.joints[name].pullOutN,
      unit: "N",
      inputs: [{ name: `force in the ${JOINT_WORDS[name]}`, value: s.joints[name].forceN, unit: "N" }],
    });
    if (!worst || r.utilization > worst.utilization) worst = r;
  }
  return worst!;
}

/** Lean of the wheel either way against the largest that the builder accepts, °. */
export function camberLimit(x: LimitContext, side: Side): LimitResult {
  const { c, s } = cornerOfContext(x, side);
  const camber = radToDeg(-c.sign * s.wheelAngleRad);
  return limitResult("camber", side, {
    part: "lean of the wheel",
    demand: Math.abs(camber),
    capacity: x.model.scenario.limits.camberDeg,
    unit: "°",
    inputs: [{ name: camber > 0 ? "top outwards" : "top inwards", value: Math.abs(camber), unit: "°" }],
  });
}

/** How far the spring is pressed against how far it may be until its bump stop touches, mm. */
export function springOnStop(x: LimitContext, side: Side): LimitResult {
  const { c, s } = cornerOfContext(x, side);
  return limitResult("springOnStop", side, {
    part: "spring on its bump stop",
    demand: Math.max(0, c.spring.free - s.spring.lengthMm),
    capacity: Math.max(0, c.spring.free - c.spring.bumpLength),
    unit: "mm",
    inputs: [
      { name: "spring length", value: s.spring.lengthMm, unit: "mm" },
      { name: "the stop touches at", value: c.spring.bumpLength, unit: "mm" },
    ],
  });
}

/** How much of its rest load a wheel has lost; with nothing lent by the rest of the car a lifted wheel is tipping. */
export function wheelLift(x: LimitContext): LimitResult {
  const lost = (side: Side): number => x.restLoadN[side] - x.state[side].tyre.verticalN;
  const side: Side = lost("left") / x.restLoadN.left >= lost("right") / x.restLoadN.right ? "left" : "right";
  return limitResult("wheelLift", side, {
    part: x.model.otherRollK === 0 ? "wheel lifts: the car tips" : "wheel lifts",
    demand: Math.max(0, lost(side)),
    capacity: x.restLoadN[side],
    unit: "N",
    inputs: [{ name: "left on it", value: x.state[side].tyre.verticalN, unit: "N" }],
  });
}

/** Side over vertical force of the tyre nearest to sliding, against its friction. */
export function sliding(x: LimitContext): LimitResult {
  let worst: LimitResult | undefined;
  for (const side of ["left", "right"] as const) {
    const { c, s } = cornerOfContext(x, side);
    const demand = s.tyre.verticalN > 0 ? Math.abs(s.tyre.lateralN) / s.tyre.verticalN : 0;
    const r = limitResult("sliding", "both", {
      part: "tyres let go",
      demand,
      capacity: c.tyre.friction,
      unit: "g",
      inputs: [{ name: "grip", value: c.tyre.friction, unit: "" }],
    });
    if (!worst || r.utilization > worst.utilization) worst = r;
  }
  return worst!;
}
