import { describe, expect, it } from "vitest";
import { MATERIAL_NAMES, resolveMaterial, shearModulusMPa } from "../../../src/core/arm/materials.ts";
import { expectRel } from "../../support/close.ts";

describe("built-in materials", () => {
  it("all resolve to finite positive values and say where they come from", () => {
    for (const name of MATERIAL_NAMES) {
      const m = resolveMaterial(name);
      expect(m.name).toBe(name);
      for (const v of [m.youngMPa, m.poisson, m.yieldMPa, m.densityKgPerM3, m.maxTempC, shearModulusMPa(m)]) expect(v).toBeGreaterThan(0);
      expect(m.source.length).toBeGreaterThan(10);
    }
  });

  it("an unknown name is refused with the allowed ones", () => {
    expect(() => resolveMaterial("unobtainium")).toThrow(RangeError);
    expect(() => resolveMaterial("unobtainium")).toThrow(/abs.*aluminium/);
  });

  it("a material of one's own passes through", () => {
    const own = { ...resolveMaterial("abs"), name: "mine", youngMPa: 1234 };
    expect(resolveMaterial(own)).toBe(own);
    expectRel(shearModulusMPa(own), 1234 / (2 * (1 + own.poisson)), 1e-12, "G (MPa)");
  });

  it("aluminium's shear modulus is near the published 26 GPa, a carbon rod's only 4-5 GPa", () => {
    expectRel(shearModulusMPa(resolveMaterial("aluminium")), 26000, 0.01, "G (MPa)");
    expectRel(shearModulusMPa(resolveMaterial("carbonRod")), 4500, 0.12, "G (MPa)");
  });

  it("printed variants are weaker and softer than the moulded ones, within the usual 0.5-0.8", () => {
    const share = resolveMaterial("plaPrinted").youngMPa / resolveMaterial("pla").youngMPa;
    expect(share).toBeGreaterThanOrEqual(0.5);
    expect(share).toBeLessThanOrEqual(0.8);
  });
});
