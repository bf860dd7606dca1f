import type { AxleReport } from "../../core/analysis.ts";
import { type Corner, type Scenario, SIDES, type Side } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import { plan } from "../../motion/manoeuvres.ts";
import { buildMotion } from "../../motion/model.ts";
import { channelAt, column, looseAt, placeAt, samplePlace, sampleState, type Trace } from "../../motion/trace.ts";
import { signOf } from "../../view/poses.ts";
import type { Drawn } from "../../view/scene.ts";
import { builtTurn, clearOfBody, type LooseKind, type LoosePart, lostAt } from "./picture/losses.ts";
import { type Kerb, reportNow, withWheelAt } from "./picture/sheet-picture.ts";
import type { Recorded } from "./story.ts";

/** A recorded run read at one time, ready for the picture. */
export interface Moment {
  drawn: Drawn;
  wheelOff: Record<Side, boolean>;
  tyreOff: Record<Side, boolean>;
  looseTyres: LoosePart[];
}

/** A part that is simply off stands this far out, over its tread width. */
const BESIDE_TREADS = 0.75;
/** A tyre stands wholly beside its rim. */
const BESIDE_TYRE_TREADS = 1.25;

export interface Resting {
  scenario: Scenario;
  corners: Record<Side, Corner>;
  report: AxleReport;
}

/**
 * The axle at a time of a run. `still`: whoever wants no motion sees a lost wheel or tyre stand beside where it was.
 */
export function momentAt(r: Recorded, rest: Resting, timeS: number, still: boolean): Moment {
  const { trace } = r;
  let state: AxleState = sampleState(trace, timeS);
  const { index } = samplePlace(trace, timeS);
  const pose = trace.poses[index]!;
  const wheelOff = { left: pose.extras.wheelOff[0] !== null, right: pose.extras.wheelOff[1] !== null };
  const slid = (side: Side, kind: LooseKind): number => {
    const from = lostAt(trace.events, side, kind) ?? timeS;
    return channelAt(trace, "lateralMm", timeS) - channelAt(trace, "lateralMm", from);
  };
  const beside = (side: Side, x: number, treads: number): number => x + treads * rest.corners[side].wheel.treadWidthMm * signOf(side);
  SIDES.forEach((side, i) => {
    if (!wheelOff[side]) return;
    const { wheelCentre: at, wheelAngleRad: angle } = state[side];
    if (!still) {
      state = withWheelAt(state, side, [clearOfBody(side, at[0], slid(side, "wheel")), at[1]], angle);
      return;
    }
    const first = trace.poses.find((p) => p.extras.wheelOff[i] !== null)!.extras;
    const left = first.wheelOff[i]!;
    const turn = left.angle + builtTurn(rest.corners[side], side);
    state = withWheelAt(state, side, [beside(side, left.x - first.lateralMm, BESIDE_TREADS), left.z], turn);
  });
  const looseTyre = ({ side, pose: p }: { side: Side; pose: LoosePart["pose"] }): LoosePart => {
    const turn = builtTurn(rest.corners[side], side);
    if (!still) return { kind: "tyre", side, pose: { x: clearOfBody(side, p.x, slid(side, "tyre")), z: p.z, angle: p.angle + turn } };
    const track = trace.loose.find((l) => l.kind === "tyre" && l.side === side)!;
    const first = track.poses[0]!;
    const x = beside(side, first.x - column(trace, "lateralMm")[track.fromSample]!, BESIDE_TYRE_TREADS);
    return { kind: "tyre", side, pose: { x, z: first.z, angle: first.angle + turn } };
  };
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
      .map(looseTyre),
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
    p.at(timeS, scene, placeAt(trace, timeS));
    const { kerb } = scene;
    return kerb && { side: kerb.side, xMm: kerb.xMm - channelAt(trace, "lateralMm", timeS), heightMm: kerb.heightMm };
  };
}
