import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import type { Hub, Material } from "../../../src/core/design/types.ts";
import { pvLimit, specificHeat, strengthLeft } from "../../../src/core/limits/derating.ts";
import { heatOverDrive, hubFriction, hubHeat, wholeJournalLoad, wholeLipLoad, wholeRingLoad } from "../../../src/core/limits/hub-heat.ts";
import { retentionDemand } from "../../../src/core/limits/hub-retention.ts";
import { air, stillAirConvection } from "../../oracles/still-air-cooling.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const hub = structuredClone(shipped("heavy-forked.json")).corner.hub;

describe("air", () => {
  // at 300 and 350 K: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, Table A.4 (from memory)
  it.each([
    [26.85, 26.3e-3, 15.89e-6, 22.5e-6, 0.706],
    [76.85, 30.0e-3, 20.92e-6, 29.9e-6, 0.7],
  ])("at %d °C has the tables' properties within 2 %", (c, conductivity, viscosity, diffusivity, prandtl) => {
    const a = air(c);
    expectRel(a.conductivity, conductivity, 0.02, "W/mK");
    expectRel(a.viscosity, viscosity, 0.02, "m²/s");
    expectRel(a.diffusivity, diffusivity, 0.02, "m²/s");
    expectRel(a.prandtl, prandtl, 0.02, "Pr");
  });

  it("cools what is colder than it as well", () => {
    expectRel(stillAirConvection(10, 20, 60), stillAirConvection(10, 60, 20), 1e-12, "W/m²K");
  });
});

describe("what heat leaves", () => {
  const own = (name: string, more: Partial<Material> = {}): Material => ({ ...resolveMaterial("abs"), name, ...more });

  it("goes to nothing in a line over 10 K above the use temperature", () => {
    // glassy: three quarters at 85 °C, half of that at 90 °C
    expectRel(strengthLeft(resolveMaterial("abs"), 90), 0.375, 1e-12, "share at 90 °C");
    expect(strengthLeft(resolveMaterial("abs"), 95)).toBe(0);
    expect(strengthLeft(resolveMaterial("abs"), 200)).toBe(0);
  });

  it("is all of a metal up to its use temperature, and nothing 10 K above", () => {
    expect(strengthLeft(resolveMaterial("aluminium"), 100)).toBe(1);
    expectRel(strengthLeft(resolveMaterial("aluminium"), 105), 0.5, 1e-12, "share at 105 °C");
    expect(strengthLeft(resolveMaterial("carbonRod"), 79)).toBe(1);
  });

  it("takes a plastic of one's own for the kind that softens earlier, whatever its name begins or ends with", () => {
    for (const name of ["mine", "fabs", "absolute", "pcPrint", "xplaPrinted", "absPrintedTwice"])
      expectRel(strengthLeft(own(name), 85), 0.5, 1e-12, `${name} at its use temperature`);
    for (const name of ["abs", "absPrinted", "pc", "pla", "plaPrinted", "petg", "petgPrinted"])
      expectRel(strengthLeft(own(name), 85), 0.75, 1e-12, `${name} at its use temperature`);
  });

  it("is all at room temperature or below, also where the use temperature lies lower still", () => {
    expect(strengthLeft(own("abs"), -10)).toBe(1);
    expect(strengthLeft(own("abs", { maxTempC: 20 }), 22)).toBe(1);
    expectRel(strengthLeft(own("abs", { maxTempC: 20 }), 25), 0.375, 1e-12, "share 5 K above it");
    expectRel(strengthLeft(own("abs", { maxTempC: 23 }), 24), 0.675, 1e-12, "share 1 K above it");
  });

  it("stands more rubbing of the names that run well on metal, and of those alone", () => {
    for (const name of ["pom", "pa12", "pa6gf30", "pa12Printed"]) expect(pvLimit(own(name)), name).toBe(0.1);
    for (const name of ["xpom", "pomade", "pa12PrintedTwice", "mine"]) expect(pvLimit(own(name)), name).toBe(0.05);
  });

  it("stores 1400 J/kgK in plastic and 900 in aluminium", () => {
    expect([specificHeat(resolveMaterial("abs")), specificHeat(resolveMaterial("aluminium"))]).toEqual([1400, 900]);
  });
});

describe("what rubs, at the border between even and lifted", () => {
  it("is the force alone as long as the moment lifts nothing, without a step", () => {
    // ring of 7 mm: 2 M/r reaches 20 N at 70 N·mm; journal of 18 mm: 6 M/L at 60 N·mm
    expect([wholeRingLoad(20, 70, 7), wholeRingLoad(-20, -70, 7)]).toEqual([20, 20]);
    expectRel(wholeRingLoad(20, 70.0001, 7), 20, 1e-4, "N");
    expect([wholeJournalLoad(20, 60, 18), wholeJournalLoad(-20, -60, 18)]).toEqual([20, 20]);
    expectRel(wholeJournalLoad(20, 60.001, 18), 20, 1e-4, "N");
    // a pure moment on a journal: 12 M/L³ |y| adds up to 3 M/L
    expectRel(wholeJournalLoad(0, 90, 18), 15, 1e-12, "N");
  });

  // lip of 7 mm and shoulder of 10: the lip stays loaded all round up to F r²/2R = 24.5 N·mm under 10 N
  it("pivots on its shoulder only beyond F r²/2R, and never pulls with less than nothing", () => {
    const r = { kind: "lip", radiusMm: 7, capacityN: 85, model: "shoulder", shoulderRadiusMm: 10, journalShare: 0 } as const;
    expect(wholeLipLoad(r, 10, 24.5)).toEqual({ lipN: 10, shoulderN: 0 });
    const over = wholeLipLoad(r, 10, 24.6);
    expectRel(over.lipN - over.shoulderN, 10, 1e-9, "N");
    // pushed on by 30 N, 100 N·mm do not lift it off the shoulder, which carries all
    expect(wholeLipLoad(r, -30, 100)).toEqual({ lipN: 0, shoulderN: 30 });
  });
});

