import type { LimitName } from "../../core/analysis.ts";
import type { Corner } from "../../core/design/types.ts";

/** What a limit is called on the map: the part, what it does, and its line. */
export interface MapWords {
  part: string;
  /** the same inside a sentence */
  the: string;
  /** third person: "gives", "slide" */
  does: string;
  line: string;
}

const WORDS: Record<LimitName, MapWords> = {
  hubRetention: { part: "hub lip", the: "the hub lip", does: "gives", line: "hub lip at its limit" },
  armYield: { part: "an arm", the: "an arm", does: "yields", line: "arm yields" },
  armSet: { part: "an arm", the: "an arm", does: "stays bent in time", line: "arm stays bent in time" },
  armBuckling: { part: "an arm", the: "an arm", does: "buckles", line: "arm buckles" },
  tyreOffRim: { part: "tyre", the: "the tyre", does: "leaves the rim", line: "tyre leaves the rim" },
  jointPullOut: { part: "a joint", the: "a joint", does: "pulls apart", line: "joint pulls apart" },
  camber: { part: "lean", the: "the lean", does: "passes your limit", line: "lean limit" },
  springOnStop: { part: "spring", the: "the spring", does: "sits on its stop", line: "spring on its stop" },
  wheelLift: { part: "inner wheel", the: "the inner wheel", does: "lifts", line: "inner wheel lifts" },
  sliding: { part: "wheels", the: "the wheels", does: "slide", line: "wheels slide" },
  fit: { part: "tyre or arm", the: "a tyre or an arm", does: "touches the body", line: "touches the body" },
  belowRoad: { part: "a part", the: "a part", does: "reaches below the road", line: "below the road" },
  wheelShift: { part: "wheel", the: "the wheel", does: "shifts past your limit", line: "shift limit" },
  axisTilt: { part: "steering axis", the: "the steering axis", does: "tilts past your limit", line: "axis tilt limit" },
  hubHeat: { part: "hub", the: "the hub", does: "runs hot", line: "hub runs hot" },
};

const HUB: Record<Corner["hub"]["retention"]["kind"], MapWords> = {
  lip: WORDS.hubRetention,
  crossPin: { part: "cross-pin", the: "the cross-pin", does: "shears", line: "cross-pin at its limit" },
  screwedRing: { part: "screwed ring", the: "the screwed ring", does: "strips", line: "screwed ring at its limit" },
};

export function mapWords(name: LimitName, corner: Corner): MapWords {
  return name === "hubRetention" ? HUB[corner.hub.retention.kind] : WORDS[name];
}

/** "hub lip gives first" */
export const givesFirst = (name: LimitName | null, corner: Corner): string => {
  if (name === null) return "no hold beyond this";
  const w = mapWords(name, corner);
  return `${w.part} ${w.does} first`;
};

/** Short word for "then sliding, then lean". */
export const SHORT: Record<LimitName, string> = {
  hubRetention: "the hub",
  armYield: "an arm yields",
  armSet: "an arm stays bent in time",
  armBuckling: "an arm buckles",
  tyreOffRim: "the tyre leaves",
  jointPullOut: "a joint parts",
  camber: "lean",
  springOnStop: "the stop",
  wheelLift: "a wheel lifts",
  sliding: "sliding",
  fit: "touching",
  belowRoad: "below the road",
  hubHeat: "heat",
  wheelShift: "shift",
  axisTilt: "axis tilt",
};
