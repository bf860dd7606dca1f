import { describe, expect, it } from "vitest";
import { CAPS } from "../../src/scenario/caps.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { shippedText } from "../support/shipped.ts";

type Data = Record<string, unknown>;
const data = (more: Data): Data => ({ ...(JSON.parse(shippedText("heavy-straight.json")) as Data), ...more });
const told = (origins: unknown): string[] => {
  const r = parseScenario(data({ origins }), "car.json");
  return r.ok ? [] : r.problems.map((p) => p.message);
};
const RATE = "corner.spring.rateNPerMm";

describe("a file of version 1", () => {
  it("is read with all its values entered, and written as version 2", () => {
    const { origins: _, ...old } = data({ version: 1 });
    const r = parseScenario(JSON.stringify(old), "old.json");
    if (!r.ok) throw new Error(r.problems[0]?.message);
    expect([r.scenario.version, r.scenario.origins]).toEqual([2, {}]);
    expect(formatScenario(r.scenario, "./scenario.schema.json")).toBe(shippedText("heavy-straight.json"));
  });
});

describe("how values are known", () => {
  it("is read and written beside the values", () => {
    const origins = {
      [RATE]: { how: "measured", plusMinus: 0.05, date: "2026-11-20", note: "with weights" },
      "corner.lowerArm.material": { how: "guess" },
      "tracks[1].radiusM": { how: "guess", plusMinus: 0.5 },
    };
    const r = parseScenario(data({ origins }), "car.json");
    if (!r.ok) throw new Error(r.problems[0]?.message);
    expect(r.scenario.origins).toEqual(origins);
    const again = parseScenario(formatScenario(r.scenario), "car.json");
    expect(again.ok && again.scenario).toEqual(r.scenario);
  });

  it.each<[string, unknown, string]>([
    [
      "a path of no field, with the nearest",
      { "corner.spring.rateNPerM": { how: "guess" } },
      `origins tells of corner.spring.rateNPerM, which is no value of this design; the nearest one is ${RATE}.`,
    ],
    ["a group", { "corner.spring": { how: "guess" } }, "origins tells of corner.spring, which is no value of this design."],
    [
      "a side that has no such value",
      { "left.spring.rateNPerMm": { how: "guess" } },
      "origins tells of left.spring.rateNPerMm, which is no value of this design.",
    ],
    ["what every object has", { constructor: { how: "guess" } }, "origins tells of constructor, which is no value of this design."],
    ["a ± below 0", { [RATE]: { how: "guess", plusMinus: -1 } }, `origins.${RATE}.plusMinus is -1; allowed 0 to 1000000.`],
    ["a ± wider than the field", { [RATE]: { how: "guess", plusMinus: 500 } }, `the ± of ${RATE} is 500 N/mm; allowed 0 to 199.95 N/mm.`],
    [
      "a ± of a word",
      { "corner.lowerArm.layout": { how: "guess", plusMinus: 1 } },
      "the ± of corner.lowerArm.layout is 1; allowed none, since it is no number.",
    ],
    ["a day that is none", { [RATE]: { how: "measured", date: "2026-02-30" } }, `the date of ${RATE} is "2026-02-30"; allowed a day as 2026-11-26.`],
    ["another way to know", { [RATE]: { how: "hoped" } }, `origins.${RATE}.how is "hoped"; allowed one of guess, entered, measured.`],
    ["an unknown word", { [RATE]: { how: "guess", sure: true } }, `origins.${RATE}.sure is not a known field; allowed how, plusMinus, date, note, together.`],
    ["a list", [], "origins is a list; allowed an object with the paths of fields."],
  ])("is refused in a sentence: %s", (_, origins, message) => {
    expect(told(origins)).toEqual([`car.json: ${message}`]);
  });

  it("is told of so many values at most, in so many letters", () => {
    const many = Object.fromEntries(Array.from({ length: CAPS.origins + 1 }, (_, i) => [`tracks[${i}].radiusM`, { how: "guess" }]));
    expect(told(many)).toEqual(["car.json: origins tells of 801 values; allowed up to 800 values."]);
    expect(told({ [RATE]: { how: "guess", note: "n".repeat(121) } })[0]).toMatch(/allowed a text of up to 120 letters\.$/);
    expect(told({ ["x".repeat(81)]: { how: "guess" } })).toHaveLength(1);
    const own = '{"__proto__": {"how": "guess"}}';
    expect(told(JSON.parse(own))).toHaveLength(1);
  });
});
