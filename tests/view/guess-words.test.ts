import { describe, expect, it } from "vitest";
import { withOrigins } from "../../src/core/design/origins.ts";
import type { GuessEffect, GuessesReport } from "../../src/core/studies/guesses.ts";
import { knownTable } from "../../src/report/known.ts";
import { guessesTold, guessLines, restsWords } from "../../src/view/guess-words.ts";
import { originWords } from "../../src/view/origin-words.ts";
import { scenarioFile } from "./fixture.ts";

const car = scenarioFile("heavy-straight");
const out = (value: unknown, utilization: number | null, gives: "hubRetention" | "sliding" | "fit" = "hubRetention", distanceMm: number | null = null) => ({
  value,
  gives: utilization === null ? null : gives,
  utilization,
  distanceMm,
});
const effect = (path: string, amount: number | null, change: number | null, ...outcomes: GuessEffect["outcomes"]): GuessEffect => ({
  path,
  step: { amount, why: "why" },
  outcomes,
  change,
});
const report: GuessesReport = {
  count: 7,
  base: { gives: "hubRetention", utilization: 0.92, distanceMm: null },
  effects: [
    effect("corner.tyre.friction", 0.5, null, out(0.4, null), out(1.4, 0.95)),
    effect("corner.hub.retention.capacityN", 17, 0.23, out(68, 1.15), out(102, 0.767)),
    effect("body.axleShare", 0.03, 0.04, out(0.55, 0.88), out(0.61, 0.93, "sliding")),
    effect("body.cgHeightMm", 10, 0.02, out(80, 0.91), out(100, 0.94)),
    effect("corner.joints.lowerOuter.clearanceMm", 0.02, 1e-4, out(0.08, 0.92), out(0.12, 0.92)),
  ],
  unmoved: ["corner.lowerArm.layout", "corner.upperArm.layout"],
};

describe("which guesses matter, in words", () => {
  it("names three, each with its step and what it makes of what gives first", () => {
    const told = guessesTold(report, car.corner);
    expect(told.now).toBe("the hub lip at 92 %");
    expect(told.rows.map((r) => [r.name, r.step, r.effect])).toEqual([
      ["tyre, grip, side force over wheel load", "\u00b1 0.5", "with one of both the car does not stand"],
      ["wheel on its hub, straight pull that strips the lip", "\u00b1 17 N", "77 to 115 %"],
      ["body, share of the weight on this axle", "\u00b1 3 %", "88 to 93 %, then the wheels slide first"],
    ]);
    expect(told.rest).toBe("1 of the others hardly matters. 2 guesses were not tried otherwise: a shape, a kind, or nothing at all.");
    expect(guessLines(report, car.corner)).toHaveLength(5);
  });

  it("tells a distance in mm, and a material by what was changed of it", () => {
    const r: GuessesReport = {
      count: 1,
      base: { gives: "fit", utilization: 1, distanceMm: 2 },
      effects: [effect("corner.lowerArm.material", null, 1.5, out({ name: "abs" }, 2.5, "fit", -1.5), out({ name: "abs" }, 0.9, "fit", 2.1))],
      unmoved: [],
    };
    const told = guessesTold(r, car.corner);
    expect([told.now, told.rows[0]?.step, told.rows[0]?.effect, told.rest]).toEqual([
      "a tyre or an arm 2.0\u2009mm free",
      "stiffness and strength",
      "touches, 1.5\u2009mm deep at worst",
      "",
    ]);
  });

  it("says so where there are none, or where the car does not stand", () => {
    expect(restsWords(1)).toBe("rests on 1 guess");
    expect(guessLines({ count: 0, base: null, effects: [], unmoved: [] }, car.corner)).toEqual([
      "The answer rests on no guess. Every value is entered or measured.",
    ]);
    expect(guessLines({ count: 2, base: null, effects: [], unmoved: [] }, car.corner)[0]).toMatch(/^The answer rests on 2 guesses\. The car does not stand/);
  });
});

describe("how a value is known, in words", () => {
  it("tells the \u00b1 in the unit of its field, shares in per cent", () => {
    expect(originWords("corner.spring.rateNPerMm", undefined)).toBe("entered");
    expect(originWords("corner.spring.rateNPerMm", { how: "guess", plusMinus: 0.3, note: "soft and long" })).toBe("guess, \u00b1 0.3 N/mm: soft and long");
    expect(originWords("body.axleShare", { how: "measured", plusMinus: 0.01, date: "2026-11-20" })).toBe("measured on 2026-11-20, \u00b1 1 %");
  });

  it("stands in the report for each value that is not entered", () => {
    expect(knownTable(car)).toBe("");
    const s = withOrigins(car, { "body.axleShare": { how: "measured", date: "2026-11-20" }, "corner.spring.rateNPerMm": { how: "guess", note: "<soft>" } });
    const text = knownTable(s).replace(/<[^>]*>/g, " ");
    expect(text).toMatch(
      /spring, rate of one spring\s+2\.4 N\/mm\s+guess: &lt;soft&gt;[\s\S]+body, share of the weight on this axle\s+58 %\s+measured on 2026-11-20/,
    );
  });
});
