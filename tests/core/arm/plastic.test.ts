import { describe, expect, it } from "vitest";
import { armVolumeMm3, relaidAtSameVolume } from "../../../src/core/arm/plastic.ts";
import type { Arm, Section } from "../../../src/core/design/types.ts";
import { expectAbs } from "../../support/close.ts";

const arm = (layout: Arm["layout"], section: Section, more: Partial<Arm> = {}): Arm => ({
  layout,
  stemShare: 0.25,
  spreadMm: 60,
  section,
  stemSection: null,
  material: "abs",
  pivotStiffnessNmmPerDeg: 0,
  pivotFreeAboutArm: false,
  ...more,
});
const BAR: Section = { shape: "rectangle", widthMm: 4, heightMm: 5 };
const HOLED = { shape: "pinHoleBar", widthMm: 8, heightMm: 6, holeMm: 4, holePitchMm: 8, holesRun: "upDown" } as const;
const LENGTH_MM = 160 / 3;

// by hand: a fork of 160/3 mm whose quarter is stem has legs of 50 mm (3-4-5: 40 along, 30 across) and a stem of 40/3 mm
describe("the plastic of an arm", () => {
  it.each([
    ["fork", arm("split", BAR), 20 * (100 + 40 / 3)],
    ["fork with a stem of its own", arm("split", BAR, { stemSection: { shape: "rectangle", widthMm: 6, heightMm: 5 } }), 20 * 100 + (30 * 40) / 3],
    ["twin with its cross piece", arm("twin", BAR), 20 * (320 / 3 + 60)],
    ["tube", arm("straight", { shape: "tube", outerMm: 5, innerMm: 3 }), (Math.PI * 4 * 160) / 3],
    ["I", arm("straight", { shape: "I", widthMm: 6, heightMm: 8, flangeMm: 1, webMm: 2 }), (24 * 160) / 3],
    // a cylinder of ⌀ 4 mm through 6 mm is missing every 8 mm
    ["bar with upright holes", arm("straight", HOLED), ((8 * 6 * 8 - Math.PI * 4 * 6) / 8) * LENGTH_MM],
    [
      "bar with holes along the road",
      arm("straight", { ...HOLED, heightMm: 8, widthMm: 6, holesRun: "foreAft" }),
      ((8 * 6 * 8 - Math.PI * 4 * 6) / 8) * LENGTH_MM,
    ],
  ])("%s, mm³", (_name, a, mm3) => {
    expectAbs(armVolumeMm3(a, LENGTH_MM), mm3, 1e-6, "mm³");
  });

  it("one straight bar of a fork's plastic is as tall, and wider by the length of the fork's bars over its own", () => {
    // (100 + 40/3) / (160/3) = 2.125 bars side by side
    expect(relaidAtSameVolume(arm("split", BAR), LENGTH_MM, "straight").section).toEqual({ ...BAR, widthMm: 8.5 });
  });

  it.each(["split", "A", "twin", "straight"] as const)("is kept to the rounding of the section in a change to %s", (layout) => {
    const sections: Section[] = [
      BAR,
      HOLED,
      { shape: "round", diameterMm: 9 },
      { shape: "tube", outerMm: 9, innerMm: 5 },
      { shape: "I", widthMm: 9, heightMm: 9, flangeMm: 2, webMm: 2.5 },
    ];
    for (const s of sections)
      for (const from of ["straight", "split"] as const) {
        const a = arm(from, s);
        const next = relaidAtSameVolume(a, LENGTH_MM, layout);
        expectAbs(armVolumeMm3(next, LENGTH_MM) / armVolumeMm3(a, LENGTH_MM), 1, 0.01, `${s.shape}, ratio`);
      }
  });
});
