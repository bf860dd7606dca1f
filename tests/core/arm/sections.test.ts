import { describe, expect, it } from "vitest";
import { sectionProperties } from "../../../src/core/arm/sections.ts";
import { rectangleTorsion, rectangleTorsionShear } from "../../../src/core/arm/torsion.ts";
import type { Section } from "../../../src/core/design/types.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { prandtlTorsion } from "../../support/prandtl.ts";

const TABLE = 1e-6;
const rect = (widthMm: number, heightMm: number): Section => ({ shape: "rectangle", widthMm, heightMm });
const round = (diameterMm: number): Section => ({ shape: "round", diameterMm });

describe("torsion of a rectangle (Timoshenko & Goodier, Theory of Elasticity, sec. 109)", () => {
  it.each([
    [1, 0.140577, 0.208165],
    [1.2, 0.166119, 0.218934],
    [1.5, 0.195761, 0.230969],
    [2, 0.228682, 0.245878],
    [2.5, 0.249365, 0.25759],
    [3, 0.263317, 0.267208],
    [4, 0.280813, 0.281666],
    [5, 0.291317, 0.2915],
    [10, 0.312325, 0.312325],
  ])("sides %f to 1: J is beta a b³, the peak shear T / (alpha a b²)", (ratio, beta, alpha) => {
    const j = rectangleTorsion(3 * ratio, 3);
    // the table has six digits
    expectAbs(j / (81 * ratio), beta, 6e-7, "beta");
    expectAbs(1 / (27 * ratio * rectangleTorsionShear(3 * ratio, 3, j, "long", 0)), alpha, 6e-7, "alpha");
    expect(rectangleTorsion(3, 3 * ratio)).toBe(j);
  });

  it("agrees with Roark's formula within 0.5 %", () => {
    for (const ratio of [1, 1.2, 1.5, 2, 3, 5, 10]) {
      const roark = ratio * (1 / 3 - (0.21 / ratio) * (1 - 1 / (12 * ratio ** 4)));
      expectRel(rectangleTorsion(ratio, 1), roark, 5e-3, `J at ${ratio} (mm^4)`);
    }
  });

  // 8 x 4 mm: cosine series of Prandtl's stress function along the side itself, 4000 terms, over J by a double sine series
  it.each([
    [0, 0.03177384, 0.02526137],
    [0.25, 0.03099624, 0.02418754],
    [0.5, 0.02814103, 0.02077552],
    [0.75, 0.02113175, 0.01422538],
    [1, 0, 0],
  ])("the shear on the outline, at %f of half a side", (xi, long, short) => {
    expectAbs(rectangleTorsionShear(8, 4, 117.085019, "long", xi), long, 3e-8, "long side, per torque (1/mm³)");
    // a cosine series at its own end converges slowly
    expectAbs(rectangleTorsionShear(8, 4, 117.085019, "short", xi), short, 2e-4, "short side, per torque (1/mm³)");
  });

  it("the shear on the outline of a square is alike on both sides", () => {
    const s = rectangleTorsion(5, 5);
    expectRel(rectangleTorsionShear(5, 5, s, "short", 0), rectangleTorsionShear(5, 5, s, "long", 0), 5e-3, "square, both sides");
  });
});

describe("section table (Gere, Mechanics of Materials; values recomputed)", () => {
  it.each([
    [round(6), 28.274334, 63.617251, 63.617251, 127.234502],
    [round(4.8), 18.095574, 26.057626, 26.057626, 52.115252],
    [{ shape: "tube", outerMm: 8, innerMm: 6 } as Section, 21.991149, 137.444679, 137.444679, 274.889357],
    [rect(8, 4), 32, 42.666667, 170.666667, 117.085019],
    [rect(8, 8), 64, 341.333333, 341.333333, 575.803453],
  ])("%o", (section, area, iVertical, iForeAft, torsion) => {
    const p = sectionProperties(section);
    expectRel(p.area, area, TABLE, "area (mm²)");
    expectRel(p.iVertical, iVertical, TABLE, "I up-down (mm^4)");
    expectRel(p.iForeAft, iForeAft, TABLE, "I fore-aft (mm^4)");
    expectRel(p.torsion, torsion, TABLE, "J (mm^4)");
  });

  it("a thin tube: J is Bredt's 2π r³ t within the thickness squared", () => {
    const p = sectionProperties({ shape: "tube", outerMm: 20.1, innerMm: 19.9 });
    expectRel(p.torsion, 2 * Math.PI * 10 ** 3 * 0.1, 1e-4, "J (mm^4)");
  });

  it("shear factors: Cowper's 0.5 for a thin tube, 6(1+ν)/(7+6ν) solid, 5/6 rectangle", () => {
    const thin = sectionProperties({ shape: "tube", outerMm: 100.1, innerMm: 99.9 }, 0);
    expectRel(thin.shearAreaVertical / thin.area, 0.5, 1e-4, "thin tube");
    const solid = sectionProperties(round(6), 0.3);
    expectRel(solid.shearAreaVertical / solid.area, 7.8 / 8.8, 1e-12, "round");
    expectRel(sectionProperties(rect(3, 7)).shearAreaVertical / 21, 5 / 6, 1e-12, "rectangle");
  });
});

