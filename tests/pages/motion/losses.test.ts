import { beforeAll, describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import type { MotionEvent } from "../../../src/motion/session.ts";
import { channelAt, column } from "../../../src/motion/trace.ts";
import { momentAt, type Resting } from "../../../src/pages/motion/moment.ts";
import {
  clearOfBody,
  eventWords,
  looseKind,
  lossesOf,
  lossPosts,
  lossSentence,
  lostAt,
  postWords,
  tagLines,
} from "../../../src/pages/motion/picture/losses.ts";
import { paintMotion } from "../../../src/pages/motion/picture/sheet-picture.ts";
import { createRunPicture, type RunSheet } from "../../../src/pages/motion/run-picture.ts";
import { breakOf, endOf, heroWords, momentOf, type Recorded, storyOf, tracksOf } from "../../../src/pages/motion/story.ts";
import { INITIAL_VIEW } from "../../../src/state/document.ts";
import { createScene } from "../../../src/view/scene.ts";
import { evenMeasure } from "../../view/fixture.ts";
import { recordedOf, restingOf, weakBands } from "./recorded.ts";

const SHEET: RunSheet = { size: { w: 1050, h: 450 }, show: INITIAL_VIEW.show, spare: false, keepClear: [], still: false };
const HUB = { part: "cross-pin", capacity: 247, unit: "N" };
let scenario: Scenario;
let run: Recorded;
let rest: Resting;
let first: MotionEvent;

beforeAll(() => {
  scenario = weakBands();
  run = recordedOf(scenario, "steeringStep", {});
  rest = restingOf(scenario);
  first = breakOf(run.trace)!;
});

describe("a run in which the tyres leave their rims", () => {
  it("names each loss, its numbers and its moment, in the list and on the curves", () => {
    expect(lossesOf(run.trace.events).map(looseKind)).toEqual(["tyre", "tyre"]);
    expect(first.side).toBe("right");
    const loud = storyOf(run, "right", HUB).filter((s) => s.loud);
    expect(loud.map((l) => l.words)).toEqual([
      expect.stringMatching(/^right tyre came off its rim, 9\.8\u2009N, holds 9\.8\u2009N$/),
      expect.stringMatching(/^left tyre came off its rim, 9\.8\u2009N, holds 9\.8\u2009N$/),
    ]);
    const posts = tracksOf(run, "right", 8, HUB, null).posts.filter((p) => p.loud);
    expect(posts.map((p) => p.words)).toEqual(["right tyre off", "left tyre off"]);
    expect(posts[0]!.t).toBe(first.timeS);
    expect(heroWords(run, "right", HUB)).toMatch(/^Held steady in this, the right tyre .* its rim: .* sideways\. The right tyre came off its rim at 0\.\d\d s/);
  });

  it("is shown first with the tyre just off", () => {
    const at = momentOf(run, "right");
    expect(at).toBeGreaterThan(first.timeS);
    expect(momentAt(run, rest, at, false).looseTyres.map((l) => l.side)).toEqual(["right"]);
  });

  it("draws on: the bare rim solid to the end, and from the loss on pale what would have been", () => {
    for (const t of tracksOf(run, "right", 8, HUB, null).tracks) {
      expect(t.solidToS).toBe(endOf(run));
      expect(t.paleFromS).toBe(first.timeS);
      expect(t.pale).not.toBeNull();
    }
  });

  it("lets the tyre fall over outwards until it lies flat on the road, clear of the car", () => {
    const { radiusMm, treadWidthMm } = rest.corners.right.wheel;
    const tyreAt = (t: number) => momentAt(run, rest, t, false).looseTyres.find((l) => l.side === "right")!.pose;
    const start = tyreAt(first.timeS + 0.01);
    const later = tyreAt(first.timeS + 0.15);
    const end = tyreAt(endOf(run));
    expect(start.z).toBeCloseTo(radiusMm, -1);
    expect(later.x).toBeGreaterThan(start.x + 20);
    // outwards on the right is clockwise
    expect(later.angle).toBeLessThan(start.angle);
    expect(Math.abs(end.angle)).toBeGreaterThan(1.4);
    expect(end.z).toBeCloseTo(treadWidthMm / 2, 0);
    // the body slides on to the right and would run it over
    expect(channelAt(run.trace, "lateralMm", endOf(run)) - channelAt(run.trace, "lateralMm", first.timeS)).toBeGreaterThan(100);
    expect(end.x - radiusMm).toBeGreaterThan(momentAt(run, rest, endOf(run), false).drawn.state.right.wheelCentre[0]);
  });

  it("runs on with the bare rim on the road: the wheel's centre drops by the height of the tyre and is borne again", () => {
    const before = momentAt(run, rest, first.timeS - 0.01, false).drawn.state.right.wheelCentre[1];
    const centres = [0.2, 0.3, 0.4, 0.5].map((dt) => momentAt(run, rest, first.timeS + dt, false).drawn.state.right.wheelCentre[1]);
    const lowest = 0.65 * rest.corners.right.wheel.radiusMm;
    for (const z of centres) {
      expect(z).toBeLessThan(before - 5);
      expect(z).toBeGreaterThan(lowest);
    }
    const load = column(run.trace, "right.verticalN");
    const after = Array.from(run.trace.timeS).flatMap((t, i) => (t > first.timeS + 0.2 ? [load[i]!] : []));
    const mean = after.reduce((a, b) => a + b, 0) / after.length;
    expect(mean).toBeGreaterThan(5);
  });

  it("paints the tyre away from its rim, the rim bare, an arrow at the tyre and a tag at it", () => {
    const at = first.timeS + 0.05;
    const painted = paintMotion(createScene(evenMeasure), createRunPicture()(run, rest, null, at, SHEET));
    const mark = (key: string) => painted.marks.find((m) => m.key === key);
    const rubber = (key: string) => mark(key)!.prims.filter((p) => p.kind === "poly" && p.fill === "tyre");
    expect(rubber("looseTyre.right").length).toBeGreaterThanOrEqual(2);
    expect(rubber("wheel.right")).toEqual([]);
    expect(rubber("wheel.left").length).toBeGreaterThanOrEqual(2);
    expect(mark("wash.right")).toBeUndefined();
    expect(mark("leaving.right")).toBeDefined();
    const tag = painted.labels.find((l) => l.key === "off.right")!;
    expect(tag.lines.map((l) => l.text)).toEqual([
      "right tyre came off",
      "tyre on its rim, 9.8\u2009N, holds 9.8\u2009N",
      `${first.timeS.toFixed(2)}\u2009s, at 21.6\u2009km/h`,
    ]);
  });

  it("tags the newest loss of each side, and on a narrow sheet the newest of all alone", () => {
    const picture = createRunPicture();
    const tags = (spare: boolean) =>
      paintMotion(createScene(evenMeasure), picture(run, rest, null, endOf(run), { ...SHEET, spare })).labels.filter((l) => l.look === "gives");
    expect(
      tags(false)
        .map((l) => l.key)
        .sort(),
    ).toEqual(["off.left", "off.right"]);
    expect(tags(true).map((l) => l.key)).toEqual(["off.left"]);
  });

  it("stands the tyre beside its rim, at one place and without an arrow, for whoever wants no motion", () => {
    const [a, b] = [first.timeS + 0.02, endOf(run)].map((t) => momentAt(run, rest, t, true).looseTyres.find((l) => l.side === "right")!.pose);
    expect(a).toEqual(b);
    expect(a!.x).toBeGreaterThan(rest.corners.right.wheelCentre.sMm);
    expect(createRunPicture()(run, rest, null, first.timeS + 0.02, { ...SHEET, still: true }).leaving).toEqual([]);
  });
});

describe("the words of a loss", () => {
  const event = (over: Partial<MotionEvent>): MotionEvent => ({
    timeS: 0.5,
    kind: "comesOff",
    side: "left",
    limit: "tyreOffRim",
    part: "tyre on its rim",
    demand: 12.34,
    capacity: 12,
    unit: "N",
    message: "as told",
    ...over,
  });
  it("tell a band that lifted off its rim from one that was pushed off", () => {
    const spun = event({ demand: 0, capacity: 0 });
    expect(eventWords(spun)).toBe("left tyre came off its rim, its band holds nothing at this speed");
    expect(lossSentence(spun)).toBe("The left tyre came off its rim at 0.50 s: its band holds nothing at this speed.");
    expect(lossSentence(event({}))).toBe("as told");
  });
  it.each([
    [{}, "left tyre off", "left tyre came off"],
    [{ limit: "hubRetention", part: "hub lip" }, "left wheel off", "left wheel came off"],
    [{ kind: "comesApart", limit: "armYield", part: "lower arm, at the spring seat" }, "left arm breaks", "left lower arm broke"],
    [{ kind: "comesApart", limit: "armBuckling", part: "upper arm" }, "left arm buckles", "left upper arm buckled"],
    [{ kind: "comesApart", limit: "jointPullOut", part: "lower inner pin" }, "left joint parts", "left lower inner pin came apart"],
    [{ kind: "comesApart", limit: "jointPullOut", part: "lower inner pin", demand: 5 }, "left side gives way", "left suspension gave way"],
  ] as const)("%o: %s, %s", (over, post, tag) => {
    expect(postWords(event(over))).toBe(post);
    expect(tagLines(event(over), 20)[0]).toBe(tag);
  });
  it("stand on the curves once where both sides lose the same at once", () => {
    const both = [event({}), event({ side: "right", timeS: 0.5004 })];
    expect(lossPosts(both)).toEqual([{ t: 0.5, words: "both tyres off" }]);
    expect(lossPosts([both[0]!, event({ side: "right", timeS: 0.6 })]).map((p) => p.words)).toEqual(["left tyre off", "right tyre off"]);
    expect(lossPosts([both[0]!, event({ limit: "hubRetention", timeS: 0.5 })]).map((p) => p.words)).toEqual(["left tyre off", "left wheel off"]);
  });
  it("find when a part was lost, on its own side alone", () => {
    expect(lostAt([event({})], "left", "tyre")).toBe(0.5);
    expect(lostAt([event({})], "left", "wheel")).toBeNull();
    expect(lostAt([event({})], "right", "tyre")).toBeNull();
  });
});

describe("a part that the body would run over", () => {
  it("is seen from the road, and from the body where that leaves it further out", () => {
    expect(clearOfBody("right", 100, 50)).toBe(150);
    expect(clearOfBody("right", 100, -50)).toBe(100);
    expect(clearOfBody("left", -100, -50)).toBe(-150);
    expect(clearOfBody("left", -100, 50)).toBe(-100);
  });
});
