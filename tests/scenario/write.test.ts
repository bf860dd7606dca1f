import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { arbScenario, randomScenario } from "../support/arbitrary-scenario.ts";
import { shipped } from "../support/shipped.ts";

const RUNS = 150;
const SEEDS = 2000;

function read(text: string): Scenario {
  const r = parseScenario(text, "x.json");
  if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
  return r.scenario;
}

/** The same data with the keys of every object in reverse. */
function reversed<T>(value: T): T {
  if (Array.isArray(value)) return value.map(reversed) as T;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([k, v]) => [k, reversed(v)]),
  ) as T;
}

describe("writing a scenario", () => {
  it("and reading it back gives the same scenario, for any car", () => {
    fc.assert(
      fc.property(arbScenario(), (s) => {
        expect(read(formatScenario(s))).toEqual(s);
      }),
      { numRuns: RUNS },
    );
  });

  it("does not depend on the order of the keys", () => {
    fc.assert(
      fc.property(arbScenario(), (s) => {
        expect(formatScenario(reversed(s))).toBe(formatScenario(s));
      }),
      { numRuns: RUNS },
    );
  });

  it("gives text that any JSON reader takes, with small objects on one line", () => {
    const text = formatScenario(shipped("heavy-forked.json"));
    expect(JSON.parse(text)).toEqual(shipped("heavy-forked.json"));
    expect(text).toContain('    "upperInner": { "sMm": 56, "zMm": 76 },\n');
    expect(text.endsWith("}\n")).toBe(true);
  });
});

describe("cars drawn at random", () => {
  const drawn = Array.from({ length: SEEDS }, (_, seed) => randomScenario(seed));

  it("are valid for every seed", () => {
    const refused = drawn.flatMap((s, seed) => {
      const r = parseScenario(s, `seed ${seed}`);
      return r.ok ? [] : r.problems.map((p) => p.message);
    });
    expect(refused).toEqual([]);
  });

  it("are the same for the same seed and differ between seeds", () => {
    expect(randomScenario(7)).toEqual(drawn[7]);
    expect(new Set(drawn.map((s) => JSON.stringify(s))).size).toBe(SEEDS);
  });

  it("show every layout, section, seat, retention and option", () => {
    const seen = (pick: (s: Scenario) => unknown): unknown[] => [...new Set(drawn.map(pick))].sort();
    expect(seen((s) => s.corner.lowerArm.layout)).toEqual(["A", "split", "straight", "twin"]);
    expect(seen((s) => s.corner.upperArm.section.shape)).toEqual(["I", "pinHoleBar", "rectangle", "round", "tube"]);
    expect(seen((s) => s.corner.spring.seat.on)).toEqual(["hub", "lowerArm", "upperArm"]);
    expect(seen((s) => s.corner.hub.retention.kind)).toEqual(["crossPin", "lip", "screwedRing"]);
    expect(seen((s) => s.corner.tyre.seat.kind)).toEqual(["glue", "sideDiscs", "stretchedBand"]);
    for (const yesOrNo of [
      (s: Scenario) => s.corner.joints.lowerOuter.clearanceMm === 0,
      (s: Scenario) => s.corner.spring.droopStop === null,
      (s: Scenario) => s.corner.tyre.crownRadiusMm === null,
      (s: Scenario) => s.corner.tyre.lateralNPerMm === null,
      (s: Scenario) => s.corner.lowerArm.pivotFreeAboutArm,
      (s: Scenario) => s.antiRollBar.rateNPerMm === 0,
      (s: Scenario) => s.body.otherRollStiffnessNmmPerDeg === 0,
      (s: Scenario) => Object.keys(s.right).length === 0,
      (s: Scenario) => typeof s.corner.upperArm.material === "string",
    ])
      expect(seen(yesOrNo)).toEqual([false, true]);
  });
});
