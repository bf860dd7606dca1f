import { describe, expect, it } from "vitest";
import { fitBench } from "../../../src/core/bench/fit.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt, typed } from "./typed.ts";

/** Broken parts, the whole car and what is read again and again against calculations by hand, as a pocket calculator gives them. */

const forked = shipped("heavy-forked.json");

describe("what is broken", () => {
  const pulls = [["80 N"], ["90 N"], ["85 N"], ["95 N"], ["100 N"]];

  it("five lips: mean 90, s = √62.5 = 7.90569, 95 of 100 hold 90 - 2.3353·7.90569 = 71.538 N (EN 1990, D1: k = 2.33 for 5)", () => {
    const fit = fitBench(forked, typed(forked, "hubPullOff", pulls));
    expect(fit.samples).toEqual({ mean: 90, sd: expect.closeTo(7.90569, 4), characteristic: expect.closeTo(71.538, 2), n: 5 });
    const r = resultAt(fit, "retention.capacityN");
    expect(r.value).toBe(90);
    // the next part: s √(1 + 1/5) = 8.66025; t(0.975, 4) = 2.77645: ± 24.0447
    expectAbs(r.sd, 8.66025, 1e-4, "± (N)");
    expectAbs(r.range95[0], 65.9553, 1e-3, "lower end (N)");
  });

  it("a cross-pin of 3 mm: in two places F/(2·7.06858 mm²), between two plates twice that", () => {
    const s = shipped("heavy-cross-pinned.json");
    const mean = (cut: string): number => resultAt(fitBench(s, typed(s, "hubPullOff", pulls, { cut })), "shearStrengthMPa").value;
    expectRel(mean("two"), 6.3662, 1e-5, "two places (MPa)");
    expectRel(mean("one"), 12.7324, 1e-5, "one place (MPa)");
  });

  it("a screwed ring: F over π·9 mm·3 mm = 84.823 mm²", () => {
    const s = shipped("converging-unequal.json");
    expectRel(resultAt(fitBench(s, typed(s, "hubPullOff", pulls)), "shearStrengthMPa").value, 1.06103, 1e-5, "strength (MPa)");
  });

  it("joints of one kind all get it; one joint alone where it is told", () => {
    const all = fitBench(forked, typed(forked, "jointPullOut", pulls));
    expect(all.results.map((r) => r.value)).toEqual([90, 90, 90, 90]);
    const one = fitBench(forked, typed(forked, "jointPullOut", pulls, { joint: "upperInner" }));
    expect(one.results.map((r) => r.path)).toEqual(["corner.joints.upperInner.pullOutN"]);
  });

  it("a band of friction 0.6 that leaves the rim at 90 N has a tension of 90/(2π·0.6) = 23.8732 N", () => {
    expectRel(resultAt(fitBench(forked, typed(forked, "tyrePushOff", pulls)), "seat.bandTensionN").value, 23.8732, 1e-5, "tension (N)");
  });

  it("discs hold what the band, 2π·0.6·30 = 113.097 N at rest, does not: 200 - 113.097", () => {
    const s = shipped("twin-tube-hub-spring.json");
    const fit = fitBench(s, typed(s, "tyrePushOff", [["200 N"], ["200 N"], ["200 N"]]));
    expectRel(resultAt(fit, "seat.extraHoldN").value, 86.903, 1e-5, "hold (N)");
  });
});

