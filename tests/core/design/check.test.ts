import { describe, expect, it } from "vitest";
import { checkScenario } from "../../../src/core/design/check.ts";
import { merge } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { shipped } from "../../support/shipped.ts";

const base = shipped("heavy-forked.json");
const told = (over: unknown): string[] =>
  checkScenario(merge(base, over) as Scenario).map((p) => `${p.path} is ${p.value}${p.unit === "" ? "" : ` ${p.unit}`}; allowed ${p.allowed}`);

describe("values that do not go together", () => {
  it.each<[string, unknown, string]>([
    ["an arm without length", { corner: { upperOuter: { sMm: 58, zMm: 76 } } }, "corner.upperOuter is 2 mm from the upper inner pin; allowed at least 4 mm"],
    [
      "ball joints in one place",
      { corner: { upperOuter: { sMm: 120, zMm: 30 } } },
      "corner.upperOuter is 2 mm from the lower outer joint; allowed at least 4 mm",
    ],
    [
      "a spring without length",
      { corner: { spring: { top: { sMm: 91.2, zMm: 30 } } } },
      "corner.spring.top is 0.4 mm from the spring's seat; allowed at least 2 mm",
    ],
    [
      "stops in the wrong order",
      { corner: { spring: { bumpStop: { lengthMm: 66.5 } } } },
      "corner.spring.bumpStop.lengthMm is 66.5 mm; allowed below the droop stop's length, 66.5 mm",
    ],
    [
      "a wheel heavier than all unsprung parts",
      { corner: { wheel: { massKg: 0.4 } } },
      "corner.wheel.massKg is 0.4 kg; allowed up to the unsprung mass, which includes it, 0.35 kg",
    ],
    [
      "a car without any weight",
      { corner: { wheel: { massKg: 0, unsprungMassKg: 0 } }, body: { axleShare: 0 } },
      "body.axleShare is 0; allowed above 0, since some of the car stands on this axle",
    ],
    [
      // two corners of 0.35 kg are 0.7 kg, 14 % of 5 kg
      "an axle that does not carry its own wheels",
      { body: { axleShare: 0.1 } },
      "body.axleShare is 0.1; allowed at least 0.14 (14 %), since the wheels and hubs of this axle weigh 0.7 kg themselves",
    ],
    [
      "a car lighter than its own wheels",
      { body: { carMassKg: 0.5 } },
      "body.carMassKg is 0.5 kg; allowed at least 0.7 kg, since the wheels and hubs of this axle weigh 0.7 kg themselves",
    ],
    [
      // 30.7 kg at 58 %
      "a truck",
      { body: { carMassKg: 60 } },
      "body.carMassKg is 60 kg; allowed up to 52.931 kg, so that no more than 30 kg stand on the springs of this axle",
    ],
    [
      "a wheel high in the air",
      { corner: { wheelCentre: { zMm: 79 } } },
      "corner.wheelCentre.zMm is 79 mm; allowed 18 to 78 mm, so that the tyre is near the ground at height 0",
    ],
    [
      "a tyre across the centreline",
      { corner: { wheelCentre: { sMm: 18 } } },
      "corner.wheelCentre.sMm is 18 mm; allowed above half of the tread width, 18 mm, so that the tyre stays on its side of the car",
    ],
    [
      "a tread that carries beyond itself",
      { corner: { tyre: { effectiveWidthMm: 40 } } },
      "corner.tyre.effectiveWidthMm is 40 mm; allowed up to the tread width, 36 mm",
    ],
    [
      "a crown narrower than the tread",
      { corner: { tyre: { crownRadiusMm: 17 } } },
      "corner.tyre.crownRadiusMm is 17 mm; allowed at least half of the width that carries, 18 mm",
    ],
    [
      "a tube without wall",
      { corner: { lowerArm: { section: { shape: "tube", outerMm: 4, innerMm: 4 } } } },
      "corner.lowerArm.section.innerMm is 4 mm; allowed below the outer diameter, 4 mm",
    ],
    [
      "flanges that meet",
      { corner: { lowerArm: { section: { shape: "I", widthMm: 6, heightMm: 6, flangeMm: 3, webMm: 1 } } } },
      "corner.lowerArm.section.flangeMm is 3 mm; allowed below half of the height, 3 mm",
    ],
    [
      "a web as wide as the flange",
      { corner: { lowerArm: { section: { shape: "I", widthMm: 6, heightMm: 6, flangeMm: 1, webMm: 6 } } } },
      "corner.lowerArm.section.webMm is 6 mm; allowed below the width, 6 mm",
    ],
    [
      "holes that cut the bar",
      { corner: { lowerArm: { section: { shape: "pinHoleBar", widthMm: 8, heightMm: 4, holeMm: 4.8, holePitchMm: 8, holesRun: "foreAft" } } } },
      "corner.lowerArm.section.holeMm is 4.8 mm; allowed below the height, 4 mm",
    ],
    [
      "upright holes that cut the bar",
      { corner: { lowerArm: { section: { shape: "pinHoleBar", widthMm: 4, heightMm: 8, holeMm: 4.8, holePitchMm: 8, holesRun: "upDown" } } } },
      "corner.lowerArm.section.holeMm is 4.8 mm; allowed below the width, 4 mm",
    ],
    [
      "holes that run into each other",
      { corner: { lowerArm: { section: { shape: "pinHoleBar", widthMm: 8, heightMm: 8, holeMm: 4.8, holePitchMm: 4.8, holesRun: "upDown" } } } },
      "corner.lowerArm.section.holeMm is 4.8 mm; allowed below the hole pitch, 4.8 mm",
    ],
    [
      "a stem without wall",
      { corner: { lowerArm: { stemSection: { shape: "tube", outerMm: 4, innerMm: 5 } } } },
      "corner.lowerArm.stemSection.innerMm is 5 mm; allowed below the outer diameter, 4 mm",
    ],
    [
      "a box inside out",
      { fit: { keepOut: [{ name: "box", fromSMm: 9, toSMm: 3, fromZMm: 1, toZMm: 2, bothSides: true }] } },
      "fit.keepOut[0].toSMm is 3 mm; allowed above the inner edge, 9 mm",
    ],
  ])("%s", (_, over, message) => {
    expect(told(over)).toEqual([message]);
  });

  it("are told once when both sides share them, and for the side that brought them otherwise", () => {
    expect(told({ right: { lowerOuter: { sMm: 50, zMm: 32 } } })).toEqual(["right.lowerOuter is 2 mm from the lower inner pin; allowed at least 4 mm"]);
    expect(told({ right: { wheel: { radiusMm: 100 } } })).toEqual([
      "right.wheel.radiusMm is 48 mm; allowed 70 to 130 mm, so that the tyre is near the ground at height 0",
    ]);
  });

  it("leave the unused stem of another layout alone", () => {
    expect(told({ corner: { lowerArm: { layout: "A", stemSection: { shape: "tube", outerMm: 4, innerMm: 5 } } } })).toEqual([]);
  });

  it("do not stand in the shipped scenario", () => {
    expect(told({})).toEqual([]);
  });
});
