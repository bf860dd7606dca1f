import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { CAPS } from "../../src/scenario/caps.ts";
import { jsonFault } from "../../src/scenario/json-text.ts";
import { parseScenario, type ScenarioProblem } from "../../src/scenario/parse.ts";
import { nearest } from "../../src/scenario/words.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { shipped, shippedText } from "../support/shipped.ts";

/** The fields and words that a message holds besides what it repeats from the file; the longest list of allowed ones has some 200 letters. */
const OWN_WORDS = 500;

const CELL = "\u0001".repeat(CAPS.cellLetters);
const TOGETHER = Object.fromEntries(Array.from({ length: CAPS.together }, (_, i) => [`fit.outlines[40].points[${400 - i}].zMm`, -1 / 7]));

const data = () => JSON.parse(shippedText("heavy-forked.json")) as Record<string, unknown>;

function refused(input: unknown, name = "car.json"): { problems: ScenarioProblem[]; more: number } {
  const r = parseScenario(input, name);
  if (r.ok) throw new Error("was read");
  return r;
}

describe("what is told of a file stays short", () => {
  it("whatever the length of an unknown key, and without comparing it", () => {
    const key = "q".repeat(1_900_000);
    const { problems, more } = refused(JSON.stringify({ ...data(), [key]: 1 }));
    expect(problems.map((p) => p.path)).toEqual([`${"q".repeat(57)}...`]);
    expect(more).toBe(0);
    expect(problems[0]!.message.length).toBeLessThan(OWN_WORDS);
    expect(nearest(key, ["name"])).toBeUndefined();
    expect(nearest(`nam${"e".repeat(CAPS.wordLetters)}`, [`name${"e".repeat(CAPS.wordLetters)}`])).toBeUndefined();
  });

  it("whatever the number of unknown keys; the others are counted", () => {
    const many = Object.fromEntries(Array.from({ length: 150_000 }, (_, i) => [`k${i}`, 0]));
    const { problems, more } = refused(JSON.stringify({ ...data(), ...many }));
    expect(problems).toHaveLength(20);
    expect(more).toBe(149_980);
    expect(problems[0]!.message).toMatch(/^car\.json: k0 is not a known field; allowed \$schema, format, version, name, /);
  });

  it("whatever is wrong with how many entries of a list", () => {
    const outlines = Array.from({ length: 50 }, () => ({ name: 1, points: Array.from({ length: 500 }, () => ({ sMm: "far" })) }));
    const { problems, more } = refused({ ...data(), fit: { outlines } });
    expect(problems).toHaveLength(20);
    expect(more).toBe(50 + 2 * 50 * 500 - 20);
  });

  it("whatever the length of a value or of the file's name", () => {
    const { problems } = refused({ ...data(), name: "n".repeat(1_000_000) }, `${"d/".repeat(5000)}car.json`);
    expect(problems[0]!.message).toMatch(/^\.\.\.(?:\/|d\/).*car\.json: name is "n{57}\.\.\."; allowed a text of 1 to 120 letters\.$/);
    expect(problems[0]!.message.length).toBeLessThan(OWN_WORDS);
  });
});

