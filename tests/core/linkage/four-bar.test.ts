import { describe, expect, it } from "vitest";
import { DEG } from "../../../src/core/units.ts";
import { type FourBar, type FourBarBranch, fourBarCentres, fourBarPosition, grashof } from "../../oracles/four-bar.ts";
import { expectClose } from "./corners.ts";

/*
 * Sources: F. Freudenstein, "Approximate synthesis of four-bar linkages", Trans. ASME 77 (1955) 853-861;
 * R. L. Norton, Design of Machinery, 5th ed. 2012, sec. 2.13, 4.5, 6.3-6.7, Tables P4-1 and P6-1 (rows a and c);
 * A. B. W. Kennedy 1886 for the instant centres. Digits beyond the printed ones recomputed from the same equations.
 */
const ANGLE_DEG = 1e-6;
const RATE = 1e-6;
const LENGTH = 1e-6;

const bar = (ground: number, crank: number, coupler: number, rocker: number): FourBar => ({ ground, crank, coupler, rocker });
const rowA = bar(6, 2, 7, 9);
const rowC = bar(3, 10, 6, 8);

function solved(f: FourBar, crankDeg: number, branch: FourBarBranch) {
  const pose = fourBarPosition(f, crankDeg * DEG, branch);
  if (!pose.ok) throw new Error(`open by ${pose.missMm}`);
  return pose;
}

/** Freudenstein's quadratic in tan(t4/2), the textbook's own road to the rocker angle. */
function freudensteinRockerDeg(f: FourBar, crankDeg: number, sign: 1 | -1): number {
  const { crank: a, coupler: b, rocker: c, ground: d } = f;
  const t2 = crankDeg * DEG;
  const [k1, k2, k3] = [d / a, d / c, (a * a - b * b + c * c + d * d) / (2 * a * c)];
  const A = Math.cos(t2) - k1 - k2 * Math.cos(t2) + k3;
  const B = -2 * Math.sin(t2);
  const C = k1 - (k2 + 1) * Math.cos(t2) + k3;
  return (2 * Math.atan2(-B + sign * Math.sqrt(B * B - 4 * A * C), 2 * A)) / DEG;
}

describe("four-bar positions (Freudenstein 1955; Norton Table P4-1)", () => {
  const cases: [string, FourBar, number, FourBarBranch, number, number][] = [
    ["row a open", rowA, 30, "open", 88.837241, 117.286068],
    ["row a crossed", rowA, 30, "crossed", -115.210812, -143.659639],
    ["row c open", rowC, 45, "open", -53.132032, 16.491215],
    ["row c crossed", rowC, 45, "crossed", 173.270871, 103.647624],
  ];
  for (const [name, f, crankDeg, branch, coupler, rocker] of cases) {
    it(name, () => {
      const pose = solved(f, crankDeg, branch);
      expectClose(pose.couplerRad / DEG, coupler, ANGLE_DEG, "°");
      expectClose(pose.rockerRad / DEG, rocker, ANGLE_DEG, "°");
    });
  }

  it("agrees with the printed answers, which are rounded or cut after one decimal", () => {
    const PRINTED_DEG = 0.1;
    expectClose(solved(rowA, 30, "open").rockerRad / DEG, 117.3, PRINTED_DEG, "°");
    expectClose(solved(rowA, 30, "crossed").rockerRad / DEG, -143.6, PRINTED_DEG, "°");
  });

  it("gives the same rocker angle as Freudenstein's quadratic on both branches", () => {
    for (let t2 = 5; t2 < 360; t2 += 10) {
      for (const [branch, sign] of [
        ["open", -1],
        ["crossed", 1],
      ] as const) {
        const turn = solved(rowA, t2, branch).rockerRad / DEG - freudensteinRockerDeg(rowA, t2, sign);
        expectClose(turn - 360 * Math.round(turn / 360), 0, 1e-9, "°");
      }
    }
  });

  it("has the transmission angle 28.448827° on both branches of row a", () => {
    for (const branch of ["open", "crossed"] as const) {
      const pose = solved(rowA, 30, branch);
      expectClose(Math.abs(pose.rockerRad - pose.couplerRad) / DEG, 28.448827, ANGLE_DEG, "°");
    }
  });
});

