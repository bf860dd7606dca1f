import { describe, expect, it } from "vitest";
import { analyze } from "../../../src/core/analyze.ts";
import { fieldValue, guesses } from "../../../src/core/design/origins.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import type { AnswerKey, Answers } from "../../../src/scenario/own-car/answers.ts";
import { answered, answerOf, fitted, isTold, leftOut, missing, startedCar } from "../../../src/scenario/own-car/own-car.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { formatScenario } from "../../../src/scenario/write.ts";
import { gate } from "../../../src/state/gate.ts";
import { answersOn, type Sheet } from "../../support/paper-sheets.ts";

const LOAD = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 };
const fault = (s: Scenario): string | null => gate({ a: s, b: s, load: LOAD });
const car = (name: Sheet): Scenario => answered(startedCar(), answersOn(name));
/** Values by their paths, each with how it is known. */
function expectAt(s: Scenario, want: Record<string, number | string | null>, how: "guess" | undefined): void {
  for (const [path, value] of Object.entries(want)) {
    const got = fieldValue(s, path);
    if (typeof value === "number") expect(got, path).toBeCloseTo(value, 6);
    else expect(got, path).toBe(value);
    expect(s.origins[path]?.how, path).toBe(how);
  }
}

describe("a car from a sheet of paper, against values by hand", () => {
  it("with pins and weight alone, the rest guessed for its size", () => {
    const s = car("pins-and-weight");
    expectAt(
      s,
      {
        "body.carMassKg": 4,
        "corner.lowerInner.sMm": 48,
        "corner.lowerInner.zMm": 32,
        "corner.lowerOuter.sMm": 120,
        "corner.upperOuter.zMm": 72,
      },
      undefined,
    );
    // the outer pins lie 120 mm out: scale 1; they are 28 and 72 mm up, middle 50, and 48 of 50 is the wheel's radius
    // 4 kg · 0.58 = 2.32 kg on the axle; wheel 0.22/2.9 of it = 0.176 kg, all below the spring 0.35/2.9 = 0.28 kg
    expectAt(
      s,
      {
        holePitchMm: 8,
        "corner.wheel.radiusMm": 48,
        "corner.wheel.treadWidthMm": 36,
        "corner.wheelCentre.sMm": 120 + 18 + 14,
        "corner.wheelCentre.zMm": 48,
        "body.axleShare": 0.58,
        "body.cgHeightMm": 92,
        "corner.wheel.massKg": 0.176,
        "corner.wheel.unsprungMassKg": 0.28,
        "corner.upperArm.layout": "straight",
        "corner.lowerArm.section.heightMm": 7.6,
        "corner.spring.top.sMm": 76,
        "corner.spring.top.zMm": 88,
        // By hand, the arms' lines meet at (6456, -324): the wheel's middle rises 6304/6336 of the lower outer pin. Per rad of the lower arm that
        // is 71.64 mm, and the seat, 43.2 mm out and 2.4 down, squeezes the spring (15.2 inwards and 58.4 up, 60.35 long) by 41.20: ratio 0.5752.
        // On a spring stand (1.16 - 0.28) · 9.80665 = 8.630 N at the wheel, 15.00 N in it, and 7.5 mm of sag ask for 2.00 N/mm.
        "corner.spring.rateNPerMm": 2,
        "corner.spring.freeLengthMm": 67.8,
        "corner.tyre.verticalNPerMm": 11.2,
        "drive.stallTorqueNmm": 96,
      },
      "guess",
    );
    expect(missing(s)).toEqual([]);
  });

  it("with everything told", () => {
    const s = car("small-all-told");
    expectAt(
      s,
      {
        "body.carMassKg": 1.9,
        "body.axleShare": 0.57894737,
        holePitchMm: 10,
        "corner.wheelCentre.sMm": 113,
        "corner.wheelCentre.zMm": 36,
        "corner.wheel.radiusMm": 36,
        "corner.wheel.treadWidthMm": 26,
        "corner.wheel.massKg": 0.09,
        "corner.upperInner.sMm": 44,
        "corner.upperInner.zMm": 54,
        "corner.spring.top.sMm": 58,
        "corner.spring.seat.fraction": 0.6,
        "corner.spring.rateNPerMm": 1.401,
        "corner.spring.freeLengthMm": 52,
        "corner.spring.count": 1,
        "corner.lowerArm.material": "aluminium",
        "corner.lowerArm.section.shape": "tube",
        "corner.lowerArm.section.outerMm": 5,
        "corner.upperArm.section.outerMm": 5,
        "corner.hub.retention.kind": "crossPin",
        "corner.hub.retention.pinDiameterMm": 2.5,
        "corner.hub.tiltPlayDeg": 0.3,
        "corner.tyre.seat.kind": "glue",
        "drive.drivenWheels": 2,
        "drive.motorsPerWheel": 0.5,
        "drive.stallTorqueNmm": 55,
        "drive.noLoadRpm": 9000,
        "drive.stages[0].drivingTeeth": 14,
        "drive.stages[0].drivenTeeth": 48,
      },
      undefined,
    );
    // what nobody asks for stays a guess
    expectAt(s, { "corner.hub.retention.shearRadiusMm": 7, "corner.wheel.unsprungMassKg": 0.143 }, "guess");
  });

  it("with half of it told: the upper arms are guessed like the lower ones, weights go by the cube of the size", () => {
    const s = car("large-on-forks");
    expectAt(s, { "corner.lowerArm.layout": "split", "corner.lowerArm.spreadMm": 84, "corner.lowerArm.section.heightMm": 9 }, undefined);
    expectAt(
      s,
      {
        "corner.upperArm.layout": "split",
        "corner.upperArm.spreadMm": 84,
        "corner.upperArm.section.heightMm": 9,
        "corner.upperArm.section.widthMm": 10,
        "corner.wheel.treadWidthMm": 54,
        "body.cgHeightMm": 138,
        // 0.22/2.9 and 0.35/2.9 of 9 kg
        "corner.wheel.massKg": 0.683,
        "corner.wheel.unsprungMassKg": 1.09,
      },
      "guess",
    );
    const { carMassKg: _, axleMassKg: __, ...unweighed } = answersOn("large-on-forks");
    // 1.5 times as large as the 5 kg car: 5 · 1.5³ = 16.875 kg, to three figures
    expectAt(answered(startedCar(), unweighed), { "body.carMassKg": 16.9 }, "guess");
  });

  it.each(["pins-and-weight", "small-all-told", "large-on-forks"] as const)("%s passes the gate, stands, and reads back as it was", (name) => {
    const s = car(name);
    expect(fault(s)).toBeNull();
    const found = analyze(s, LOAD);
    expect(found.ok).toBe(true);
    const read = parseScenario(formatScenario(s), "sheet");
    expect(read).toEqual({ ok: true, scenario: s });
    for (const [key, value] of Object.entries(answersOn(name)) as [AnswerKey, number | string][]) {
      expect(isTold(s, key), key).toBe(true);
      if (typeof value === "number") expect(answerOf(s, key), key).toBeCloseTo(value, 5);
      else expect(answerOf(s, key), key).toBe(value);
    }
  });
});