describe("how much is read", () => {
  it("is a sentence beyond the bound, not a fault of the reader", () => {
    for (const letters of [CAPS.fileBytes + 1, 50_000_000]) {
      const { problems } = refused(`{"name": "${"a".repeat(letters)}"}`);
      expect(problems.map((p) => p.message)).toEqual(["car.json: it is larger than 5200 kB, more than a scenario can have."]);
    }
  });

  it("does not depend on the stack: a text of 50 million letters is scanned", () => {
    expect(jsonFault(`{"name": "${"a".repeat(50_000_000)}"}`)).toBeNull();
    expect(jsonFault(`{"name": "${"\\n".repeat(5_000_000)}`)?.message).toBe("a text without its closing quote");
  });

  it("is enough for the largest scenario that the schema allows", () => {
    const figure = -1000 / 7;
    const point = { sMm: figure, zMm: figure };
    const name = "\u0001".repeat(80);
    const largest: Scenario = {
      ...shipped("asymmetric.json"),
      name: "\u0001".repeat(120),
      teaches: "\u0001".repeat(500),
      fit: {
        mustHold: false,
        clearanceMm: 2.0000000000000004,
        outlines: Array.from({ length: 50 }, () => ({ name, points: Array.from({ length: 500 }, () => point), closed: false, bothSides: false })),
        keepOut: Array.from({ length: 50 }, () => ({ name, fromSMm: figure, toSMm: -figure, fromZMm: figure, toZMm: -figure, bothSides: false })),
        bumpTravelMm: 10,
        droopTravelMm: 10,
        alongRoadMm: -figure,
      },
      loadCases: Array.from({ length: 100 }, () => ({
        name,
        lateralG: figure / 1000,
        bumpLeftMm: figure / 3,
        bumpRightMm: figure / 3,
        throttle: -figure / 1000,
        brakeG: -figure / 1000,
      })),
      tracks: Array.from({ length: 100 }, () => ({ name, radiusM: -figure })),
      origins: Object.fromEntries(
        Array.from({ length: CAPS.origins }, (_, i) => [
          `fit.outlines[${40 + (i % 10)}].points[${400 - Math.floor(i / 10)}].sMm`,
          { how: "measured", plusMinus: -figure, date: "2026-11-26", note: "\u0001".repeat(120), together: TOGETHER },
        ]),
      ),
      bench: Array.from({ length: CAPS.benchTests }, () => ({
        kind: "heightByTilting",
        date: "2026-11-26",
        note: "\u0001".repeat(120),
        side: "right",
        setUp: Object.fromEntries(Array.from({ length: CAPS.benchSettings }, (_, i) => [`${"n".repeat(CAPS.wordLetters - 2)}${10 + i}`, CELL.repeat(2)])),
        units: Array.from({ length: CAPS.benchColumns }, () => CELL),
        rows: Array.from({ length: Math.floor(CAPS.benchCells / CAPS.benchTests / CAPS.benchColumns) }, () =>
          Array.from({ length: CAPS.benchColumns }, () => CELL),
        ),
      })),
      runs: Array.from({ length: CAPS.runs }, () => ({
        date: "2026-11-26",
        note: "\u0001".repeat(120),
        radiusM: -figure,
        hand: "right",
        pace: { by: "lap", seconds: -figure },
        grip: -figure / 100,
        bumpMm: -figure / 3,
        minutes: -figure,
        gave: Array.from({ length: 20 }, () => ({ limit: "hubRetention", side: "right", at: "lowerOuter" })),
        hub: { celsius: -figure },
        airCelsius: -figure / 3,
        taken: false,
      })),
    };
    const text = formatScenario(largest, "../scenarios/scenario.schema.json");
    expect(text.length).toBeGreaterThan(0.8 * CAPS.fileBytes);
    expect(text.length).toBeLessThan(CAPS.fileBytes);
    const read = parseScenario(text, "car.json");
    expect(read.ok && read.scenario).toEqual(largest);
    expect(2 * JSON.stringify(largest).length + 1000).toBeLessThan(CAPS.unpackedBytes);
  });
});

describe("letters that a terminal would act on", () => {
  const NASTY = "\u001b[31m\u009b2J\u0007\u202e\n\u2028";
  const SHOWN = "\\u001b[31m\\u009b2J\\u0007\\u202e\\u000a\\u2028";

  it.each<[string, unknown, string]>([
    ["a key", { [NASTY]: 1 }, `${SHOWN} is not a known field`],
    ["a value", { name: [], teaches: 4, format: NASTY }, `format is "${SHOWN}"`],
  ])("are written out from %s", (_, change, shown) => {
    const { problems } = refused({ ...data(), ...(change as object) });
    expect(problems.map((p) => p.message).join(" ")).toContain(shown);
  });

  it("are written out from a file's name, a doubled key and a strange letter", () => {
    expect(refused("x", NASTY).problems[0]!.message).toBe(`${SHOWN}: line 1, column 1: "x" where a value should stand.`);
    expect(refused(`{"\u009b": 1, "\u009b": 1}`).problems[0]!.message).toContain('"\\u009b" stands twice');
    expect(refused("\u009b").problems[0]!.message).toContain('"\\u009b" where a value');
  });
});

describe("a likely word", () => {
  it.each([
    ["radiusmm", ["massKg", "radiusMm"], "radiusMm"],
    ["rate", ["count", "rateNPerMm"], "rateNPerMm"],
    ["anlayze", ["arm", "analyze", "rig"], "analyze"],
    ["rgi", ["arm", "rig"], "rig"],
  ])("for %s is offered", (word, list, best) => {
    expect(nearest(word, list)).toBe(best);
  });

  it.each([
    ["foo", ["rig", "map", "arm"]],
    ["colour", ["massKg", "radiusMm"]],
    ["", ["rig"]],
    ["x", []],
  ])("for %j is not made up", (word, list) => {
    expect(nearest(word, list)).toBeUndefined();
  });
});
