import { describe, expect, it } from "vitest";
import { buildBench, solveLoad } from "../../src/core/analyze.ts";
import { createFreePlay, type FreePlay, passTime, playChannels, playState, setTargets } from "../../src/motion/free-play.ts";
import { STEPS_PER_SECOND } from "../../src/motion/settings.ts";
import { pinGapMm } from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
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

  // axle of 2.9 kg, 28.439285 N: half of it per mm; damping 2 · 0.7 sqrt(14219.6425 N/m · 2.9 kg) N·s/m
  it("pulls the body with half the axle's weight per mm, damped by 0.7, towards the hand from where it started", () => {
    const p = play();
    setTargets(p, { body: { xMm: 4, zMm: 90 } });
    const { hold } = p.session.input;
    expectRel(hold!.nPerMm, 14.2196425, 1e-8, "N/mm");
    expectRel(hold!.nsPerMm, 0.284298, 1e-5, "N·s/mm");
    // centre of gravity 92 mm up as built
    expectAbs(hold!.heaveMm!, -2, 1e-12, "mm");
    expectAbs(hold!.xMm!, p.startXMm + 4, 1e-12, "mm");
    expect([hold!.nmmPerRad, hold!.nmmsPerRad, hold!.angleRad]).toEqual([0, 0, undefined]);
    setTargets(p, { lateralG: 0.1 });
    expect(p.session.input.hold).toEqual(hold);
    setTargets(p, { body: null });
    expect(p.session.input.hold).toBeNull();
  });

  // in 0.01 s: 24 steps; 600 mm/s and 8 g/s at most
  it("follows the hand no faster than a road and a steering wheel may go, and no further than asked", () => {
    const p = play();
    setTargets(p, { lateralG: -1, road: [20, -2] });
    expect(passTime(p, 0.01)).toBe(24);
    expectAbs(p.session.input.steer, -0.08, 1e-9, "g");
    expectAbs(p.session.input.road[0], 6, 1e-9, "mm");
    expectAbs(p.session.input.road[1], -2, 1e-9, "mm");
    p.session.apart = true;
    expect(passTime(p, 0.01)).toBe(0);
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
