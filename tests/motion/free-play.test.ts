import { describe, expect, it } from "vitest";
import { buildBench, solveLoad } from "../../src/core/analyze.ts";
import { CHANNELS, channelIndex } from "../../src/motion/channels.ts";
import { createFreePlay, type FreePlay, passTime, playChannels, playLoose, playState, setTargets } from "../../src/motion/free-play.ts";
import { STEPS_PER_SECOND } from "../../src/motion/settings.ts";
import { freeTyre, freeWheel, pinGapMm, poseOf } from "../../src/motion/world.ts";
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
    for (let i = 0; i < 60; i++) steps += passTime(p, 1 / 1000);
    expectAbs(steps, 0.06 * STEPS_PER_SECOND, 1, "steps in 0.06 s");
  });

  it("keeps what is no whole step, down to a grain of rounding, and tells the arms when it has made one", () => {
    const p = play();
    const { h } = p.session.s;
    expect([p.leftS, p.targets, p.startXMm]).toEqual([0, { lateralG: 0, road: [0, 0], body: null }, p.session.s.q[p.session.m.x]]);
    const told = (): number[] => p.session.arms.flat().map((w) => w.toldAtS);
    expect([passTime(p, 0.4 * h), ...told()]).toEqual([0, ...new Array<number>(4).fill(Number.NEGATIVE_INFINITY)]);
    expect(passTime(p, 0.6 * h * (1 - 1e-12))).toBe(1);
    expectAbs(p.leftS, 0, 1e-9, "s");
    expect(told()).toEqual([h, h, h, h]);
    expect(passTime(p, 2.5 * h)).toBe(2);
    expectRel(p.leftS, 0.5 * h, 1e-6, "s");
    expectRel(p.session.timeS, 3 * h, 1e-12, "s");
  });

  it("does not make up for a page that slept", () => {
    const p = play();
    p.leftS = 0.09;
    expect(passTime(p, 60)).toBe(240);
    expectAbs(p.leftS, 0, 1e-9, "s");
  });

  it("stops with the step in which the axle comes apart", () => {
    const s = structuredClone(shipped("heavy-forked.json"));
    s.corner.joints.lowerOuter.pullOutN = 0.5;
    const r = createFreePlay(s);
    if (!r.ok) throw new Error(r.reason.message);
    passTime(r.play, 0.01);
    expect([r.play.session.apart, r.play.session.s.steps]).toEqual([true, 1]);
  });

  it("shows the moment, and what flies loose from the body's own place", () => {
    const p = play();
    const { s, world, m } = p.session;
    s.q[m.x] = 5;
    s.q[0] = 3;
    const channels = playChannels(p);
    expect(channels).toHaveLength(CHANNELS.length);
    expect([channels[channelIndex("lateralMm")], channels[channelIndex("heaveMm")], playState(p).body.heaveMm]).toEqual([5, 3, 3]);
    expect(playLoose(p)).toEqual([]);
    freeWheel(world, 1, 18, 48);
    freeTyre(world, 0, 0.1, 18, 48, 0.5);
    const [wheel, tyre] = [poseOf(world.wheels[1]), poseOf(world.wheels[0])];
    expect(playLoose(p)).toEqual([
      { kind: "wheel", side: "right", pose: { ...wheel, x: wheel.x - 5 } },
      { kind: "tyre", side: "left", pose: { ...tyre, x: tyre.x - 5 } },
    ]);
  });

  it("says why an axle has no rest", () => {
    const s = structuredClone(shipped("heavy-straight.json"));
    s.body.carMassKg = 5000;
    const r = createFreePlay(s);
    expect(r.ok ? "" : r.reason.message).toMatch(/spring/);
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
    setTargets(p, { lateralG: 1, road: [-20, 20] });
    expect(passTime(p, 0.01)).toBe(24);
    expectAbs(p.session.input.steer, 0, 1e-9, "g");
    expectAbs(p.session.input.road[0], 0, 1e-9, "mm");
    expectAbs(p.session.input.road[1], 4, 1e-9, "mm");
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
