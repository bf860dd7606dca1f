import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import type { Hub, Retention } from "../../../src/core/design/types.ts";
import { pvLimit, strengthLeft } from "../../../src/core/limits/derating.ts";
import { heatOverDrive, hubFriction, hubHeat, temperatureAfter, wholeJournalLoad, wholeLipLoad, wholeRingLoad } from "../../../src/core/limits/hub-heat.ts";
import { cylinderNusselt, radiation, stillAirConvection, stillAirCooling } from "../../oracles/still-air-cooling.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const lip: Extract<Retention, { kind: "lip" }> = { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 };
const hub = (retention: Retention, heat: Partial<Hub["heat"]>): Hub => ({
  ...shipped("heavy-forked.json").corner.hub,
  retention,
  heat: { friction: 0.25, journalRadiusMm: 2.4, journalLengthMm: 16, coolingAreaMm2: 1200, coolingWPerM2K: 15, material: "abs", ...heat },
});

/** Mean of |f| around a turn times its length, by the midpoint rule. */
const around = (r: number, q: (a: number) => number): number => {
  const n = 20000;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.abs(q((2 * Math.PI * (i + 0.5)) / n));
  return (sum * 2 * Math.PI * r) / n;
};

describe("what rubs", () => {
  it("is the whole lip load: the integral of |q| all round, 4M/(πr) for a pure moment and the pull alone without one", () => {
    expectRel(wholeRingLoad(0, 700, 7), (4 * 700) / (Math.PI * 7), 1e-12, "N");
    expect(wholeRingLoad(30, 0, 7)).toBe(30);
    expect(wholeRingLoad(-30, 100, 7)).toBe(30);
    for (const [f, m] of [
      [20, 300],
      [-12, 500],
      [100, 60],
    ] as const)
      expectRel(
        wholeRingLoad(f, m, 7),
        around(7, (a) => f / (2 * Math.PI * 7) + (m * Math.cos(a)) / (Math.PI * 49)),
        1e-6,
        "N",
      );
  });

  it("is |w| along the journal, the force alone while the moment lifts no end", () => {
    expect(wholeJournalLoad(25, 40, 16)).toBe(25);
    const [f, m, l] = [25, 300, 16];
    const n = 20000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += (Math.abs(f / l + (12 * m * ((i + 0.5) / n - 0.5) * l) / l ** 3) * l) / n;
    expectRel(wholeJournalLoad(f, m, l), sum, 1e-6, "N");
  });

  it("keeps lip, shoulder and pull in balance in the shoulder model", () => {
    const r = { ...lip, model: "shoulder" as const };
    for (const [f, m] of [
      [-15, 600],
      [10, 400],
    ] as const) {
      const { lipN, shoulderN } = wholeLipLoad(r, f, m);
      expectRel(lipN - shoulderN, f, 1e-9, "N");
    }
    expect(wholeLipLoad(r, 50, 20)).toEqual({ lipN: 50, shoulderN: 0 });
  });
});

