import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Folder, scratchFolder, wheelstay } from "../support/cli.ts";

const FORKED = "scenarios/heavy-forked.json";
let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());

async function refused(args: readonly string[], code: number): Promise<string> {
  const r = await wheelstay(args);
  expect(r.out).toBe("");
  expect(r.code).toBe(code);
  expect(r.err).not.toMatch(/\n\s+at |Error:/);
  return r.err;
}

describe("bad input ends with 1 and tells on stderr alone", () => {
  it.each<[string[], RegExp]>([
    [[], /command is needed[\s\S]*analyze[\s\S]*compare/],
    [["analyse", FORKED], /"analyse" is not a known command; the nearest one is analyze/],
    [["foo", FORKED], /^"foo" is not a known command; allowed analyze, rig, kinematics[^\n]*\n$/],
    [["analyze", FORKED, `--${"x".repeat(9000)}`], /^--x{55}\.\.\. is not a known option; allowed --json[^\n]*\n$/],
    [["report", FORKED, "--json", "--date", "2026-02-31"], /--date is "2026-02-31", and that month has no such day\./],
    [["report", FORKED, "--json", "--date", "2027-02-29"], /--date is "2027-02-29", and that month has no such day\./],
    [["report", FORKED, "--json", "--date", "31.2.2026"], /--date is "31\.2\.2026"; a day such as 2026-11-25 is wanted\./],
    [["analyze"], /needs one scenario file, none is given[\s\S]*\[--lateral G\]/],
    [["rig", FORKED, FORKED], /rig needs one scenario file, 2 are given/],
    [["compare", FORKED], /compare needs two scenario files, one is given/],
    [["analyze", FORKED, "--lateral", "3.5"], /--lateral is 3\.5 g; allowed -3 to 3 g/],
    [["analyze", FORKED, "--lateral", "-4", "--json"], /--lateral is -4 g; allowed -3 to 3 g/],
    [["analyze", FORKED, "--lateral", "fast"], /--lateral is "fast", which is not a number; allowed -3 to 3 g/],
    [["analyze", FORKED, "--lateral", "0x1"], /"0x1", which is not a number/],
    [["analyze", FORKED, "--throttle", "1,8"], /^--throttle is 1,8; allowed 0 to 1\.$/m],
    [["analyze", FORKED, "--brake", "1,2,3"], /"1,2,3", which is not a number; allowed 0 to 3 g/],
    [["analyze", FORKED, "--lateral", "1e999"], /--lateral is 1e999 g; allowed/],
    [["analyze", FORKED, "--lateral="], /--lateral is "", which is not a number/],
    [["analyze", FORKED, "--lateral"], /--lateral has no value; allowed -3 to 3 g/],
    [["analyze", FORKED, "--lateral", "0.1", "--lateral", "0.2"], /--lateral is given twice/],
    [["analyze", FORKED, "--bump-left", "61"], /--bump-left is 61 mm; allowed -60 to 60 mm/],
    [["analyze", FORKED, "--bump-right=-61"], /--bump-right is -61 mm; allowed -60 to 60 mm/],
    [["analyze", FORKED, "--radius", "0"], /--radius is 0 m; allowed 0\.1 to 1000 m/],
    [["analyze", FORKED, "--latral", "0.5"], /--latral is not a known option; allowed --json, --help, --lateral/],
    [["rig", FORKED, "--lateral", "0.5"], /--lateral is not a known option; allowed --json, --help/],
    [["analyze", FORKED, "-q"], /-q is not a known option/],
    [["analyze", FORKED, "--json=no"], /--json takes no value/],
    [["analyze", "nowhere.json"], /nowhere\.json: cannot be read, there is no such file/],
    [["kinematics", "scenarios", "--json"], /scenarios: cannot be read, it is a folder/],
  ])("%j", async (args, message) => {
    expect(await refused(args, 1)).toMatch(message);
  });

  it("names file, field, value and range of what is wrong in a file", async () => {
    const file = folder.write("range.json", "heavy-forked.json", (d) => {
      d.corner.wheel.radiusMm = 900;
      d.corner.joints.upperInner.clearanceMm = "loose";
    });
    for (const command of ["analyze", "rig", "kinematics", "arm"]) {
      const err = await refused([command, file, "--json"], 1);
      expect(err).toContain(`${file}: corner.wheel.radiusMm is 900 mm; allowed 15 to 150 mm.`);
      expect(err).toContain(`${file}: corner.joints.upperInner.clearanceMm is "loose"; allowed 0 to 2 mm.`);
    }
  });

  it("names the place where a text is no JSON", async () => {
    const file = folder.text("broken.json", '{\n  "format": "wheelstay-scenario",\n  oops\n}');
    expect(await refused(["analyze", file], 1)).toMatch(/broken\.json: line 3, column 3/);
  });

  it("names the second file of a comparison when that is the wrong one", async () => {
    const file = folder.write("other.json", "heavy-forked.json", (d) => {
      d.version = 7;
    });
    expect(await refused(["compare", FORKED, file, "--json"], 1)).toMatch(/other\.json: version is 7; allowed 2/);
  });

  it("names the pivots of a linkage that stands at its dead centre", async () => {
    const file = folder.write("dead.json", "heavy-forked.json", (d) => {
      d.corner.upperInner = { sMm: 120, zMm: 12 };
      d.corner.lowerOuter = { sMm: 120, zMm: 28 };
      d.corner.upperOuter = { sMm: 120, zMm: 76 };
    });
    expect(await refused(["kinematics", file], 1)).toMatch(/upper inner pivot and upper ball joint|upperInner|upperOuter/);
  });
});

describe("no equilibrium ends with 2 and names the physical thing", () => {
  it("when the wheels slide", async () => {
    for (const json of [[], ["--json"]]) {
      const err = await refused(["analyze", FORKED, "--lateral", "2", ...json], 2);
      expect(err).toContain(`${FORKED}: no steady position (slides): `);
      expect(err).toMatch(/let go/);
      expect(err).toMatch(/last load on the way that still has one: 1\.050 g/);
    }
  });

  it("when the car tips", async () => {
    const file = folder.write("tall.json", "heavy-straight.json", (d) => {
      d.body.cgHeightMm = 320;
      d.corner.tyre.friction = 2;
    });
    expect(await refused(["analyze", file, "--lateral", "1.2", "--json"], 2)).toMatch(/tall\.json: no steady position \(tips\)/);
  });

  it("in every command that needs one, and for the second file of a comparison", async () => {
    const file = folder.write("limp.json", "heavy-straight.json", (d) => {
      Object.assign(d.corner.spring, { freeLengthMm: 20, preloadMm: 0, droopStop: null, bumpStop: { lengthMm: 0, rateNPerMm: 0.1 } });
    });
    for (const args of [
      ["analyze", file],
      ["rig", file, "--json"],
      ["arm", file],
      ["compare", FORKED, file, "--json"],
    ])
      expect(await refused(args, 2)).toMatch(/limp\.json: no steady position \((springOutOfReach|unstable|locks)\): \S/);
  });
});
