import { describe, expect, it } from "vitest";
import { joinPath } from "../../src/core/design/field-path.ts";
import { merge } from "../../src/core/design/sides.ts";
import { parseScenario, type ScenarioProblem } from "../../src/scenario/parse.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { shipped } from "../support/shipped.ts";

type Steps = (string | number)[];

const base = shipped("heavy-forked.json");
const variants = {
  forked: base,
  asymmetric: shipped("asymmetric.json"),
  converging: shipped("converging-unequal.json"),
  twin: shipped("twin-tube-hub-spring.json"),
  pinned: shipped("heavy-cross-pinned.json"),
  ownMaterial: merge(base, {
    right: {
      upperArm: { material: { name: "mine", youngMPa: 2000, poisson: 0.3, yieldMPa: 40, densityKgPerM3: 1100, plastic: true, maxTempC: 80, source: "bench" } },
    },
  }),
  round: merge(base, { corner: { upperArm: { section: { shape: "round", diameterMm: 5 } } } }),
};

function withValue(root: unknown, path: Steps, value: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  const copy = (Array.isArray(root) ? [...root] : { ...(root as object) }) as Record<string | number, unknown>;
  if (value === undefined && rest.length === 0) delete copy[step];
  else copy[step] = withValue(copy[step], rest, value);
  return copy;
}

function numberPaths(value: unknown, path: Steps = []): Steps[] {
  if (typeof value === "number") return [path];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([k, v]) => numberPaths(v, [...path, Array.isArray(value) ? Number(k) : k]));
}

function problems(data: unknown): ScenarioProblem[] {
  const r = parseScenario(data, "car.json");
  return r.ok ? [] : r.problems;
}
const messages = (data: unknown): string[] => problems(data).map((p) => p.message);

describe("ranges", () => {
  it.each(Object.entries(variants))(
    "every number of the %s scenario is refused outside its range, with file, field, value and range in the message",
    (_, scenario) => {
      const paths = numberPaths(scenario).filter((p) => p[0] !== "version");
      expect(paths.length).toBeGreaterThan(80);
      for (const path of paths) {
        const field = joinPath(path);
        const range = rangeOf(path, scenario);
        expect(range, field).toBeDefined();
        const { min, max, unit, whole, nullable } = range!;
        const step = whole ? 1 : (max - min) / 1000;
        const u = unit === "" ? "" : ` ${unit}`;
        const allowed = `${whole ? "a whole number, " : ""}${min} to ${max}${u}${nullable ? ", or null" : ""}`;
        for (const value of [min - step, max + step])
          expect(messages(withValue(scenario, path, value)), field).toEqual([`car.json: ${field} is ${value}${u}; allowed ${allowed}.`]);
        for (const value of [min, max])
          expect(
            messages(withValue(scenario, path, value)).filter((m) => m.includes(`allowed ${allowed}`)),
            field,
          ).toEqual([]);
      }
    },
  );

  it("names the field, the value and the range as a builder would", () => {
    expect(messages(withValue(base, ["corner", "wheel", "radiusMm"], 480))).toEqual(["car.json: corner.wheel.radiusMm is 480 mm; allowed 15 to 150 mm."]);
  });

  it("has words for every number, and a default inside the range where there is one", () => {
    for (const scenario of Object.values(variants))
      for (const path of numberPaths(scenario).filter((p) => p[0] !== "version")) {
        const range = rangeOf(path, scenario)!;
        expect(range.description.length, joinPath(path)).toBeGreaterThan(2);
        if (range.default !== null) {
          expect(range.default, joinPath(path)).toBeGreaterThanOrEqual(range.min);
          expect(range.default, joinPath(path)).toBeLessThanOrEqual(range.max);
        }
      }
  });

  it("tells range, unit and default for a slider", () => {
    expect(rangeOf("corner.wheel.radiusMm")).toEqual({
      min: 15,
      max: 150,
      description: "outer radius of the unloaded tyre",
      unit: "mm",
      default: null,
      whole: false,
      nullable: false,
    });
    expect(rangeOf("right.joints.lowerOuter.clearanceMm")).toMatchObject({ min: 0, max: 2, unit: "mm" });
    expect(rangeOf("corner.joints.lowerOuter.clearanceMm")).toMatchObject({ default: 0.05 });
    expect(rangeOf("loadCases[1].lateralG")).toMatchObject({ min: -3, max: 3, unit: "g", default: 0 });
    expect(rangeOf("corner.tyre.effectiveWidthMm")).toMatchObject({ nullable: true, default: null });
    expect(rangeOf("corner.spring.count")).toMatchObject({ whole: true, default: 1 });
    expect(rangeOf("corner.hub.retention.pinDiameterMm")).toMatchObject({ unit: "mm" });
    expect(rangeOf("corner.wheel.colour")).toBeUndefined();
    expect(rangeOf("corner.upperArm.layout")).toBeUndefined();
  });
});

