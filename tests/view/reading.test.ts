import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../src/core/arm/materials.ts";
import { SIDES } from "../../src/core/design/types.ts";
import { differences, leaves } from "../../src/view/differences.ts";
import { fixed, holes, signed, withUnit } from "../../src/view/format.ts";
import { compareRows, headline, limitRows, stairByMotion, stairByPart } from "../../src/view/reading.ts";
import { drawnAt, scenarioFile } from "./fixture.ts";

/** degrees; the budgets themselves add up to 1e-6 */
const SUM_TOL = 1e-6;
const a = drawnAt(scenarioFile("heavy-forked"), { lateralG: 0.8 });
const b = drawnAt(scenarioFile("heavy-straight"), { lateralG: 0.8 });

/** what the drive's hardest push does to A and to B */
const FULL = { a: { pushN: 7, wheelShiftMm: 0.6, axisTiltDeg: 0.4 }, b: { pushN: 7, wheelShiftMm: 1.5, axisTiltDeg: 1 } };

describe("the stair", () => {
  it.each(SIDES)("adds up to the lean of the %s wheel, told by part and by motion", (side) => {
    for (const stair of [stairByPart(a.report, side), stairByMotion(a.report, side)]) {
      expect(Math.abs(stair.total - a.report[side].camberDeg)).toBeLessThan(SUM_TOL);
      let at = 0;
      for (const s of stair.steps) {
        expect(s.from).toBeCloseTo(at, 9);
        at += s.deg;
        expect(at).toBeGreaterThanOrEqual(stair.low - 1e-12);
        expect(at).toBeLessThanOrEqual(stair.high + 1e-12);
      }
    }
  });

  it("starts at rest and ends with what is not assigned", () => {
    const keys = stairByPart(a.report, "right").steps.map((s) => s.key);
    expect(keys[0]).toBe("atRest");
    expect(keys.at(-1)).toBe("unassigned");
  });
});

describe("the reading", () => {
  it("heads with the outer wheel: right in a left-hand curve, left in a right-hand one", () => {
    expect(headline(a.report, 6).side).toBe("right");
    expect(headline(drawnAt(scenarioFile("heavy-forked"), { lateralG: -0.4 }).report, 6).side).toBe("left");
    expect(headline(a.report, 0.1).past).toBe(true);
    expect(headline(a.report, 45).past).toBe(false);
  });

  it("lists what gives by how close it is, cautions behind, each kind once", () => {
    const rows = limitRows(a.report, 6);
    const real = rows.filter((r) => !r.caution);
    expect(real[0]?.name).toBe(a.report.firstToGive.name);
    for (let i = 1; i < real.length; i++) expect(real[i]?.utilization).toBeLessThanOrEqual(real[i - 1]?.utilization ?? 0);
    expect(new Set(rows.map((r) => r.key)).size).toBe(rows.length);
    const firstCaution = rows.findIndex((r) => r.caution);
    if (firstCaution >= 0) expect(rows.slice(firstCaution).every((r) => r.caution)).toBe(true);
  });

  it("tells every number of B with its difference, and none where B has no answer", () => {
    const [lean] = compareRows(a.report, b.report, { radiusM: 6, a: 20, b: 22.5 }, FULL);
    expect(lean?.change).toBe(`${signed(b.report.right.camberDeg - a.report.right.camberDeg, 1)}°`);
    const alone = compareRows(a.report, null, { radiusM: 6, a: 20, b: null }, { ...FULL, b: null });
    expect(alone.every((r) => r.b === "–" && r.change === "–")).toBe(true);
  });

  it("charges each design for what it gives along the road, whatever the load", () => {
    const rows = compareRows(a.report, b.report, { radiusM: 6, a: 20, b: 22.5 }, FULL);
    const shift = rows.find((r) => r.what === "Shift at full push, mm");
    expect([shift?.a, shift?.b, shift?.change]).toEqual(["0.6", "1.5", "+0.9"]);
    expect(compareRows(a.report, b.report, { radiusM: 6, a: 20, b: 22.5 }, { a: null, b: null }).some((r) => /shift/i.test(r.what))).toBe(false);
  });
});