describe("friction heat", () => {
  // Q = μ F v, ΔT = Q/(hA): Shigley's Mechanical Engineering Design, ch. 12; numbers recomputed by hand
  it("of 25 N on a 4.8 mm journal at 900 rpm is 1.4137 W and warms 1200 mm² in still air by 78.5 K", () => {
    const h = hub({ ...lip, journalShare: 0 }, {});
    const f = hubFriction(h, 0, 25, 0);
    expectRel(f.pressureMPa, 0.325521, 1e-5, "MPa");
    expectRel(f.torqueNmm, 15, 1e-12, "N·mm");
    const speed = ((900 * 2 * Math.PI) / 60) * 0.048;
    const t = hubHeat(f, h.heat, speed, 48);
    expectRel(t.powerW, 1.413717, 1e-6, "W");
    expectRel(t.steadyC - 23, 78.5398, 1e-5, "K");
    expectRel(t.pv, 0.073631, 1e-5, "MPa·m/s");
  });

  // Mott, Machine Elements in Mechanical Design, Ex. 16-1: 150 lb on 1.5 in × 1.5 in at 500 rpm gives 13 090 psi·fpm
  it("counts pressure times speed as the textbook does", () => {
    const inch = 25.4;
    const h = hub(lip, { journalRadiusMm: (1.5 * inch) / 2, journalLengthMm: 1.5 * inch });
    const f = hubFriction(h, 0, 150 * 4.4482216153, 0);
    const t = hubHeat(f, h.heat, ((500 * 2 * Math.PI) / 60) * 0.05, 50);
    expectRel(t.pv, 0.458481, 1e-5, "MPa·m/s");
    expectRel(t.pv, 13089.97 * 35.025367e-6, 1e-5, "MPa·m/s from psi·fpm");
  });

  it("is nothing at rest, and grows with the moment more than with the straight pull of the same size", () => {
    const h = hub(lip, {});
    expect(hubHeat(hubFriction(h, 10, 20, 300), h.heat, 0, 48).powerW).toBe(0);
    expect(hubFriction(h, 0, 20, 30 * 7).torqueNmm).toBeGreaterThan(hubFriction(h, 30, 20, 0).torqueNmm);
  });

  it("leaves a pinned wheel's lip alone and puts the moment on the journal", () => {
    const pinned = hubFriction(hub({ kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0 }, {}), 0, 20, 300);
    expect(pinned.lipN).toBe(0);
    expectRel(pinned.journalN, wholeJournalLoad(20, 300, 16), 1e-12, "N");
  });

  it("warms over a drive with one time constant towards the steady temperature", () => {
    const h = hub(lip, {});
    const t = hubHeat(hubFriction(h, 5, 20, 200), h.heat, 5, 48);
    expect(temperatureAfter(t, 0)).toBe(23);
    expectRel(temperatureAfter(t, t.warmingS) - 23, (t.steadyC - 23) * (1 - Math.exp(-1)), 1e-9, "K after one time constant");
    expect(t.tooHotAfterS).not.toBeNull();
    expectRel(temperatureAfter(t, t.tooHotAfterS!), t.maxTempC, 1e-9, "°C when it is too hot");
    const still = hubHeat(hubFriction(h, 0, 20, 0), h.heat, 5, 48);
    const rows = heatOverDrive(t, still, h, 0.5, 30);
    expect(rows).toHaveLength(41);
    expect(rows[0]!.tempC).toBe(23);
    for (let i = 1; i < rows.length; i++) expect(rows[i]!.tempC).toBeGreaterThan(rows[i - 1]!.tempC);
    expectAbs(rows[40]!.tempC, (t.steadyC + still.steadyC) / 2, 0.02 * t.steadyC, "°C after five time constants of half curve, half straight");
  });
});

describe("still air", () => {
  // Churchill and Chu 1975 for a lying cylinder, values printed at boardflare.com (139.135 and 7.07684)
  it("has the published Nusselt numbers of a lying cylinder", () => {
    expectRel(cylinderNusselt(0.69, 2.63e9), 139.13494, 1e-6, "Nu");
    expectRel(cylinderNusselt(0.7, 1e5), 7.076842, 1e-6, "Nu");
  });

  it("takes 8.9 W/m²K by convection and 6.3 by radiation from a 10 mm rod of 60 °C in air of 20 °C", () => {
    expectRel(stillAirConvection(10, 60, 20), 8.936, 2e-3, "W/m²K");
    expectRel(radiation(60, 20), 6.269, 1e-3, "W/m²K");
  });

  it("gives hubs of 10 to 40 mm what the default of 13 W/m²K says, within 8 to 16", () => {
    for (const d of [10, 20, 40]) {
      const h = stillAirCooling(d, 60, 20);
      expect(h).toBeGreaterThan(8);
      expect(h).toBeLessThan(16);
    }
  });
});

describe("what heat leaves of a material", () => {
  it("falls in a line to 0.75 at the use temperature of a glassy plastic, to 0.5 of a semi-crystalline one, and to nothing 10 K above", () => {
    const abs = resolveMaterial("abs");
    const pom = resolveMaterial("pom");
    expect(strengthLeft(abs, 23)).toBe(1);
    expectRel(strengthLeft(abs, 85), 0.75, 1e-12, "share");
    expectRel(strengthLeft(pom, 80), 0.5, 1e-12, "share");
    expect(strengthLeft(abs, 96)).toBe(0);
    expect(strengthLeft(pom, 51.5)).toBe(0.75);
  });

  // producer's sheet of a polycarbonate: 2400/2100/1800 MPa and 65/55/50 MPa at 23/60/90 °C
  it("lies within 7 points in a hundred of a polycarbonate's published values, mean of stiffness and strength", () => {
    const pc = resolveMaterial("pc");
    for (const [t, stiff, strong] of [
      [60, 2100 / 2400, 55 / 65],
      [90, 1800 / 2400, 50 / 65],
    ] as const) {
      expectAbs(strengthLeft(pc, t), (stiff + strong) / 2, 0.07, `share at ${t} °C`);
    }
  });

  it("knows how much rubbing plastics stand: acetal and nylon twice as much as the others, metals not judged", () => {
    // nylon 0.105 MPa·m/s on steel, dry: Mott, Table 16-1; filled thermoplastics 0.035-0.11: Neale, Tribology Handbook
    expect(pvLimit(resolveMaterial("pa12"))).toBe(0.1);
    expect(pvLimit(resolveMaterial("abs"))).toBe(0.05);
    expect(pvLimit(resolveMaterial("aluminium"))).toBeNull();
  });
});
