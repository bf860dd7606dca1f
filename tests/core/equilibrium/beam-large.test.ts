import { describe, expect, it } from "vitest";
import { type ChainProblem, dof, solveChain, straightChain } from "../../support/beam-chain.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

/** Beams that turn far: elastica, full circle and snap-through, on rows of the axle's beam elements. */

const EI = 2400 * 42.6666666667;
const L = 100;

const cantilever = (elements: number, ea: number, ei: number, length: number, loads: [number, number][], ga?: number): ChainProblem => ({
  chain: straightChain([0, 0], [length, 0], elements, ea, ei, ga),
  held: new Map([0, 1, 2].map((i) => [i, 0])),
  loads: new Map(loads),
});

describe("elastica", () => {
  // Mattiasson, Int. J. Num. Meth. Eng. 17 (1981) 145-153, Table 1; Bisshopp & Drucker, Q. Appl. Math. 3 (1945) 272-275
  const table = [
    [0.25, 0.08274592, 0.00411782, 0.12429244, 0.24897055],
    [0.5, 0.16214358, 0.01591896, 0.24453365, 0.49204052],
    [1, 0.30172077, 0.05643324, 0.46135195, 0.94356676],
    [2, 0.49345748, 0.16064172, 0.78174983, 1.67871656],
    [5, 0.71379152, 0.38762836, 1.21536812, 3.0618582],
    [10, 0.81060902, 0.5549956, 1.43028554, 4.45004402],
  ] as const;
  const EA = (1e7 * EI) / L ** 2;
  const bent = (elements: number, alpha: number) => {
    let q: Float64Array | undefined;
    let s: ReturnType<typeof solveChain> | null = null;
    const steps = Math.max(1, Math.ceil(alpha / 0.5));
    for (let i = 1; i <= steps; i++) {
      s = solveChain(cantilever(elements, EA, EI, L, [[dof(elements, "z"), (alpha * i * EI) / (steps * L ** 2)]]), q, 1e-10);
      q = s.q;
    }
    return s!;
  };

  it.each(table)("PL²/EI = %f", (alpha, w, u, turn, moment) => {
    const n = 32;
    const s = bent(n, alpha);
    // fourth order: 32 elements leave some 1e-5 at the largest load
    const tolerance = 2e-5;
    expectAbs(s.q[dof(n, "z")]! / L, w, tolerance, "deflection over length");
    expectAbs(-s.q[dof(n, "x")]! / L, u, tolerance, "shortening over length");
    expectAbs(s.q[dof(n, "turn")]!, turn, tolerance, "tip turn, rad");
    expectAbs((-s.r[dof(0, "turn")]! * L) / EI, moment, 1e-4, "base moment over EI/L");
  });

  it("converges with the fourth power of the element length, far better than elements without bowing", () => {
    // load found at w/L = 0.7137915 by elements without bowing: 4.858728, 4.965447, 4.991418, 4.997851 (second order)
    const plain = [4.858728, 4.965447, 4.991418, 4.997851];
    const errors = [4, 8, 16, 32].map((n) => {
      let low = 4;
      let high = 6;
      for (let i = 0; i < 30; i++) {
        const m = (low + high) / 2;
        if (bent(n, m).q[dof(n, "z")]! / L < 0.7137915) low = m;
        else high = m;
      }
      return Math.abs((low + high) / 2 - 5);
    });
    errors.forEach((e, i) => {
      expect(e, `error of the load with ${2 ** (i + 2)} elements`).toBeLessThan(0.2 * Math.abs(plain[i]! - 5));
    });
    expect(errors[0]! / errors[1]!, "gain from 4 to 8 elements").toBeGreaterThan(10);
  });
});

