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
/** A wheel that is simply off stands this far out, over its tread width. */
const BESIDE_TREADS = 0.75;

export interface Resting {
  scenario: Scenario;
  corners: Record<Side, Corner>;
  report: AxleReport;
}

/**
 * The axle at a time of a run. `still`: whoever wants no motion sees a lost wheel stand beside its hub, and no tyre fly.
 */
export function momentAt(r: Recorded, rest: Resting, timeS: number, still: boolean): Moment {
  const { trace } = r;
  let state: AxleState = sampleState(trace, timeS);
  const { index } = samplePlace(trace, timeS);
  const pose = trace.poses[index]!;
  const wheelOff = { left: pose.extras.wheelOff[0] !== null, right: pose.extras.wheelOff[1] !== null };
  SIDES.forEach((side, i) => {
    if (!wheelOff[side]) return;
    const { wheelCentre: at, wheelAngleRad: angle } = state[side];
    if (!still) {
      state = withWheelAt(state, side, [clearOfBody(trace, side, at[0], timeS), at[1]], angle);
      return;
    }
    const first = trace.poses.find((p) => p.extras.wheelOff[i] !== null)!.extras;
    const left = first.wheelOff[i]!;
    const out = BESIDE_TREADS * rest.corners[side].wheel.treadWidthMm * (side === "right" ? 1 : -1);
    state = withWheelAt(state, side, [left.x - first.lateralMm + out, left.z], left.angle + trace.axles[0].corners[i]!.staticTurn);
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
    looseTyres: looseAt(trace, timeS)
      .filter((l) => l.kind === "tyre" && pose.bareRim[l.side === "left" ? 0 : 1])
      .map((l) => ({ side: l.side, pose: l.pose })),
    leaving: first && first.kind === "comesOff" && timeS >= first.timeS && timeS <= first.timeS + LEAVING_S && !still ? first.side : null,
  };
}

/**
 * A loose wheel's place across the picture, mm. The picture stays with the body; one that slides on would run over the wheel it lost and hide
 * it, so from the moment of the loss on the wheel is seen from body or road, whichever leaves it further out.
 */
function clearOfBody(trace: Trace, side: Side, xMm: number, timeS: number): number {
  const offAt = wheelOffAt(trace, side) ?? timeS;
  const slid = channelAt(trace, "lateralMm", timeS) - channelAt(trace, "lateralMm", offAt);
  return side === "right" ? Math.max(xMm, xMm + slid) : Math.min(xMm, xMm + slid);
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
