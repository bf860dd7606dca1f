import { describe, expect, it } from "vitest";
import { buildBench, limitContext, solveLoad } from "../../../src/core/analyze.ts";
import type { Retention } from "../../../src/core/design/types.ts";
import { hubRetention, outwardPullN, pinShear, retentionDemand, ringPull, shoulderPull } from "../../../src/core/limits/hub-retention.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const EXACT = 1e-9;

describe("a lip on a ring", () => {
  // Carvill, Mechanical Engineer's Data Handbook, 1993, p. 15 case 9: circular line, Z = πr²
  it("carries 3.978874 N/mm at its worst point under 200 N and 3000 N·mm on 20 mm, an equivalent pull of 500 N", () => {
    expectRel(ringPull(200, 3000, 20), 500, EXACT, "equivalent pull, N");
    expectRel(ringPull(200, 3000, 20) / (2 * Math.PI * 20), 3.978874, 1e-6, "line load, N/mm");
  });

  it("knows the pull alone when nothing tilts it, and pries without any pull", () => {
    expect(ringPull(35, 0, 7)).toBe(35);
    expectRel(ringPull(0, 700, 7), 200, EXACT, "2 M / r, N");
  });

  it("agrees with the pull and moment that its line load adds up to", () => {
    const [f, m, r] = [200, 3000, 20];
    const n = 720;
    let pull = 0;
    let moment = 0;
    for (let i = 0; i < n; i++) {
      const a = (2 * Math.PI * i) / n;
      const q = f / (2 * Math.PI * r) + (m * Math.cos(a)) / (Math.PI * r * r);
      pull += (q * 2 * Math.PI * r) / n;
      moment += (q * r * Math.cos(a) * 2 * Math.PI * r) / n;
    }
    expectRel(pull, f, EXACT, "N");
    expectRel(moment, m, EXACT, "N·mm");
  });
});

describe("a lip that only pulls, beside a stiff shoulder", () => {
  it("is the ring formula while all of it stays loaded, and meets the tipping formula at the border", () => {
    const [f, r, R] = [50, 8, 11];
    const border = (f * r * r) / (2 * R);
    expect(shoulderPull(f, border * 0.9, r, R)).toBe(ringPull(f, border * 0.9, r));
    expectRel(shoulderPull(f, border * (1 + 1e-12), r, R), ringPull(f, border, r), 1e-9, "N at the border");
  });

  it("is 4/3 (F + M/r) when the shoulder is as wide as the lip", () => {
    expectRel(shoulderPull(10, 500, 7, 7), (4 / 3) * (10 + 500 / 7), EXACT, "N");
  });

  it("balances pull and moment about the shoulder's edge", () => {
    // pull of the lip grows in a line with the distance from the edge: integrate it
    const [f, m, r, R] = [12, 900, 8, 11];
    const worst = shoulderPull(f, m, r, R) / (2 * Math.PI * r);
    const n = 3600;
    let about = 0;
    for (let i = 0; i < n; i++) {
      const y = r * Math.cos((2 * Math.PI * i) / n);
      about += (worst * ((R + y) / (R + r)) * (R + y) * 2 * Math.PI * r) / n;
    }
    expectRel(about, f * R + m, 1e-9, "moment about the edge, N·mm");
  });

  it("is pried less the wider the shoulder", () => {
    const pulls = [7, 9, 12, 16].map((R) => shoulderPull(5, 800, 7, R));
    for (let i = 1; i < pulls.length; i++) expect(pulls[i]!).toBeLessThan(pulls[i - 1]!);
  });
});

describe("other retentions", () => {
  it("shear a cross-pin at two places: half the pull each and the moment as a pair", () => {
    expect(pinShear(80, 0, 7)).toBe(40);
    expectRel(pinShear(-80, 700, 7), 40 + 50, EXACT, "N on the worse plane");
    const pin: Retention = { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0 };
    expectRel(retentionDemand(pin, 80, 700).capacityN, 35 * (Math.PI / 4) * 9, EXACT, "capacity, N");
  });

  it("strip a screwed ring's thread over half of its engaged length", () => {
    const ring: Retention = { kind: "screwedRing", threadRadiusMm: 9, engagedLengthMm: 3, shearStrengthMPa: 20, journalShare: 0 };
    const d = retentionDemand(ring, 10, 900);
    expectRel(d.demandN, 210, EXACT, "N");
    expectRel(d.capacityN, Math.PI * 9 * 3 * 20, EXACT, "N");
  });

  it("are relieved by the share that a journal takes, up to all of the moment", () => {
    const lip = (journalShare: number): Retention => ({ kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare });
    expectRel(retentionDemand(lip(0.3), 0, 700).demandN, 140, EXACT, "N");
    expect(retentionDemand(lip(1), 20, 700).demandN).toBe(20);
  });

  it("never hold less than nothing when the wheel is pushed on harder than it is pried", () => {
    expect(retentionDemand({ kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 }, -100, 70).demandN).toBe(0);
  });
});

describe("the hub of a solved car", () => {
  const bench = buildBench(shipped("heavy-forked.json"));
  const at = (lateralG: number) => {
    const r = solveLoad(bench, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!r.ok) throw new Error(r.reason.message);
    return limitContext(bench, r.state, 0)!;
  };

  it("is pushed on at the outer wheel and pulled off at the inner one in a curve", () => {
    const x = at(0.6);
    expect(outwardPullN(x, "right")).toBeLessThan(-5);
    expect(outwardPullN(x, "left")).toBeGreaterThan(2);
  });

  it("is pried several times harder than it is pulled straight", () => {
    const x = at(0.6);
    for (const side of ["left", "right"] as const) {
      const l = hubRetention(x, side);
      const pry = l.inputs.find((i) => i.name === "prying adds")!.value;
      expect(pry / Math.abs(outwardPullN(x, side))).toBeGreaterThan(5);
    }
  });

  it("balances the moments of the road, the wheel's weight and the bearing about the bearing", () => {
    const x = at(0.6);
    for (const side of ["left", "right"] as const) {
      const s = x.state[side];
      const c = x.model.corners[side === "left" ? 0 : 1];
      const about = (p: readonly [number, number], fx: number, fz: number): number => (p[0] - s.bearing.at[0]) * fz - (p[1] - s.bearing.at[1]) * fx;
      const road = about(s.tyre.contact, s.tyre.lateralN, s.tyre.verticalN);
      const own = about(s.wheelCentre, c.wheelWeight * 0.6, -c.wheelWeight);
      expectAbs(Math.abs(road + own), Math.abs(s.bearing.momentNmm), 0.01, "N·mm");
    }
  });
});
