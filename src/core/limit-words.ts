import type { LimitName } from "./analysis.ts";

/** What happens when a limit is passed: in a row, and on a ruler; and the trade's word. */
export interface LimitWords {
  row: string;
  post: string;
  term: string;
}

const words = (row: string, post: string, term: string): LimitWords => ({ row, post, term });

export const LIMIT_WORDS: Readonly<Record<LimitName, LimitWords>> = {
  hubRetention: words("Hub pulls off", "hub gives", "retention"),
  armYield: words("Arm yields", "arm yields", "yield"),
  armSet: words("Arm stays bent in time", "stays bent in time", "creep"),
  armBuckling: words("Arm buckles", "arm buckles", "buckling"),
  tyreOffRim: words("Tyre leaves rim", "tyre leaves", "unseating"),
  jointPullOut: words("Joint pulls apart", "joint parts", "pull-out"),
  camber: words("Lean past your limit", "lean limit", "camber"),
  springOnStop: words("Spring on its stop", "on its stop", "bump stop"),
  wheelLift: words("Inner wheel lifts", "wheel lifts", "tipping"),
  sliding: words("Wheels slide", "slides", "grip"),
  fit: words("Parts touch the body", "touches", "clearance"),
  belowRoad: words("Part nearest the road", "below the road", "ground clearance"),
  hubHeat: words("Hub runs hot", "too hot", "friction heat"),
  wheelShift: words("Wheel shifts along the road", "shift limit", "fore-aft compliance"),
  axisTilt: words("Steering axis tilts", "axis tilt limit", "caster change"),
};
