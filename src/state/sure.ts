import { numberOr, oneOf } from "./read.ts";
import { defineSlice } from "./slice.ts";

/** What is asked about how sure an answer is; every page means the same. */
export interface SureView {
  /** chance that something gives which the builder accepts: the drive-at-most speed is told for it, % */
  chancePercent: number;
  /** of which answer the doubts are told one by one */
  of: "lean" | "safe";
}

/** Chances that can be picked, %. */
export const CHANCES = [1, 2, 5, 10, 20] as const;

export const sureSlice = defineSlice<SureView>("sure", { chancePercent: 5, of: "lean" }, (raw) => ({
  chancePercent: oneOf(numberOr(raw.chancePercent, 5), CHANCES, 5),
  of: oneOf(raw.of, ["lean", "safe"] as const, "lean"),
}));
