import type { LimitName, MotionPart, SidePart } from "../core/analysis.ts";
import type { Side } from "../core/design/types.ts";

export { ARM_WORDS, JOINT_WORDS } from "../core/design/part-words.ts";

export const SIDE_WORDS: Record<Side | "both", string> = { left: "left wheel", right: "right wheel", both: "both" };

/** Steps of the stair by motion: each gathers the causes that a builder sees as one. */
export const MOTION_STEPS: { key: string; words: string; term: string; parts: MotionPart[] }[] = [
  { key: "static", words: "built in", term: "static camber", parts: ["staticSetting"] },
  { key: "roll", words: "body rolls", term: "roll", parts: ["bodyRoll"] },
  { key: "travel", words: "wheel travels", term: "camber gain", parts: ["wheelTravel"] },
  { key: "lowerArm", words: "lower arm bends", term: "", parts: ["lowerArm"] },
  { key: "upperArm", words: "upper arm bends", term: "", parts: ["upperArm"] },
  { key: "bearing", words: "wheel bearing gives", term: "tilt stiffness", parts: ["bearingGive"] },
  { key: "play", words: "bearing play", term: "", parts: ["bearingPlay"] },
  {
    key: "clearance",
    words: "pin holes loose",
    term: "clearance",
    parts: ["upperInnerClearance", "upperOuterClearance", "lowerInnerClearance", "lowerOuterClearance"],
  },
  { key: "give", words: "pins give", term: "joint stiffness", parts: ["upperInnerGive", "upperOuterGive", "lowerInnerGive", "lowerOuterGive"] },
];

/** Steps of the stair by part, both sides of the car together. */
export const PART_STEPS: { key: string; words: string; parts: SidePart[] }[] = [
  { key: "lowerArm", words: "lower arms bend", parts: ["lowerArm"] },
  { key: "upperArm", words: "upper arms bend", parts: ["upperArm"] },
  { key: "bearing", words: "wheel bearing gives", parts: ["bearingGive"] },
  { key: "spring", words: "springs", parts: ["spring"] },
  { key: "tyre", words: "tyres", parts: ["tyreVertical", "tyreTilt"] },
  { key: "play", words: "bearing play", parts: ["bearingPlay"] },
  { key: "clearance", words: "pin holes loose", parts: ["upperInnerClearance", "upperOuterClearance", "lowerInnerClearance", "lowerOuterClearance"] },
  { key: "give", words: "pins give", parts: ["upperInnerGive", "upperOuterGive", "lowerInnerGive", "lowerOuterGive"] },
  { key: "pivotSprings", words: "stiff inner pivots", parts: ["innerPivotSprings"] },
  { key: "road", words: "bumps in the road", parts: ["road"] },
];

/** What happens when a limit is passed: in a row, and on a ruler. */
export const LIMIT_WORDS: Record<LimitName, { row: string; post: string; term: string }> = {
  hubRetention: { row: "Hub pulls off", post: "hub gives", term: "retention" },
  armYield: { row: "Arm yields", post: "arm yields", term: "yield" },
  armSet: { row: "Arm takes a set", post: "arm sets", term: "creep" },
  armBuckling: { row: "Arm buckles", post: "arm buckles", term: "buckling" },
  tyreOffRim: { row: "Tyre leaves rim", post: "tyre leaves", term: "unseating" },
  jointPullOut: { row: "Joint pulls apart", post: "joint parts", term: "pull-out" },
  camber: { row: "Lean past your limit", post: "lean limit", term: "camber" },
  springOnStop: { row: "Spring on its stop", post: "on its stop", term: "bump stop" },
  wheelLift: { row: "Inner wheel lifts", post: "wheel lifts", term: "tipping" },
  sliding: { row: "Wheels slide", post: "slides", term: "grip" },
  fit: { row: "Parts touch the body", post: "touches", term: "clearance" },
  hubHeat: { row: "Hub runs hot", post: "too hot", term: "friction heat" },
};

export const leanWords = (deg: number): string => (Math.abs(deg) < 0.05 ? "upright" : deg > 0 ? "top outwards" : "top inwards");
