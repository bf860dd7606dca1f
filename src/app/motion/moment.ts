import type { AxleReport } from "../../core/analysis.ts";
import { type Corner, type Scenario, SIDES, type Side } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import { plan } from "../../motion/manoeuvres.ts";
import { buildMotion } from "../../motion/model.ts";
import { channelAt, column, looseAt, samplePlace, sampleState, type Trace } from "../../motion/trace.ts";
import type { Drawn } from "../../view/scene.ts";
import { type Kerb, reportNow, withWheelAt } from "./picture.ts";
import { breakOf, type Recorded, wheelOffAt } from "./story.ts";

/** A recorded run read at one time, ready for the picture. */
export interface Moment {
  drawn: Drawn;
  wheelOff: Record<Side, boolean>;
  tyreOff: Record<Side, boolean>;
  looseTyres: { side: Side; pose: { x: number; z: number; angle: number } }[];
  leaving: Side | null;
}

/** A part that leaves is followed by its arrow for so long, s. */
export const LEAVING_S = 0.6;

export interface Resting {
  scenario: Scenario;
  corners: Record<Side, Corner>;
  report: AxleReport;
}

/**
 * The axle at a time of a run. `still`: whoever wants no motion sees a lost part where it ends up, at once.
 */
export function momentAt(r: Recorded, rest: Resting, timeS: number, still: boolean): Moment {
  const { trace } = r;
  let state: AxleState = sampleState(trace, timeS);
  const { index } = samplePlace(trace, timeS);
  const pose = trace.poses[index]!;
  const last = trace.poses[trace.poses.length - 1]!;
  const wheelOff = { left: pose.extras.wheelOff[0] !== null, right: pose.extras.wheelOff[1] !== null };
  if (still)
    SIDES.forEach((side, i) => {
      const at = last.extras.wheelOff[i];
      if (wheelOff[side] && at) state = withWheelAt(state, side, [at.x - last.extras.lateralMm, at.z], at.angle);
    });
  const first = breakOf(trace);
  return {
    drawn: {
      scenario: rest.scenario,
      corners: rest.corners,
      state,
      report: reportNow(rest.report, (key) => channelAt(trace, key, timeS), {
        left: channelAt(trace, "left.camberDeg", timeS),
        right: channelAt(trace, "right.camberDeg", timeS),
      }),
    },
    wheelOff,
    tyreOff: { left: pose.bareRim[0], right: pose.bareRim[1] },
    looseTyres: looseAt(trace, still ? trace.timeS[trace.timeS.length - 1]! : timeS)
      .filter((l) => l.kind === "tyre" && pose.bareRim[l.side === "left" ? 0 : 1])
      .map((l) => ({ side: l.side, pose: l.pose })),
    leaving: first && first.kind === "comesOff" && timeS >= first.timeS && timeS <= first.timeS + LEAVING_S && !still ? first.side : null,
  };
}

/** How far the body rises over where it was built, mm: what the sheet must have room for. */
export function riseOf(trace: Trace): number {
  const heave = column(trace, "heaveMm");
  let most = 0;
  for (const v of heave) if (v > most) most = v;
  return most > 12 ? most : 0;
}

/** Where a run's kerb is at a time; null in a run without one. Its way is that of the manoeuvre's own plan. */
export function kerbOver(scenario: Scenario, trace: Trace): ((timeS: number) => Kerb | null) | null {
  if (trace.manoeuvre !== "kerbStrike") return null;
  const p = plan("kerbStrike", trace.params, buildMotion(scenario), 1);
  const scene: Parameters<typeof p.at>[1] = { lateralG: 0, road: [0, 0], kerb: null };
  return (timeS) => {
    p.at(timeS, scene);
    const { kerb } = scene;
    return kerb && { side: kerb.side, xMm: kerb.xMm - channelAt(trace, "lateralMm", timeS), heightMm: kerb.heightMm };
  };
}

/** Whether the followed wheel's own numbers still mean something at a time. */
export const stillOn = (r: Recorded, side: Side, timeS: number): boolean => timeS < (wheelOffAt(r.trace, side) ?? Number.POSITIVE_INFINITY);
