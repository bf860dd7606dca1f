import { beforeAll, describe, expect, it } from "vitest";
import { channelAt } from "../../../src/motion/trace.ts";
import { handed, heroOf } from "../../../src/pages/motion/headline.ts";
import { kerbOver, momentAt, type Resting } from "../../../src/pages/motion/moment.ts";
import { paintMotion } from "../../../src/pages/motion/picture/sheet-picture.ts";
import { numbersOf } from "../../../src/pages/motion/run-fields.ts";
import { createRunPicture, type RunSheet } from "../../../src/pages/motion/run-picture.ts";
import { motionSlice } from "../../../src/pages/motion/state/slice.ts";
import { breakOf, causesOf, endOf, momentOf, type Recorded, roadAhead, shockOf, storyOf, tracksOf, worstWheel } from "../../../src/pages/motion/story.ts";
import { INITIAL_VIEW } from "../../../src/state/document.ts";
import { createScene } from "../../../src/view/scene.ts";
import { evenMeasure, scenarioFile } from "../../view/fixture.ts";
import { recordedOf, restingOf } from "./recorded.ts";

const scenario = scenarioFile("heavy-forked");
const HUB = { part: "hub lip", capacity: 85, unit: "N" };
const LIMIT_DEG = 8;
const SHEET: RunSheet = { size: { w: 1050, h: 450 }, show: INITIAL_VIEW.show, spare: false, keepClear: [], still: false };

let off: Recorded;
let whole: Recorded;
let rest: Resting;

beforeAll(() => {
  off = recordedOf(scenario, "singleBump", numbersOf(motionSlice.initial, "singleBump"));
  whole = recordedOf(scenario, "steeringStep", { lateralG: 0.3, speedMps: 6, holdS: 0.6 });
  rest = restingOf(scenario);
});

describe("a run in which a wheel comes off", () => {
  it("tells the bump before the loss, the loss by name with numbers, all in order of time", () => {
    const story = storyOf(off, worstWheel(off), HUB);
    const times = story.map((s) => s.timeS);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    const loud = story.filter((s) => s.loud);
    expect(loud[0]?.words).toMatch(/^right wheel came off: hub lip, \d+\u2009N, holds 85\u2009N$/);
    expect(story.findIndex((s) => s.words === "right wheel meets the bump")).toBeLessThan(story.indexOf(loud[0]!));
  });

  it("reads the road's shock from the run in which everything holds", () => {
    const shock = shockOf(off)!;
    expect(off.held).not.toBeNull();
    expect(shock.factor).toBe(off.held!.shockFactor);
    expect(shock.peakN / shock.steadyN).toBeCloseTo(shock.factor, 9);
    expect(shock.factor).toBeGreaterThan(1);
  });

  it("is shown first shortly after the loss", () => {
    const first = breakOf(off.trace)!;
    const at = momentOf(off, worstWheel(off));
    expect(at).toBeGreaterThan(first.timeS);
    expect(at).toBeLessThanOrEqual(Math.min(endOf(off), first.timeS + 0.1));
  });

  it("draws curves solid up to the loss, pale on from there, and marks the pull past its limit", () => {
    const model = tracksOf(off, "right", LIMIT_DEG, HUB, null);
    const pull = model.tracks.find((t) => t.key === "retentionN")!;
    expect(pull.solidToS).toBe(breakOf(off.trace)!.timeS);
    expect(pull.pale).not.toBeNull();
    expect(pull.peak?.past).toBe(true);
    expect(pull.peak!.v).toBeGreaterThan(HUB.capacity);
    expect(model.posts.map((p) => p.words)).toEqual(["bump", "right wheel off", "left wheel off"]);
    expect(model.posts.map((p) => p.loud)).toEqual([false, true, true]);
    expect(pull.paleFromS).toBe(pull.solidToS);
  });

  it("takes the wheel off the hub, outwards, and without its plumb line", () => {
    const first = breakOf(off.trace)!;
    const before = momentAt(off, rest, first.timeS - 0.02, false);
    const after = momentAt(off, rest, Math.min(endOf(off), first.timeS + 0.2), false);
    expect(before.wheelOff.right).toBe(false);
    expect(after.wheelOff.right).toBe(true);
    expect(after.drawn.state.right.wheelCentre[0]).toBeGreaterThan(before.drawn.state.right.wheelCentre[0]);
    const picture = createRunPicture()(off, rest, null, first.timeS + 0.05, SHEET);
    expect(picture.leaving.map((l) => l.side)).toEqual(["right"]);
    const painted = paintMotion(createScene(evenMeasure), picture);
    const keys = painted.marks.map((m) => m.key);
    expect(keys).toContain("wheel.right");
    expect(keys).toContain("leaving.right");
    expect(keys).not.toContain("lean.right");
    expect(painted.labels.find((l) => l.key === "off.right")?.lines.map((l) => l.text)[0]).toBe("right wheel came off");
  });

  it("keeps the tag on the sheet, at the bare hub, once the wheel has left it", () => {
    const painted = paintMotion(createScene(evenMeasure), createRunPicture()(off, rest, null, endOf(off), SHEET));
    for (const side of ["left", "right"]) {
      const tag = painted.labels.find((l) => l.key === `off.${side}`)!;
      expect(tag.x, side).toBeGreaterThanOrEqual(0);
      expect(tag.x + tag.w, side).toBeLessThanOrEqual(SHEET.size.w);
    }
  });

  it("shows the wheel simply off, at one place, to whoever wants no motion", () => {
    const first = breakOf(off.trace)!;
    const [a, b] = [first.timeS + 0.05, first.timeS + 0.3].map((t) => momentAt(off, rest, Math.min(endOf(off), t), true));
    expect(a!.drawn.state.right.wheelCentre).toEqual(b!.drawn.state.right.wheelCentre);
    expect(createRunPicture()(off, rest, null, first.timeS + 0.05, { ...SHEET, still: true }).leaving).toEqual([]);
  });

  it("offers the factor that its button says, and says so once the speed map has it", () => {
    const factor = handed(shockOf(off)!.factor);
    expect(heroOf(off, "right", HUB, 1).use).toEqual({ words: `Use ×${factor.toFixed(1)} on the speed map`, done: false });
    expect(heroOf(off, "right", HUB, factor).use?.done).toBe(true);
    expect(heroOf(null, "right", HUB, 1).use).toBeNull();
  });
});

