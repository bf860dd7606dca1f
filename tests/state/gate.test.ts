import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { withDelta } from "../../src/state/delta.ts";
import { gate } from "../../src/state/gate.ts";
import { scenarioFile } from "../view/fixture.ts";

const load = { lateralG: 0.5, bumpLeftMm: 0, bumpRightMm: 0 };
const car = scenarioFile("heavy-forked");
const passes = (s: Scenario): boolean => gate({ a: s, b: car, load }) === null;

/** Paths of every value of a plain object that is none itself. */
function* leaves(value: unknown, path: string[] = []): Generator<string[]> {
  if (typeof value !== "object" || value === null || Array.isArray(value)) yield path;
  else for (const [key, inner] of Object.entries(value)) yield* leaves(inner, [...path, key]);
}

const changed = (path: string[], is: unknown): Scenario =>
  withDelta(
    car,
    path.reduceRight<Parameters<typeof withDelta>[1]>((delta, key) => ({ set: { [key]: delta as NonNullable<typeof delta> } }), { is }),
  );

describe("the gate, after a design that passed", () => {
  const paths = [...leaves(car)];

  it.each([
    ["no number", Number.NaN],
    ["far too large", 1e12],
    ["far too small", -1e12],
    ["a text", "12"],
    ["nothing", null],
    ["a list", [1]],
  ])("lets no value through that a file may not hold: %s", (_words, bad) => {
    for (const path of paths) {
      expect(passes(car)).toBe(true);
      const next = changed(path, bad);
      // the reader of files is the judge
      if (!parseScenario(next, "car").ok) expect(passes(next), path.join(".")).toBe(false);
    }
  });

  it("refuses a share of what is counted in whole numbers, and a field that is new", () => {
    for (const path of paths) {
      expect(passes(car)).toBe(true);
      const value = path.reduce<unknown>((v, key) => (v as Record<string, unknown>)[key], car);
      if (typeof value !== "number") continue;
      const next = changed(path, value + 0.001);
      if (!parseScenario(next, "car").ok) expect(passes(next), path.join(".")).toBe(false);
    }
    expect(passes(changed(["corner", "colour"], 3))).toBe(false);
  });

  it("lets a moved pin through, and what comes back", () => {
    expect(passes(car)).toBe(true);
    const moved = changed(["corner", "upperInner", "zMm"], car.corner.upperInner.zMm + 0.3);
    expect(passes(moved)).toBe(true);
    expect(passes(structuredClone(car))).toBe(true);
  });
});
