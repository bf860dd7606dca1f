import { CLOSURE_SIZE, POINT_S } from "../../src/core/linkage/closure.ts";
import { buildCorner } from "../../src/core/linkage/corner.ts";
import { FOUND, positionInto } from "../../src/core/linkage/position.ts";
import { referenceCorner } from "../core/linkage/reference-corner.ts";
import { median, reportMs } from "./timing.ts";

const POSITIONS = 1_000_000;
const ROUNDS = 5;

/** For a thousand positions: a million in a second. */
const GOAL_MS = 1;

/** Rigid positions: the median of some rounds of a million, once swept through the travel and once in scattered order. */
export function benchLinkage(): void {
  run("a thousand rigid positions, swept", (i) => (i % 2000) / 2000);
  // the golden ratio's multiples: neighbours lie far apart
  run("a thousand rigid positions, scattered", (i) => (i * 0.6180339887498949) % 1);
}

function run(name: string, share: (i: number) => number): void {
  const linkage = buildCorner(referenceCorner());
  if (!linkage.ok) throw new Error(linkage.message);
  const out = new Float64Array(CLOSURE_SIZE);
  const taken: number[] = [];
  // of the wheel centres, so that no position can be left out
  let checksum = 0;
  for (let round = 0; round <= ROUNDS; round++) {
    const start = performance.now();
    for (let i = 0; i < POSITIONS; i++) {
      if (positionInto(linkage, -20 + 40 * share(i), out) !== FOUND) throw new Error("locked");
      checksum += out[POINT_S]!;
    }
    // the first round warms up
    if (round > 0) taken.push((performance.now() - start) / (POSITIONS / 1000));
  }
  if (!Number.isFinite(checksum)) throw new Error("a position is no number");
  reportMs(name, median(taken), GOAL_MS);
}