describe("what is refused", () => {
  it.each<[string, Steps, unknown, string]>([
    ["a misspelt key", ["corner", "wheel", "radiusmm"], 48, "car.json: corner.wheel.radiusmm is not a known field; the nearest allowed one is radiusMm."],
    ["a misspelt key at the top", ["boddy"], {}, "car.json: boddy is not a known field; the nearest allowed one is body."],
    [
      "a key of another section",
      ["corner", "upperArm", "section", "diameterMn"],
      4,
      "car.json: corner.upperArm.section.diameterMn is not a known field; allowed shape, widthMm, heightMm.",
    ],
    ["a misspelt key of a side", ["right", "tire"], {}, "car.json: right.tire is not a known field; the nearest allowed one is tyre."],
    ["a missing number", ["corner", "wheel", "massKg"], undefined, "car.json: corner.wheel.massKg is missing; allowed 0 to 30 kg."],
    ["a text for a number", ["body", "cgHeightMm"], "75", 'car.json: body.cgHeightMm is "75"; allowed 0 to 500 mm.'],
    ["null for a number", ["body", "cgHeightMm"], null, "car.json: body.cgHeightMm is null; allowed 0 to 500 mm."],
    ["no number", ["body", "cgHeightMm"], Number.NaN, "car.json: body.cgHeightMm is NaN mm; allowed 0 to 500 mm."],
    ["an endless number", ["body", "cgHeightMm"], Number.POSITIVE_INFINITY, "car.json: body.cgHeightMm is Infinity mm; allowed 0 to 500 mm."],
    ["half a spring", ["corner", "spring", "count"], 1.5, "car.json: corner.spring.count is 1.5; allowed a whole number, 1 to 4."],
    ["an unknown layout", ["corner", "upperArm", "layout"], "bent", 'car.json: corner.upperArm.layout is "bent"; allowed one of straight, split, A, twin.'],
    [
      "an unknown shape",
      ["corner", "upperArm", "section"],
      { shape: "square" },
      'car.json: corner.upperArm.section.shape is "square"; allowed one of rectangle, round, tube, I, pinHoleBar.',
    ],
    ["an unknown seat", ["corner", "spring", "seat", "on"], "floor", 'car.json: corner.spring.seat.on is "floor"; allowed one of lowerArm, upperArm, hub.'],
    ["a later version", ["version"], 3, "car.json: version is 3; allowed 2."],
    ["another format", ["format"], "other", 'car.json: format is "other"; allowed "wheelstay-scenario".'],
    ["a text for a switch", ["halfPitchAllowed"], "yes", 'car.json: halfPitchAllowed is "yes"; allowed true or false.'],
    ["a number for a list", ["tracks"], 4, "car.json: tracks is 4; allowed a list of 0 to 100 entries."],
    [
      "an outline of one point",
      ["fit", "outlines", 0, "points"],
      [{ sMm: 0, zMm: 0 }],
      "car.json: fit.outlines[0].points is a list; allowed a list of 2 to 500 entries.",
    ],
    ["an empty name", ["name"], "", 'car.json: name is ""; allowed a text of 1 to 120 letters.'],
    [
      "part of a choice on one side",
      ["right"],
      { upperArm: { section: { widthMm: 4 } } },
      "car.json: right.upperArm.section.shape is missing; allowed one of rectangle, round, tube, I, pinHoleBar.",
    ],
    [
      "part of an own material",
      ["left"],
      { upperArm: { material: { name: "mine", youngMPa: 1, poisson: 0, yieldMPa: 1, densityKgPerM3: 1, plastic: true, source: "" } } },
      "car.json: left.upperArm.material.maxTempC is missing; allowed 20 to 2000 °C.",
    ],
  ])("%s", (_, path, value, message) => {
    expect(messages(withValue(base, path, value))).toEqual([message]);
  });

  it("an unknown material, with the built-in ones in the message", () => {
    const [message, ...rest] = messages(withValue(base, ["corner", "lowerArm", "material"], "cheese"));
    expect(rest).toEqual([]);
    expect(message).toMatch(/^car\.json: corner\.lowerArm\.material is "cheese"; allowed one of abs, pom, .*, or an object with name, youngMPa/);
  });

  it("anything that is no object", () => {
    for (const data of [null, 3, [], undefined]) expect(messages(data)[0]).toMatch(/^car\.json: the scenario is .*; allowed an object with/);
  });

  it("every problem at once, not only the first", () => {
    const bad = withValue(withValue(withValue(base, ["corner", "wheel", "radiusMm"], 480), ["body", "cgHeightMm"], -1), ["nmae"], "x");
    expect(
      problems(bad)
        .map((p) => p.path)
        .sort(),
    ).toEqual(["body.cgHeightMm", "corner.wheel.radiusMm", "nmae"]);
  });

  it("values that do not go together, with the path of the side that is to blame", () => {
    expect(messages(withValue(base, ["corner", "wheel", "massKg"], 0.5))).toEqual([
      "car.json: corner.wheel.massKg is 0.5 kg; allowed up to the unsprung mass, which includes it, 0.35 kg.",
    ]);
    expect(problems(withValue(base, ["right"], { wheel: { massKg: 0.5 } })).map((p) => p.path)).toEqual(["right.wheel.massKg"]);
  });
});

