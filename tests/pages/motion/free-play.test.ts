import { beforeEach, describe, expect, it } from "vitest";
import { channelIndex } from "../../../src/motion/channels.ts";
import { SAMPLES_PER_SECOND } from "../../../src/motion/settings.ts";
import { createFree, type Free } from "../../../src/pages/motion/free-play.ts";
import { motionApi } from "../../../src/worker/motion.ts";
import type { MotionClient } from "../../../src/worker/motion-client.ts";
import { scenarioFile } from "../../view/fixture.ts";

const FRAME_MS = 20;
const client: MotionClient = {
  run: () => {},
  watch: () => {},
  freeStart: (scenario, started) => void Promise.resolve().then(() => started(motionApi.freeStart(scenario))),
  freePass: (targets, seconds, passed) => void Promise.resolve().then(() => passed(motionApi.freePass(targets, seconds))),
  freeStop: () => {},
};
const answered = async (): Promise<void> => {
  for (let i = 0; i < 4; i++) await Promise.resolve();
};

let free: Free;
const now = (): number => free.hand.look?.timeS ?? 0;
const frames = async (count: number): Promise<boolean> => {
  let on = true;
  for (let i = 0; i < count; i++) {
    on = free.pass(FRAME_MS);
    await answered();
  }
  return on;
};

beforeEach(async () => {
  free = createFree(client, () => {});
  free.start(scenarioFile("heavy-forked"));
  await answered();
  expect(free.hand.fault).toBeNull();
});

describe("the clock of free play", () => {
  it("goes with the time that passes", async () => {
    await frames(5);
    expect(now()).toBeCloseTo((5 * FRAME_MS) / 1000, 3);
  });

  it("goes a tenth as fast in slow motion", async () => {
    free.setSlow(true);
    await frames(10);
    expect(now()).toBeCloseTo((10 * FRAME_MS) / 10_000, 3);
  });

  it("stands while it is halted, and goes on from there", async () => {
    await frames(3);
    const at = now();
    free.pause(true);
    free.aim({ road: [0, 6] });
    expect(await frames(5)).toBe(false);
    expect(now()).toBe(at);
    free.pause(false);
    await frames(5);
    expect(now()).toBeCloseTo(at + (5 * FRAME_MS) / 1000, 3);
    expect(free.hand.look?.state.load.bumpRightMm).toBeGreaterThan(0.5);
  });

  it("passes one sample by a step, and halts", async () => {
    await frames(3);
    const at = now();
    free.step();
    expect(await frames(4)).toBe(false);
    expect(free.hand.paused).toBe(true);
    expect(now()).toBeCloseTo(at + 1 / SAMPLES_PER_SECOND, 6);
  });

  it("makes up for steps that came while an answer was under way, and for frames lost to it", async () => {
    await frames(2);
    const at = now();
    free.step();
    free.pass(FRAME_MS);
    free.step();
    free.step();
    await answered();
    await frames(2);
    expect(now()).toBeCloseTo(at + 3 / SAMPLES_PER_SECOND, 6);
    free.pause(false);
    free.pass(FRAME_MS);
    free.pass(FRAME_MS);
    await answered();
    free.pass(FRAME_MS);
    await answered();
    expect(now()).toBeCloseTo(at + 3 / SAMPLES_PER_SECOND + (3 * FRAME_MS) / 1000, 3);
  });

  it("stops by itself once nothing moves any more, in slow motion too, and wakes for a hand", async () => {
    expect(await frames(80)).toBe(false);
    free.setSlow(true);
    expect(free.pass(FRAME_MS)).toBe(true);
    await answered();
    const at = now();
    free.aim({ road: [4, 0] });
    expect(await frames(30)).toBe(true);
    expect(now()).toBeGreaterThan(at);
  });

  it("starts anew at full flow", async () => {
    free.pause(true);
    free.start(scenarioFile("heavy-forked"));
    await answered();
    expect(free.hand.paused).toBe(false);
    expect(await frames(1)).toBe(true);
  });
});

describe("a hand on the body", () => {
  const lateral = (): number => free.hand.look!.channels[channelIndex("lateralMm")]!;
  it("pulls it sideways for as long as it holds", async () => {
    await frames(2);
    const z = free.hand.look!.state.body.cg[1];
    free.aim({ body: { xMm: 40, zMm: z } });
    await frames(10);
    expect(lateral()).toBeGreaterThan(0.05);
    expect(free.hand.targets.body).not.toBeNull();
  });

  it("lets go of a nudge by the axle's own clock", async () => {
    await frames(2);
    const z = free.hand.look!.state.body.cg[1];
    free.nudge({ xMm: 0, zMm: z - 10 });
    free.pause(true);
    await frames(40);
    expect(free.hand.targets.body).not.toBeNull();
    free.pause(false);
    await frames(15);
    expect(free.hand.look!.state.body.cg[1]).toBeLessThan(z);
    expect(free.hand.targets.body).not.toBeNull();
    await frames(10);
    expect(free.hand.targets.body).toBeNull();
  });
});
