import { describe, expect, it } from "vitest";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Corner, DeepPartial } from "../../../src/core/design/types.ts";
import { shipped } from "../../support/shipped.ts";

const base = shipped("heavy-forked.json");
const right = (over: DeepPartial<Corner>): Corner => cornerOf({ corner: base.corner, left: {}, right: over }, "right");

describe("the corner of a side", () => {
  it("is the common one when nothing is overridden", () => {
    expect(cornerOf(base, "left")).toBe(base.corner);
    expect(cornerOf(base, "right")).toBe(base.corner);
  });

  it("takes single values from the override and leaves the other side alone", () => {
    const s = { corner: base.corner, left: {}, right: { upperOuter: { zMm: 80 }, joints: { lowerOuter: { clearanceMm: 0.3 } } } };
    const c = cornerOf(s, "right");
    expect(c.upperOuter).toEqual({ sMm: base.corner.upperOuter.sMm, zMm: 80 });
    expect(c.joints.lowerOuter).toEqual({ ...base.corner.joints.lowerOuter, clearanceMm: 0.3 });
    expect(c.joints.lowerInner).toBe(base.corner.joints.lowerInner);
    expect(cornerOf(s, "left")).toBe(base.corner);
  });

  it("does not change the scenario", () => {
    const before = structuredClone(base);
    right({ wheel: { radiusMm: 40 }, spring: { droopStop: { lengthMm: 70 } } });
    expect(base).toEqual(before);
  });

  it("replaces a section, seat or retention of another kind whole", () => {
    expect(right({ upperArm: { section: { shape: "round", diameterMm: 5 } } }).upperArm.section).toEqual({ shape: "round", diameterMm: 5 });
    expect(right({ spring: { seat: { on: "hub", sMm: 110, zMm: 50 } } }).spring.seat).toEqual({ on: "hub", sMm: 110, zMm: 50 });
    const pin = { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 30, shearRadiusMm: 7, journalShare: 0 } as const;
    expect(right({ hub: { retention: pin } }).hub.retention).toEqual(pin);
  });

  it("merges into a choice of the same kind", () => {
    expect(right({ upperArm: { section: { widthMm: 6 } } }).upperArm.section).toEqual({ shape: "rectangle", widthMm: 6, heightMm: 4.4 });
    expect(right({ spring: { seat: { on: "upperArm" } } }).spring.seat).toEqual({ on: "upperArm", fraction: 0.6 });
    expect(right({ tyre: { seat: { kind: "glue", extraHoldN: 40 } } }).tyre.seat).toEqual({ ...base.corner.tyre.seat, kind: "glue", extraHoldN: 40 });
  });

  it("takes null as a value, not as nothing", () => {
    expect(right({ spring: { droopStop: null } }).spring.droopStop).toBeNull();
    expect(right({ tyre: { effectiveWidthMm: 30 } }).tyre.effectiveWidthMm).toBe(30);
    expect(right({ upperArm: { material: "pom" } }).upperArm.material).toBe("pom");
  });
});
