import { describe, expect, it } from "vitest";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { pressedTread } from "../../../src/core/bench/wheel-laws.ts";
import type { Corner, Scenario } from "../../../src/core/design/types.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt, typed } from "./typed.ts";

/** Each test's fit against a calculation by hand; the numbers stand here as a pocket calculator gives them. */

const forked = shipped("heavy-forked.json");
const G = 9.80665;

const withCorner = (s: Scenario, change: (c: Corner) => Corner): Scenario => ({ ...s, corner: change(s.corner) });

/** one straight bar, 8 mm wide and 4 mm high, of 2000 MPa and Poisson's ratio 0: I = 8·4³/12 = 42.6667 mm⁴ up and down, 4·8³/12 = 170.667 along the road */
const bar = withCorner(forked, (c) => ({
  ...c,
  lowerArm: {
    ...c.lowerArm,
    layout: "straight",
    section: { shape: "rectangle", widthMm: 8, heightMm: 4 },
    stemSection: null,
    material: { name: "bar", youngMPa: 2000, poisson: 0, yieldMPa: 40, densityKgPerM3: 1050, plastic: true, maxTempC: 80, source: "test" },
  },
}));

const loads = [0, 2, 4, 6, 8];
const at100 = { arm: "lower", lengthMm: 100, loadAtMm: 100, readAtMm: 100, rulerMm: 0.5 };
const inNewton = (rows: number[][]): string[][] => rows.map(([n, mm]) => [`${n} N`, String(mm)]);

