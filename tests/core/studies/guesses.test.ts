import { describe, expect, it } from "vitest";
import { analyze } from "../../../src/core/analyze.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Load, Origin, Scenario } from "../../../src/core/design/types.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import { type GuessesReport, restsOn, weighGuesses } from "../../../src/core/studies/guesses.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const LOAD: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };

const weighed = (s: Scenario, load = LOAD): GuessesReport => toTheEnd(weighGuesses(s, load, { allowed: rangeOf }));
const guessed = (s: Scenario, paths: readonly string[], more: Partial<Origin> = {}): Scenario =>
  withOrigins(s, Object.fromEntries(paths.map((p) => [p, { how: "guess", ...more }])));

/** A value put into the file's text by hand, read again and solved: what the study must agree with. */
function again(s: Scenario, path: string, value: unknown): number | null {
  const data = JSON.parse(JSON.stringify({ ...s, origins: {} })) as Record<string, unknown>;
  const steps = path.split(/[.[\]]+/).filter((x) => x !== "");
  const holder = steps.slice(0, -1).reduce<Record<string, unknown>>((v, key) => v[key] as Record<string, unknown>, data);
  holder[steps.at(-1)!] = value;
  const r = parseScenario(JSON.stringify(data), "again");
  if (!r.ok) throw new Error(r.problems[0]?.message);
  const answer = analyze(r.scenario, LOAD);
  return answer.ok ? answer.report.firstToGive.utilization : null;
}

/** What a builder would guess of a car that lies on the table: what holds, what is stiff, what weighs. */
const GUESSES = [
  "corner.spring.rateNPerMm",
  "corner.hub.tiltStiffnessNmmPerDeg",
  "corner.hub.tiltPlayDeg",
  "corner.joints.lowerOuter.clearanceMm",
  "corner.joints.upperInner.holeNPerMm",
  "corner.lowerArm.material",
  "corner.tyre.friction",
  "corner.tyre.verticalNPerMm",
  "corner.upperInner.zMm",
  "body.cgHeightMm",
  "body.carMassKg",
];

describe("which guesses matter", () => {
  it.each(SHIPPED)("agrees with solving each again by itself: %s", (file) => {
    const s = shipped(file);
    const retention = Object.keys(s.corner.hub.retention).map((key) => `corner.hub.retention.${key}`);
    const r = weighed(guessed(s, [...GUESSES, ...retention]));
    const now = analyze(s, LOAD);
    expect(now.ok && now.report.firstToGive.utilization).toBe(r.base?.utilization);
    expect(r.count).toBe(GUESSES.length + retention.length);
    expect(r.effects.length + r.unmoved.length).toBe(r.count);
    expect(r.effects.length).toBeGreaterThan(GUESSES.length);
    for (const e of r.effects) {
      expect(e.outcomes.length).toBeGreaterThan(0);
      const moved = e.outcomes.map((o) => again(s, e.path, fileValue(o.value)));
      if (e.change === null) expect(moved, e.path).toContain(null);
      else {
        const change = Math.max(...moved.map((u) => Math.abs((u as number) - r.base!.utilization)));
        expect(Math.abs(change - e.change), e.path).toBeLessThanOrEqual(1e-3 * change + 1e-12);
      }
    }
    const sizes = r.effects.map((e) => e.change ?? Number.MAX_VALUE);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(sizes[0]).toBeGreaterThan(0.01);
  });

  /** a built-in material knows its shear modulus besides, which a file does not hold */
  const fileValue = (v: unknown): unknown => (typeof v === "object" && v !== null ? { ...v, shearMPa: undefined } : v);

  it("moves by the \u00b1 that is told: a lip that holds 85 N \u00b1 17 N is loaded 85/68 times as much at worst", () => {
    const s = shipped("heavy-straight.json");
    const r = weighed(guessed(s, ["corner.hub.retention.capacityN"], { plusMinus: 17 }));
    expect(r.base?.gives).toBe("hubRetention");
    // the pull itself does not hang on what the lip holds: load over 68 N against load over 85 N
    const u = r.base!.utilization;
    expect(r.effects[0]!.step.amount).toBe(17);
    expect(r.effects[0]!.change!).toBeCloseTo(u * (85 / 68 - 1), 9);
  });

  it("never leaves the range of a field: play of 0.1 mm \u00b1 0.5 mm is not below 0", () => {
    const r = weighed(guessed(shipped("heavy-straight.json"), ["corner.joints.lowerInner.clearanceMm"], { plusMinus: 0.5 }));
    expect(r.effects[0]!.outcomes.map((o) => o.value)).toEqual([0, 0.6]);
  });

  it("counts neither what is asked nor what both sides have of their own, and tells kinds and shapes apart", () => {
    const s = shipped("heavy-straight.json");
    const own = { ...s, left: { spring: { rateNPerMm: 3 } }, right: { spring: { rateNPerMm: 3.1 } } };
    const paths = ["corner.spring.rateNPerMm", "left.spring.rateNPerMm", "loadCases[0].lateralG", "tracks[0].radiusM", "corner.lowerArm.layout"];
    const g = guessed(own, paths);
    expect(restsOn(g)).toEqual(["left.spring.rateNPerMm", "corner.lowerArm.layout"]);
    const r = weighed(g);
    expect([r.count, r.effects.map((e) => e.path), r.unmoved]).toEqual([2, ["left.spring.rateNPerMm"], ["corner.lowerArm.layout"]]);
  });

  it("tells that a car does not stand with another value, before all else", () => {
    const s = shipped("heavy-straight.json");
    const r = weighed(guessed(s, ["body.cgHeightMm", "corner.tyre.friction"], { plusMinus: 0.85 * s.corner.tyre.friction }));
    expect(r.effects[0]).toMatchObject({ path: "corner.tyre.friction", change: null });
  });

  it("has nothing to tell of a car without guesses, or of one that does not stand", () => {
    const s = shipped("heavy-straight.json");
    expect(weighed(s)).toEqual({ count: 0, base: null, effects: [], unmoved: [] });
    expect(weighed(guessed(s, ["body.cgHeightMm"]), { ...LOAD, lateralG: 3 })).toEqual({ count: 1, base: null, effects: [], unmoved: [] });
  });
});
