import type { LimitResult } from "../core/analysis.ts";
import { JOINT_NAMES, SIDES, type Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { BODY_TURN, HEAVE, wheelTurn } from "../core/equilibrium/unknowns.ts";
import type { WheelPush } from "../core/limits/push.ts";
import { radToDeg } from "../core/units.ts";
import { AXLE_CHANNELS, CHANNELS, CORNER_CHANNELS, FIRST_ALONG_ROAD, GOING_CHANNELS, PUSH_CHANNELS } from "./channels.ts";
import { travelMm, use, worseShare } from "./demand.ts";
import type { Session } from "./session.ts";

/** Reads the channels of a moving axle, and of a static answer. Apart from their list, so that a page that only shows a trace needs no physics engine. */

/** Fills `out` with all channels of the present moment. The arms' shares are those of the last time they were told. */
export function readChannels(x: Session, out: Float64Array): void {
  const { s, m } = x;
  out[0] = x.input.lateralG;
  out[1] = radToDeg(-s.q[BODY_TURN]!);
  out[2] = s.q[HEAVE]!;
  out[3] = s.q[m.x]!;
  for (const i of [0, 1] as const) {
    let o = AXLE_CHANNELS.length + i * CORNER_CHANNELS.length;
    const c = m.axle.corners[i];
    const on = s.wheelOn[i];
    const side = SIDES[i];
    const d = x.demands[i];
    const kerb = x.input.kerb?.side === side ? s.kerbN : 0;
    out[o++] = radToDeg(-c.sign * wheelTurn(c, s.q));
    out[o++] = s.tyre.verticalN[i];
    out[o++] = s.tyre.lateralN[i];
    out[o++] = travelMm(s, i);
    out[o++] = x.input.road[i];
    out[o++] = d.springMm;
    out[o++] = d.hubN;
    out[o++] = d.jointN;
    out[o++] = Math.sqrt(s.tyre.verticalN[i] ** 2 + (s.tyre.lateralN[i] + kerb) ** 2);
    out[o++] = use(d.hubN, d.hubHoldsN);
    out[o++] = use(d.tyreN, d.tyreHoldsN);
    out[o++] = use(d.jointN, d.jointHoldsN);
    out[o++] = worseShare(x.arms[i], "yields");
    out[o++] = worseShare(x.arms[i], "buckling");
    out[o++] = on && s.tyre.verticalN[i] > 0 ? Math.max(s.tyre.gripUsed[i], x.going?.gripUsed[i] ?? 0) : 0;
  }
  const { going } = x;
  let o = FIRST_ALONG_ROAD;
  out[o++] = going?.mps ?? 0;
  out[o++] = going ? going.wayMm / 1000 : 0;
  for (const i of [0, 1] as const) {
    const told = going?.told[i];
    out[o++] = going ? going.passedN[i] : 0;
    out[o++] = told?.wheelShiftMm ?? 0;
    out[o++] = told?.axisTiltDeg ?? 0;
  }
}

/** The same channels of a static answer, at the speed at which the car met it. */
export function staticChannels(
  state: AxleState,
  limits: readonly LimitResult[],
  travel: Record<Side, number>,
  grip: readonly [number, number],
  speedMps: number,
  pushes: Record<Side, WheelPush | null>,
): Float64Array {
  const out = new Float64Array(CHANNELS.length);
  out[0] = state.load.lateralG;
  out[1] = radToDeg(-state.body.angleRad);
  out[2] = state.body.heaveMm;
  SIDES.forEach((side, i) => {
    const c = state[side];
    const limit = (name: LimitResult["name"]): LimitResult | undefined => limits.find((l) => l.name === name && l.wheel === side);
    let o = AXLE_CHANNELS.length + i * CORNER_CHANNELS.length;
    const put = (v: number): void => {
      out[o++] = v;
    };
    put(radToDeg(side === "right" ? -c.wheelAngleRad : c.wheelAngleRad));
    put(c.tyre.verticalN);
    put(c.tyre.lateralN);
    put(travel[side]);
    put(side === "left" ? state.load.bumpLeftMm : state.load.bumpRightMm);
    put(c.spring.lengthMm);
    put(limit("hubRetention")?.demand ?? 0);
    put(Math.max(...JOINT_NAMES.map((n) => c.joints[n].forceN)));
    put(Math.sqrt(c.tyre.verticalN ** 2 + c.tyre.lateralN ** 2));
    put(limit("hubRetention")?.utilization ?? 0);
    put(limit("tyreOffRim")?.utilization ?? 0);
    put(limit("jointPullOut")?.utilization ?? 0);
    put(limit("armYield")?.utilization ?? 0);
    put(limit("armBuckling")?.utilization ?? 0);
    put(Math.max(Math.abs(state.load.lateralG) / grip[i]!, pushes[side]?.gripUsed ?? 0));
    o = FIRST_ALONG_ROAD + GOING_CHANNELS.length + i * PUSH_CHANNELS.length;
    put(pushes[side]?.passedOnN ?? 0);
    put(pushes[side]?.wheelShiftMm ?? 0);
    put(pushes[side]?.axisTiltDeg ?? 0);
  });
  out[FIRST_ALONG_ROAD] = speedMps;
  return out;
}
