import { lateralGAt, speedInCurve } from "../cornering.ts";
import type { Run } from "../design/tried.ts";
import type { Load } from "../design/types.ts";
import { handSign } from "../studies/curve-options.ts";

/** What a run asked of the car: its speed, its cornering, and how well both are known. */
export interface Driven {
  speedMps: number;
  /** cornering level, never negative, g */
  lateralG: number;
  /** standard deviation of the cornering level, as a share of it */
  share: number;
}

// How well runs are told, one standard deviation; common practice, no source: what a hand with a watch and chalk on a car park does.
/** the line driven against the circle meant, share of its radius */
const LINE = 0.04;
/** a speed read off or worked out, share */
const SPEED = 0.03;
/** a lap timed by hand, s */
const WATCH_S = 0.2;
/** cornering as a phone in the car tells it, g */
const PHONE_G = 0.03;

/** v = 2πR/T on a circle, a = v²/R. */
export function drivenIn(run: Pick<Run, "pace" | "radiusM">): Driven {
  const { pace, radiusM } = run;
  switch (pace.by) {
    case "speed": {
      const speedMps = pace.kmh / 3.6;
      return { speedMps, lateralG: lateralGAt(speedMps, radiusM), share: Math.hypot(2 * SPEED, LINE) };
    }
    case "lap": {
      const speedMps = (2 * Math.PI * radiusM) / pace.seconds;
      return { speedMps, lateralG: lateralGAt(speedMps, radiusM), share: Math.hypot((2 * WATCH_S) / pace.seconds, LINE) };
    }
    case "g":
      return { speedMps: speedInCurve(pace.g, radiusM), lateralG: pace.g, share: pace.g > 0 ? PHONE_G / pace.g : 0 };
  }
}

/** The load of a run at a cornering level, g: its unevenness is rolled over by the outer wheel. */
export function runLoad(run: Pick<Run, "hand" | "bumpMm">, lateralG: number): Load {
  const left = run.hand === "left";
  return { lateralG: handSign(run.hand) * lateralG, bumpLeftMm: left ? 0 : run.bumpMm, bumpRightMm: left ? run.bumpMm : 0 };
}
