import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { jsonText } from "../../src/cli/json.ts";
import type { AxleReport, SideReport } from "../../src/core/analysis.ts";
import { analyze } from "../../src/core/analyze.ts";
import { JOINT_NAMES, SIDES } from "../../src/core/design/types.ts";
import { type Folder, jsonOf, scratchFolder, startWheelstay } from "../support/cli.ts";
import { expectAbs } from "../support/close.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

const FORKED = "scenarios/heavy-forked.json";
const sum = (r: Record<string, number>): number => Object.values(r).reduce((a, b) => a + b, 0);

let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());

describe("analyze --json", () => {
  it("holds every promised value under its name", async () => {
    const r = await jsonOf<AxleReport>(["analyze", FORKED, "--lateral", "0.5", "--bump-left", "1", "--bump-right", "-2"]);
    expect([r.lateralG, r.bumpLeftMm, r.bumpRightMm]).toEqual([0.5, 1, -2]);
    for (const value of [r.rollDeg, r.heaveMm, r.solver.iterations, r.solver.residualN]) expect(value).toBeTypeOf("number");
    for (const side of SIDES) {
      const s: SideReport = r[side];
      for (const value of [s.camberDeg, s.verticalLoadN, s.lateralLoadN, s.wheelTravelMm, s.springForceN, s.springLengthMm]) expect(value).toBeTypeOf("number");
      for (const joint of JOINT_NAMES) expect(s.jointForceN[joint]).toBeGreaterThanOrEqual(0);
      expect(s.armAxialForceN.upper).toBeTypeOf("number");
      expect(s.armAxialForceN.lower).toBeTypeOf("number");
      expect(Object.keys(s.camberPer1PercentStifferDeg)).toContain("left.lowerArm");
      expect(s.camberBandDeg).toHaveLength(2);
    }
    expect(r.limits.length).toBeGreaterThan(10);
    for (const l of r.limits) expect(Object.keys(l)).toEqual(expect.arrayContaining(["name", "wheel", "utilization", "demand", "capacity", "unit"]));
    expect(r.limits).toContainEqual(r.firstToGive);
    expect(r.solver.residualN).toBeLessThan(1e-6);
  });

  it.each(SHIPPED)("has budgets that add up to the lean: %s", async (file) => {
    const r = await jsonOf<AxleReport & { loadCase: string }>(["analyze", `scenarios/${file}`]);
    expect(r.loadCase).toBe(shipped(file).loadCases[0]!.name);
    for (const side of SIDES) {
      const { camberDeg, camberBudgetDeg } = r[side];
      expectAbs(sum(camberBudgetDeg.byMotion), camberDeg, 1e-6, `${side}, by motion, °`);
      expectAbs(sum(camberBudgetDeg.byPart), camberDeg, 1e-9, `${side}, by part, °`);
      expectAbs(camberBudgetDeg.byPart.unassigned, 0, 0.01, `${side}, not assigned, °`);
    }
  });

  it("gives what the core gives, number for number", async () => {
    const r = await jsonOf(["analyze", FORKED, "--lateral", "0.7", "--radius", "9"]);
    const own = analyze(shipped("heavy-forked.json"), { lateralG: 0.7, bumpLeftMm: 0, bumpRightMm: 0 }, { radiusM: 9 });
    expect(own.ok).toBe(true);
    if (own.ok) expect(r).toMatchObject(JSON.parse(JSON.stringify(own.report)));
  });

  it("mirrors a curve the other way, a number below zero in either spelling", async () => {
    const left = await jsonOf<AxleReport>(["analyze", FORKED, "--lateral", "0.6"]);
    for (const spelling of [["--lateral", "-0.6"], ["--lateral=-0.6"]]) {
      const right = await jsonOf<AxleReport>(["analyze", FORKED, ...spelling]);
      expectAbs(right.left.camberDeg, left.right.camberDeg, 1e-6, "camber, °");
      expectAbs(right.rollDeg, -left.rollDeg, 1e-6, "roll, °");
    }
  });

  it("takes what is not given as 0, and a file without load cases as at rest", async () => {
    const bump = await jsonOf<AxleReport>(["analyze", FORKED, "--bump-right", "3"]);
    expect([bump.lateralG, bump.bumpLeftMm, bump.bumpRightMm]).toEqual([0, 0, 3]);
    const file = folder.write("bare.json", "heavy-forked.json", (d) => {
      d.loadCases = [];
      d.tracks = [];
    });
    const still = await jsonOf<AxleReport & { loadCase: string; radiusM: number }>(["analyze", file]);
    expect([still.lateralG, still.bumpLeftMm, still.bumpRightMm, still.loadCase, still.radiusM]).toEqual([0, 0, 0, "at rest", 6]);
  });

  it("tells the speed of the curve: v² = a·R", async () => {
    const r = await jsonOf<{ speedKmh: number }>(["analyze", FORKED, "--lateral", "0.5", "--radius", "8"]);
    expectAbs(r.speedKmh, 3.6 * Math.sqrt(0.5 * 9.80665 * 8), 1e-9, "speed, km/h");
  });
});

