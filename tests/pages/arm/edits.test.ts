import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { armLengthMm } from "../../../src/core/design/corner-geometry.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import { type ArmHandleId, boundsOf, measureOf } from "../../../src/pages/arm/picture/handles.ts";
import {
  armOn,
  asStraight,
  changeName,
  madeAlike,
  sidesDiffer,
  stepOf,
  takesFromB,
  withArm,
  withMeasure,
  withRigidArm,
  withWholeArm,
} from "../../../src/pages/arm/state/edits.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { leansOf } from "../../../src/worker/leans.ts";
import { expectAbs } from "../../support/close.ts";
import { scenarioFile } from "../../view/fixture.ts";

const forked = scenarioFile("heavy-forked");
const straight = scenarioFile("heavy-straight");
const BOTH = { name: "lower", side: null } as const;
const RIGHT = { name: "lower", side: "right" } as const;
const doc = { a: forked, b: straight, load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } };
const arm = armOn(forked, "right", "lower");
const length = armLengthMm(cornerOf(forked, "right"), "lower");
const measured = (id: ArmHandleId, mm: number, step = 0.1) => withMeasure(forked, BOTH, arm, length, id, mm, step);

describe("a measure of the arm", () => {
  it.each(["fork", "spreadFront", "spreadRear", "height", "width"] as const)("%s goes where it is put, and nothing else moves", (id) => {
    const { min, max } = boundsOf(id, arm, length);
    for (const mm of [min, (min + max) / 2, max]) {
      const next = measured(id, mm);
      const changed = armOn(next, "left", "lower");
      const got = measureOf(id, changed, length);
      expect(got).toBeGreaterThanOrEqual(min - 1e-6);
      expect(got).toBeLessThanOrEqual(max + 1e-6);
      expectAbs(got, Math.min(max, Math.max(min, mm)), 0.5, `${id}, mm`);
      expect(armOn(next, "right", "lower")).toEqual(changed);
      expect(next.corner.upperArm).toBe(forked.corner.upperArm);
    }
  });

  it("keeps to the holes, and within its bounds when pulled past them", () => {
    const pitch = forked.holePitchMm;
    expect(armOn(measured("spreadFront", 50, pitch), "right", "lower").spreadMm % pitch).toBe(0);
    expectAbs(measureOf("fork", armOn(measured("fork", 30, pitch), "right", "lower"), length), 32, 1e-3, "fork, mm");
    expect(armOn(measured("height", 1000), "right", "lower").section).toMatchObject({ heightMm: 16 });
    expect(armOn(measured("spreadFront", -5), "right", "lower").spreadMm).toBe(8);
    // a stem too short to be made is none
    expect(armOn(measured("fork", length - 0.2), "right", "lower").stemShare).toBe(0);
  });

  it("is the very same scenario when nothing changes", () => {
    expect(measured("height", measureOf("height", arm, length))).toBe(forked);
  });

  it("has finer steps with keys held", () => {
    expect(stepOf("fork", "coarse", 8)).toBe(8);
    expect(stepOf("fork", "half", 8)).toBe(4);
    expect(stepOf("width", "fine", 8)).toBe(0.1);
    expect(stepOf("width", "coarse", 8)).toBeGreaterThan(stepOf("width", "half", 8));
  });

  it("is named for undo by arm, measure and value", () => {
    const next = armOn(measured("spreadFront", 48, 8), "right", "lower");
    expect(changeName(BOTH, next, length, "spreadFront", 8)).toBe("lower arm, spread 6 holes");
    expect(changeName(RIGHT, next, length, "height", 8)).toMatch(/^right lower arm, height \d/);
  });
});

