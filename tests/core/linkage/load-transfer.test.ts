import { describe, expect, it } from "vitest";
import { DEG, G } from "../../../src/core/units.ts";
import { inSeries, loadTransfer, rollPerAcceleration, rollStiffnessFromWheelRate, staticStabilityFactor, tiltTableDeg } from "../../oracles/load-transfer.ts";
import { expectClose, expectRel } from "./corners.ts";

describe("roll stiffness (Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 6; Milliken ch. 16)", () => {
  it("is k t²/2, with the tyre in series", () => {
    const REL = 1e-6;
    expectRel(rollStiffnessFromWheelRate(2000, 0.32), 102.4, REL, "N·m/rad");
    expectRel(rollStiffnessFromWheelRate(2000, 0.32) * DEG, 1.787217, REL, "N·m/°");
    expectRel(inSeries(2000, 12000), 1714.285714, REL, "N/m");
    expectRel(rollStiffnessFromWheelRate(inSeries(2000, 12000), 0.32), 87.771429, REL, "N·m/rad");
  });
});

describe("textbook example (Barton & Fieldhouse, Automotive Chassis Engineering, 2018, p. 174)", () => {
  // g = 9.81 there; the printed front total of 1919 N is a misprint, its parts add to 1909 N
  const g = 9.81;
  const a = 0.6 * g;
  const NEWTON = 0.5;
  const d = 0.365;
  const K = 28650;
  const body = { sprungMass: 1280, rollArm: d, rollStiffness: K };

  it("has the roll gradient 0.01941266 rad/(m/s²), 10.911305 °/g", () => {
    const gradient = rollPerAcceleration(body, g);
    expectRel(gradient, 0.01941266, 1e-6, "rad/(m/s²)");
    expectRel((gradient * g) / DEG, 10.911305, 1e-6, "°/g");
    expectRel(gradient * a, 0.11426292, 1e-6, "rad");
  });

  it("has the geometric and unsprung parts as printed", () => {
    const front = loadTransfer(
      { sprungMass: 1280 * 0.54, unsprungMass: 140, unsprungHeight: 0.28, rollCentreHeight: 0.07, rollStiffness: 0, track: 1.46 },
      a,
      0.114,
    );
    const rear = loadTransfer(
      { sprungMass: 1280 * 0.46, unsprungMass: 180, unsprungHeight: 0.3, rollCentreHeight: 0.32, rollStiffness: 0, track: 1.46 },
      a,
      0.114,
    );
    for (const [got, exact, printed] of [
      [front.geometric, 195.06, 195],
      [rear.geometric, 759.6, 760],
      [front.unsprung, 158.035, 158],
      [rear.unsprung, 217.701, 218],
    ] as const) {
      expectClose(got, exact, 5e-4, "N");
      expectClose(got, printed, NEWTON, "N");
    }
    expect(front.elastic).toBe(0);
  });
});

describe("model scale, closed balance (own numbers; Milliken ch. 18, Gillespie ch. 6)", () => {
  const a = 6;
  const REL = 1e-6;
  const share = { front: 0.15 / 0.32, rear: 0.17 / 0.32 };
  const d = 0.11 - (share.front * 0.025 + share.rear * 0.035);
  const roll = a * rollPerAcceleration({ sprungMass: 5, rollArm: d, rollStiffness: 110 });
  const part = (s: number, rollCentreHeight: number, rollStiffness: number) =>
    loadTransfer({ sprungMass: 5 * s, unsprungMass: 0.5, unsprungHeight: 0.048, rollCentreHeight, rollStiffness, track: 0.32 }, a, roll);
  const front = part(share.front, 0.025, 60);
  const rear = part(share.rear, 0.035, 50);

  it("rolls by 1.291067° and moves the published newtons", () => {
    expectRel(d, 0.0796875, REL, "m");
    expectRel(roll / DEG, 1.291067, REL, "°");
    expectRel(front.elastic, 4.225006, REL, "N");
    expectRel(rear.elastic, 3.520839, REL, "N");
    expectRel(front.geometric, 1.098633, REL, "N");
    expectRel(rear.geometric, 1.743164, REL, "N");
    expectRel(front.unsprung, 0.45, REL, "N");
    expectRel(front.total, 5.773639, REL, "N");
    expectRel(rear.total, 5.714003, REL, "N");
  });

  it("balances the overturning moment of the whole car", () => {
    const moved = (front.total + rear.total) * 0.32;
    expectRel(moved, 3.67604546, REL, "N·m");
    expectRel(moved, 5 * a * 0.11 + 5 * G * d * roll + 2 * 0.5 * a * 0.048, 1e-12, "N·m");
  });

  it("tells a body that the springs cannot hold up by an infinite or negative roll gradient", () => {
    expect(rollPerAcceleration({ sprungMass: 1, rollArm: 1, rollStiffness: G })).toBe(Number.POSITIVE_INFINITY);
    expect(rollPerAcceleration({ sprungMass: 1, rollArm: 1, rollStiffness: G / 2 })).toBeLessThan(0);
  });
});

describe("static stability factor (NHTSA, Rollover Prevention, 65 FR 34998, 2000, sec. V)", () => {
  it("is half the track over the height of the centre of gravity", () => {
    const REL = 1e-9;
    expectRel(staticStabilityFactor(0.32, 0.1), 1.6, REL, "g");
    expectClose(tiltTableDeg(1.6), 57.994617, 5e-7, "°");
    expectClose(staticStabilityFactor(1.6, 0.65), 1.230769, 5e-7, "g");
    expectClose(tiltTableDeg(staticStabilityFactor(1.6, 0.65)), 50.906141, 5e-7, "°");
  });
});
