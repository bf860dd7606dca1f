import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildBench } from "../../src/core/analyze.ts";
import { driveReport } from "../../src/core/drive/drive-report.ts";
import { safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { G } from "../../src/core/units.ts";
import { type Folder, jsonOf, scratchFolder, startWheelstay, wheelstay } from "../support/cli.ts";
import { expectAbs } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

const FORKED = "scenarios/heavy-forked.json";
const ASYMMETRIC = "scenarios/asymmetric.json";
/** cars tried for how sure it is, which doubt.test.ts looks at */
const FEW = ["--samples", "8"] as const;
/** The map tells its own error: 0.002 of a limit; near one limit that is about this much speed, km/h. */
const MAP_KMH = 0.1;

let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());

interface Safe {
  speedKmh: number;
  lateralG: number;
  gives: string | null;
}
interface MapJson {
  curves: { radiusM: number; track: string | null; left: Safe; right: Safe; driveReachesIt: boolean }[];
  radiiM: number[];
  speedsMps: number[];
  left: { worst: number[][]; first: (string | null)[][]; utilization: Record<string, number[][]> };
  right: { worst: number[][] };
  drive: { reachesMps: number };
}

describe("map", () => {
  it("tells for both hands what a direct solve of the curve tells", async () => {
    const r = await jsonOf<MapJson>(["map", ASYMMETRIC, ...FEW, "--radius", "5", "--points", "20"]);
    const bench = buildBench(shipped("asymmetric.json"));
    const curve = r.curves.find((c) => c.radiusM === 5)!;
    for (const hand of ["left", "right"] as const) {
      const direct = safeSpeedOf(bench, 5, { hand });
      expectAbs(curve[hand].speedKmh, 3.6 * direct.speedMps, MAP_KMH, `${hand}, km/h`);
      expect(curve[hand].gives).toBe(direct.limit!.name);
    }
    expect(curve.left.speedKmh).not.toBe(curve.right.speedKmh);
  });

  it("holds its grids speed by speed, and speed over radius as v² = a·R", async () => {
    const r = await jsonOf<MapJson>(["map", FORKED, ...FEW, "--points", "12"]);
    expect([r.radiiM.length, r.speedsMps.length, r.left.worst.length, r.left.worst[0]!.length]).toEqual([12, 12, 12, 12]);
    expect(r.left.utilization["hubRetention"]).toHaveLength(12);
    for (const c of r.curves) expectAbs((c.left.speedKmh / 3.6) ** 2, c.left.lateralG * G * c.radiusM, 1e-9, "v², m²/s²");
    expect(r.curves.map((c) => c.track)).toEqual(expect.arrayContaining(["hairpin", "car park", "oval"]));
    expectAbs(r.drive.reachesMps, driveReport(shipped("heavy-forked.json")).topSpeedMps, 1e-12, "reach, m/s");
  });

  it("gives the same on one core and on two, and less speed on a rougher road", async () => {
    const one = await wheelstay(["map", ASYMMETRIC, ...FEW, "--json", "--points", "10"]);
    const two = await startWheelstay(["map", ASYMMETRIC, ...FEW, "--json", "--points", "10", "--jobs", "2"]);
    expect(two.code).toBe(0);
    expect(two.out).toBe(one.out);
    const rough = await jsonOf<MapJson>(["map", ASYMMETRIC, ...FEW, "--points", "10", "--shock", "1.5"]);
    const smooth = JSON.parse(one.out) as MapJson;
    for (const [i, c] of rough.curves.entries()) expect(c.left.speedKmh).toBeLessThan(smooth.curves[i]!.left.speedKmh);
  });
});

describe("drive", () => {
  it("tells the core's drive, and wheel speeds at the speed asked for", async () => {
    interface DriveJson {
      topSpeedKmh: number;
      line: { ratio: number };
      wheels: { radiusM: number; carMps: number; innerMps: number; outerMps: number; ratio: number }[];
    }
    const r = await jsonOf<DriveJson>(["drive", FORKED, "--radius", "2.5", "--speed", "18"]);
    const own = driveReport(shipped("heavy-forked.json"));
    expectAbs(r.topSpeedKmh, 3.6 * own.topSpeedMps, 1e-9, "km/h");
    expect(r.line.ratio).toBe(own.line.ratio);
    const row = r.wheels.find((w) => w.radiusM === 2.5)!;
    expectAbs(row.carMps, 5, 1e-12, "m/s");
    // all points of the axle turn about one centre: v = ω·r
    expectAbs(row.outerMps - row.innerMps, (row.carMps / 2.5) * (own.trackMm / 1000), 1e-12, "m/s");
  });

  it("drives no curve faster than the tyres hold when no speed is given", async () => {
    const r = await jsonOf<{ wheels: { radiusM: number; carMps: number }[]; topSpeedMps: number }>(["drive", FORKED]);
    const grip = shipped("heavy-forked.json").corner.tyre.friction;
    for (const w of r.wheels) expectAbs(w.carMps, Math.min(r.topSpeedMps, Math.sqrt(grip * G * w.radiusM)), 1e-12, "m/s");
  });
});

