import type { ArmName, JointName } from "./types.ts";

/** What a builder calls the pins and the arms; the one place for these words. */
export const JOINT_WORDS: Readonly<Record<JointName, string>> = {
  upperInner: "upper inner pin",
  upperOuter: "upper outer joint",
  lowerInner: "lower inner pin",
  lowerOuter: "lower outer joint",
};
export const ARM_WORDS: Readonly<Record<ArmName, string>> = { upper: "upper arm", lower: "lower arm" };