describe("friction of a hub", () => {
  const lip = (more: object): Hub => ({
    ...hub,
    retention: { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0, ...more },
  });

  // journal 2.4 x 18 mm, friction 0.06; 400 N·mm, a quarter of it on the journal: 100 N·mm there swing 33.333333 N over 20 N:
  // (33.333333 + 20²/33.333333)/2 = 22.666667 N; 300 N·mm alone on the lip: 4 M/(pi r) = 54.567409 N
  it("is that of the journal with its share of the moment and of the lip with the rest", () => {
    const f = hubFriction(lip({ journalShare: 0.25 }), 0, 20, 400);
    expectRel(f.journalN, 22.666667, 1e-7, "N");
    expectRel(f.lipN, 54.567409, 1e-7, "N");
    expectRel(f.torqueNmm, 0.06 * (22.666667 * 2.4 + 54.567409 * 7), 1e-7, "N·mm");
  });

  it("counts lip and shoulder each on its own radius", () => {
    // 10 N and 500 N·mm: pulling in a line from the edge, the lip carries (F R + M) R/(R² + r²/2) = 600/12.45: 48.192771 N; shoulder 38.192771 N
    const f = hubFriction(lip({ model: "shoulder" }), 10, 0, 500);
    expectRel(f.lipN, 48.192771 + 38.192771, 1e-7, "N");
    expectRel(f.torqueNmm, 0.06 * (48.192771 * 7 + 38.192771 * 10), 1e-7, "N·mm");
  });

  it("is that of a collar on the journal's radius under a wheel that is fast on its axle, and of all the moment on the journal", () => {
    const pinned: Hub = { ...hub, retention: { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0.5 } };
    const f = hubFriction(pinned, -8, 20, 100);
    expectRel(f.journalN, 22.666667, 1e-7, "N");
    expect(f.lipN).toBe(8);
    expectRel(f.torqueNmm, 0.06 * 2.4 * (22.666667 + 8), 1e-7, "N·mm");
  });
});

describe("what a retention is told with", () => {
  it("is pull and what prying adds, which make the demand", () => {
    const pin = { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0.5 } as const;
    // half of 80 N and 350/14 N on the worse plane
    expect(retentionDemand(pin, -80, 700)).toMatchObject({ part: "cross-pin", demandN: 65, pullN: -80, pryN: 25 });
    const ring = { kind: "screwedRing", threadRadiusMm: 9, engagedLengthMm: 3, shearStrengthMPa: 20, journalShare: 0.5 } as const;
    expect(retentionDemand(ring, 10, 900)).toMatchObject({ part: "screwed ring", demandN: 110, pullN: 10, pryN: 100 });
    expect(retentionDemand(ring, -300, 900)).toMatchObject({ demandN: 0, pullN: -300 });
    const lip = { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0.5 } as const;
    expect(retentionDemand(lip, 10, 700)).toEqual({ part: "hub lip", demandN: 110, capacityN: 85, pullN: 10, pryN: 100 });
    // 4/3 (F + M/r) on a shoulder as wide as the lip
    expectRel(retentionDemand({ ...lip, model: "shoulder", shoulderRadiusMm: 7 }, 10, 700).demandN, 80, 1e-12, "N");
  });
});

describe("a material that stands less than the air's temperature", () => {
  it("is too hot at once, standing or rolling, by friction or without", () => {
    const heat: Hub["heat"] = { ...hub.heat, material: { ...resolveMaterial("abs"), name: "wax", maxTempC: 21.98 } };
    for (const [newton, speedMps] of [
      [30, 0],
      [30, 8],
      [0, 8],
    ] as const) {
      const friction = hubFriction({ ...hub, heat }, 0, newton, 0);
      expect(hubHeat(friction, heat, speedMps, 48).tooHotAfterS).toBe(0);
    }
  });
});

describe("a drive of some minutes", () => {
  // powers in the ratio of the shares: 30 % of the time in a curve
  it("warms by the two powers in proportion to their time, in equal steps to the end", () => {
    const curve = hubHeat(hubFriction(hub, 5, 20, 300), hub.heat, 8, 48);
    const straight = hubHeat(hubFriction(hub, 0, 20, 0), hub.heat, 8, 48);
    const rows = heatOverDrive(curve, straight, hub, 0.3, 60, 6, 10);
    expect(rows.map((r) => r.minutes)).toEqual([0, 10, 20, 30, 40, 50, 60]);
    expect(rows[0]!.tempC).toBe(10);
    const steady = 10 + (0.3 * curve.powerW + 0.7 * straight.powerW) / 0.052;
    // one time constant of 336 s leaves 1/e: after 600 s exp(-600/336) = 0.167676
    expectRel(rows[1]!.tempC, steady - 0.167676 * (steady - 10), 1e-5, "°C after 10 min");
    expectAbs(rows[6]!.tempC, steady, 0.01, "°C after an hour");
    expect(rows[6]!.strengthLeft).toBe(strengthLeft(resolveMaterial("abs"), rows[6]!.tempC));
  });
});