describe("while a car is being told", () => {
  it("nothing but guesses at first, which stand", () => {
    const s = startedCar();
    expect(fault(s)).toBeNull();
    expect(missing(s)).toHaveLength(9);
    expect(guesses(s)).toContain("corner.hub.retention.capacityN");
    expect(guesses(s).filter((p) => /^(fit|limits|loadCases|tracks|name)/.test(p))).toEqual([]);
  });

  it("answers one at a time, in any order, lead to the same car, and each step stands", () => {
    for (const name of ["pins-and-weight", "small-all-told", "large-on-forks"] as const) {
      const all = Object.entries(answersOn(name)) as [AnswerKey, number | string][];
      // shapes decide where heights stand, so choices come first either way
      const choices = all.filter(([, v]) => typeof v === "string");
      const numbers = all.filter(([, v]) => typeof v === "number");
      for (const order of [numbers, [...numbers].reverse()]) {
        let s = startedCar();
        for (const [key, value] of [...choices, ...order]) {
          s = answered(s, { [key]: value } as Answers);
          expect(fault(s), `${name}: ${key}`).toBeNull();
        }
        const { origins: a, ...left } = s;
        const { origins: b, ...right } = car(name);
        expect({ ...left, body: { ...left.body, axleShare: right.body.axleShare } }).toEqual(right);
        expect(left.body.axleShare).toBeCloseTo(right.body.axleShare, 7);
        expect(Object.keys(a).sort()).toEqual(Object.keys(b).sort());
      }
    }
  });

  it("the weight under this axle stays what the scale showed when the whole car is weighed anew", () => {
    const s = answered(answered(startedCar(), { carMassKg: 5, axleMassKg: 3 }), { carMassKg: 6 });
    expect(s.body.carMassKg * s.body.axleShare).toBeCloseTo(3, 9);
  });

  it("what is measured keeps its ±, in the unit of the file", () => {
    const s = answered(startedCar(), { wheelDiameterMm: 100 }, { how: "measured", plusMinus: 0.5, note: "ruler" });
    expect(s.corner.wheel.radiusMm).toBe(50);
    expect(s.origins["corner.wheel.radiusMm"]).toEqual({ how: "measured", plusMinus: 0.25, note: "ruler" });
  });

  it("a guess that was chosen, of a part off the shelf, is not guessed over", () => {
    const soft = { how: "guess", note: "spring, soft" } as const;
    const s = answered(answered(startedCar(), { springRateNPerMm: 0.9 }, soft), { carMassKg: 8 });
    expect(s.corner.spring.rateNPerMm).toBe(0.9);
    expect(s.origins["corner.spring.rateNPerMm"]).toEqual(soft);
    expect(isTold(s, "springRateNPerMm")).toBe(false);
    // left out, it goes by the size again: 8 kg on springs sink by the same 7.5 mm times the scale
    expect(leftOut(s, "springRateNPerMm").corner.spring.rateNPerMm).toBeGreaterThan(2);
  });

  it("making the guesses anew changes nothing twice", () => {
    for (const name of ["pins-and-weight", "large-on-forks"] as const) expect(fitted(car(name))).toEqual(car(name));
  });
});
