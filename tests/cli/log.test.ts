import { afterAll, describe, expect, it } from "vitest";
import { jsonOf, scratchFolder, wheelstay } from "../support/cli.ts";
import { expectAbs, expectRel } from "../support/close.ts";

const folder = scratchFolder();
afterAll(folder.remove);

interface LogJson {
  runs: { speedKmh: number; lateralG: number; counted: boolean; tells: { path: string; kind: string; at: number }[] }[];
  strengths: { path: string; worth: boolean; before: Belief; after: Belief; runs: number[] }[];
  speeds: { radiusM: number; track: string | null; before: { speedKmh: number; gives: string }; with: { speedKmh: number } }[];
  contradictions: { run: number; words: { said: string; explained: string[] } }[];
}
interface Belief {
  value: number;
  sd: number;
  low: number;
  high: number;
}

const file = folder.write("runs.json", "heavy-forked.json", (data) => {
  data.tracks = [{ name: "car park", radiusM: 6 }];
  data.runs = [
    { date: "2026-11-21", radiusM: 6, pace: { by: "speed", kmh: 18 } },
    { date: "2026-11-21", radiusM: 6, pace: { by: "lap", seconds: 7 } },
    { date: "2026-11-22", radiusM: 6, pace: { by: "speed", kmh: 20 }, gave: [{ limit: "hubRetention", side: "left" }] },
    { date: "2026-11-20", radiusM: 6, pace: { by: "g", g: 0.2 }, taken: true },
    { date: "2026-11-22", radiusM: 6, pace: { by: "speed", kmh: 5 }, gave: [{ limit: "jointPullOut", side: "right", at: "upperOuter" }] },
  ];
});
const LIP = "corner.hub.retention.capacityN";

describe("log", () => {
  it("tells each run's demand, what it tells, the ranges, the safe speed before and with, and what cannot be right", async () => {
    const r = await jsonOf<LogJson>(["log", file]);
    // by hand: a circle of 6 m in 7 s is 5.3856 m/s, 0.49293 g
    expectAbs(r.runs[1]!.speedKmh, 19.388, 1e-3, "speed, km/h");
    expectAbs(r.runs[1]!.lateralG, 5.3856 ** 2 / (6 * 9.80665), 1e-4, "cornering, g");
    expect(r.runs.map((run) => run.counted)).toEqual([true, true, true, false, true]);
    const lip = r.strengths.find((t) => t.path === LIP)!;
    expect(lip.worth).toBe(true);
    expect(lip.runs).toEqual([0, 1, 2, 4]);
    expect(lip.after.sd).toBeLessThan(0.8 * lip.before.sd);
    expect(lip.after.low).toBeLessThan(lip.after.value);
    expect(r.runs[2]!.tells.find((t) => t.path === LIP)!.kind).toBe("gave");
    expect(r.runs[3]!.tells).toEqual([]);
    expect(r.speeds.map((p) => [p.radiusM, p.track, p.before.gives])).toEqual([[6, "car park", "hubRetention"]]);
    // told the same as by the map
    const map = await jsonOf<{ curves: { radiusM: number; left: { speedKmh: number }; right: { speedKmh: number } }[] }>([
      "map",
      file,
      "--samples",
      "8",
      "--points",
      "5",
    ]);
    const curve = map.curves.find((c) => c.radiusM === 6)!;
    expectRel(r.speeds[0]!.before.speedKmh, Math.min(curve.left.speedKmh, curve.right.speedKmh), 2e-3, "safe speed, km/h");
    expect(r.speeds[0]!.with.speedKmh).toBeLessThan(r.speeds[0]!.before.speedKmh);
    expect(r.contradictions.map((c) => c.run)).toEqual([4]);
    expect(r.contradictions[0]!.words.said).toContain("Joint pulls apart: in run 5 of 2026-11-22");
  });

  it("prints the same as tables in plain words", async () => {
    const { out, code } = await wheelstay(["log", file]);
    expect(code).toBe(0);
    expect(out).toMatch(/^3 {4}2026-11-22 {2}hub pulled off \(left\)/m);
    expect(out).toMatch(/^4 {4}2026-11-20 {2}all held +taken already/m);
    expect(out).toMatch(/^wheel on its hub, straight pull that strips the lip +hub pulls off +85 ± 21 N/m);
    expect(out).toContain("RUNS AGAINST THE MODEL");
    expect(out).toMatch(/car park +\d\d\.\d {2}Hub pulls off/);
  });

  it("tells what one more run would tell in which all held, and refuses one that is none", async () => {
    const one = await jsonOf<LogJson>(["log", "scenarios/heavy-forked.json", "--held", "22 km/h on 6 m"]);
    expect(one.runs).toHaveLength(1);
    const lip = one.strengths.find((t) => t.path === LIP)!;
    expect(lip.after.low).toBeGreaterThan(lip.before.low + 10);
    const r = await wheelstay(["log", "scenarios/heavy-forked.json", "--held", "fast"]);
    expect([r.code, r.err]).toEqual([1, "--held: a speed (18 km/h), a lap (14.2 s on a circle of 3 m) or a phone's cornering (0.6 g) is wanted.\n"]);
  });

  it("says what is missing where no runs stand in the file, and what is wrong with one that cannot be", async () => {
    expect((await wheelstay(["log", "scenarios/heavy-forked.json"])).out).toContain("No runs stand in this file.");
    const wrong = folder.write("wrong.json", "heavy-forked.json", (data) => {
      data.runs = [{ radiusM: 6, pace: { by: "speed", kmh: 18 }, gave: [{ limit: "hubRetention", at: "middle" }] }];
    });
    const r = await wheelstay(["log", wrong]);
    expect(r.code).toBe(1);
    expect(r.err).toMatch(/runs\[0\]\.gave\[0\]\.at is "middle"; allowed one of upperInner, /);
  });
});
