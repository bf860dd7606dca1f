import { describe, expect, it } from "vitest";
import { closeByNewton } from "../../src/motion/closing.ts";
import { MAX_ITERATIONS } from "../../src/motion/settings.ts";
import { expectAbs, expectRel } from "../support/close.ts";

/** Newton's method on one or two unknowns, where its way is known. The tangent at the start may be told wrong. */
function close(f: (x: number) => number, slope: (x: number) => number, start: number[], wanted: number, careful = false, first = slope(start[0]!)) {
  const at = Float64Array.from(start);
  const change = new Float64Array(start.length);
  const out = at.map(f);
  let [written, used] = [first, first];
  const count = { renewed: 0, looked: 0 };
  const look = (): number => {
    at.forEach((x, i) => {
      out[i] = f(x);
    });
    return Math.max(...out.map(Math.abs));
  };
  const done = closeByNewton(
    {
      at,
      change,
      out: (tangent) => {
        count.looked++;
        if (tangent) written = slope(at[0]!);
        return look();
      },
      renew: () => {
        count.renewed++;
        used = written;
      },
      ask: () =>
        out.forEach((r, i) => {
          change[i] = -r / used;
        }),
    },
    look(),
    wanted,
    careful,
  );
  return { ...done, at: [...at], ...count };
}

describe("Newton's method", () => {
  it("closes what goes straight in one iteration, on all unknowns, and asks for nothing where all is closed", () => {
    const straight = close(
      (x) => 3 * x - 6,
      () => 3,
      [5, -1, 2],
      1e-9,
    );
    expect(straight).toMatchObject({ iterations: 1, renewed: 0, looked: 1, at: [2, 2, 2], size: 0 });
    const f = (x: number): number => x - 2;
    expect(
      close(f, () => 1, [2.5], 0.5),
      "just as much as wanted",
    ).toMatchObject({ iterations: 0, looked: 0, size: 0.5, at: [2.5] });
  });

  // an old tangent that is wrong by a share leaves that share of what was out, in each iteration
  it.each([
    // 1 -> 0.1 -> 0.01 -> 0.001: a tenth is little enough to go on with
    [0.1, false, 3, 0],
    // a quarter is left: made anew, then closed at once
    [0.25, false, 2, 1],
    // careful: made anew after the first
    [0.1, true, 2, 1],
  ])("on a tangent that is wrong by %d, careful: %s", (wrong, careful, iterations, renewed) => {
    const done = close(
      (x) => x,
      () => 1,
      [1],
      0.0015,
      careful,
      1 / (1 - wrong),
    );
    expect(done).toMatchObject({ iterations, renewed, looked: iterations + renewed });
    expectAbs(done.size, renewed ? 0 : wrong ** 3, 1e-12, "left");
  });

  // x² - 2 from 2: 17/12 - √2 after two iterations, the square of it after the next: quadratic
  it("doubles its digits where the tangent is made anew each time", () => {
    const root = (iterations: number): number => {
      let x = 2;
      for (let i = 0; i < iterations; i++) x = (x + 2 / x) / 2;
      return x;
    };
    const done = close(
      (x) => x * x - 2,
      (x) => 2 * x,
      [2],
      1e-9,
      true,
    );
    // 0.25, 0.0069, 6e-6, 4.5e-12 are out
    expect([done.iterations, done.renewed]).toEqual([4, 3]);
    expectRel(done.at[0]!, root(4), 1e-15, "root");
  });

  // sign(x) |x|^p: the tangent sends x to x (1 - 1/p), about the root and never into it
  it("that jumps about a corner goes half the way from the seventh iteration on, then half of that", () => {
    const corner = (p: number) =>
      close(
        (x) => Math.sign(x) * Math.abs(x) ** p,
        (x) => p * Math.abs(x) ** (p - 1),
        [1],
        1e-9,
        true,
      );
    // p = 1/2: to -x; half of it back is the root
    expect(corner(0.5)).toMatchObject({ iterations: 7, renewed: 6, looked: 7 + 6 + 1, size: 0, at: [0] });
    // p = 1/4: to -3x; half of it back is -x, no nearer; a quarter of it more is the root
    const quarter = corner(0.25);
    expect(quarter).toMatchObject({ iterations: 7, renewed: 6, looked: 7 + 6 + 2 });
    expectAbs(quarter.at[0]!, 0, 1e-9, "root");
    // p = 1/3: to -2x, six times over; from then on half of it back is -x/2, which is nearer
    const third = corner(1 / 3);
    expect(third).toMatchObject({ iterations: MAX_ITERATIONS, looked: MAX_ITERATIONS + MAX_ITERATIONS + MAX_ITERATIONS - 6 });
    expectRel(third.at[0]!, 2 ** 6 / 2 ** (MAX_ITERATIONS - 6), 1e-9, "place");
  });

  // 1/2, 1/4 … 1/64 of the way back: the next would be less than a hundredth
  it("gives up after its iterations, with six shorter ways tried in each from the seventh on", () => {
    const never = close(
      () => 1,
      () => 1,
      [0],
      1e-9,
    );
    expect(never).toMatchObject({ iterations: MAX_ITERATIONS, size: 1, renewed: MAX_ITERATIONS, looked: 2 * MAX_ITERATIONS + 6 * (MAX_ITERATIONS - 6) });
    // back by 63/64 of the way in each of those
    expectRel(never.at[0]!, -6 - (MAX_ITERATIONS - 6) / 64, 1e-12, "place");
    const none = close(
      () => Number.NaN,
      () => 1,
      [0],
      1e-9,
    );
    expect([none.iterations, none.renewed]).toEqual([MAX_ITERATIONS, 0]);
    expect(none.size).toBeNaN();
  });
});
