import { expect } from "vitest";

/** |actual - expected| <= rel · |expected|; `what` names the quantity and its unit. Never passes on NaN. */
export function expectRel(actual: number, expected: number, rel: number, what: string): void {
  expectAbs(actual, expected, rel * Math.abs(expected), what);
}

/** |actual - expected| <= tolerance, in the unit that `what` names. Never passes on NaN. */
export function expectAbs(actual: number, expected: number, tolerance: number, what: string): void {
  // called a million times: an assertion and its words are made only where it fails
  if (!(Math.abs(actual - expected) <= tolerance)) expect.fail(`${what}: ${actual} is not within ${tolerance} of ${expected}`);
}
