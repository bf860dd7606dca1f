import { describe, expect, it } from "vitest";
import type { Load } from "../../../src/core/design/types.ts";
import { between, type Found, type LaidOver, walkPath } from "../../../src/core/equilibrium/path.ts";

const REST: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const LYING: LaidOver = { side: "left", leanDeg: 50 };

interface Walk {
  /** whether the car stands at a share of the way, asked for the `nth` time, from 0 */
  go: (share: number, nth: number) => Found;
  fall?: (share: number) => Found;
  spent?: () => boolean;
}

/** Walks along a curve that grows to `g`, and tells at which shares of the way it looked. */
function walked(g: number, w: Walk) {
  const went: number[] = [];
  const fell: number[] = [];
  const share = (l: Load): number => l.lateralG / g;
  const end = walkPath(
    {
      go: (l) => {
        went.push(share(l));
        return w.go(share(l), went.length - 1);
      },
      fall: (l) => {
        fell.push(share(l));
        return w.fall?.(share(l)) ?? "nothing";
      },
      spent: w.spent ?? (() => false),
    },
    REST,
    { ...REST, lateralG: g },
  );
  return { ...end, share: share(end.at), went, fell };
}

/** A car that stands but for a fall at a share of the way, in which only play moves. */
function fallingAt(share: number): Walk {
  let fallen = false;
  return {
    go: (t) => (fallen || t < share ? "stands" : "nothing"),
    fall: () => {
      fallen = true;
      return "stands";
    },
  };
}

describe("the loading path of a car that stands everywhere", () => {
  it.each([
    ["0.6 g", REST, { ...REST, lateralG: 0.6 }, 3],
    ["0.5 g", REST, { ...REST, lateralG: 0.5 }, 2],
    ["0.5 g to the other side", REST, { ...REST, lateralG: -0.51 }, 3],
    ["from 0.75 g to 1 g", { ...REST, lateralG: 0.75 }, { ...REST, lateralG: 1 }, 1],
    ["from 0.75 g to -0.25 g", { ...REST, lateralG: 0.75 }, { ...REST, lateralG: -0.25 }, 4],
    ["12 mm under the left wheel", REST, { ...REST, bumpLeftMm: 12 }, 3],
    ["from 3 to -9 mm under the left wheel", { ...REST, bumpLeftMm: 3 }, { ...REST, bumpLeftMm: -9 }, 3],
    ["from 3 to -13 mm under the right wheel", { ...REST, bumpRightMm: 3 }, { ...REST, bumpRightMm: -13 }, 4],
    ["what needs most of all", REST, { lateralG: 0.3, bumpLeftMm: 4, bumpRightMm: 18 }, 4],
    ["no way at all", REST, REST, 1],
  ])("%s is reached in even steps of 0.25 g and 5 mm at most", (_, from, to, steps) => {
    const seen: Load[] = [];
    const walker = {
      go: (l: Load): Found => {
        seen.push(l);
        return "stands";
      },
      fall: () => expect.fail("nothing folds"),
      spent: () => true,
    };
    expect(walkPath(walker, from, to)).toEqual({ done: true, at: to, laid: null });
    expect(seen).toHaveLength(steps);
    for (const what of ["lateralG", "bumpLeftMm", "bumpRightMm"] as const)
      for (const [i, l] of seen.entries()) expect(l[what], `${what}, step ${i + 1}`).toBeCloseTo(from[what] + ((i + 1) / steps) * (to[what] - from[what]), 12);
  });

  it("has every load on the straight line between its ends", () => {
    expect(between({ lateralG: 0.2, bumpLeftMm: 2, bumpRightMm: -4 }, { lateralG: 1, bumpLeftMm: -6, bumpRightMm: 4 }, 0.25)).toEqual({
      lateralG: 0.4,
      bumpLeftMm: 0,
      bumpRightMm: -2,
    });
  });
});

describe("a step that finds nothing", () => {
  it("is halved; three in a row that come let it grow again, to its length and no further", () => {
    const at = [0.25, 0.5, 0.375, 0.5, 0.625, 0.875, 1];
    const w = walked(1, { go: (_, nth) => (nth === 1 ? "nothing" : "stands") });
    expect(w.went).toEqual(at);
    expect([w.done, w.share, w.fell]).toEqual([true, 1, []]);
  });

  it("counts those in a row anew after each", () => {
    const at = [0.25, 0.5, 0.375, 0.5, 0.625, 0.5625, 0.625, 0.6875, 0.8125, 0.9375, 1];
    expect(walked(1, { go: (_, nth) => (nth === 1 || nth === 4 ? "nothing" : "stands") }).went).toEqual(at);
  });

  it("grows by one doubling at a time", () => {
    const at = [1 / 4, 1 / 8, 1 / 16, 2 / 16, 3 / 16, 5 / 16, 7 / 16, 9 / 16, 13 / 16, 1];
    expect(walked(1, { go: (_, nth) => (nth < 2 ? "nothing" : "stands") }).went).toEqual(at);
  });
});

