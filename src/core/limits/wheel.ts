import type { LimitResult } from "../analysis.ts";
import { ARM_WORDS, JOINT_WORDS } from "../design/part-words.ts";
import { JOINT_NAMES, SIDES, type Side, type TyreSeat } from "../design/types.ts";
import { mpsToKmh, radToDeg } from "../units.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";
import { jointPullN, wheelPush } from "./push.ts";

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
  const { c } = cornerOfContext(x, side);
  let worst: LimitResult | undefined;
  for (const name of JOINT_NAMES) {
    const r = limitResult("jointPullOut", side, {
      part: JOINT_WORDS[name],
      demand: jointPullN(x, side, name),
      capacity: c.corner.joints[name].pullOutN,
      unit: "N",
      inputs: [{ name: `force in the ${JOINT_WORDS[name]}`, value: jointPullN(x, side, name), unit: "N" }],
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

/**
 * Force in the road's plane over vertical force of the tyre nearest to letting go, against its friction: side force, and with a push the
 * resultant of both (`passedOn`). What only its push can let spin or lock is a caution, unless the builder says that no wheel may.
 */
export function sliding(x: LimitContext): LimitResult {
  const each = SIDES.map((side): LimitResult => {
    const { c, s } = cornerOfContext(x, side);
    const aside = s.tyre.verticalN > 0 ? Math.abs(s.tyre.lateralN) / s.tyre.verticalN : 0;
    const push = wheelPush(x, side);
    const demand = push ? (s.tyre.verticalN > 0 ? push.gripUsed * c.tyre.friction : aside) : aside;
    const byPush = push !== null && aside < c.tyre.friction;
    const word = push && push.askedN < 0 ? "locks" : "spins";
    const r = limitResult("sliding", "both", {
      part: byPush && demand >= c.tyre.friction ? `${side} wheel ${word}` : "tyres let go",
      demand,
      capacity: c.tyre.friction,
      unit: "g",
      inputs: [
        { name: "grip", value: c.tyre.friction, unit: "" },
        ...(push
          ? [
              { name: "side force alone", value: aside, unit: "g" },
              { name: "push asked for", value: push.askedN, unit: "N" },
              { name: "push that reaches the road", value: push.passedOnN, unit: "N" },
            ]
          : []),
      ],
    });
    return byPush ? { ...r, caution: !x.model.scenario.limits.spinMustHold } : r;
  });
  // what fails comes before what is a caution
  const failing = each.filter((r) => !r.caution && r.utilization >= 1);
  return (failing.length > 0 ? failing : each).reduce((w, r) => (r.utilization > w.utilization ? r : w));
}

/** Forward or backward shift of the wheel's centre against the largest that the builder accepts, mm. */
export function wheelShift(x: LimitContext, side: Side): LimitResult | null {
  const push = wheelPush(x, side);
  if (!push) return null;
  const { wheelShiftMm } = push;
  const r = limitResult("wheelShift", side, {
    part: push.folds ? `the ${ARM_WORDS[push.folds]} folds along the road` : `wheel shifts ${wheelShiftMm < 0 ? "backwards" : "forwards"}`,
    demand: Math.abs(wheelShiftMm),
    capacity: x.model.scenario.limits.wheelShiftMm,
    unit: "mm",
    inputs: [
      { name: "push that reaches the road", value: push.passedOnN, unit: "N" },
      { name: "of it at the upper outer joint", value: push.jointPushN.upper, unit: "N" },
      { name: "of it at the lower outer joint", value: push.jointPushN.lower, unit: "N" },
      { name: "upper outer joint shifts", value: push.jointShiftMm.upper, unit: "mm" },
      { name: "lower outer joint shifts", value: push.jointShiftMm.lower, unit: "mm" },
    ],
  });
  return push.folds ? { ...r, utilization: Number.MAX_VALUE } : r;
}

/** Tilt of the steering axis seen from the side against the largest that the builder accepts, °. */
export function axisTilt(x: LimitContext, side: Side): LimitResult | null {
  const push = wheelPush(x, side);
  if (!push) return null;
  return limitResult("axisTilt", side, {
    part: "steering axis tilts",
    demand: Math.abs(push.axisTiltDeg),
    capacity: x.model.scenario.limits.axisTiltDeg,
    unit: "°",
    inputs: [
      { name: push.axisTiltDeg < 0 ? "top forwards" : "top backwards", value: Math.abs(push.axisTiltDeg), unit: "°" },
      { name: "moment that the steering rod holds", value: push.steeringNmm, unit: "N·mm" },
    ],
  });
}
