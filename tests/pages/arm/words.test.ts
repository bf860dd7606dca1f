import { describe, expect, it } from "vitest";
import { analyzeBench, buildBench } from "../../../src/core/analyze.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { type ArmFacts, armFacts, bowLine, closeness } from "../../../src/pages/arm/picture/facts.ts";
import { armHero, armSentences, directionRows, leanShare, lessonEnd, shareSentence, stiffnessWords, times } from "../../../src/pages/arm/picture/words.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { scenarioFile } from "../../view/fixture.ts";

const LOAD = { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 };
function solved(s: Scenario) {
  const bench = buildBench(s);
  const analysis = analyzeBench(bench, LOAD, { bands: false });
  if (!analysis.ok) throw new Error(analysis.reason.message);
  return {
    report: analysis.report,
    state: analysis.state,
    lower: armFacts(bench, analysis.state, 0, "right", "lower"),
    upper: armFacts(bench, analysis.state, 0, "right", "upper"),
  };
}
const a = solved(scenarioFile("heavy-forked"));
const b = solved(scenarioFile("heavy-straight"));
const words = (list: readonly { text: string }[]): string => list.map((t) => t.text).join(" ");

describe("what an arm carries", () => {
  it("is what the limits of the whole car say of it", () => {
    const yields = a.report.limits.find((l) => l.name === "armYield" && l.wheel === "right")!;
    const rows = closeness(a.lower);
    expect(yields.part).toMatch(/^lower arm/);
    expectRel(rows[0]!.utilization, yields.utilization, 1e-12, "utilization");
    expect(rows.map((r) => r.name)).toEqual(["armYield", "armSet", "armBuckling"]);
    expectRel(rows[1]!.utilization, 2 * rows[0]!.utilization, 1e-12, "set against yield");
    const buckles = a.report.limits.find((l) => l.name === "armBuckling" && l.wheel === "right" && l.part.startsWith("lower"));
    if (buckles) expectRel(rows[2]!.utilization, buckles.utilization, 1e-9, "buckling");
  });

  it("is drawn with its bow times the factor, its ends on the straight line", () => {
    const line = bowLine(a.lower.under!.state, "right", 3);
    expectAbs(line[0]![1], 0, 1e-9, "inner end, mm");
    expectAbs(line[line.length - 1]![1], 0, 1e-9, "outer end, mm");
    const deepest = line.reduce((m, p) => (Math.abs(p[1]) > Math.abs(m) ? p[1] : m), 0);
    expectRel(deepest, 3 * a.lower.under!.state.bowMm, 1e-9, "bow, mm");
  });

  it("looks the same on the left side of a right-hand curve", () => {
    const bench = buildBench(scenarioFile("heavy-forked"));
    const other = analyzeBench(bench, { ...LOAD, lateralG: -0.8 }, { bands: false });
    if (!other.ok) throw new Error(other.reason.message);
    const left = bowLine(armFacts(bench, other.state, 0, "left", "lower").under!.state, "left", 1);
    bowLine(a.lower.under!.state, "right", 1).forEach((p, i) => {
      expectAbs(left[i]![0], p[0], 1e-5, "along, mm");
      expectAbs(left[i]![1], p[1], 1e-5, "up, mm");
    });
  });
});

