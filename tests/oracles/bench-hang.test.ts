import { describe, it } from "vitest";
import { fitBench } from "../../src/core/bench/fit.ts";
import type { BenchKind } from "../../src/core/design/tried.ts";
import type { Arm, Scenario } from "../../src/core/design/types.ts";
import { resultAt, typed } from "../core/bench/typed.ts";
import { lines, type SolidArm, solidArm } from "../support/arm-solid.ts";
import { plainArm } from "../support/arms.ts";
import { ccxDisplacements, ccxOrExplain, runCcx } from "../support/ccx.ts";
import { expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** CalculiX plays the bench: a printed fork of solid bricks is hung with weights, and the fit gives its material back. */

const GIVES_BACK = 0.03;
const LONG_MS = 120000;
/** of the printed fork on the bench, MPa; the design takes another */
const E = 1430;
const NU = 0.36;
const LENGTH = 120;
const SEAT = 0.35;
const G = 9.80665;
const GRAMS = [50, 100, 150, 200, 250, 300];

const run = ccxOrExplain("the hang test of a printed arm");

const fork: Arm = {
  ...plainArm,
  section: { shape: "rectangle", widthMm: 6, heightMm: 4 },
  material: { name: "print", youngMPa: 2300, poisson: NU, yieldMPa: 30, densityKgPerM3: 1100, plastic: true, maxTempC: 80, source: "invented" },
};
const forked = shipped("heavy-forked.json");
// a design that knows the fork's shape, but neither its length (which the test tells) nor its material
const design: Scenario = { ...forked, corner: { ...forked.corner, lowerArm: fork } };

/** What the solid does under each load, N, in a direction (1 along the road, 3 up and down), at a node, mm. */
function played(solid: SolidArm, held: readonly string[], way: 1 | 3, at: number): number[] {
  const step = (g: number) => [
    "*STEP",
    "*STATIC",
    "*CLOAD,OP=NEW",
    `${solid.ball},${way},${way === 3 ? -(g * G) / 1000 : (g * G) / 1000}`,
    "*NODE PRINT,NSET=SEE",
    "U",
    "*END STEP",
  ];
  const deck = [solid.model, "*NSET,NSET=SEE", lines([solid.ball, ...solid.seat.flat()]), ...held, ...GRAMS.flatMap(step), ""].join("\n");
  return ccxDisplacements(runCcx(deck).dat).map((table) => Math.abs(table.get(at)![way - 1]!));
}

const clamped = (solid: SolidArm): string[] => ["*BOUNDARY", ...solid.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},1,3`])];
/** free pins, and the mean height of the seat's layer held: an equation over its nodes */
function propped(solid: SolidArm): string[] {
  const terms = solid.seat.flat().map((n) => `${n},3,1.`);
  const packed = Array.from({ length: Math.ceil(terms.length / 4) }, (_, i) => terms.slice(4 * i, 4 * i + 4).join(","));
  return ["*EQUATION", `${terms.length}`, ...packed, "*BOUNDARY", ...solid.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},2,3`])];
}

/** The table of a builder with a ruler of 0.1 mm. */
const rows = (mm: readonly number[]): string[][] => GRAMS.map((g, i) => [String(g), (20 + mm[i]!).toFixed(1)]);
const setUp = { arm: "lower", lengthMm: LENGTH, loadAtMm: LENGTH, readAtMm: LENGTH, rulerMm: 0.1 };

describe.runIf(run)("a printed fork of solid bricks on the bench", () => {
  it.each<[string, BenchKind, Record<string, string | number>, (s: SolidArm) => string[], 1 | 3]>([
    ["hung in a vice", "armHang", { held: "vice" }, clamped, 3],
    ["propped up under its spring, on free pins", "armHang", { held: "propped", propAtMm: SEAT * LENGTH }, propped, 3],
    ["pulled along the road", "armAlongRoad", { pulledBy: "arm" }, clamped, 1],
  ])(
    "%s: its material comes back within 3 %%",
    (_, kind, more, held, way) => {
      const solid = solidArm(fork, LENGTH, SEAT, E, NU);
      // the bricks' pins are rigid
      const rigid = { ...design.corner.joints.lowerInner, pinNPerMm: 1e6, holeNPerMm: 1e6, mountNPerMm: 1e6 };
      const s: Scenario = { ...design, corner: { ...design.corner, joints: { ...design.corner.joints, lowerInner: rigid } } };
      const fit = fitBench(s, typed(s, kind, rows(played(solid, held(solid), way, solid.ball)), { ...setUp, ...more }));
      expectRel(resultAt(fit, "lowerArm.material.youngMPa").value, E, GIVES_BACK, "Young's modulus (MPa)");
    },
    LONG_MS,
  );
});