describe("changes", () => {
  interface ChangesJson {
    base: { safeSpeedKmh: number };
    hand: string;
    changes: { id: string; safeSpeedKmh: number; buys: { speedKmh: number; leanDeg: number | null }; differences: { path: string }[] }[];
  }

  it("ranks by what is bought, each change with what it changes in the file", async () => {
    const r = await jsonOf<ChangesJson>(["changes", FORKED, "--radius", "6"]);
    const bought = r.changes.map((c) => c.buys.speedKmh);
    expect(bought.length).toBeGreaterThan(30);
    // ties are broken by what the limits leave, worth at most a hair of speed; what makes worse what gives first begins a list of its own behind
    const ups = bought.flatMap((b, i) => (i > 0 && bought[i - 1]! - b < -1e-3 ? [i] : []));
    expect(ups.length).toBeLessThanOrEqual(1);
    expect(Math.max(...bought.slice(0, ups[0]))).toBeGreaterThan(0);
    for (const c of r.changes) {
      expectAbs(c.safeSpeedKmh - r.base.safeSpeedKmh, c.buys.speedKmh, 1e-9, `${c.id}, km/h`);
      expect(c.differences.length).toBeGreaterThan(0);
    }
  });

  it("gives the same changes on two cores, and goes by lean where asked", async () => {
    const one = await jsonOf<ChangesJson>(["changes", FORKED, "--aim", "lean", "--lateral", "-0.4"]);
    const two = await jsonOf<ChangesJson>(["changes", FORKED, "--aim", "lean", "--lateral", "-0.4", "--jobs", "2"], startWheelstay);
    expect(one.hand).toBe("right");
    expect(two.changes.map((c) => c.id)).toEqual(one.changes.map((c) => c.id));
    expect(two).toEqual(one);
    const lean = one.changes.map((c) => c.buys.leanDeg).filter((v) => v !== null);
    for (let i = 1; i < lean.length; i++) expect(lean[i - 1]! - lean[i]!).toBeGreaterThan(-1e-3);
  });
});

describe("report", () => {
  it("writes one page and one table, and prints the whole report as JSON", async () => {
    const html = join(folder.path, "r.html");
    const csv = join(folder.path, "r.csv");
    const day = ["--date", "2026-02-03", "--compare", "scenarios/heavy-straight.json", "--samples", "9", "--seed", "4"];
    interface ReportJson {
      written: { file: string; bytes: number }[];
      date: string;
      scenario: { name: string };
      b: { scenario: { name: string } };
      analysis: { right: { camberDeg: number } };
    }
    const r = await jsonOf<ReportJson>(["report", FORKED, "--out", html, "--csv", csv, ...day, "--jobs", "2"], startWheelstay);
    const page = readFileSync(html, "utf8");
    expect(page).toMatch(/^<!doctype html>[\s\S]*Axle report of 2026-02-03[\s\S]*<\/html>\n$/);
    expect(page).toContain("From 9 cars tried, their values drawn within what is known of them (seed 4).");
    expect(r.written).toEqual([
      { file: html, bytes: Buffer.byteLength(page) },
      { file: csv, bytes: readFileSync(csv).length },
    ]);
    expect([r.date, r.scenario.name, r.b.scenario.name]).toEqual(["2026-02-03", "Heavy car, forked arms", "Heavy car, straight arms"]);
    const lean = await jsonOf<{ right: { camberDeg: number } }>(["analyze", FORKED]);
    expect(r.analysis.right.camberDeg).toBe(lean.right.camberDeg);
    const again = await wheelstay(["report", FORKED, "--out", join(folder.path, "again.html"), ...day]);
    expect(again.out).toMatch(/again\.html: written, \d+ kB\nHeavy car, forked arms: Hub pulls off/);
    expect(again.out).toMatch(
      /\nWhat gives first: The hub lip gives first, from \d+\.\d km\/h .*\nSafe speed: .*\nThe one change worth the rebuild: .* → .*\nThe bench test to do next: .*; the safe speed.s ± .*\nCautions:\n- /,
    );
    const two = readFileSync(join(folder.path, "again.html"), "utf8");
    // told by its first difference: the pages are long
    expect([...two].findIndex((c, i) => c !== page[i])).toBe(-1);
    expect(two).toHaveLength(page.length);
  });
});

describe("motion", () => {
  interface MotionJson {
    title: string;
    params: Record<string, number>;
    events: { limit: string }[];
    broken: boolean;
    shockFactor: number;
    trace: Record<string, number[]>;
  }
  const BUMP = ["--manoeuvre", "singleBump", "--set", "heightMm=8, speedMps=5"];

  it("drives the numbers asked for and keeps every channel over time", async () => {
    const r = await jsonOf<MotionJson>(["motion", FORKED, ...BUMP]);
    expect([r.title, r.params["heightMm"], r.params["speedMps"], r.params["lengthMm"]]).toEqual(["Single bump", 8, 5, 80]);
    const time = r.trace["timeS"]!;
    for (const values of Object.values(r.trace)) expect(values).toHaveLength(time.length);
    expect(r.shockFactor).toBeGreaterThan(1);
    expectAbs(Math.max(...r.trace["right.roadMm"]!), 8, 0.5, "top of the bump, mm");
    expect(r.broken).toBe(r.events.some((e) => e.limit === "armYield" || e.limit === "hubRetention"));
    const held = await jsonOf<MotionJson>(["motion", FORKED, ...BUMP, "--hold"]);
    expect(held.broken).toBe(false);
    expect(held.trace["timeS"]!.length).toBeGreaterThan(time.length);
  });

  it("prints the same run as a table with commas", async () => {
    const r = await wheelstay(["motion", FORKED, ...BUMP, "--csv"]);
    expect([r.code, r.err]).toEqual([0, ""]);
    const [head, ...rows] = r.out.trimEnd().split("\n");
    const names = head!.split(",");
    expect(names.slice(0, 2)).toEqual(["timeS", "lateralG"]);
    for (const row of rows) expect(row.split(",")).toHaveLength(names.length);
    const json = await jsonOf<MotionJson>(["motion", FORKED, ...BUMP]);
    const column = names.indexOf("right.camberDeg");
    rows.forEach((row, i) => {
      const v = json.trace["right.camberDeg"]![i]!;
      expectAbs(Number(row.split(",")[column]), v, 1e-5 * Math.max(1, Math.abs(v)), "camber, °");
    });
  });
});