describe("the reading of two arms", () => {
  it("puts the stiffer one on top of the big number, whichever it is", () => {
    const up = armHero(a.lower, b.lower);
    const down = armHero(b.lower, a.lower);
    const r = b.lower.stiffness.vertical / a.lower.stiffness.vertical;
    expect(r).toBeGreaterThan(1.5);
    expect(up.number).toBe(`${times(r)}×`);
    expect(down.number).toBe(up.number);
    expect(up.aside).toBe("B over A");
    expect(down.aside).toBe("A over B");
    expect(up.title).toBe("Straight arm, up and down");
    expect(armHero(a.lower, a.lower).number).toBe("1×");
  });

  it("tells three directions with the ratio on the side of the stiffer arm", () => {
    const rows = directionRows(a.lower, b.lower);
    expect(rows.map((r) => r.words)).toEqual(["Along the road", "Sideways", "Up and down"]);
    expect(rows[0]!.ratio).toMatch(/^A ×/);
    expect(rows[2]!.ratio).toMatch(/^B ×/);
    expect(directionRows(a.lower, null).map((r) => r.ratio)).toEqual(["–", "–", "–"]);
  });

  it("says the share of the lean that the budget by part gives it", () => {
    const share = leanShare(a.report, "right", "lower");
    const part = a.report.right.camberBudgetDeg.byPart;
    expectAbs(share.armDeg, part["left.lowerArm"] + part["right.lowerArm"], 1e-12, "share, °");
    const text = words(armSentences(a.lower, b.lower, share));
    expect(text).toContain(`${Math.round((100 * share.armDeg) / share.loadDeg)} % of the lean under load comes from here`);
    expect(text).toContain("B's straight arm");
  });

  it("holds the bend under the spring's push against the shift under the drive's, as the lesson does in the end", () => {
    // by hand: 120 N·mm at stall through 40:12 teeth at 0.88 on a wheel of 48 mm are 7.33 N; the lower joint, 20 of 44 mm below the wheel centre
    // and the upper joint 24 above, carries 24/44 of it
    expectRel(a.lower.drive.pushN, ((120 * (40 / 12) * 0.88) / 48) * (24 / 44), 1e-12, "N");
    // 27.9 N/mm of the frame in series with a pin of 2000, a hole of 1200 and a mount of 1500 N/mm
    expectRel(a.lower.drive.pushN / a.lower.drive.shiftMm, 1 / (1 / a.lower.stiffness.foreAft + 1 / 2000 + 1 / 1200 + 1 / 1500), 1e-9, "N/mm");
    expect(words(armSentences(a.lower, b.lower, null))).toMatch(
      /^The spring's 29\.\d\u2009N bend your fork by 2\.2\u2009mm; the drive's 4\.0\u2009N shift its end by 0\.15\u2009mm along the road\./,
    );
    const end = lessonEnd(a.lower, null, 6.56);
    expect(end).toMatch(/ 14 times as far while the wheel leans 6\.6°: it is weak up and down, so make it taller\.$/);
    expect(end.match(/[.]( |$)/g)).toHaveLength(1);
    expect(lessonEnd(a.upper, null, 6.56)).toContain("no spring pushes on it");
    const long = structuredClone(scenarioFile("heavy-forked"));
    Object.assign(long.corner.lowerArm, { stemShare: 0.9 });
    expect(lessonEnd(solved(long).lower, null, null)).toMatch(/it is weak along the road, so put the fork point farther out or the feet wider apart\.$/);
  });

  it("the invented fork is built as such arms are: several times stiffer along the road than up and down", () => {
    // common practice in the trade, no source
    expect(a.lower.stiffness.foreAft / a.lower.stiffness.vertical).toBeGreaterThan(4);
  });

  it("has words for an arm that helps, and for a load that leans nothing", () => {
    expect(shareSentence({ armDeg: -0.5, loadDeg: 4, totalDeg: 4 })).toBe("The bend of this arm takes 0.50° off the lean under load.");
    expect(shareSentence({ armDeg: 0.01, loadDeg: 0.02, totalDeg: 1 })).toContain("nothing to share out");
  });

  it("speaks of sideways for an arm without a spring, never of a number it has not", () => {
    expect(a.upper.arm3d.seatFraction).toBeNull();
    expect(stiffnessWords(a.upper.stiffness.vertical)).toBe("swings");
    expect(armHero(a.upper, b.upper).title).toContain("sideways");
    const text = words(armSentences(a.upper, b.upper, null));
    expect(text).not.toMatch(/NaN|Infinity/);
    expect(text).toContain("sideways");
  });

  it("has no reading of a load where the car finds no hold", () => {
    const bench = buildBench(scenarioFile("heavy-forked"));
    const f: ArmFacts = armFacts(bench, null, 0, "right", "lower");
    expect(f.under).toBeNull();
    expect(closeness(f)).toEqual([]);
  });
});
