import type { Arm3d } from "../../../core/arm/arm-frame.ts";
import { mainStiffnesses } from "../../../core/arm/stiffness.ts";
import { armStress, type StressAt } from "../../../core/arm/stress.ts";
import { cornerOf } from "../../../core/design/sides.ts";
import type { Arm, ArmName, Side } from "../../../core/design/types.ts";
import { thrustPerWheelN } from "../../../core/drive/push.ts";
import { thrustTest } from "../../../core/drive/thrust-on-arms.ts";
import type { AxleModel } from "../../../core/equilibrium/model.ts";
import type { ArmState, AxleState } from "../../../core/equilibrium/state.ts";
import type { SolvedArmLoads } from "../../../core/limits/arm-loads.ts";
import { armBuckling } from "../../../core/limits/arms.ts";
import type { LimitContext } from "../../../core/limits/context.ts";
import { heldWords } from "../../../core/limits/held-words.ts";
import { armLoads, type WheelPush, wheelPush } from "../../../core/limits/push.ts";
import type { V2 } from "../../../core/vec.ts";
import { figures, fixed } from "../../../view/format.ts";
import { rampStep } from "../../../view/parts/hub.ts";
import type { LimitRow } from "../../../view/reading.ts";

/** One arm of a solved car: what it is, what it carries, and how it answers. */
export interface ArmFacts {
  arm: Arm;
  arm3d: Arm3d;
  lengthMm: number;
  stiffness: { foreAft: number; lateral: number; vertical: number };
  /**
   * Push along the road at this ball joint, N, and how far it shifts the hub there, mm: that of the load where it pushes (`own`), else the
   * hardest that the drive can give
   */
  drive: { pushN: number; shiftMm: number; own: boolean };
  /** null: the car finds no equilibrium */
  under: ArmUnder | null;
}

interface ArmUnder extends SolvedArmLoads {
  state: ArmState;
  /** along the road; null: neither throttle nor brake */
  push: WheelPush | null;
  stress: StressAt;
  /** N across and along the arm from the spring (0 when it sits elsewhere), N along the arm at the ball joint, tension positive */
  springN: number;
  alongN: number;
}

/** What the arm sheet needs of a prepared design. */
export interface PreparedArms {
  model: AxleModel;
  arms3d: LimitContext["arms3d"];
}

/** @param speedMps with which the load is driven, for what the throttle gives there */
export function armFacts(prepared: PreparedArms, state: AxleState | null, speedMps: number, side: Side, name: ArmName): ArmFacts {
  const arm3d = prepared.arms3d[side][name];
  const under = state ? armUnder(prepared, state, speedMps, side, name) : null;
  const push = under?.push ?? null;
  return {
    arm: arm3d.arm,
    arm3d,
    lengthMm: arm3d.lengthMm,
    stiffness: mainStiffnesses(arm3d),
    drive: push ? { pushN: Math.abs(push.jointPushN[name]), shiftMm: Math.abs(push.jointShiftMm[name]), own: true } : driveOnArm(prepared, side, name),
    under,
  };
}

function driveOnArm({ model, arms3d }: PreparedArms, side: Side, name: ArmName): ArmFacts["drive"] {
  const { atCentre, stiffnessNPerMm } = thrustTest(cornerOf(model.scenario, side), arms3d[side]);
  const pushN = Math.abs(thrustPerWheelN(model.scenario) * atCentre.share[name]);
  return { pushN, shiftMm: pushN / stiffnessNPerMm[name], own: false };
}

function armUnder(prepared: PreparedArms, state: AxleState, speedMps: number, side: Side, name: ArmName): ArmUnder {
  const context: LimitContext = { ...prepared, state, restLoadN: { left: 0, right: 0 }, speedMps };
  const carried = armLoads(context, side, name);
  const { loads, upright, along } = carried;
  const seat = loads.seat;
  return {
    state: state[side].arms[name],
    ...carried,
    push: wheelPush(context, side),
    stress: armStress(prepared.arms3d[side][name], loads, upright, along).worst,
    springN: seat ? Math.sqrt(seat[1] * seat[1] + seat[2] * seat[2]) : 0,
    alongN: loads.ballJoint[1],
  };
}

/** Yield, lasting set (plastics only) and buckling of this one arm, in that order. */
export function closeness(f: ArmFacts): LimitRow[] {
  const u = f.under;
  if (!u) return [];
  const m = f.arm3d.material;
  const row = (key: LimitRow["name"], words: string, where: string, demand: number, capacity: number, unit: string, caution: boolean): LimitRow => {
    const utilization = capacity > 0 ? demand / capacity : 0;
    return {
      key,
      name: key,
      words,
      where,
      utilization,
      step: rampStep(utilization),
      demand: heldWords(key, figures(demand), fixed(capacity, capacity < 30 ? 1 : 0), unit),
      number: fixed(utilization, 2),
      caution,
    };
  };
  const out = [row("armYield", "Yields", u.stress.at.split(", ").pop() ?? "", u.stress.vonMisesMPa, m.yieldMPa, "N/mm²", false)];
  if (m.plastic) out.push(row("armSet", "Stays bent in time", "long load", u.stress.vonMisesMPa, m.yieldMPa / 2, "N/mm²", true));
  const { factor, by, demand, unit } = armBuckling(f.arm3d, u, u.state);
  out.push(
    Number.isFinite(factor) && factor > 0
      ? row("armBuckling", "Buckles", by === "pushed" ? "pressed along the arm" : "twists over, being bent", demand, demand * factor, unit, false)
      : row("armBuckling", "Buckles", "nothing presses it", 0, 1, "N", false),
  );
  return out;
}

/** The arm from behind under its load: [along the straight line between its pins, up], its bow drawn `factor` times larger. mm. */
export function bowLine(state: ArmState, side: Side, factor: number): V2[] {
  const a = state.nodes[0]!;
  const b = state.nodes[state.nodes.length - 1]!;
  const long = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  const ex = (b[0] - a[0]) / long;
  const ez = (b[1] - a[1]) / long;
  const up = side === "right" ? 1 : -1;
  return state.nodes.map((p): V2 => {
    const x = p[0] - a[0];
    const z = p[1] - a[1];
    return [x * ex + z * ez, factor * up * (z * ex - x * ez)];
  });
}
