import { describe, expect, it } from "vitest";
import { buildBench, solveLoad } from "../../src/core/analyze.ts";
import { createFreePlay, type FreePlay, passTime, playChannels, playState, setTargets } from "../../src/motion/free-play.ts";
import { STEPS_PER_SECOND } from "../../src/motion/settings.ts";
import { pinGapMm } from "../../src/motion/world.ts";
import { expectAbs } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

function play(file = "heavy-forked.json"): FreePlay {
  const r = createFreePlay(shipped(file), { speedMps: 5, breaks: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.play;
}

function pass(p: FreePlay, seconds: number): void {
  for (let i = 0; i < seconds * 60; i++) passTime(p, 1 / 60);
}

describe("free play", () => {
  it("makes whole steps and keeps the rest of the time", () => {
    const p = play();
    let steps = 0;
    for (let i = 0; i < 600; i++) steps += passTime(p, 1 / 1000);
    expectAbs(steps, 0.6 * STEPS_PER_SECOND, 1, "steps in 0.6 s");
  });

  it("does not make up for a page that slept", () => {
    expect(passTime(play(), 60)).toBeLessThanOrEqual(0.1 * STEPS_PER_SECOND);
  });

  it("lifts a wheel with the road and settles on the static answer", () => {
    const p = play();
    setTargets(p, { road: [0, 5] });
    pass(p, 2);
    const solved = solveLoad(buildBench(shipped("heavy-forked.json")), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 5 });
    if (!solved.ok) throw new Error(solved.reason.message);
    expectAbs(playState(p).right.wheelCentre[1], solved.state.right.wheelCentre[1], 0.05, "height of the wheel, mm");
    expectAbs(playState(p).body.angleRad, solved.state.body.angleRad, 2e-4, "turn of the body, rad");
  });

  it("lets the body be pulled down and spring back when let go", () => {
    const p = play();
    const before = playState(p).body.heaveMm;
    setTargets(p, { body: { xMm: 0, zMm: shipped("heavy-forked.json").body.cgHeightMm + before - 6 } });
    pass(p, 1);
    const pulled = playState(p).body.heaveMm;
    expect(pulled).toBeLessThan(before - 3);
    setTargets(p, { body: null });
    pass(p, 1.5);
    expectAbs(playState(p).body.heaveMm, before, 0.05, "height after letting go, mm");
  });

  it("stays whole under wild hands: finite numbers, closed pins", () => {
    const p = play("worn-joints.json");
    for (let k = 0; k < 12; k++) {
      setTargets(p, {
        lateralG: k % 2 ? 1.5 : -1.5,
        road: [k % 3 ? 20 : -10, k % 2 ? 15 : -15],
        body: k % 4 ? { xMm: 30 * (k % 3), zMm: 120 - 10 * k } : null,
      });
      pass(p, 0.15);
      for (const v of playChannels(p)) expect(Number.isFinite(v)).toBe(true);
    }
    expect(pinGapMm(p.session.world)).toBeLessThan(1e-3);
  });
});
