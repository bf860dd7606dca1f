import type { Load, Side } from "../design/types.ts";

/**
 * How a loading path is walked: how long its steps are, when they grow and shrink, and where it ends. What stands at a load is asked of a
 * `Walker`, so that this is the same for any car.
 */

/** A wheel that lies on its side rather than stands. */
export interface LaidOver {
  side: Side;
  /** camber, ° */
  leanDeg: number;
}

/** What is found at a load: the car stands, it does not, or a wheel lies on its side there. */
export type Found = "stands" | "nothing" | LaidOver;

export interface Walker {
  /** looks at the next load from where the last one left off; where it stands, the walker is there from then on */
  go: (load: Load) => Found;
  /** the path folds: what falls may fall. It stands when no more happened than that parts changed sides in their play; the walker is there then */
  fall: (load: Load) => Found;
  /** whether the walk must end */
  spent: () => boolean;
}

/** Longest step of the loading path: beyond it a fold of the path could be jumped over. */
const STEP_G = 0.25;
const STEP_BUMP_MM = 5;
/** A path that does not go on by a step of this share of the load, or by one of less than twice of it, has ended. */
export const END_SHARE = 1 / 512;
/** Steps in a row that must come before a shortened step grows again, to twice its length, but never beyond the longest. */
const WIDEN_AFTER = 3;
/** First step after a fall, in `END_SHARE`: what fell goes on slowly. */
const AFTER_FALL = 4;

/** The load at the share `t` of the way from one to another; throttle and brake are none. */
export const between = (a: Load, b: Load, t: number): Load => ({
  lateralG: a.lateralG + t * (b.lateralG - a.lateralG),
  bumpLeftMm: a.bumpLeftMm + t * (b.bumpLeftMm - a.bumpLeftMm),
  bumpRightMm: a.bumpRightMm + t * (b.bumpRightMm - a.bumpRightMm),
});

/** Walks from a solved load towards `to`. `at`: the last load that has an answer; `laid`: beyond, a wheel lies on its side. */
export function walkPath(w: Walker, from: Load, to: Load): { done: boolean; at: Load; laid: LaidOver | null } {
  const size = Math.max(
    Math.abs(to.lateralG - from.lateralG) / STEP_G,
    Math.abs(to.bumpLeftMm - from.bumpLeftMm) / STEP_BUMP_MM,
    Math.abs(to.bumpRightMm - from.bumpRightMm) / STEP_BUMP_MM,
  );
  const longest = 1 / Math.max(1, Math.ceil(size));
  let step = longest;
  let t = 0;
  let inRow = 0;
  const ended = (laid: LaidOver | null) => ({ done: false, at: between(from, to, t), laid });
  while (t < 1) {
    const next = Math.min(1, t + step);
    const found = w.go(between(from, to, next));
    if (found === "stands") {
      t = next;
      if (++inRow >= WIDEN_AFTER) {
        step = Math.min(longest, 2 * step);
        inRow = 0;
      }
      continue;
    }
    inRow = 0;
    step /= 2;
    if (w.spent()) return ended(null);
    if (step >= END_SHARE) continue;
    if (found !== "nothing") return ended(found);
    const beyond = Math.min(1, t + END_SHARE);
    const fell = w.fall(between(from, to, beyond));
    if (fell !== "stands") return ended(fell === "nothing" ? null : fell);
    t = beyond;
    step = AFTER_FALL * END_SHARE;
  }
  return { done: true, at: to, laid: null };
}