describe("every command with --json", () => {
  it.each(SHIPPED.flatMap((f) => ["rig", "kinematics", "arm"].map((c) => [c, f] as const)))("%s runs %s", async (command, file) => {
    const r = await jsonOf(["" + command, `scenarios/${file}`]);
    expect(r["command"]).toBe(command);
    expect(r["scenario"]).toBe(shipped(file).name);
  });

  it("finds files from where npm was called", async () => {
    const r = await startWheelstay(["kinematics", "heavy-forked.json", "--json"], new URL("../../scenarios", import.meta.url).pathname);
    expect(r.code).toBe(0);
    expect((JSON.parse(r.out) as { file: string }).file).toBe("heavy-forked.json");
  });

  it("writes endless values as null, and none but those", async () => {
    const file = folder.write("parallel.json", "heavy-straight.json", (d) => {
      Object.assign(d.corner, {
        upperInner: { sMm: 48, zMm: 72 },
        upperOuter: { sMm: 120, zMm: 72 },
        lowerInner: { sMm: 48, zMm: 32 },
        lowerOuter: { sMm: 120, zMm: 32 },
      });
    });
    type Row = { travelMm: number; swingArmMm: number | null; instantCentre: { at: unknown; direction: unknown } };
    const r = await jsonOf<{ left: { rows: Row[] } }>(["kinematics", file]);
    const built = r.left.rows.find((row) => row.travelMm === 0)!;
    expect(built.swingArmMm).toBeNull();
    expect(built.instantCentre).toEqual({ at: null, direction: { s: 1, z: 0 } });
  });
});

describe("compare --json", () => {
  interface Comparison {
    lateralG: number;
    a: AxleReport;
    b: AxleReport;
    differences: { path: string; name: string; a: string; b: string; aWords: string; bWords: string }[];
    bMinusA: { left: { camberDeg: number }; right: { camberDeg: number }; utilization: { name: string; wheel: string; a: number; b: number }[] };
  }
  const STRAIGHT = "scenarios/heavy-straight.json";

  it("sets B against A under one load", async () => {
    const r = await jsonOf<Comparison>(["compare", FORKED, STRAIGHT, "--lateral", "0.7"]);
    const a = await jsonOf<AxleReport>(["analyze", FORKED, "--lateral", "0.7"]);
    const b = await jsonOf<AxleReport>(["analyze", STRAIGHT, "--lateral", "0.7"]);
    for (const side of SIDES) {
      expect(r.a[side]).toEqual(a[side]);
      expect(r.b[side]).toEqual(b[side]);
      expectAbs(r.bMinusA[side].camberDeg, b[side].camberDeg - a[side].camberDeg, 1e-12, "camber, °");
    }
    const lip = r.bMinusA.utilization.find((u) => u.name === "hubRetention" && u.wheel === "right")!;
    expect(r.differences).toContainEqual({
      path: "corner.lowerArm.layout",
      name: "lower arm, shape",
      a: "split",
      b: "straight",
      aWords: "fork (one stem, two legs)",
      bWords: "straight (one bar)",
    });
    expect(lip.a).toBe(a.limits.find((l) => l.name === "hubRetention" && l.wheel === "right")!.utilization);
  });

  it("finds no difference between a car and itself", async () => {
    const r = await jsonOf<Comparison>(["compare", FORKED, FORKED]);
    expect(r.lateralG).toBe(shipped("heavy-forked.json").loadCases[0]!.lateralG);
    expect(r.bMinusA.left.camberDeg).toBe(0);
    expect(r.differences).toEqual([]);
    for (const u of r.bMinusA.utilization) expect(u.b).toBe(u.a);
  });
});

describe("jsonText", () => {
  it("is one line, with null for what is endless", () => {
    expect(jsonText({ a: 1, b: Number.POSITIVE_INFINITY, c: [Number.NEGATIVE_INFINITY] })).toBe('{"a":1,"b":null,"c":[null]}\n');
  });
  it("never writes what is not a number", () => {
    expect(() => jsonText({ deep: { lean: Number.NaN } })).toThrow('"lean" is not a number');
  });
});