describe("a run that holds", () => {
  it("has no second run, solid curves to its end, and the answer at rest beside them", () => {
    expect(whole.held).toBeNull();
    const model = tracksOf(whole, "right", LIMIT_DEG, HUB, null);
    for (const t of model.tracks) {
      expect(t.solidToS).toBe(endOf(whole));
      expect(t.pale).toBeNull();
      expect(t.steady).not.toBeNull();
    }
    expect(causesOf(whole)[0]?.words).toMatch(/^steered, 0\.30\u2009g to the left$/);
    expect(heroOf(whole, "right", HUB, 1).words).toContain("everything holds");
  });

  it("follows the wheel whose parts are used most, and its mirror image in the other curve", () => {
    const use = (side: "left" | "right"): number =>
      Math.max(...whole.trace.peaks.filter((p) => /\.use(Hub|Tyre|Joint|Arm|Buckling)$/.test(p.channel) && p.side === side).map((p) => p.value));
    const worst = worstWheel(whole);
    const other = worst === "left" ? "right" : "left";
    expect(use(worst)).toBeGreaterThanOrEqual(use(other));
    expect(worstWheel(recordedOf(scenario, "steeringStep", { lateralG: -0.3, speedMps: 6, holdS: 0.6 }))).toBe(other);
  });

  it("follows the recorded lean in the picture", () => {
    const t = 0.4;
    const moment = momentAt(whole, rest, t, false);
    expect(moment.drawn.report.right.camberDeg).toBeCloseTo(channelAt(whole.trace, "right.camberDeg", t), 9);
    // the drawn wheel leans as the report says; right wheel: top outwards is clockwise
    expect((-moment.drawn.state.right.wheelAngleRad * 180) / Math.PI).toBeCloseTo(moment.drawn.report.right.camberDeg, 1);
  });
});

describe("what comes along the road", () => {
  it("reaches the wheel when the trace says so", () => {
    const start = causesOf(off)[0]!.timeS;
    const speed = off.trace.params["speedMps"]! * 1000;
    const aheadMm = 50;
    const road = roadAhead(off.trace, "right", start);
    expect(road.heightMm(aheadMm)).toBeCloseTo(channelAt(off.trace, "right.roadMm", start + aheadMm / speed), 9);
    expect(road.heightMm(-20)).toBe(0);
  });

  it("brings a kerb up to the wheel and not through it", () => {
    const run = recordedOf(scenario, "kerbStrike", { angleDeg: 3, speedMps: 3 });
    const kerb = kerbOver(scenario, run.trace)!;
    const far = kerb(0)!;
    const met = kerb(causesOf(run)[0]!.timeS)!;
    expect(far.xMm).toBeGreaterThan(met.xMm);
    const edge = momentAt(run, rest, causesOf(run)[0]!.timeS, false).drawn.state.right.wheelCentre[0] + scenario.corner.wheel.treadWidthMm / 2;
    expect(Math.abs(met.xMm - edge)).toBeLessThan(4);
    expect(kerbOver(scenario, off.trace)).toBeNull();
  });
});