describe("the whole car", () => {
  it("four scales: 1.4 + 1.5 + 1.0 + 1.1 kg, 58 % on this axle, the left wheel 0.1 kg lighter", () => {
    const rows = [
      ["1400", "1500", "1000", "1100"],
      ["1402", "1500", "1000", "1100"],
      ["1398", "1500", "1000", "1100"],
    ];
    const fit = fitBench(forked, typed(forked, "wheelWeights", rows));
    expectAbs(resultAt(fit, "carMassKg").value, 5, 1e-9, "car (kg)");
    expectAbs(resultAt(fit, "axleShare").value, 0.58, 1e-9, "share");
    expectAbs(fit.results.find((r) => r.path === null)!.value, -0.1, 1e-9, "left less right (kg)");
    // pooled: squares 8 g², 8 degrees of freedom, 1 g; four means of three: √(4/3) = 1.1547 g
    expectAbs(resultAt(fit, "carMassKg").sd, 0.0011547, 1e-6, "± (kg)");
    // t(0.975, 8) = 2.30600 (tables)
    expectAbs(resultAt(fit, "carMassKg").range95[1] - 5, 0.0026627, 1e-6, "half of the range (kg)");
    // share = a/(a + o): d = (o·da - a·do)/25 with da, do of √(2/3) g: √(2.1² + 2.9²)·0.81650/25/1000 = 0.00011694; r by hand 2/3·(2.1 - 2.9)/25/…
    expectAbs(resultAt(fit, "axleShare").sd, 0.00011694, 1e-8, "±");
    // covariance: (o·var a - a·var o)/25 = (2.1 - 2.9)·0.66667e-6/25 = -2.1333e-8; over 0.0011547·0.00011694
    expectAbs(resultAt(fit, "axleShare").together["body.carMassKg"]!, -0.15799, 1e-4, "correlation");
  });

  it("two scales under this axle alone leave the car as it is", () => {
    const fit = fitBench(forked, typed(forked, "wheelWeights", [["1450", "1450"]]));
    expect(fit.results.map((r) => r.path)).toEqual(["body.axleShare", null]);
    expectAbs(resultAt(fit, "axleShare").value, 0.58, 1e-9, "2.9 of 5 kg");
  });

  it("of two scales read twice the scatter counts, whatever stands under the other wheels", () => {
    const fit = fitBench(
      forked,
      typed(forked, "wheelWeights", [
        ["1450", "1450"],
        ["1452", "1448"],
      ]),
    );
    // squares 1 + 1 + 1 + 1 g² over two degrees of freedom: 2 g²; the sum of two means of two has 2 g², √2 g of 5 kg
    expectAbs(resultAt(fit, "axleShare").sd, 0.000282843, 1e-8, "±");
    expect(fit.notes.join(" ")).not.toContain("read once");
    expect(fitBench(forked, typed(forked, "wheelWeights", [["1450", "1450"]])).notes.join(" ")).toContain("read once");
  });

  it("an axle that weighs more than the design's whole car has no share of it: the reason is told, nothing goes in", () => {
    const fit = fitBench(forked, typed(forked, "wheelWeights", [["8000", "8100"]]));
    expect(fit.results.filter((r) => r.path !== null)).toEqual([]);
    expect(fit.notes[0]).toContain("16.1 kg, more than the whole car in the design, 5 kg");
  });

  it("tipped at 45°: the centre of gravity lies half a track up, the car leaned by the sinking of its lower tyres besides", () => {
    // car 5 kg: 49.0333 N, of it 34.6717 N square to the board at 45°, on tyres of 14/0.58 = 24.1379 N/mm: 1.43640 mm; track 300: 0.00478801 rad = 0.274333°
    // height = 150/tan 45.274333° = 148.5705 mm; sprung: (5·148.5705 - 1·48)/4 = 173.713 mm
    const fit = fitBench(forked, typed(forked, "heightByTilting", [[45], [45]], { trackMm: 300, otherTrackMm: 300, unsprungKg: 1, axleHeightMm: 48 }));
    expectRel(fit.results.find((r) => r.path === null)!.value, 148.5705, 1e-5, "height of the car (mm)");
    expectRel(resultAt(fit, "body.cgHeightMm").value, 173.713, 1e-5, "height of what is sprung (mm)");
  });

  it("a motor: 122 g at 100 mm are 119.641 N·mm; at the wheel gears of 12 to 40 teeth and 88 % come off", () => {
    const own = fitBench(forked, typed(forked, "motor", [["122", "4800"]], { leverMm: 100, at: "motor" }));
    expectRel(resultAt(own, "stallTorqueNmm").value, 119.641, 1e-5, "torque (N·mm)");
    expect(resultAt(own, "noLoadRpm").value).toBe(4800);
    // 119.641/(3.33333·0.88) = 40.7868; 1440·3.33333 = 4800
    const wheel = fitBench(forked, typed(forked, "motor", [["122", "1440"]], { leverMm: 100, at: "wheel" }));
    expectRel(resultAt(wheel, "stallTorqueNmm").value, 40.7868, 1e-5, "torque (N·mm)");
    expectRel(resultAt(wheel, "noLoadRpm").value, 4800, 1e-9, "speed (rpm)");
  });
});