describe("Grashof's rule and limit cases (Norton sec. 2.13)", () => {
  const changePoint = bar(8, 5, 7, 6);
  const nonGrashof = bar(20, 10, 10, 10);

  it("tells turning, change point and rocking links apart", () => {
    expect(grashof(rowA)).toBe("turns");
    expect(grashof(rowC)).toBe("turns");
    expect(grashof(changePoint)).toBe("changePoint");
    expect(grashof(nonGrashof)).toBe("rocks");
  });

  it("solves a change-point linkage away from its change point", () => {
    const f = changePoint;
    const open = solved(f, 25, "open");
    const crossed = solved(f, 25, "crossed");
    expectClose(open.couplerRad / DEG, 27.401589, ANGLE_DEG, "°");
    expectClose(open.rockerRad / DEG, 62.761667, ANGLE_DEG, "°");
    expectClose(crossed.couplerRad / DEG, -90.103661, ANGLE_DEG, "°");
    expectClose(crossed.rockerRad / DEG, -125.463738, ANGLE_DEG, "°");
  });

  it("solves the non-Grashof linkage where it closes and tells the miss where it does not", () => {
    const f = nonGrashof;
    expectClose(solved(f, 50, "open").couplerRad / DEG, 9.367645, ANGLE_DEG, "°");
    expectClose(solved(f, 50, "open").rockerRad / DEG, 111.749427, ANGLE_DEG, "°");
    expectClose(solved(f, 50, "crossed").couplerRad / DEG, -68.250573, ANGLE_DEG, "°");
    expectClose(solved(f, 50, "crossed").rockerRad / DEG, -170.632355, ANGLE_DEG, "°");
    const open = fourBarPosition(f, Math.PI, "open");
    expect(open).toEqual({ ok: false, kind: "tooFar", missMm: 10 });
  });

  it("tells that unequal coupler and rocker cannot fold onto a pivot", () => {
    expect(fourBarPosition({ ground: 10, crank: 10, coupler: 8, rocker: 3 }, 0, "open")).toEqual({ ok: false, kind: "tooNear", missMm: 5 });
  });
});

describe("velocity ratios and instant centres (Norton sec. 6.7, Table P6-1; Aronhold-Kennedy)", () => {
  const w2 = 10;
  const cases: [string, FourBar, number, FourBarBranch, number, number][] = [
    ["row a open", rowA, 30, "open", -5.990966, -3.991735],
    ["row a crossed", rowA, 30, "crossed", -0.662352, -2.661583],
    ["row c open", rowC, 45, "open", 8.485912, 13.200343],
    ["row c crossed", rowC, 45, "crossed", 15.183172, 10.468741],
  ];
  for (const [name, f, crankDeg, branch, w3, w4] of cases) {
    it(name, () => {
      const pose = solved(f, crankDeg, branch);
      expectClose(w2 * pose.couplerRatio, w3, RATE, "1/s");
      expectClose(w2 * pose.rockerRatio, w4, RATE, "1/s");
    });
  }

  it("has row a's centres where Kennedy's rule puts them", () => {
    const open = fourBarCentres(rowA, solved(rowA, 30, "open"));
    expectClose(open.couplerGround?.[0] ?? Number.NaN, 4.623155, LENGTH, "");
    expectClose(open.couplerGround?.[1] ?? Number.NaN, 2.66918, LENGTH, "");
    expectClose(open.crankRocker?.[0] ?? Number.NaN, 1.711754, LENGTH, "");
    expectClose(open.crankRocker?.[1] ?? Number.NaN, 0, LENGTH, "");
    // 40-digit arithmetic: 27.88205555855, 16.09771228229
    const crossed = fourBarCentres(rowA, solved(rowA, 30, "crossed"));
    expectClose(crossed.couplerGround?.[0] ?? Number.NaN, 27.8820556, LENGTH, "");
    expectClose(crossed.couplerGround?.[1] ?? Number.NaN, 16.0977122, LENGTH, "");
    expectClose(crossed.crankRocker?.[0] ?? Number.NaN, 1.261256, LENGTH, "");
  });

  it("gives the same velocity ratios through the centres, at every crank angle and on both branches", () => {
    for (let t2 = 7; t2 < 360; t2 += 20) {
      for (const branch of ["open", "crossed"] as const) {
        const pose = solved(rowA, t2, branch);
        const { crankRocker: i24, couplerGround: i13 } = fourBarCentres(rowA, pose);
        if (i24 === null || i13 === null) throw new Error("centre at infinity");
        expectClose(pose.rockerRatio, i24[0] / (i24[0] - rowA.ground), 1e-9, "");
        const lever = Math.hypot(pose.crankEnd[0] - i13[0], pose.crankEnd[1] - i13[1]);
        expectClose(Math.abs(pose.couplerRatio), rowA.crank / lever, 1e-9, "");
      }
    }
  });

  it("puts a parallelogram's coupler centre at infinity instead of dividing by zero", () => {
    const f: FourBar = { ground: 8, crank: 5, coupler: 8, rocker: 5 };
    const pose = solved(f, 60, "open");
    expect(fourBarCentres(f, pose).couplerGround).toBeNull();
    expectClose(pose.couplerRatio, 0, 1e-14, "");
    expectClose(pose.rockerRatio, 1, 1e-14, "");
  });
});