describe("JSON text", () => {
  it.each([
    ['{\n  "a": 1,\n  "b": x\n}', 'car.json: line 3, column 8: "x" where a value should stand.'],
    ["{", "car.json: line 1, column 2: the end of the file where a name in double quotes should stand."],
    ['{\n"a" 1}', 'car.json: line 2, column 5: "1" where a colon should stand.'],
    ['{"a": [1 2]}', 'car.json: line 1, column 10: "2" where a comma or ] should stand.'],
    ['{"a": 1,\n}', 'car.json: line 2, column 1: "}" where a name in double quotes should stand.'],
    ['{"a": 1}\n// note', 'car.json: line 2, column 1: "/" after the end of the scenario.'],
    ['{"a": "no end}', "car.json: line 1, column 7: a text without its closing quote."],
    ['{"a": 1, "a": 2}', 'car.json: line 1, column 10: "a" stands twice.'],
    ['{"a": 1, "\\u0061": 2}', 'car.json: line 1, column 10: "a" stands twice.'],
    ['{"a": "\\q"}', "car.json: line 1, column 8: a \\ that begins no known sign."],
    ['{"a": "\t"}', 'car.json: line 1, column 8: "\\u0009" inside a text.'],
    ['{"a": "one\ntwo"}', "car.json: line 1, column 7: a text without its closing quote."],
    ['{"a": 01}', 'car.json: line 1, column 8: "1" where a comma or } should stand.'],
    ["", "car.json: line 1, column 1: the end of the file where a value should stand."],
    ["[".repeat(200), "car.json: line 1, column 102: nested too deep."],
  ])("a fault in %j is told with line and column", (text, message) => {
    expect(messages(text)).toEqual([message]);
  });

  it("may start with a byte order mark and name its schema", () => {
    const r = parseScenario(`\uFEFF${JSON.stringify({ $schema: "./scenario.schema.json", ...base })}`, "car.json");
    expect(r.ok && r.scenario).toEqual(base);
  });
});

describe("defaults", () => {
  it("fill in what may be left out, and nothing else may be", () => {
    const { corner, body } = base;
    const { joints: _j, ...bare } = corner;
    const r = parseScenario(
      {
        format: base.format,
        version: 2,
        name: "short",
        corner: bare,
        body: { carMassKg: body.carMassKg, axleShare: body.axleShare, cgHeightMm: body.cgHeightMm },
      },
      "car.json",
    );
    if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
    expect(r.scenario).toMatchObject({
      teaches: "",
      holePitchMm: 8,
      left: {},
      right: {},
      antiRollBar: { rateNPerMm: 0 },
      limits: { camberDeg: 4 },
      drive: { drivenWheels: 4 },
      fit: { clearanceMm: 2, outlines: [], keepOut: [] },
      loadCases: [],
      tracks: [],
      origins: {},
    });
    expect(r.scenario.corner.joints.lowerInner.clearanceMm).toBe(0.05);
    for (const path of [
      ["corner", "upperInner"],
      ["corner", "spring", "rateNPerMm"],
      ["corner", "wheel"],
      ["corner", "tyre", "verticalNPerMm"],
      ["body", "carMassKg"],
      ["body", "axleShare"],
      ["corner", "hub", "retention"],
    ])
      expect(problems(withValue(base, path, undefined)).map((p) => p.path)).toEqual([path.join(".")]);
  });

  it("are not filled in on a side that overrides something else", () => {
    const r = parseScenario(withValue(base, ["right"], { joints: { lowerOuter: { clearanceMm: 0.3 } }, spring: { bumpStop: { lengthMm: 51 } } }), "car.json");
    expect(r.ok && r.scenario.right).toEqual({ joints: { lowerOuter: { clearanceMm: 0.3 } }, spring: { bumpStop: { lengthMm: 51 } } });
  });
});