describe("parts that differ from place to place", () => {
  const whole = (s: Scenario): number => {
    const set = { trackMm: 200, otherTrackMm: 150 };
    return fitBench(s, typed(s, "heightByTilting", [["45"]], set)).results.find((r) => r.path === null)!.value;
  };

  it("a car tips over both axles' tracks, each by its share: (0.58·200 + 0.42·150)/2 = 89.5 mm", () => {
    // 5 kg at 45°: 49.03325·0.707107 = 34.6717 N on tyres of 14/0.58 = 24.1379 N/mm sink 1.43640 mm: over 179 mm 0.00802458 rad; tan(π/4 + that) = 1.0161793
    expectRel(whole(forked), 88.075, 1e-5, "height (mm)");
  });

  it("over tyres of its left and right side in turn: 10 and 14 N/mm make 12", () => {
    // 34.6717/(12/0.58) = 1.675799 mm: 0.00936201 rad; tan(π/4 + that) = 1.0189015
    expectRel(whole({ ...forked, left: { tyre: { verticalNPerMm: 10 } } }), 87.8397, 1e-5, "height (mm)");
  });

  it("a wheel held fast with two motors on it: each has half of what is left behind the gears", () => {
    const s: Scenario = { ...forked, drive: { ...forked.drive, motorsPerWheel: 2 } };
    const fit = fitBench(s, typed(s, "motor", [["122", "1440"]], { leverMm: 100, at: "wheel" }));
    expectRel(resultAt(fit, "stallTorqueNmm").value, 20.3934, 1e-5, "torque (N·mm)");
    expectRel(resultAt(fit, "noLoadRpm").value, 4800, 1e-9, "speed (rpm)");
  });
});

describe("what is read alike again and again", () => {
  it("is never surer than the steps of the gauge: 0.05/√12 of the way, half of it for the play", () => {
    const r = resultAt(fitBench(forked, typed(forked, "pinPlay", [[0.3], [0.3], [0.3], [0.3]], { rulerMm: 0.05 })), "clearanceMm");
    expectAbs(r.sd, 0.00721688, 1e-8, "± (mm)");
    // 1.95996 of it: normal law
    expectAbs(r.range95[1] - 0.15, 0.0141448, 1e-7, "half of the range (mm)");
  });

  it("and a line through readings that fit exactly neither", () => {
    const rows = [0, 500, 1000, 1500].map((g) => [g, 65 - (g * 0.00980665) / 2.5]);
    const r = resultAt(fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0, rulerMm: 0.5 })), "freeLengthMm");
    // ruler 0.144338 mm, scale 1 g: 0.0028309 N over 2.4 N/mm: 0.144343 together; √(Σx²/(n·Sxx)) = √(336.60/(4·120.21)) = 0.83666
    expectAbs(r.sd, 0.120767, 1e-5, "± (mm)");
    expectAbs(r.range95[1] - 65, 0.236698, 2e-5, "half of the range (mm)");
  });
});

describe("advice", () => {
  it("for a mean: s = 0.0288675, t(2) = 4.30265: ± 61 %; with two more t(4) = 2.77645: ± 31 %", () => {
    const fit = fitBench(forked, typed(forked, "pinPlay", [[0.1], [0.15], [0.1]]));
    expect(fit.advice).toMatch(/is known to ± 61 % \(95 %\)\. 2 more readings would bring it to about ± 31 %\.$/);
  });

  it("for a line: at both ends of the loads, where they do most", () => {
    // residuals 0.2, -0.4, 0.2 about a slope of 0.4 mm/N: s = 0.489898; t(1)/√200·s/0.4 = 110 %; four more at the ends: t(5) = 2.57058, √600: 12.9 %
    const rows = [
      [0, 65.2],
      [10, 60.6],
      [20, 57.2],
    ].map(([n, mm]) => [`${n} N`, mm!]);
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0 }));
    expect(fit.advice).toBe("Spring, rate of one is known to ± 110 % (95 %). 4 more readings at 0\u2009g and 2000\u2009g would bring it to about ± 13 %.");
  });
});
