import { describe, expect, it } from "vitest";
import type { AxleReport } from "../../../src/core/analysis.ts";
import { analyze, analyzeBench, buildBench } from "../../../src/core/analyze.ts";
import { JOINT_NAMES, type Load, type Scenario, SIDES } from "../../../src/core/design/types.ts";
import { BAND_SHOWN_DEG } from "../../../src/core/tolerances.ts";
import { leanFromClearances } from "../../oracles/play-estimates.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const FLAT: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

function report(s: Scenario, load: Load): AxleReport {
  const a = analyze(s, load);
  if (!a.ok) throw new Error(a.reason.message);
  return a.report;
}

/** The car with the same clearance in every joint and tilt play in the bearing. */
function withPlay(file: string, clearanceMm: number, tiltPlayDeg: number): Scenario {
  const s = structuredClone(shipped(file));
  for (const n of JOINT_NAMES) s.corner.joints[n].clearanceMm = clearanceMm;
  s.corner.hub.tiltPlayDeg = tiltPlayDeg;
  return { ...s, left: {}, right: {} };
}

const width = (band: [number, number] | null): number => (band ? band[1] - band[0] : 0);

describe("range of camber that clearance leaves", () => {
  it.each(SHIPPED)("%s: none without clearance or play", (file) => {
    for (const load of [FLAT, { ...FLAT, lateralG: 0.5 }]) {
      const r = report(withPlay(file, 0, 0), load);
      for (const side of SIDES) expect(r[side].camberBandDeg, `${side} wheel at ${load.lateralG} g`).toBe(null);
    }
  });

  it("spans the bearing's whole play, both ways, when a tyre can push the wheel across it", () => {
    const play = 0.8;
    const r = report(withPlay("heavy-straight.json", 0, play), FLAT);
    for (const side of SIDES) {
      const band = r[side].camberBandDeg;
      if (!band) throw new Error(`no band on the ${side}`);
      // end to end: twice the play
      expectRel(width(band), 2 * play, 0.1, `${side}: width, °`);
    }
  });

  it("grows with the clearance of the joints and stays below what they leave at most (check 17)", () => {
    const clearances = [0.05, 0.1, 0.2, 0.4];
    const widths = clearances.map((c) => width(report(withPlay("heavy-straight.json", c, 0), FLAT).right.camberBandDeg));
    expect(widths[0]!).toBeGreaterThan(BAND_SHOWN_DEG);
    for (let i = 1; i < widths.length; i++) expect(widths[i]!, `width at ${clearances[i]} mm, °`).toBeGreaterThan(1.2 * widths[i - 1]!);
    // both pins of both arms to and fro, on ball joints 44 mm apart
    clearances.forEach((c, i) => {
      expect(widths[i]!, `width at ${c} mm, °`).toBeLessThan(leanFromClearances(4 * c, 4 * c, 44));
    });
  });

  it("closes with the clearance: what remains is no play, however soft and leaning the car", () => {
    for (const file of ["heavy-forked.json", "asymmetric.json"])
      for (const lateralG of [0, 0.5]) {
        const r = report(withPlay(file, 0.001, 0.002), { ...FLAT, lateralG });
        // four pins of 0.001 mm on ball joints 44 mm apart leave 0.01°, the bearing to and fro 0.004°
        for (const side of SIDES) expect(width(r[side].camberBandDeg), `${file}, ${side} at ${lateralG} g, °`).toBeLessThan(0.015);
      }
  });

  it("shows the upper arm that floats unloaded over a range of cornering, where the wheel can be pushed farthest", () => {
    // a wheel near its arms, upright where the side force takes the load off its upper arm
    const s = withPlay("heavy-straight.json", 0.2, 0);
    s.corner.wheelCentre.sMm = 136;
    s.corner.hub.staticCamberDeg = -3;
    const sweep = Array.from({ length: 41 }, (_, i) => {
      const lateralG = 0.2 + 0.01 * i;
      return { lateralG, right: report(s, { ...FLAT, lateralG }).right };
    });
    const floats = sweep.filter(({ right }) => right.floatingJoints.length > 0);
    expect(floats.length, "cornering levels, 0.01 g apart, at which it floats").toBeGreaterThanOrEqual(3);
    // one range, with pull before it and push after it
    const first = sweep.indexOf(floats[0]!);
    expect(sweep.slice(first, first + floats.length)).toEqual(floats);
    expect(sweep[first - 1]!.right.armAxialForceN.upper).toBeLessThan(-1e-3);
    expect(sweep[first + floats.length]!.right.armAxialForceN.upper).toBeGreaterThan(1e-3);
    for (const { right, lateralG } of floats) {
      expect(right.floatingJoints, `at ${lateralG} g`).toEqual(["upperInner", "upperOuter"]);
      expect(Math.abs(right.armAxialForceN.upper), `force in the floating arm at ${lateralG} g, N`).toBeLessThan(1e-3);
      expect(width(right.camberBandDeg), `width while it floats at ${lateralG} g, °`).toBeGreaterThan(3 * width(sweep[0]!.right.camberBandDeg));
    }
  });
});

describe("play of one part alone", () => {
  // the push turns the force round in these two, in the upper arm's pins it does not
  it.each(["lowerInner", "lowerOuter"] as const)("is told: %s", (joint) => {
    for (const side of SIDES) {
      const s = withPlay("heavy-straight.json", 0, 0);
      s[side] = { joints: { ...s.corner.joints, [joint]: { ...s.corner.joints[joint], clearanceMm: 0.6 } } };
      const r = report(s, FLAT);
      expect(width(r[side].camberBandDeg), `${side} wheel, °`).toBeGreaterThan(BAND_SHOWN_DEG);
    }
  });
});

describe("range over the tyres' load exponent", () => {
  it("ends at the cambers that the car has with 0.7 and with 1, and leaves the car as it was", () => {
    const s = withPlay("heavy-straight.json", 0, 0);
    const load = { ...FLAT, lateralG: -0.6 };
    const tyres = (loadExponent: number): Scenario => ({ ...s, corner: { ...s.corner, tyre: { ...s.corner.tyre, loadExponent } } });
    const ends = [0.7, 1].map((p) => report(tyres(p), load));
    for (const own of [0.7, 0.85, 1]) {
      const bench = buildBench(tyres(own));
      const told = analyzeBench(bench, load);
      if (!told.ok) throw new Error(told.reason.message);
      for (const side of SIDES) {
        const [a, b] = ends.map((r) => r[side].camberDeg) as [number, number];
        expectAbs(told.report[side].camberByLoadExponentDeg[0], Math.min(a, b), 1e-5, `${side}: least, °`);
        expectAbs(told.report[side].camberByLoadExponentDeg[1], Math.max(a, b), 1e-5, `${side}: most, °`);
      }
      expect(bench.model.corners.map((c) => c.tyre.exponent)).toEqual([own, own]);
    }
  });

  it("is nothing without cornering and opens with it", () => {
    const s = withPlay("heavy-straight.json", 0, 0);
    const [rest, curve] = [report(s, FLAT), report(s, { ...FLAT, lateralG: 0.7 })];
    for (const side of SIDES) {
      expect(width(rest[side].camberByLoadExponentDeg)).toBe(0);
      expect(width(curve[side].camberByLoadExponentDeg), `${side}, °`).toBeGreaterThan(0.01);
    }
  });
});