describe("a fold of the path", () => {
  const folds = Array.from({ length: 12 }, (_, i) => (i + 0.37) / 12);

  it("is found to 1/512 of the load where the steps are halves of halves of it, and to less than twice that otherwise", () => {
    for (const [g, bound] of [
      [1, 1 / 512],
      [-1, 1 / 512],
      [2, 1 / 512],
      [0.7, 2 / 512],
      [1.7, 2 / 512],
      [3, 2 / 512],
    ] as const)
      for (const fold of folds) {
        const w = walked(g, { go: (t) => (t < fold ? "stands" : "nothing") });
        expect([w.done, w.laid]).toEqual([false, null]);
        expect(w.share).toBeLessThan(fold);
        expect(fold - w.share).toBeLessThanOrEqual(bound);
        // what falls there may fall: looked at once, 1/512 further on
        expect(w.fell).toHaveLength(1);
        expect(w.fell[0]! - w.share).toBeCloseTo(1 / 512, 12);
        // from each step that came at most the steps of one way down to 1/512 are tried
        expect(w.went.length).toBeLessThanOrEqual(4 * Math.abs(g) + 3 * 9);
        expect(Math.max(...w.went)).toBeLessThanOrEqual(1);
      }
  });

  it("is passed where only play moves: in steps of 4/512 at first", () => {
    const w = walked(1, fallingAt(0.5));
    expect(w.done).toBe(true);
    expect(w.fell).toEqual([0.5]);
    // three of each length
    expect(w.went.filter((t) => t > 0.5).map((t) => 512 * (t - 0.5))).toEqual([4, 8, 12, 20, 28, 36, 52, 68, 84, 116, 148, 180, 244, 256]);
  });

  it("makes no later step longer than 0.25 g", () => {
    // 12 steps of 1/12, and those after the fall 4/512 and its doubles: 1/16 is not doubled to 1/8
    const w = walked(3, fallingAt(0.2));
    expect(w.done).toBe(true);
    const steps = w.went.slice(1).map((t, i) => t - w.went[i]!);
    expect(3 * Math.max(...steps)).toBeCloseTo(0.25, 12);
  });

  it("may be passed several times, and ends the path where something else gives way", () => {
    const at = [0.3, 0.6];
    const gone = new Set<number>();
    const w = walked(1, {
      go: (t) => (at.every((f) => t < f || gone.has(f)) ? "stands" : "nothing"),
      fall: (t) => {
        const f = at.find((x) => t >= x - 1 / 512 && !gone.has(x))!;
        gone.add(f);
        return f === 0.3 ? "stands" : "nothing";
      },
    });
    expect(w.fell).toHaveLength(2);
    expect(w.done).toBe(false);
    expect(0.6 - w.share).toBeLessThanOrEqual(2 / 512);
  });

  it("beyond which a wheel lies down ends the path with that wheel", () => {
    const w = walked(1, { go: (t) => (t < 0.4 ? "stands" : "nothing"), fall: () => LYING });
    expect([w.done, w.laid]).toEqual([false, LYING]);
    expect(0.4 - w.share).toBeLessThanOrEqual(1 / 512);
  });

  it("is none where the wheel lies by and by: nothing is let fall there", () => {
    const w = walked(1, { go: (t) => (t < 0.4 ? "stands" : LYING) });
    expect([w.done, w.laid, w.fell]).toEqual([false, LYING, []]);
    expect(0.4 - w.share).toBeLessThanOrEqual(1 / 512);
  });
});

describe("a walk whose work is used up", () => {
  it("ends at the first step that finds nothing, and tells no wheel that lies", () => {
    for (const found of ["nothing", LYING] as const) {
      const w = walked(1, { go: (t) => (t < 0.4 ? "stands" : found), spent: () => true });
      expect(w).toMatchObject({ done: false, laid: null, share: 0.25, went: [0.25, 0.5], fell: [] });
    }
  });
});
