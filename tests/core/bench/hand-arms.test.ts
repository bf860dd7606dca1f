import { describe, expect, it } from "vitest";
import { fitBench } from "../../../src/core/bench/fit.ts";
import type { Corner, Scenario } from "../../../src/core/design/types.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt, typed } from "./typed.ts";

/** Arms and their pins against calculations by hand, as a pocket calculator gives them. */

const forked = shipped("heavy-forked.json");

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

describe("a pin wiggled in its hole", () => {
  it("has half of the way from stop to stop as its radial play", () => {
    const fit = fitBench(forked, typed(forked, "pinPlay", [[0.3], [0.34], [0.26]], { joint: "upperOuter" }));
    expectAbs(resultAt(fit, "joints.upperOuter.clearanceMm").value, 0.15, 1e-12, "clearance (mm)");
    // s = 0.04, of the mean 0.04/√3 = 0.023094, of the half 0.011547; t(0.975, 2) = 4.30265 (tables): ± 0.049684
    expectAbs(resultAt(fit, "clearanceMm").sd, 0.011547, 1e-6, "± (mm)");
    expectAbs(resultAt(fit, "clearanceMm").range95[1], 0.199684, 1e-5, "upper end (mm)");
  });
});

describe("a pin wiggled from stop to stop", () => {
  it("0.4 and 0.44 mm read at twice the way: 0.105 mm of radial play; a way with a minus is none", () => {
    const fit = fitBench(forked, typed(forked, "pinPlay", [["0.4"], ["0,44"], ["-0.4"]], { lever: 2 }));
    expectAbs(resultAt(fit, "clearanceMm").value, 0.105, 1e-12, "clearance (mm)");
    expect(fit.rows[2]).toEqual({ ok: false, reason: "from stop to stop: “-0.4” is below 0" });
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
