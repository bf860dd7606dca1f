import { fieldValue } from "../design/origins.ts";
import type { Scenario } from "../design/types.ts";
import { scatterOf } from "../studies/guess-steps.ts";
import { roundingOf } from "./rounding.ts";

/** A ± with why it is so large; `told`: it stands in the file, else it is assumed. */
export interface PlusMinus {
  /** one standard deviation, in the field's unit; 0: exact */
  amount: number;
  why: string;
  told: boolean;
}

/** The ± of a number at its path: its own; else what such parts scatter by (a guess) or what it was rounded by (all others). */
export function plusMinusOf(s: Scenario, path: string, value: number): PlusMinus {
  const origin = s.origins[path];
  const told = origin?.plusMinus !== undefined;
  return { ...(told || origin?.how === "guess" ? scatterOf(s, path, value) : roundingOf(s, path, value)), told };
}

/** What is assumed where no ± is told, also for a value that has one; null: no number, or exact. */
export function assumedOf(s: Scenario, path: string): PlusMinus | null {
  const value = fieldValue(s, path);
  if (typeof value !== "number") return null;
  const { plusMinus: _told, ...origin } = s.origins[path] ?? { how: "entered" as const };
  const assumed = plusMinusOf({ ...s, origins: { ...s.origins, [path]: origin } }, path, value);
  return assumed.amount > 0 ? assumed : null;
}
