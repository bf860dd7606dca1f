import { describe, expect, it } from "vitest";
import { keyedTo, newPlayer, parkedAt, passed, paused, played, sought, stepped } from "../../../src/pages/motion/picture/player.ts";

const PER_SECOND = 240;
const TINY_S = 1e-9;

describe("the playhead", () => {
  it("moves with the clock, a tenth as fast in slow motion, and stands still at the end", () => {
    const fast = played(newPlayer(1, false));
    expect(passed(fast, 50).timeS).toBeCloseTo(0.05, 9);
    const slow = played(newPlayer(1, true));
    expect(passed(slow, 50).timeS).toBeCloseTo(0.005, 9);
    const end = passed({ ...fast, timeS: 0.99 }, 50);
    expect(end).toMatchObject({ timeS: 1, playing: false });
  });

  it("is the same object while nothing plays", () => {
    const p = newPlayer(1, true);
    expect(passed(p, 16)).toBe(p);
  });

  it("does not make up for a page that slept", () => {
    expect(passed(played(newPlayer(10, false)), 5000).timeS).toBeLessThanOrEqual(0.1 + TINY_S);
  });

  it("begins at the start from the end and from where it was parked, else where it stands", () => {
    expect(played(sought(newPlayer(1, true), 1)).timeS).toBe(0);
    expect(played(parkedAt(newPlayer(1, true), 0.4)).timeS).toBe(0);
    expect(played(paused(sought(newPlayer(1, true), 0.4))).timeS).toBe(0.4);
  });

  it("does not play what is not there", () => {
    expect(played(newPlayer(0, true)).playing).toBe(false);
  });

  it("steps from sample to sample and never past an end", () => {
    const p = sought(newPlayer(1, true), 0.5);
    expect(stepped(p, 1, PER_SECOND).timeS).toBeCloseTo(121 / PER_SECOND, 9);
    expect(stepped(stepped(p, 1, PER_SECOND), -1, PER_SECOND).timeS).toBeCloseTo(0.5, 9);
    expect(stepped(sought(p, 1), 1, PER_SECOND).timeS).toBe(1);
    expect(stepped(sought(p, 0), -1, PER_SECOND).timeS).toBe(0);
  });

  it("stops for a hand", () => {
    expect(sought(played(newPlayer(1, true)), 0.3).playing).toBe(false);
  });

  it.each([
    ["ArrowRight", false, 121 / PER_SECOND],
    ["ArrowLeft", false, 119 / PER_SECOND],
    ["ArrowRight", true, 130 / PER_SECOND],
    ["PageUp", false, 0.6],
    ["PageDown", false, 0.4],
    ["Home", false, 0],
    ["End", false, 1],
  ])("goes by %s (shift %s) to %f s", (key, shift, want) => {
    expect(keyedTo(sought(newPlayer(1, true), 0.5), key, shift, PER_SECOND)?.timeS).toBeCloseTo(want, 9);
  });

  it("leaves other keys alone", () => {
    expect(keyedTo(newPlayer(1, true), "a", false, PER_SECOND)).toBeNull();
  });
});