describe("pure end moment", () => {
  const n = 16;
  const rolled = (moment: number) => {
    let q: Float64Array | undefined;
    let s: ReturnType<typeof solveChain> | null = null;
    for (let i = 1; i <= 24; i++) {
      s = solveChain(cantilever(n, (1e4 * EI) / L ** 2, EI, L, [[dof(n, "turn"), (moment * i * EI) / (24 * L)]]), q, 1e-9);
      q = s.q;
    }
    return s!.q;
  };
  // a circle: x = L sin(m)/m, z = L (1 - cos m)/m; an element's chord is short by its end turn to the fourth over 120
  it.each([Math.PI / 2, Math.PI])("rolls the beam into an arc of %f rad", (m) => {
    const q = rolled(m);
    const tolerance = (1.1 * (m / (2 * n)) ** 4) / 120;
    expectAbs(1 + q[dof(n, "x")]! / L, Math.sin(m) / m, tolerance, "x over length");
    expectAbs(q[dof(n, "z")]! / L, (1 - Math.cos(m)) / m, tolerance, "z over length");
    expectAbs(q[dof(n, "turn")]!, m, 1e-9, "turn, rad");
  });
  it("closes the full circle", () => {
    // held in the middle, so that no chord turns by more than half a turn
    const middle = n / 2;
    let q: Float64Array | undefined;
    for (let i = 1; i <= 24; i++) {
      const moment = (2 * Math.PI * i * EI) / (24 * L);
      q = solveChain(
        {
          chain: straightChain([0, 0], [L, 0], n, (1e4 * EI) / L ** 2, EI),
          held: new Map([0, 1, 2].map((k) => [3 * middle + k, 0])),
          loads: new Map([
            [dof(0, "turn"), -moment],
            [dof(n, "turn"), moment],
          ]),
        },
        q,
        1e-9,
      ).q;
    }
    expectAbs((L + q![dof(n, "x")]! - q![dof(0, "x")]!) / L, 0, 1e-9, "gap along, over length");
    expectAbs((q![dof(n, "z")]! - q![dof(0, "z")]!) / L, 0, 1e-9, "gap across, over length");
    expectAbs(q![dof(n, "turn")]! - q![dof(0, "turn")]!, 2 * Math.PI, 1e-9, "turn between the ends, rad");
  });
});

describe("Williams toggle", () => {
  // F. W. Williams, Q. J. Mech. Appl. Math. 17 (1964) 451-469; exact values by extensible-rod shooting (lb, in)
  const half = (elements: number, d: number) => {
    const p: ChainProblem = {
      chain: straightChain([0, 0], [12.943, 0.386], elements, 1.884684e6, 9274.0573),
      held: new Map([
        [dof(0, "x"), 0],
        [dof(0, "z"), 0],
        [dof(0, "turn"), 0],
        [dof(elements, "x"), 0],
        [dof(elements, "turn"), 0],
        [dof(elements, "z"), -d],
      ]),
      loads: new Map(),
    };
    let q: Float64Array | undefined;
    for (let i = 1; i <= 10; i++) q = solveChain({ ...p, held: new Map([...p.held, [dof(elements, "z"), (-d * i) / 10]]) }, q, 1e-11).q;
    const s = solveChain(p, q, 1e-11);
    return { load: -2 * s.r[dof(elements, "z")]!, thrust: s.r[dof(0, "x")]! };
  };
  const table = [
    [0.05, 15.18337, 199.8089],
    [0.1, 25.20337, 365.1062],
    [0.15, 30.9813, 495.1734],
    [0.2, 33.499, 589.6492],
    [0.25, 33.77795, 648.6515],
    [0.3, 32.84723, 672.8179],
    [0.4, 31.30321, 621.3111],
    [0.5, 36.097, 446.3499],
    [0.6, 53.31311, 158.4992],
  ] as const;

  it.each(table)("at %f in carries %f lb with a thrust of %f lb", (d, load, thrust) => {
    const s = half(16, d);
    // elements without bowing need 16 for 0.5 %
    expectRel(s.load, load, 5e-5, "load, lb");
    expectRel(s.thrust, thrust, 5e-5, "thrust, lb");
  });

  it("is nearer to the exact load with 4 elements than elements without bowing are with 16", () => {
    const plain = [35.6449, 34.2449, 33.8947];
    const own = [4, 8, 16].map((n) => half(n, 0.25).load);
    expect(Math.abs(own[0]! - 33.77795)).toBeLessThan(Math.abs(plain[2]! - 33.77795));
    own.forEach((v, i) => {
      expect(Math.abs(v - 33.77795), `error with ${2 ** (i + 2)} elements, lb`).toBeLessThan(0.1 * Math.abs(plain[i]! - 33.77795));
    });
  });
});