describe("an arm hung with weights, against the cantilever's formula", () => {
  // F L³/(3 E I) = 10⁶/(3·42.6667·E) = 7812.5/E mm/N, and 100/(5/6·32·E/2) = 7.5/E of shear (Timoshenko): 7820/E in all
  const E = 1700;

  it("in a vice it gives back Young's modulus", () => {
    const test = typed(bar, "armHang", inNewton(loads.map((n) => [n, 20 + (n * 7820) / E])), { ...at100, held: "vice" });
    expectRel(resultAt(fitBench(bar, test), "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
  });

  it("loaded at 100 mm and read at 50 mm it bends by 5/2 as much as a load there would", () => {
    // u(a) under F at L: F a² (3L - a)/(6 E I) = 2500·250/(6·42.6667) = 2441.4/E, and the shear up to there 50/(5/6·32/2) = 3.75/E
    const test = typed(bar, "armHang", inNewton(loads.map((n) => [n, (n * 2445.16) / E])), { ...at100, readAtMm: 50, held: "vice" });
    expectRel(resultAt(fitBench(bar, test), "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
  });

  it("on its own pins the jump between loads up and down is twice their play, and their give is taken off", () => {
    // pin 2000, hole 1500, mount 1000 N/mm in series: 1/461.54 N/mm
    const j = bar.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const reading = (n: number): number => 31 + Math.sign(n) * 0.35 + n * (7820 / E + give);
    const test = typed(bar, "armHang", inNewton([-6, -4, -2, 2, 4, 6].map((n) => [n, reading(n)])), { ...at100, held: "pins" });
    const fit = fitBench(bar, test);
    expectRel(resultAt(fit, "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
    expectAbs(resultAt(fit, "lowerInner.clearanceMm").value, 0.35, 1e-6, "clearance (mm)");
  });

  it("a ruler that counts the other way tells the same, and says so", () => {
    const test = typed(bar, "armHang", inNewton(loads.map((n) => [n, 20 - (n * 7820) / E])), { ...at100, held: "vice" });
    const fit = fitBench(bar, test);
    expectRel(resultAt(fit, "youngMPa").value, E, 1e-4, "E (MPa)");
    expect(fit.notes.join(" ")).toContain("counts the other way");
  });

  it("propped up in the middle, on free pins, it bends as an overhanging beam", () => {
    // overhang a = 50 beyond a span b = 50: F a² (a + b)/(3 E I) = 2500·100/(3·42.6667) = 1953.1/E; shear: 50/13.333 (overhang) + (a/b)²·50/13.333 = 7.5/E
    // pins rise by F·give/1, which the ruler sees as much again beyond the prop: (a/b)²·give
    const j = bar.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const test = typed(bar, "armHang", inNewton(loads.map((n) => [n, n * (1960.63 / E + give)])), { ...at100, held: "propped", propAtMm: 50 });
    expectRel(resultAt(fitBench(bar, test), "youngMPa").value, E, 1e-4, "E (MPa)");
  });

  it("propped up at 40 mm, the play of its pins shows one and a half times at the end", () => {
    // overhang 60, span 40: 3600·100/(3·42.6667) = 2812.5/E, shear 60/13.3333 + 2.25·40/13.3333 = 11.25/E; pins rise by 1.5, seen 1.5 times: 2.25 times their give
    const j = bar.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const reading = (n: number): number => 10 + Math.sign(n) * 1.5 * 0.2 + n * (2823.75 / E + 2.25 * give);
    const test = typed(bar, "armHang", inNewton([-4, -2, 2, 4].map((n) => [n, reading(n)])), { ...at100, held: "propped", propAtMm: 40 });
    const fit = fitBench(bar, test);
    expectRel(resultAt(fit, "youngMPa").value, E, 1e-4, "E (MPa)");
    expectAbs(resultAt(fit, "lowerInner.clearanceMm").value, 0.2, 1e-6, "clearance (mm)");
  });

  it("on springy pivots the pivot's stiffness comes from what the arm alone does not explain", () => {
    // 2000 N·mm/°: k = 114592 N·mm/rad, L²/k = 0.0872665 mm/N beside 7820/2000 = 3.91 mm/N of the bar
    const s = withCorner(bar, (c) => ({ ...c, lowerArm: { ...c.lowerArm, pivotStiffnessNmmPerDeg: 900 } }));
    const j = s.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const test = typed(s, "armHang", inNewton(loads.map((n) => [n, n * (3.91 + give + 0.0872665)])), { ...at100, held: "springy", sought: "pivot" });
    expectRel(resultAt(fitBench(s, test), "lowerArm.pivotStiffnessNmmPerDeg").value, 2000, 1e-3, "pivot (N·mm/°)");
  });

  it("loaded at its end and read in the middle, springy pivots turn the ruler half as far", () => {
    // 2445.16/2000 = 1.22258 mm/N of the bar (as above), and 100·50/114592 = 0.0436332 of the pivots
    const s = withCorner(bar, (c) => ({ ...c, lowerArm: { ...c.lowerArm, pivotStiffnessNmmPerDeg: 900 } }));
    const j = s.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const rows = inNewton(loads.map((n) => [n, n * (1.22258 + give + 0.0436332)]));
    const test = typed(s, "armHang", rows, { ...at100, readAtMm: 50, held: "springy", sought: "pivot" });
    expectRel(resultAt(fitBench(s, test), "lowerArm.pivotStiffnessNmmPerDeg").value, 2000, 1e-3, "pivot (N·mm/°)");
  });

  it("propped up at 60 mm and loaded beyond, its pins are lifted through their play: the ruler falls by 2/3 of it", () => {
    // overhang 40 mm on a span of 60: 40²·100/(3·42.6667·E) = 1250/E, shear (40 + 40²/60)/(13.3333·E) = 5/E; the pins pull 2/3, and move the ruler 2/3: 4/9 of their give
    const j = bar.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const rows = inNewton([-6, -4, -2, 2, 4, 6].map((n) => [n, (Math.sign(n) * 0.3 * 2) / 3 + n * (1255 / E + (4 / 9) * give)]));
    const fit = fitBench(bar, typed(bar, "armHang", rows, { ...at100, held: "propped", propAtMm: 60, sought: "material" }));
    expectRel(resultAt(fit, "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
    expectRel(resultAt(fit, "lowerInner.clearanceMm").value, 0.3, 1e-4, "clearance (mm)");
  });

  it("pulled along the road by a part in its ball joint, both ways, it tells the joint's play to either side", () => {
    const j = bar.corner.joints.lowerOuter;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    // the bar alone: 1960.625/E (below)
    const rows = inNewton([-6, -4, -2, 2, 4, 6].map((n) => [n, 7 + Math.sign(n) * 0.25 + n * (1960.625 / E + give)]));
    const fit = fitBench(bar, typed(bar, "armAlongRoad", rows, { ...at100, pulledBy: "joint" }));
    expectRel(resultAt(fit, "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
    expectRel(resultAt(fit, "lowerOuter.clearanceMm").value, 0.25, 1e-4, "clearance (mm)");
  });

  it("along the road its width counts", () => {
    // F L³/(3 E I) = 10⁶/(3·170.667) = 1953.1/E, shear 7.5/E
    const test = typed(bar, "armAlongRoad", inNewton(loads.map((n) => [n, (n * 1960.625) / E])), { ...at100, pulledBy: "arm" });
    expectRel(resultAt(fitBench(bar, test), "lowerArm.material.youngMPa").value, E, 1e-4, "E (MPa)");
  });
});

describe("a wheel tilted by a pull", () => {
  it("gives back play and stiffness: 48 mm times 10 N over 300 N·mm/° is 1.6° beyond a play of 0.7°", () => {
    const tilt = (n: number): number => 0.2 + Math.sign(n) * 0.7 + (n * 48) / 300;
    const rows = [-15, -10, -5, 5, 10, 15].map((n) => [`${n} N`, tilt(n)]);
    const fit = fitBench(forked, typed(forked, "wheelTilt", rows, { pullAtMm: 48 }));
    expectRel(resultAt(fit, "tiltStiffnessNmmPerDeg").value, 300, 1e-6, "stiffness (N·mm/°)");
    expectRel(resultAt(fit, "tiltPlayDeg").value, 0.7, 1e-6, "play (°)");
  });

  it("reads mm at a told distance as degrees: 5 mm at 50 mm are 5.7106° (arc tangent of 0.1)", () => {
    const rows = [-10, 10].flatMap((n) =>
      [1, 2, 3].map((f) => [`${n * f} N`, `${Math.tan(((Math.sign(n) * 0.5 + (n * f * 40) / 250) * Math.PI) / 180) * 50} mm`]),
    );
    const fit = fitBench(forked, typed(forked, "wheelTilt", rows, { pullAtMm: 40, readAtMm: 50 }));
    expectRel(resultAt(fit, "tiltStiffnessNmmPerDeg").value, 250, 1e-6, "stiffness (N·mm/°)");
    const single = fitBench(forked, typed(forked, "wheelTilt", [["1 N", "5 mm"]], { readAtMm: 50 }));
    expect(single.rows[0]).toMatchObject({ ok: true, y: expect.closeTo(5.7106, 4) });
  });

  it("by pulls to one side alone tells the stiffness, and what is missing for the play", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "wheelTilt",
        [5, 10, 15].map((n) => [`${n} N`, 0.9 + (n * 48) / 300]),
        { pullAtMm: 48 },
      ),
    );
    expect(fit.results.map((r) => r.path)).toEqual(["corner.hub.tiltStiffnessNmmPerDeg"]);
    expect(fit.notes.join(" ")).toContain("Pulls the other way as well");
  });
});

describe("a pin wiggled in its hole", () => {
  it("has half of the way from stop to stop as its radial play", () => {
    const fit = fitBench(forked, typed(forked, "pinPlay", [[0.3], [0.34], [0.26]], { joint: "upperOuter" }));
    expectAbs(resultAt(fit, "joints.upperOuter.clearanceMm").value, 0.15, 1e-12, "clearance (mm)");
    // s = 0.04, of the mean 0.04/√3 = 0.023094, of the half 0.011547; t(0.975, 2) = 4.30265 (tables): ± 0.049684
    expectAbs(resultAt(fit, "clearanceMm").sd, 0.011547, 1e-6, "± (mm)");
    expectAbs(resultAt(fit, "clearanceMm").range95[1], 0.199684, 1e-5, "upper end (mm)");
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

describe("a spring on a scale", () => {
  it("2 springs of 2.4 N/mm, free length 65 on 3 mm of packing", () => {
    const rows = [0, 9.6, 19.2, 28.8].map((n) => [`${n} N`, 65 + 3 - n / 4.8]);
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 3, count: 2 }));
    expectRel(resultAt(fit, "spring.rateNPerMm").value, 2.4, 1e-9, "rate (N/mm)");
    expectRel(resultAt(fit, "spring.freeLengthMm").value, 65, 1e-9, "free length (mm)");
  });

  it("three series one after the other are no unloading", () => {
    const rows = [1, 2, 3].flatMap(() => [10, 20, 30].map((n) => [`${n} N`, 65 - n / 2.5]));
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0 }));
    expect(new Set(fit.rows.map((r) => r.ok === true && r.way))).toEqual(new Set(["up"]));
    expect(fit.loop).toBeNull();
  });

  it("tells the stop where it goes hard: at 45 mm, 48 N, by 40 N/mm besides", () => {
    const length = (n: number): number => (n <= 48 ? 65 - n / 2.4 : 45 - (n - 48) / 42.4);
    const rows = [0, 10, 20, 30, 40, 60, 80, 100, 120].map((n) => [`${n} N`, length(n)]);
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0 }));
    expectRel(resultAt(fit, "spring.rateNPerMm").value, 2.4, 1e-6, "rate (N/mm)");
    expectRel(resultAt(fit, "bumpStop.lengthMm").value, 45, 1e-6, "stop (mm)");
  });

  it("a loop of 0.6 mm between pressing and letting up is told, and the rate lies between", () => {
    const up = [10, 20, 30, 40].map((n) => [`${n} N`, 65 - n / 2.5 + 0.3]);
    const down = [30, 20, 10].map((n) => [`${n} N`, 65 - n / 2.5 - 0.3]);
    const fit = fitBench(forked, typed(forked, "springPress", [...up, ...down], { packingMm: 0 }));
    expectAbs(fit.loop!.value, 0.6, 1e-9, "loop (mm)");
    expectRel(resultAt(fit, "rateNPerMm").value, 2.5, 1e-9, "rate (N/mm)");
    expect(fit.rows.map((r) => r.ok === true && r.way)).toEqual(["up", "up", "up", "up", "down", "down", "down"]);
  });
});

describe("a tyre on the bench", () => {
  it("pressed flat: 14 N/mm, whatever the ruler begins at", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "tyrePress",
        [0, 7, 14, 21].map((n) => [`${n} N`, 3 + n / 14]),
      ),
    );
    expectRel(resultAt(fit, "tyre.verticalNPerMm").value, 14, 1e-6, "stiffness (N/mm)");
  });

  it("crowned: a strip that touches on 2e with e = √(2 R d) carries 4/3·k/w·d·e", () => {
    // R = 40, w = 36, k = 14 N/mm: at d = 0.5, e = 6.32456: F = 4/3·14/36·0.5·6.32456 = 1.63969; at 1: e = 8.94427, F = 4.63774; at 2: e = 12.6491, F = 13.1175
    const s = withCorner(forked, (c) => ({ ...c, tyre: { ...c.tyre, crownRadiusMm: 40, verticalNPerMm: 10 } }));
    const rows = [
      [0, 0],
      [1.63969, 0.5],
      [4.63774, 1],
      [13.1175, 2],
    ].map(([n, mm]) => [`${n} N`, mm!]);
    const fit = fitBench(s, typed(s, "tyrePress", rows));
    expectRel(resultAt(fit, "tyre.verticalNPerMm").value, 14, 1e-4, "stiffness (N/mm)");
  });

  it("crowned and leaned: the force stands over the lowest place, set back by the crown", () => {
    // ρ = 100, 2°: lowest at -100·tan 2° = -3.49208 mm along the axle; touching ± 10 mm takes k/w·cos/(2ρ)·4/3·10³ = 2.59101 N (k/w = 14/36)
    // place: -3.49208·cos - (3.49208² + 10²/5)·sin/(2ρ) = -3.48995 - 0.00562 = -3.49557 mm from the middle of the tread
    const turn = (2 * Math.PI) / 180;
    const { forceAtMm } = pressedTread({ radiusMm: 48, widthMm: 36, nPerMm: 14, crownRadiusMm: 100 }, 2.59101, turn);
    expectAbs(forceAtMm - 48 * Math.sin(turn), -3.49557, 2e-5, "place (mm)");
  });

  it("pulled sideways: 25 N/mm", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "tyreSideways",
        [-20, -10, 10, 20].map((n) => [`${n} N`, 1 + n / 25]),
      ),
    );
    expectRel(resultAt(fit, "tyre.lateralNPerMm").value, 25, 1e-6, "stiffness (N/mm)");
  });

  it("leaned while all of a flat tread touches: the force wanders by k w² sin(a)/(12 F) along the axle", () => {
    // w = 30, k = 14 N/mm, F = 42 N: at 2°, sin = 0.0348995, 14·900·0.0348995/(12·42) = 0.872487 mm, times cos 2° = 0.871956 mm along the board;
    // 42 N over 200 mm of span: 0.183111 N. At 4° (edges still down: 15·sin 4° = 1.05 < 3 mm): 1.743911·0.997564 = 1.739663 mm, 0.365329 N
    const rows = [
      [-4, -0.365329],
      [-2, -0.183111],
      [0, 0],
      [2, 0.183111],
      [4, 0.365329],
    ].map(([deg, n]) => [deg!, `${21 + n!} N`]);
    const fit = fitBench(forked, typed(forked, "tyreTilt", rows, { pressKg: 42 / G, spanMm: 200, about: "tread" }));
    expectRel(resultAt(fit, "tyre.effectiveWidthMm").value, 30, 1e-4, "width (mm)");
  });

  it("leaned about its axle the tread wanders against the lean besides, by R sin(a)", () => {
    // R = 48: 48·0.0348995 = 1.675176 mm at 2°, 3.348311 at 4°; less 0.871956 and 1.739663: 0.803220 and 1.608648 mm, 0.168676 and 0.337816 N
    const rows = [
      [-4, 0.337816],
      [-2, 0.168676],
      [0, 0],
      [2, -0.168676],
      [4, -0.337816],
    ].map(([deg, n]) => [deg!, `${21 + n!} N`]);
    const fit = fitBench(forked, typed(forked, "tyreTilt", rows, { pressKg: 42 / G, spanMm: 200, about: "axle" }));
    expectRel(resultAt(fit, "tyre.effectiveWidthMm").value, 30, 1e-3, "width (mm)");
    expect(fit.notes.join(" ")).not.toContain("falls where it should rise");
  });
});

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