describe("I section", () => {
  const I: Section = { shape: "I", widthMm: 8, heightMm: 8, flangeMm: 2, webMm: 2 };

  it("its energy shear area is I²/∫(S²/b) by quadrature", () => {
    const p = sectionProperties(I);
    // independent: midpoint rule over the height, S summed from the top
    const n = 40000;
    const dz = 8 / n;
    let s = 0;
    let integral = 0;
    for (let k = 0; k < n; k++) {
      const z = 4 - (k + 0.5) * dz;
      const b = Math.abs(z) > 2 ? 8 : 2;
      const mid = s + (b * z * dz) / 2;
      integral += ((mid * mid) / b) * dz;
      s += b * z * dz;
    }
    expectRel(p.shearAreaVertical, p.iVertical ** 2 / integral, 1e-6, "shear area (mm²)");
  });

  it("with a web as wide as the flanges it is a rectangle (up-down)", () => {
    const p = sectionProperties({ shape: "I", widthMm: 6, heightMm: 9, flangeMm: 1.5, webMm: 6 - 1e-9 });
    expectRel(p.shearAreaVertical, (5 / 6) * 54, 1e-6, "shear area (mm²)");
    expectRel(p.iVertical, (6 * 729) / 12, 1e-6, "I (mm^4)");
  });

  it("its open thin-walled torsion sum is within 12 % of Prandtl's equation", () => {
    const exact = prandtlTorsion(8, 8, (x, z) => Math.abs(z) > 2 || Math.abs(x) < 1, 0.125);
    expectRel(sectionProperties(I).torsion, exact, 0.12, "J (mm^4)");
  });

  it("refuses flanges that do not fit", () => {
    expect(() => sectionProperties({ ...I, flangeMm: 4 })).toThrow(RangeError);
  });
});

describe("Prandtl's equation by finite differences (the oracle of the torsion constants)", () => {
  it("reproduces the rectangle's series within 0.5 %", () => {
    expectRel(
      prandtlTorsion(8, 4, () => true, 0.125),
      rectangleTorsion(8, 4),
      5e-3,
      "J (mm^4)",
    );
  });

  it("gives 17.05 mm^4 for a cross of 4.8 mm with arms of 1.8 mm, where the sum of two strips says 9 % more", () => {
    // published check value: own finite-difference solution with Richardson extrapolation, ±0.03
    const cross = prandtlTorsion(4.8, 4.8, (x, z) => Math.abs(x) < 0.9 || Math.abs(z) < 0.9, 0.05);
    expectRel(cross, 17.05, 0.01, "J (mm^4)");
    const strips = (2 * 4.8 * 1.8 ** 3) / 3;
    expectRel(strips / cross, 1.09, 0.015, "two strips over exact");
  });
});

describe("pin-hole bar", () => {
  const bar = (holesRun: "foreAft" | "upDown", holeMm = 4.8): Section => ({ shape: "pinHoleBar", widthMm: 8, heightMm: 8, holeMm, holePitchMm: 8, holesRun });

  it("net section of holes that run fore-aft", () => {
    const p = sectionProperties(bar("foreAft"));
    expectRel(p.net.area, 8 * 3.2, 1e-12, "net area (mm²)");
    expectRel(p.net.iVertical, (8 * (512 - 4.8 ** 3)) / 12, 1e-12, "net I up-down (mm^4)");
    expectRel(p.net.iForeAft, (3.2 * 512) / 12, 1e-12, "net I fore-aft (mm^4)");
  });

  it("turning the holes swaps the two directions", () => {
    const p = sectionProperties(bar("foreAft"));
    const q = sectionProperties(bar("upDown"));
    expectRel(q.iForeAft, p.iVertical, 1e-12, "I (mm^4)");
    expectRel(q.shearAreaForeAft, p.shearAreaVertical, 1e-12, "shear area (mm²)");
    expectRel(q.net.iVertical, p.net.iForeAft, 1e-12, "net I (mm^4)");
    expectRel(q.torsion, p.torsion, 1e-12, "J (mm^4)");
  });

  it("stiffness lies between net and whole section, and tends to the whole one for tiny holes", () => {
    const p = sectionProperties(bar("foreAft"));
    const whole = sectionProperties(rect(8, 8));
    expect(p.area).toBeGreaterThan(p.net.area);
    expect(p.area).toBeLessThan(whole.area);
    expect(p.iForeAft).toBeGreaterThan(p.net.iForeAft);
    expect(p.torsion).toBeLessThan(whole.torsion);
    const tiny = sectionProperties(bar("foreAft", 0.01));
    expectRel(tiny.area, whole.area, 1e-4, "area (mm²)");
    expectRel(tiny.torsion, whole.torsion, 1e-3, "J (mm^4)");
    expectRel(tiny.shearAreaVertical, whole.shearAreaVertical, 1e-4, "shear area (mm²)");
  });

  it.each(["foreAft", "upDown"] as const)("holes of no size leave the plain rectangle (%s)", (run) => {
    expect(sectionProperties(bar(run, 0))).toEqual(sectionProperties({ shape: "rectangle", widthMm: 8, heightMm: 8 }));
  });

  it("refuses a hole as large as the bar", () => {
    expect(() => sectionProperties(bar("foreAft", 8))).toThrow(/leaves nothing/);
  });
});
