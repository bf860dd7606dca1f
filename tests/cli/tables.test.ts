import { describe, expect, it } from "vitest";
import { figures, num, signed, table } from "../../src/cli/table.ts";
import { scratchFolder, wheelstay } from "../support/cli.ts";

const FORKED = "scenarios/heavy-forked.json";
/** Columns of a wide terminal. */
const WIDE = 180;

async function textOf(...args: string[]): Promise<string> {
  const r = await wheelstay(args);
  expect(r.err).toBe("");
  expect(r.code).toBe(0);
  expect(r.out).not.toMatch(/NaN|undefined|Infinity|\[object/);
  for (const line of r.out.split("\n")) expect([...line].length).toBeLessThanOrEqual(WIDE);
  return r.out;
}

describe("what a person reads", () => {
  it("tells load, lean, causes, forces, what gives first and the cautions", async () => {
    const text = await textOf("analyze", FORKED);
    for (const part of [
      /Load: "cornering 0\.8 g" \(first load case of the file\): cornering 0\.80 g, left-hand curve, right wheel outside, level road/,
      /km\/h .* in a curve of 4\.0 m radius \("hairpin", first track of the file\)/,
      /WHAT GIVES FIRST\nHub pulls off, right wheel: hub lip, \d+ N, holds 85\.0 N, \d+ %\. That is past its limit\./,
      /^Weight: whole car 5\.00 kg, 58\.0 % of it on this axle, 2\.90 kg; 2\.20 kg of that on the springs \(sprung mass\)\.$/m,
      /^At rest it stands \d\.\d mm lower than built; pack the springs by \d\.\d mm to stand as drawn\.$/m,
      /lean \(camber\), °, \+ = top outwards +[-+]\d+\.\d\d +[-+]\d+\.\d\d\n/,
      /at rest on a level road[\s\S]*springs[\s\S]*together \(camber\)/,
      /body rolls \(roll\)/,
      /upper inner pin +\d/,
      /never for a vehicle that carries people/,
      /eye protection/,
      /licensed engineers/,
    ])
      expect(text).toMatch(part);
  });

  it("tells a touch of the body and what lies below the road in mm, as cautions", async () => {
    const folder = scratchFolder();
    const file = folder.write("big-wheels.json", "heavy-forked.json", (s) => {
      s.corner.wheel.radiusMm += 8;
      s.fit.keepOut.push({ name: "keel", fromSMm: -9, toSMm: 9, fromZMm: -12, toZMm: 0, bothSides: false });
    });
    const text = await textOf("analyze", file);
    folder.remove();
    expect(text).toMatch(/WHAT GIVES FIRST\nHub pulls off/);
    expect(text).toMatch(/\(clearance\), a caution only +right wheel: tyre touches body shell +touches, \d\.\d mm deep\n/);
    expect(text).toMatch(/\(ground clearance\), a caution only +right wheel: keel below the road +\d\.\d mm below the road\n/);
  });

  it("sorts the parts by size", async () => {
    const text = await textOf("analyze", FORKED);
    const block = text.slice(text.indexOf("at rest on a level road"), text.indexOf("small parts together")).split("\n").slice(1, -1);
    const size = block.map((l) => Math.max(...l.match(/[-+]?\d+\.\d{3}(?!\d)/g)!.map((v) => Math.abs(Number(v)))));
    expect(size.length).toBeGreaterThan(4);
    expect(size).toEqual([...size].sort((a, b) => b - a));
  });

  it("says where a load from the command line comes from", async () => {
    expect(await textOf("analyze", FORKED, "--lateral", "-0.4", "--bump-left", "2")).toMatch(
      /Load: \(from the command line\): cornering 0\.40 g, right-hand curve, left wheel outside, 2\.0 mm under the left wheel/,
    );
  });

  it.each([
    ["rig", /roll stiffness\), N·mm\/° +\d+/],
    ["kinematics", /Locks at \+\d+\.\d mm \(.*\) and at -\d+\.\d mm/],
    ["arm", /stiffness fore-aft, N\/mm +\d/],
  ])("%s has its table", async (command, line) => {
    expect(await textOf(command, FORKED)).toMatch(line);
  });

  it("kinematics tells both wheels of an uneven car apart", async () => {
    const uneven = await textOf("kinematics", "scenarios/asymmetric.json");
    expect(uneven).toContain("LEFT WHEEL: GEOMETRY");
    expect(uneven).toContain("RIGHT WHEEL: GEOMETRY");
    expect(await textOf("kinematics", FORKED)).toContain("BOTH WHEELS: GEOMETRY");
  });

  it("compare names both designs and what gives first in each", async () => {
    const text = await textOf("compare", FORKED, "scenarios/light-same-hub.json", "--lateral", "0.5");
    expect(text).toMatch(/^A: .*heavy-forked\.json\)\nB: .*light-same-hub\.json\)\n/);
    expect(text).toMatch(/WHAT GIVES FIRST\nA: .*\nB: .*\n/);
    expect(text).toMatch(/B - A/);
    // what differs has plain names, not the file's
    const apart = text.slice(text.indexOf("WHAT DIFFERS"), text.indexOf("CAUTIONS"));
    expect(apart).toMatch(/^body, share of the weight on this axle, % +58 +60$/m);
    expect(apart).not.toMatch(/Mm\b|NPer|corner\./);
  });
});

describe("--help", () => {
  it("lists the commands, and each its usage", async () => {
    const program = await textOf("--help");
    for (const c of ["analyze", "rig", "kinematics", "arm", "compare"]) expect(program).toMatch(new RegExp(`^ {2}${c} `, "m"));
    expect(await textOf("analyze", "--help")).toContain(
      "usage: npm run -s wheelstay -- analyze FILE [--lateral G] [--bump-left MM] [--bump-right MM] [--throttle SHARE] [--brake G] [--radius M] [--bands] [--json]",
    );
    expect(await textOf("rig", "-h")).toContain("usage: npm run -s wheelstay -- rig FILE [--json]");
    expect(await textOf("compare", "--help")).toContain(
      "usage: npm run -s wheelstay -- compare FILE FILE [--lateral G] [--throttle SHARE] [--brake G] [--samples N] [--seed N] [--jobs N] [--bands] [--json]",
    );
  });
});

describe("the table", () => {
  it("aligns its columns, counts letters and keeps headings across", () => {
    const text = table(["part", "° left", "N"], [["a heading that is far longer than all columns"], ["arm", "+1.5", "12"], ["spring at 45°", "-0.25", "3"]]);
    expect(text.split("\n")).toEqual([
      "part           ° left   N",
      "-------------------------",
      "a heading that is far longer than all columns",
      "arm              +1.5  12",
      "spring at 45°   -0.25   3",
    ]);
  });

  it("writes numbers without a sign on nothing", () => {
    expect(num(-0.0001, 2)).toBe("0.00");
    expect(signed(0.0001, 2)).toBe("0.00");
    expect(signed(1.234, 2)).toBe("+1.23");
    expect(num(Number.NEGATIVE_INFINITY, 2)).toBe("-endless");
  });

  it("keeps three figures", () => {
    expect([0, 0.001234, 0.1234, 1.234, 12.34, 123.4, 12340, -5.678].map(figures)).toEqual(["0", "0.00123", "0.123", "1.23", "12.3", "123", "12340", "-5.68"]);
  });
});
