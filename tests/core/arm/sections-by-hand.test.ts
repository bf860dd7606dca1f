import { describe, expect, it } from "vitest";
import { type SectionProperties, sectionProperties } from "../../../src/core/arm/sections.ts";
import type { Section } from "../../../src/core/design/types.ts";
import { expectRel } from "../../support/close.ts";

/** Largest stress of distortion energy over the places of a section, MPa: N, and N·mm up and down, fore and aft, and of torsion. */
const worst = (p: SectionProperties, n: number, mv: number, mf: number, t: number): number =>
  Math.max(...p.points.map((at) => Math.hypot(n * at.perN + mv * at.perMv + mf * at.perMf, Math.sqrt(3) * t * at.perT)));

const DIGITS = 1e-6;
/** 15 terms of a series that falls with the square of the term's number */
const SHORT_SIDE = 0.02;

describe("I of 10 x 12 mm, flanges of 2 mm, web of 1.5 mm, by hand", () => {
  const I: Section = { shape: "I", widthMm: 10, heightMm: 12, flangeMm: 2, webMm: 1.5 };

  // A = 2·10·2 + 8·1.5; I up-down = (10·12³ - 8.5·8³)/12; fore-aft = (4·10³ + 8·1.5³)/12; J = (20·2³ + 8·1.5³)/3; 5/6 of both flanges
  it("has the sums of its three rectangles", () => {
    const p = sectionProperties(I);
    expectRel(p.area, 52, DIGITS, "area (mm²)");
    expectRel(p.iVertical, 1077.333333, DIGITS, "I up-down (mm^4)");
    expectRel(p.iForeAft, 335.583333, DIGITS, "I fore-aft (mm^4)");
    expectRel(p.torsion, 62.333333, DIGITS, "J (mm^4)");
    expectRel(p.shearAreaForeAft, 33.333333, DIGITS, "shear area fore-aft (mm²)");
    expect(p.net).toMatchObject({ perShearVertical: 0, perShearForeAft: 0, perTorque: 0 });
    expect(p.round).toBe(false);
  });

  // corner of the flange: 520/52 + 1000·6/1077.333333 + 700·5/335.583333 = 25.998907; 300·2/62.333333 = 9.625668
  it("is asked for most at the flange's corner", () => {
    expectRel(worst(sectionProperties(I), 520, 0, 0, 0), 10, DIGITS, "pull (MPa)");
    expectRel(worst(sectionProperties(I), 0, 1000, 0, 0), 5.569307, DIGITS, "bending up and down (MPa)");
    expectRel(worst(sectionProperties(I), 0, 0, 700, 0), 10.4296, DIGITS, "bending fore and aft (MPa)");
    expectRel(worst(sectionProperties(I), 0, 0, 0, 300), Math.sqrt(3) * 9.625668, DIGITS, "torsion (MPa)");
    expectRel(worst(sectionProperties(I), 520, 1000, 700, 300), Math.hypot(25.998907, Math.sqrt(3) * 9.625668), DIGITS, "all at once (MPa)");
  });

  // flanges of 1 mm, web of 3 mm: A = 50, I = (10·12³ - 7·10³)/12 = 856.666667 and (2·10³ + 10·3³)/12 = 189.166667, J = (20 + 270)/3 = 96.666667; at the web's
  // end 100/50 + 400·5/856.666667 + 300·1.5/189.166667 = 6.713485 and 600·3/96.666667 = 18.620690; in the flange a third of that shear
  it("is asked for most at the end of a thick web where it is twisted", () => {
    const p = sectionProperties({ ...I, flangeMm: 1, webMm: 3 });
    expectRel(worst(p, 100, 400, 300, 600), Math.hypot(6.713485, Math.sqrt(3) * 18.62069), DIGITS, "all at once (MPa)");
  });

  it("refuses a web as wide as its flanges, and flanges that meet", () => {
    expect(() => sectionProperties({ ...I, webMm: 10 })).toThrow(/do not fit/);
    expect(() => sectionProperties({ ...I, flangeMm: 6 })).toThrow(/do not fit/);
  });
});

describe("tube of 8 over 6 mm", () => {
  const tube: Section = { shape: "tube", outerMm: 8, innerMm: 6 };

  // Cowper 1966: 6 (1 + ν)(1 + m²)² / ((7 + 6ν)(1 + m²)² + (20 + 12ν) m²), m = 6/8, ν = 0.3: 19.042969/34.759375 = 0.547851
  it("has Cowper's shear factor both ways", () => {
    const p = sectionProperties(tube, 0.3);
    expectRel(p.shearAreaVertical / 21.991149, 0.547851, 2e-6, "up and down");
    expectRel(p.shearAreaForeAft / 21.991149, 0.547851, 2e-6, "fore and aft");
  });

  // I = 137.444679 mm⁴: 220/21.991149 + 500·4/137.444679 = 24.555334; 300·4/274.889357 = 4.365392
  it("has its stress at the outer radius", () => {
    const p = sectionProperties(tube);
    expectRel(worst(p, 220, 500, 0, 300), Math.hypot(24.555334, Math.sqrt(3) * 4.365392), DIGITS, "stress (MPa)");
    expectRel(worst(p, 220, 0, 500, 300), worst(p, 220, 500, 0, 300), 1e-12, "fore and aft alike (MPa)");
    expect(p.round).toBe(true);
  });

  it("refuses a bore as wide as itself", () => {
    expect(() => sectionProperties({ ...tube, innerMm: 8 })).toThrow(/must be smaller/);
  });
});