describe("one side alone", () => {
  it("changes that side, leaves the other and still reads as a file", () => {
    const next = withArm(forked, RIGHT, "spreadMm", 48);
    expect(armOn(next, "right", "lower").spreadMm).toBe(48);
    expect(armOn(next, "left", "lower").spreadMm).toBe(arm.spreadMm);
    expect(sidesDiffer(next, "lower")).toBe(true);
    expect(sidesDiffer(next, "upper")).toBe(false);
    expect(parseScenario(JSON.parse(JSON.stringify(next)), "x").ok).toBe(true);
  });

  it("a change for both sides reaches a side that has its own", () => {
    const next = withArm(withArm(forked, RIGHT, "spreadMm", 48), BOTH, "spreadMm", 24);
    expect(armOn(next, "right", "lower").spreadMm).toBe(24);
    expect(armOn(next, "left", "lower").spreadMm).toBe(24);
  });

  it("made alike, both sides have one arm again", () => {
    const next = madeAlike(withArm(forked, RIGHT, "spreadMm", 48), "lower", armOn(withArm(forked, RIGHT, "spreadMm", 48), "right", "lower"));
    expect(sidesDiffer(next, "lower")).toBe(false);
    expect(armOn(next, "left", "lower").spreadMm).toBe(48);
    expect(next.right).toEqual({});
  });
});

describe("taking from B", () => {
  const rows = takesFromB(doc, BOTH, "right");
  const of = (take: string) => rows.find((r) => r.take === take)!.scenario!;

  it("the whole arm is B's arm, on A's car", () => {
    expect(armOn(of("whole"), "right", "lower")).toEqual(armOn(straight, "right", "lower"));
    expect(of("whole").corner.upperArm).toBe(forked.corner.upperArm);
    expect(of("whole").name).toBe(forked.name);
  });

  it("its height or width alone changes that alone", () => {
    const theirs = armOn(straight, "right", "lower").section as { heightMm: number; widthMm: number };
    expect(armOn(of("height"), "right", "lower")).toEqual({ ...arm, section: { ...arm.section, heightMm: theirs.heightMm } });
    expect(armOn(of("width"), "right", "lower")).toEqual({ ...arm, section: { ...arm.section, widthMm: theirs.widthMm } });
  });

  it("offers nothing where there is no difference", () => {
    expect(takesFromB({ ...doc, b: forked }, BOTH, "right").map((r) => r.scenario)).toEqual([null, null, null]);
  });

  it("every row makes a car that reads as a file", () => {
    for (const r of rows) expect(parseScenario(JSON.parse(JSON.stringify(r.scenario)), r.take).ok).toBe(true);
  });

  it("a round bar has one thickness", () => {
    const round = withWholeArm(forked, BOTH, { ...arm, section: { shape: "round", diameterMm: 5 } });
    expect(takesFromB({ ...doc, a: round }, BOTH, "right").map((r) => r.take)).toEqual(["whole", "height"]);
  });
});

it("one straight bar with as much plastic leans less than the fork, the same bar leans more, and both say what was compared", () => {
  const [plastic, bar] = asStraight(forked, BOTH, "right");
  const [now, full, single] = leansOf({ scenarios: [forked, plastic!.scenario, bar!.scenario], load: doc.load, side: "right" });
  expect(full!).toBeLessThan(now!);
  expect(single!).toBeGreaterThan(now!);
  expect(armOn(bar!.scenario, "right", "lower")).toEqual({ ...arm, layout: "straight" });
  expect(plastic!.compared).toMatch(
    /^Compared at the same mass of material and height: fork of bars 4.0 × [\d.]+ mm, (\d\.\d) g before, one bar [\d.]+ × [\d.]+ mm, \1 g now\.$/,
  );
  expect(bar!.compared).toMatch(/^Compared at the same section of a bar: /);
  expect(asStraight(straight, BOTH, "right")).toEqual([]);
});

it("a rigid stand-in has the same shape and a hundred times the modulus on both sides", () => {
  const next = withRigidArm(forked, "lower", resolveMaterial);
  for (const side of ["left", "right"] as const) {
    const m = armOn(next, side, "lower").material;
    expect(typeof m === "string" ? 0 : m.youngMPa).toBe(100 * resolveMaterial(arm.material).youngMPa);
    expect(armOn(next, side, "upper")).toEqual(armOn(forked, side, "upper"));
  }
});