describe("a pin wiggled from stop to stop", () => {
  it("0.4 and 0.44 mm read at twice the way: 0.105 mm of radial play; a way with a minus is none", () => {
    const fit = fitBench(forked, typed(forked, "pinPlay", [["0.4"], ["0,44"], ["-0.4"]], { lever: 2 }));
    expectAbs(resultAt(fit, "clearanceMm").value, 0.105, 1e-12, "clearance (mm)");
    expect(fit.rows[2]).toEqual({ ok: false, reason: "from stop to stop: “-0.4” is below 0" });
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

describe("what a test leans on", () => {
  it("a pivot sought beside an arm whose stiffness is known to 1 % is known to no better than ± 614 of 2000 N·mm/°", () => {
    // with E 1 % up the bar gives 3.91/1.01 = 3.871287 mm/N, and the pivot 0.0872665 + 0.038713 = 0.125979: 10⁴/0.125979 = 79378.3 N·mm/rad, 1385.42 N·mm/°
    const soft = withCorner(bar, (c) => ({ ...c, lowerArm: { ...c.lowerArm, pivotStiffnessNmmPerDeg: 900 } }));
    const s: Scenario = { ...soft, origins: { "corner.lowerArm.material.youngMPa": { how: "measured", plusMinus: 20 } } };
    const j = s.corner.joints.lowerInner;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const rows = inNewton([0, 2, 4, 6, 8, 10].map((n) => [n, n * (3.91 + give + 0.0872665)]));
    const fit = fitBench(s, typed(s, "armHang", rows, { ...at100, held: "springy", sought: "pivot", rulerMm: 0.001 }));
    expectRel(resultAt(fit, "lowerArm.pivotStiffnessNmmPerDeg").sd, 614.6, 5e-3, "± (N·mm/°)");
    expect(fit.notes.join(" ")).toContain("The ± holds what the design knows only with a ± of its own");
  });

  it("an arm pulled along the road by its joint has the doubt of the joint's give", () => {
    // the bar gives 1960.625/2000 = 0.980313 mm/N; the outer pin 2000 N/mm of its 1/2000, known to 400: 1/2400 is 8.3333e-5 less, so that
    // the bar gives 0.980396: E = 1960.625/0.980396 = 1999.83, 0.17 off; and of the ruler 0.001/√12 over √70 N: 3.4503e-5 mm/N of 0.980313, 0.0704: √(0.17² + 0.0704²) = 0.184
    const stiff = withCorner(bar, (c) => ({ ...c, joints: { ...c.joints, lowerOuter: { ...c.joints.lowerOuter, pinNPerMm: 2000 } } }));
    const s: Scenario = { ...stiff, origins: { "corner.joints.lowerOuter.pinNPerMm": { how: "guess", plusMinus: 400 } } };
    const j = s.corner.joints.lowerOuter;
    const give = 1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm;
    const rows = inNewton([0, 2, 4, 6, 8, 10].map((n) => [n, n * (0.9803125 + give)]));
    const fit = fitBench(s, typed(s, "armAlongRoad", rows, { ...at100, pulledBy: "joint", rulerMm: 0.001 }));
    expectRel(resultAt(fit, "lowerArm.material.youngMPa").sd, 0.184, 0.02, "± (MPa)");
  });

  it("hands its ± on: a band of friction 0.6 ± 0.03 makes 5 % of its tension of 23.8732 N besides the scatter", () => {
    const s: Scenario = { ...forked, origins: { ...forked.origins, "corner.tyre.seat.friction": { how: "measured", plusMinus: 0.03 } } };
    const pulls = [["80 N"], ["90 N"], ["85 N"], ["95 N"], ["100 N"]];
    const plain = resultAt(fitBench(forked, typed(forked, "tyrePushOff", pulls)), "bandTensionN");
    const leaning = resultAt(fitBench(s, typed(s, "tyrePushOff", pulls)), "bandTensionN");
    // scatter 8.66025/(2π·0.6) = 2.29721; at 0.63 the mean is 22.7364: 1.13682 less; root of the squares 2.56311
    expectAbs(plain.sd, 2.29721, 1e-4, "± of the scatter (N)");
    expectAbs(leaning.sd, 2.56311, 1e-4, "± (N)");
    expect(leaning.value).toBe(plain.value);
    // upper end: 24.0447/(2π·0.6) = 6.37808 and 1.95996·1.13682 = 2.22812 together 6.75604
    expectAbs(leaning.range95[1] - leaning.value, 6.75604, 1e-3, "half of the range (N)");
  });
});
