import type { Scenario } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { createFreePlay, type FreePlay, passTime, playChannels, playLoose, playState, setTargets, type Targets } from "../motion/free-play.ts";
import type { ManoeuvreName, Params } from "../motion/manoeuvres.ts";
import type { MotionEvent } from "../motion/session.ts";
import { type Progress, simulate } from "../motion/simulate.ts";
import type { Trace } from "../motion/trace.ts";
import { runJob } from "./jobs.ts";

export interface MotionRequest {
  scenario: Scenario;
  name: ManoeuvreName;
  numbers: Params;
}

/** A run as it goes, and, when something came off, the same run as if everything had held: its peaks are those that were asked for. */
export type MotionAnswer = { ok: true; trace: Trace; held: Trace | null } | { ok: false; words: string };

/** Both runs of a request in steps; the progress of the first counts up to its own end. */
export function* motionOf(r: MotionRequest): Generator<Progress, MotionAnswer> {
  const first = yield* simulate(r.scenario, r.name, r.numbers);
  if (!first.ok) return { ok: false, words: first.reason.message };
  if (!first.trace.broken) return { ok: true, trace: first.trace, held: null };
  const second = yield* simulate(r.scenario, r.name, r.numbers, { breaks: false });
  return { ok: true, trace: first.trace, held: second.ok ? second.trace : null };
}

/** The moving axle in the user's hands as it is drawn. */
export interface FreeLook {
  state: AxleState;
  channels: Float64Array;
  loose: { kind: "wheel" | "tyre"; side: "left" | "right"; pose: { x: number; z: number; angle: number } }[];
  tyreOff: [boolean, boolean];
  /** all that has happened since the start */
  events: MotionEvent[];
  timeS: number;
  apart: boolean;
}

let play: FreePlay | null = null;

export const motionApi = {
  alive: (): boolean => true,
  run: (lane: string, job: number, request: MotionRequest, onProgress: (p: Progress) => void): Promise<MotionAnswer | null> =>
    runJob(lane, job, motionOf(request), onProgress),
  /** sets a new axle on a flat road; a sentence when it finds no rest there */
  freeStart(scenario: Scenario): string | null {
    const made = createFreePlay(scenario);
    play = made.ok ? made.play : null;
    return made.ok ? null : made.reason.message;
  },
  /** lets time pass with the hands where they are now; null without an axle */
  freePass(targets: Targets, seconds: number): FreeLook | null {
    if (!play) return null;
    setTargets(play, targets);
    passTime(play, seconds);
    const { session } = play;
    return {
      state: playState(play),
      channels: playChannels(play),
      loose: playLoose(play),
      tyreOff: [session.tyreOff[0], session.tyreOff[1]],
      events: session.events,
      timeS: session.timeS,
      apart: session.apart,
    };
  },
};
export type MotionApi = typeof motionApi;
