import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import type { Scenario } from "../design/types.ts";
import { LIMIT_WORDS, type LimitWords } from "../limit-words.ts";

/** What kind a limit is: everything about it that another place needs to know, once. */
export interface LimitRecord {
  /** told for each wheel, or once for the axle */
  per: "wheel" | "axle";
  /** where on the car it shows */
  where: "hub" | "arm" | "joint" | "wheel" | "spring" | "body";
  /** only a caution: it does not count for what gives first; `fit` counts where the scenario says that it must hold */
  caution: boolean;
  /** what is asked grows with the force of the road, so that a shock multiplies it (shock.ts) */
  growsWithForce: boolean;
  /** it needs the speed besides the cornering level, so that no table over the cornering level holds it */
  growsWithSpeed: boolean;
  /** a push along the road changes what is asked */
  growsWithPush: boolean;
  /** its passing stands on the load rulers; what needs heat or time is told elsewhere */
  onRuler: boolean;
  words: LimitWords;
}

/** One record per limit; its longer explanation stands in explain.ts. */
export const LIMITS = {
  hubRetention: {
    per: "wheel",
    where: "hub",
    caution: false,
    growsWithForce: true,
    growsWithSpeed: false,
    growsWithPush: false,
    onRuler: true,
    words: LIMIT_WORDS.hubRetention,
  },
  armYield: {
    per: "wheel",
    where: "arm",
    caution: false,
    growsWithForce: true,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.armYield,
  },
  armSet: {
    per: "wheel",
    where: "arm",
    caution: true,
    growsWithForce: true,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: false,
    words: LIMIT_WORDS.armSet,
  },
  armBuckling: {
    per: "wheel",
    where: "arm",
    caution: false,
    growsWithForce: true,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.armBuckling,
  },
  tyreOffRim: {
    per: "wheel",
    where: "wheel",
    caution: false,
    growsWithForce: true,
    growsWithSpeed: true,
    growsWithPush: false,
    onRuler: true,
    words: LIMIT_WORDS.tyreOffRim,
  },
  jointPullOut: {
    per: "wheel",
    where: "joint",
    caution: false,
    growsWithForce: true,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.jointPullOut,
  },
  camber: {
    per: "wheel",
    where: "wheel",
    caution: false,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: false,
    onRuler: true,
    words: LIMIT_WORDS.camber,
  },
  springOnStop: {
    per: "wheel",
    where: "spring",
    caution: true,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: false,
    onRuler: true,
    words: LIMIT_WORDS.springOnStop,
  },
  wheelLift: {
    per: "axle",
    where: "wheel",
    caution: false,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: false,
    onRuler: true,
    words: LIMIT_WORDS.wheelLift,
  },
  sliding: {
    per: "axle",
    where: "wheel",
    caution: false,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.sliding,
  },
  fit: {
    per: "wheel",
    where: "body",
    caution: true,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.fit,
  },
  belowRoad: {
    per: "wheel",
    where: "body",
    caution: true,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: false,
    onRuler: false,
    words: LIMIT_WORDS.belowRoad,
  },
  hubHeat: {
    per: "wheel",
    where: "hub",
    caution: true,
    growsWithForce: false,
    growsWithSpeed: true,
    growsWithPush: false,
    onRuler: false,
    words: LIMIT_WORDS.hubHeat,
  },
  wheelShift: {
    per: "wheel",
    where: "wheel",
    caution: false,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.wheelShift,
  },
  axisTilt: {
    per: "wheel",
    where: "wheel",
    caution: false,
    growsWithForce: false,
    growsWithSpeed: false,
    growsWithPush: true,
    onRuler: true,
    words: LIMIT_WORDS.axisTilt,
  },
} as const satisfies Readonly<Record<LimitName, LimitRecord>>;

/** Limits that need the speed besides the cornering level, and the others. */
export type SpeedLimit = { [N in LimitName]: (typeof LIMITS)[N]["growsWithSpeed"] extends true ? N : never }[LimitName];
export type LevelLimit = Exclude<LimitName, SpeedLimit>;

/** Whether the limit grows with the speed besides the cornering level. */
export const isSpeedLimit = (name: LimitName): name is SpeedLimit => LIMITS[name].growsWithSpeed;
const FAILURES: readonly LimitName[] = LIMIT_NAMES.filter((n) => !LIMITS[n].caution);
const FAILURES_AND_FIT: readonly LimitName[] = LIMIT_NAMES.filter((n) => n === "fit" || !LIMITS[n].caution);

/** Limits that make the car fail; the others are cautions. */
export const failuresOf = (s: Pick<Scenario, "fit">): readonly LimitName[] => (s.fit.mustHold ? FAILURES_AND_FIT : FAILURES);
/** Whether a push along the road changes what the limit is asked for. */
export const isPushLimit = (name: LimitName): boolean => LIMITS[name].growsWithPush;
/** Limits told by a distance in mm; a share of what is wanted would say nothing. */
export const isDistance = (name: LimitName): boolean => name === "fit" || name === "belowRoad";