describe("a touch of the body", () => {
  // heavy-forked on wheels 8 mm larger: nearer to its shell by 8 mm all round
  const { corner } = a.scenario;
  const big = drawnAt({ ...a.scenario, corner: { ...corner, wheel: { ...corner.wheel, radiusMm: corner.wheel.radiusMm + 8 } } }, { lateralG: 0.8 });

  it("is told in mm, as a caution, on a narrow page too, and leads only where it must hold", () => {
    for (const most of [6, 3]) {
      const rows = limitRows(big.report, most);
      expect(rows).toHaveLength(most);
      expect(rows[0]!.name).toBe("hubRetention");
      const row = rows.find((r) => r.name === "fit")!;
      expect(row).toMatchObject({ words: "Tyre touches", where: "right, body shell", caution: true });
      expect(row.number).toMatch(/^\u2212\d+\.\d\u2009mm$/);
      expect(row.demand).toBe(`touches, ${row.number.slice(1)} deep`);
    }
    expect(limitRows(a.report, 3).some((r) => r.caution)).toBe(false);
  });
});

describe("differences", () => {
  it("list every parameter that two cars do not share, and none for the same car", () => {
    expect(differences(a.scenario, a.scenario)).toEqual([]);
    const other = { ...a.scenario, body: { ...a.scenario.body, cgHeightMm: a.scenario.body.cgHeightMm - 10 } };
    expect(differences(a.scenario, other).map((d) => d.path)).toEqual(["body.cgHeightMm"]);
    expect(differences(a.scenario, { ...a.scenario, name: "another" })).toEqual([]);
  });

  it("keep one line for a name against values of one's own", () => {
    const own = { ...a.scenario.corner.lowerArm, material: { ...resolveMaterial("pom"), name: "my mix" } };
    const [d] = differences(a.scenario, { ...a.scenario, corner: { ...a.scenario.corner, lowerArm: own } });
    expect(leaves(d!)).toEqual([d]);
    expect([d?.name, d?.aWords, d?.bWords]).toEqual(["lower arm, material", "ABS", "my mix"]);
  });

  it("tell names, choices and groups in plain words beside what the file says", () => {
    const { corner } = a.scenario;
    const other = {
      ...a.scenario,
      fit: { ...a.scenario.fit, outlines: a.scenario.fit.outlines.map((o, i) => (i === 0 ? { ...o, name: "hood" } : o)) },
      corner: {
        ...corner,
        lowerArm: { ...corner.lowerArm, layout: "straight" as const, stemShare: 0.5, section: { ...corner.lowerArm.section, heightMm: 7 } },
        spring: { ...corner.spring, droopStop: null },
      },
    };
    expect(differences(a.scenario, other).map((d) => `${d.name}: ${d.aWords} | ${d.bWords}`)).toEqual([
      "lower arm, shape: fork (one stem, two legs) | straight (one bar)",
      "lower arm, stem, share of the arm's length, %: 15 | 50",
      "lower arm, height of legs or bar, mm: 4.4 | 7",
      "spring, droop stop: pulls above 66.5 mm, stiffness 60 N/mm | none",
      "outline 1, name: body shell | hood",
    ]);
    expect(differences(a.scenario, other)[0]).toMatchObject({ path: "corner.lowerArm.layout", a: "split", b: "straight" });
  });
});

describe("numbers", () => {
  it("have a true minus, no sign at zero and a thin space before the unit", () => {
    expect(fixed(-1.26, 1)).toBe("−1.3");
    expect(fixed(-0.04, 1)).toBe("0.0");
    expect(signed(0.04, 1)).toBe("0.0");
    expect(signed(2.71, 1)).toBe("+2.7");
    expect(withUnit(22, 1, "N")).toBe("22.0\u2009N");
    expect(withUnit(7, 1, "°")).toBe("7.0°");
  });

  it("count holes in whole and half ones, else to a hundredth", () => {
    expect(holes(40, 8)).toBe("5");
    expect(holes(44, 8)).toBe("5.5");
    expect(holes(41, 8)).toBe("5.13");
  });
});
