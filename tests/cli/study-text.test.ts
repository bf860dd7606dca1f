import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseCommand } from "../../src/cli/args.ts";
import { changesCommand } from "../../src/cli/changes.ts";
import { mapCommand } from "../../src/cli/map.ts";
import { barLine, createProgress } from "../../src/cli/progress.ts";
import { type Folder, scratchFolder, wheelstay } from "../support/cli.ts";

const FORKED = "scenarios/heavy-forked.json";
/** Columns of a wide terminal. */
const WIDE = 180;

let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());

async function textOf(...args: string[]): Promise<string> {
  const r = await wheelstay(args);
  expect(r.err).toBe("");
  expect(r.code).toBe(0);
  expect(r.out).not.toMatch(/NaN|undefined|Infinity|\[object/);
  for (const line of r.out.split("\n").filter((l) => !/[.:;]/.test(l))) expect([...line].length).toBeLessThanOrEqual(WIDE);
  return r.out;
}

describe("what a person reads", () => {
  it("map: safe speeds for both hands, the drive, and a picture in percent", async () => {
    const text = await textOf("map", FORKED);
    for (const part of [
      /HIGHEST SPEED AT WHICH NOTHING GIVES/,
      /4\.00 +hairpin +\d+\.\d +0\.\d{3} +Hub pulls off +\d+\.\d +0\.\d{3} +Hub pulls off +yes/,
      /The drive reaches \d+\.\d km\/h/,
      /LEFT-HAND CURVES[\s\S]*RIGHT-HAND CURVES/,
      /never for a vehicle that carries people/,
    ])
      expect(text).toMatch(part);
  });

  it("drive: speed, push, wheel speeds, arms", async () => {
    const text = await textOf("drive", FORKED);
    for (const part of [/reachable speed, flat straight road, by motors and gears +\d+\.\d km\/h/, /PUSH OVER SPEED/, /car park/, /right lower arm +[-+]\d/])
      expect(text).toMatch(part);
  });

  it("drive: the speed that was driven, beside what motors and gears say", async () => {
    const folder = scratchFolder();
    const file = folder.write("driven.json", "heavy-forked.json", (s) => {
      s.drive.topSpeedDrivenKmh = 21.6;
    });
    const text = await textOf("drive", file);
    folder.remove();
    expect(text).toMatch(/^top speed driven \(measured\) +21\.6 km\/h \(6\.00 m\/s\)\nreachable speed, flat straight road, by motors and gears +\d/m);
  });

  it("changes: as it is, then what each buys", async () => {
    const text = await textOf("changes", FORKED, "--radius", "6");
    for (const part of [/AS IT IS\nNothing gives below \d+\.\d km\/h/, /cross-pin the wheel.* re-drilling holes +\+\d/, /best first for speed on the curve/i])
      expect(text).toMatch(part);
  });

  it("motion: the numbers, what happened, the shock, the peaks", async () => {
    const text = await textOf("motion", FORKED, "--manoeuvre", "landing", "--set", "dropMm=20");
    for (const part of [/THE NUMBERS/, /dropMm +20/, /WHAT HAPPENED/, /ROAD SHOCK\n/, /PEAKS OF THE RIGHT WHEEL/]) expect(text).toMatch(part);
  });

  it.each(["map", "drive", "changes", "report", "motion"])("%s tells its usage", async (name) => {
    expect(await textOf(name, "--help")).toMatch(new RegExp(`^usage: npm run -s wheelstay -- ${name} FILE`));
  });
});

describe("bad input of the studies", () => {
  it.each<[string[], RegExp]>([
    [["map", FORKED, "--jobs", "0"], /--jobs is 0 at a time; allowed 1 to 64 at a time/],
    [["map", FORKED, "--jobs", "1.5"], /--jobs is "1\.5", which is not a whole number/],
    [["map", FORKED, "--shock", "0.5"], /--shock is 0\.5 times; allowed 1 to 50 times/],
    [["changes", FORKED, "--aim", "fun"], /--aim is "fun"; allowed speed, lean, hubRetention/],
    [["changes", FORKED, "--hand"], /--hand has no value; allowed left, right/],
    [["changes", FORKED, "--hand", "left", "--hand", "right"], /--hand is given twice/],
    [["drive", FORKED, "--speed", "500"], /--speed is 500 km\/h; allowed 0\.1 to 150 km\/h/],
    [["report", FORKED], /report needs --out HTML, --csv CSV or --json, none is given/],
    [["report", FORKED, "--out"], /--out has no value; HTML is wanted/],
    [["report", FORKED, "--out", "nowhere/r.html"], /nowhere\/r\.html: cannot be written, the folder does not exist/],
    [["report", FORKED, "--out", "src"], /src: cannot be written, it is a folder/],
    [["report", FORKED, "--out", "x.html", "--date", "today"], /--date is "today"; a day such as 2026-11-25 is wanted/],
    [["report", FORKED, "--out", "x.html", "--compare", "nowhere.json"], /nowhere\.json: cannot be read/],
    [["motion", FORKED], /motion needs --manoeuvre NAME; allowed steeringStep/],
    [["motion", FORKED, "--manoeuvre", "flying"], /--manoeuvre is "flying"; allowed steeringStep/],
    [["motion", FORKED, "--manoeuvre", "landing", "--set", "dropMm"], /--set has "dropMm"; a name and a number are wanted/],
    [["motion", FORKED, "--manoeuvre", "landing", "--set", "dropMm=9000"], /--set: dropMm .* is 9000; it must lie between 1 and 600 mm/],
    [["motion", FORKED, "--manoeuvre", "landing", "--set", "heightMm=3"], /--set: Landing from a drop has no number "heightMm"; it takes speedMps/],
    [["motion", FORKED, "--manoeuvre", "landing", "--csv", "--json"], /--json and --csv are both given/],
  ])("%j", async (args, message) => {
    const r = await wheelstay(args);
    expect([r.code, r.out]).toEqual([1, ""]);
    expect(r.err).toMatch(message);
    expect(r.err).not.toMatch(/\n\s+at |Error:/);
  });

  it("a load without a steady position ends a report with 2, and tells which design it is", async () => {
    const file = folder.write("slippery.json", "heavy-forked.json", (d) => {
      d.corner.tyre.friction = 0.3;
    });
    const alone = await wheelstay(["report", file, "--out", `${folder.path}/a.html`, "--lateral", "0.8"]);
    expect(alone.code).toBe(2);
    expect(alone.err).toMatch(/slippery\.json: no steady position \(slides\)/);
    const asB = await wheelstay(["report", FORKED, "--out", `${folder.path}/b.html`, "--lateral", "0.8", "--compare", file]);
    expect(asB.code).toBe(2);
    expect(asB.err).toMatch(/slippery\.json: no steady position at this load/);
  });
});

describe("options", () => {
  it("are read as numbers, words and flags", () => {
    const r = parseCommand(changesCommand, ["car.json", "--aim", "lean", "--lateral", "-0.5", "--jobs=2", "--json"]);
    expect([r.files, r.texts, r.values, r.json]).toEqual([["car.json"], { aim: "lean" }, { lateral: -0.5, jobs: 2 }, true]);
    expect(parseCommand(mapCommand, ["car.json"]).flags.size).toBe(0);
  });
});

describe("the progress bar", () => {
  const screen = (isTTY: boolean) => {
    const written: string[] = [];
    return { written, stream: { isTTY, columns: 60, write: (t: string) => written.push(t) } };
  };

  it("is silent where nobody watches, and for work that is over at once", () => {
    let now = 0;
    const quiet = screen(false);
    const p = createProgress(quiet.stream, () => now);
    now = 5000;
    p.at(0.5, "of the map");
    p.end();
    expect(quiet.written).toEqual([]);
    now = 0;
    const short = screen(true);
    const q = createProgress(short.stream, () => now);
    now = 100;
    q.at(0.9, "of the map");
    q.end();
    expect(short.written).toEqual([]);
  });

  it("is drawn in a terminal, not too often, and taken away at the end", () => {
    let now = 0;
    const { written, stream } = screen(true);
    const p = createProgress(stream, () => now);
    for (now = 0; now <= 1000; now += 10) p.at(now / 2000, "of the map");
    p.end();
    expect(written.length).toBeGreaterThan(3);
    expect(written.length).toBeLessThan(15);
    expect(written.at(-2)).toContain("% of the map");
    expect(written.at(-1)).toBe("\r\u001b[K");
  });

  it("is drawn where the terminal tells no width", () => {
    let now = 0;
    const written: string[] = [];
    const p = createProgress({ isTTY: true, columns: 0, write: (t) => written.push(t) }, () => now);
    now = 1000;
    p.at(0.5, "of the map");
    expect(written.at(-1)).toContain("50 % of the map");
  });

  it("tells the time left once the work is long, and never is wider than the terminal", () => {
    expect(barLine(0.5, "of the map", 2000, 80)).toBe("[############............] 50 % of the map");
    expect(barLine(0.25, "of the map", 10_000, 80)).toBe("[######..................] 25 % of the map, 30 s left");
    expect(barLine(0.25, "of the map", 10_000, 20)).toHaveLength(19);
    expect(barLine(2, "x", 1, 80)).toContain("100 %");
  });
});
