import { CLOSURE_SIZE, POINT_S } from "../../src/core/linkage/closure.ts";
import { buildCorner } from "../../src/core/linkage/corner.ts";
import { FOUND, positionInto } from "../../src/core/linkage/position.ts";
import { referenceCorner } from "../core/linkage/reference-corner.ts";

export interface LinkageBench {
  name: string;
  positionsPerSecond: number;
  /** sum over the wheel centres, so that no position can be left out */
  checksum: number;
}

const POSITIONS = 1_000_000;
const ROUNDS = 5;

/** Rigid positions per second: the median of some rounds of a million, once swept through the travel and once in scattered order. */
export function benchLinkage(): LinkageBench[] {
  return [
    run("rigid positions, swept", (i) => (i % 2000) / 2000),
    // the golden ratio's multiples: neighbours lie far apart
    run("rigid positions, scattered", (i) => (i * 0.6180339887498949) % 1),
  ];
}

function run(name: string, share: (i: number) => number): LinkageBench {
  const linkage = buildCorner(referenceCorner());
  if (!linkage.ok) throw new Error(linkage.message);
  const out = new Float64Array(CLOSURE_SIZE);
  const rates: number[] = [];
  let checksum = 0;
  for (let round = 0; round <= ROUNDS; round++) {
    const start = performance.now();
    for (let i = 0; i < POSITIONS; i++) {
      if (positionInto(linkage, -20 + 40 * share(i), out) !== FOUND) throw new Error("locked");
      checksum += out[POINT_S]!;
    }
    // the first round warms up
    if (round > 0) rates.push(POSITIONS / ((performance.now() - start) / 1000));
  }
  rates.sort((a, b) => a - b);
  return { name, positionsPerSecond: rates[ROUNDS >> 1]!, checksum };
}