// shear on the outline per torque, 1/mm³, 8 x 4 mm: 0.03177384 in the middle of the long sides, 0.02526137 in that of the short ones (see sections.test.ts)
describe("rectangle of 8 by 4 mm, bent and twisted", () => {
  const flat = sectionProperties({ shape: "rectangle", widthMm: 8, heightMm: 4 });
  const tall = sectionProperties({ shape: "rectangle", widthMm: 4, heightMm: 8 });
  const [LONG, SHORT] = [0.03177384, 0.02526137];
  // over the long face 4·8²/6 = 42.666667 mm³ on edge, 8·4²/6 = 21.333333 flat
  it.each([
    ["flat, up and down: middle of its long face", flat, 400, 0, 300, 400 / 21.333333, LONG, DIGITS],
    ["on edge, fore and aft: middle of its long face", tall, 0, 400, 300, 400 / 21.333333, LONG, DIGITS],
    ["flat, fore and aft: middle of its short face", flat, 0, 1000, 500, 1000 / 42.666667, SHORT, SHORT_SIDE],
    ["on edge, up and down: middle of its short face", tall, 1000, 0, 500, 1000 / 42.666667, SHORT, SHORT_SIDE],
  ])("%s", (_, p, mv, mf, t, sigma, perT, digits) => {
    expectRel(worst(p, 0, mv, mf, t), Math.hypot(sigma, Math.sqrt(3) * t * perT), digits, "stress (MPa)");
  });

  // bending both ways grows towards the corner, the torque's shear falls: three quarters of the way along the long face 640/21.333333 +
  // 0.75·400/42.666667 = 37.03125 and 400·0.02113175 = 8.4527 make 39.820 MPa; the corner has 39.375, half the way 39.792
  it("bent both ways: between the middle of the long face and its corner", () => {
    expectRel(worst(flat, 0, 640, 400, 400), Math.hypot(37.03125, Math.sqrt(3) * 8.4527), DIGITS, "flat (MPa)");
    expectRel(worst(tall, 0, 400, 640, 400), Math.hypot(37.03125, Math.sqrt(3) * 8.4527), DIGITS, "on edge (MPa)");
  });
});

// 10 mm along the holes, 8 mm across, holes of 4 mm every 12 mm: strips of 2 x 10 mm with their middles 6 mm apart, opening 1.8 mm long, strips of
// 2.2 mm beside it; E/G = 2.7. Worked out by hand from the model that `sectionProperties` states; J of the rectangles by a double sine series.
describe("pin-hole bar, by hand", () => {
  const bar: Section = { shape: "pinHoleBar", widthMm: 10, heightMm: 8, holeMm: 4, holePitchMm: 12, holesRun: "foreAft" };
  const p = sectionProperties(bar);

  it("gives like its net section over a third of its length, under pull over 0.531", () => {
    expectRel(p.area, 52.249637, DIGITS, "area (mm²)");
    expectRel(p.iVertical, 407.272727, DIGITS, "I up-down (mm^4)");
    expectRel(p.iForeAft, 435.413643, DIGITS, "I fore-aft (mm^4)");
  });

  it("shears by its strips' own bending where the shear crosses the holes", () => {
    // 1/GA: 2/3 of 1/66.667, 1/3 of 1/33.333, and 1.8³/(24·2.7·8.873333)/12
    expectRel(p.shearAreaVertical, 47.972608, DIGITS, "up and down (mm²)");
    expectRel(p.shearAreaForeAft, 50, DIGITS, "fore and aft (mm²)");
    expectRel(sectionProperties(bar, 0.25).shearAreaVertical, 47.817496, DIGITS, "E/G = 2.5 (mm²)");
  });

  it("twists at a hole by its two strips, each on its own and sheared against each other", () => {
    // 2 · 23.305340 + 298.656048 at the hole, 879.270616 between
    expectRel(p.torsion, 580.167094, DIGITS, "J (mm^4)");
    expectRel(sectionProperties(bar, 0.25).torsion, 580.066377, DIGITS, "E/G = 2.5 (mm^4)");
  });

  it("holes nearly as close as they are wide weaken it all along", () => {
    // 2.06 - 1.4·7/8 is less than 1: the hole's own length counts, 7/8
    const close = sectionProperties({ ...bar, heightMm: 9, holeMm: 7, holePitchMm: 8 });
    expectRel(close.area, 22.153846, DIGITS, "area (mm²)");
    expectRel(close.torsion, 297.649887, DIGITS, "J (mm^4)");
  });

  // Vierendeel: a torque T makes shears T/6 in the strips: 1.5·T/(6·20) at most, and over 0.9 mm bending of 2·10²/6 mm³; a shear V
  // bends each strip of 10·2.2²/6 mm³ by V/2 over 0.9 mm
  it("has the strips' shear and bending at a hole", () => {
    expectRel(p.net.perTorque, 0.0045, DIGITS, "per torque (1/mm³)");
    expectRel(p.net.perShearVertical, 0.05578512, DIGITS, "per shear across the holes (1/mm²)");
    expect(p.net.perShearForeAft).toBe(0);
    expectRel(worst(p, 0, 0, 0, 300), Math.sqrt(3) * 3.75, DIGITS, "torsion (MPa)");
    // 80/40 + 400·4/373.333333 + 300·5/333.333333
    expectRel(worst(p, 80, 400, 300, 0), 10.785714, DIGITS, "pull and bending both ways (MPa)");
  });
});
