import type { LimitResult, MotionPart, SidePart } from "../core/analysis.ts";
import type { Side } from "../core/design/types.ts";
import { fixed, roomWords, withUnit } from "./format.ts";

export { ARM_WORDS, JOINT_WORDS } from "../core/design/part-words.ts";

export const SIDE_WORDS: Record<Side | "both", string> = { left: "left wheel", right: "right wheel", both: "both" };

/** A limit that is told by a distance: "touches, 5.2 mm deep", "1.2 mm free, 2.0 wanted", "3.2 mm below the road"; null: it is told by its use. */
export function distanceWords(l: LimitResult): string | null {
  if (!l.place) return null;
  const mm = l.place.distanceMm;
  if (l.name === "belowRoad") return `${withUnit(Math.abs(mm), 1, "mm")} ${mm < 0 ? "below" : "above"} the road`;
  return mm < 0 ? roomWords(mm) : `${roomWords(mm)}, ${fixed(l.demand, 1)} wanted`;
}

/** Steps of the stair by motion: each gathers the causes that a builder sees as one. */
export const MOTION_STEPS: { key: string; words: string; term: string; parts: MotionPart[] }[] = [
  { key: "static", words: "built in", term: "static camber", parts: ["staticSetting"] },
  { key: "roll", words: "body rolls", term: "roll", parts: ["bodyRoll"] },
  { key: "travel", words: "wheel travels", term: "camber gain", parts: ["wheelTravel"] },
  { key: "lowerArm", words: "lower arm bends", term: "", parts: ["lowerArm"] },
  { key: "upperArm", words: "upper arm bends", term: "", parts: ["upperArm"] },
  { key: "bearing", words: "wheel bearing flexes", term: "tilt stiffness", parts: ["bearingGive"] },
  { key: "play", words: "bearing play", term: "", parts: ["bearingPlay"] },
  {
    key: "clearance",
    words: "pin holes loose",
    term: "clearance",
    parts: ["upperInnerClearance", "upperOuterClearance", "lowerInnerClearance", "lowerOuterClearance"],
  },
  { key: "give", words: "pins flex", term: "joint stiffness", parts: ["upperInnerGive", "upperOuterGive", "lowerInnerGive", "lowerOuterGive"] },
];

/** Steps of the stair by part, both sides of the car together. */
export const PART_STEPS: { key: string; words: string; parts: SidePart[] }[] = [
  { key: "lowerArm", words: "lower arms bend", parts: ["lowerArm"] },
  { key: "upperArm", words: "upper arms bend", parts: ["upperArm"] },
  { key: "bearing", words: "wheel bearing flexes", parts: ["bearingGive"] },
  { key: "spring", words: "springs", parts: ["spring"] },
  { key: "tyre", words: "tyres", parts: ["tyreVertical", "tyreTilt"] },
  { key: "play", words: "bearing play", parts: ["bearingPlay"] },
  { key: "clearance", words: "pin holes loose", parts: ["upperInnerClearance", "upperOuterClearance", "lowerInnerClearance", "lowerOuterClearance"] },
  { key: "give", words: "pins flex", parts: ["upperInnerGive", "upperOuterGive", "lowerInnerGive", "lowerOuterGive"] },
  { key: "pivotSprings", words: "stiff inner pivots", parts: ["innerPivotSprings"] },
  { key: "road", words: "bumps in the road", parts: ["road"] },
];

export const leanWords = (deg: number): string => (Math.abs(deg) < 0.05 ? "upright" : deg > 0 ? "top outwards" : "top inwards");
