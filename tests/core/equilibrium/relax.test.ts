import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { Load, Scenario } from "../../../src/core/design/types.ts";
import { assemble } from "../../../src/core/equilibrium/assemble.ts";
import { factor } from "../../../src/core/equilibrium/condense.ts";
import type { AxleModel } from "../../../src/core/equilibrium/model.ts";
import { apart, createSolver, FINAL_BLEND, newton, nextResistance, pushOff, relax, type Solver, solveAt } from "../../../src/core/equilibrium/newton.ts";
import { droppedStart, REST } from "../../../src/core/equilibrium/solve.ts";
import {
  BODY_TURN,
  cornerBase,
  FIRST_NODE,
  HEAVE,
  HUB_TURN,
  HUB_X,
  HUB_Z,
  isTurn,
  NODE_Z,
  PER_NODE,
  WHEEL_TILT,
} from "../../../src/core/equilibrium/unknowns.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { denseStep, outOfBalanceN, shareOf } from "../../support/dense-step.ts";
import { denseTangent } from "../../support/dense-tangent.ts";
import { curve, solved, straightCar, withoutPlay } from "./straight-car.ts";

/** The right wheel has two degrees of play to either side and a tread that is a mere edge: upright, it is balanced on it. */
const falls = (s: Scenario): void => {
  withoutPlay(s);
  Object.assign(s.corner.hub, { staticCamberDeg: 0, bearingOffsetMm: 0 });
  s.right = { hub: { tiltPlayDeg: 2 }, tyre: { effectiveWidthMm: 0.5 } };
};

/** The whole axle `mm` higher. */
function lifted(m: AxleModel, q: Float64Array, mm: number): Float64Array {
  const up = q.slice();
  for (const i of [HEAVE, ...m.corners.map((c) => c.base + HUB_Z)]) up[i] = up[i]! + mm;
  for (let i = FIRST_NODE; i < m.n; i += PER_NODE) up[i + NODE_Z] = up[i + NODE_Z]! + mm;
  return up;
}

interface Trace {
  /** where the creeping axle stood, the start first, while it was asked whether to stop */
  places: Float64Array[];
  /** steps of Newton's method between a place and the next */
  trials: number[];
  found: boolean;
  q: Float64Array;
  s: Solver;
}

/** Creeps until it has stood in `most` places. */
function creeping(m: AxleModel, start: Float64Array, load: Load, near: boolean, most: number, reachMm?: number): Trace {
  const s = createSolver(m);
  const q = start.slice();
  const places: Float64Array[] = [];
  const trials: number[] = [];
  let since = 0;
  s.shouldStop = () => {
    const last = places.at(-1);
    if (!last || q.some((v, i) => v !== last[i])) {
      if (last) trials.push(s.iterations - since - 1);
      since = s.iterations;
      places.push(q.slice());
    }
    return places.length > most;
  };
  const found = relax(s, q, load, near, reachMm);
  return { places, trials, found, q, s };
}

describe("the resistance of the oil", () => {
  it("falls by 0.5 to 0.7 a step while the residual falls or slides, and grows with it to twice at most", () => {
    for (const [grew, by] of [
      [0.01, 0.5],
      [0.5, 0.5],
      [0.6, 0.6],
      [0.7, 0.7],
      [1, 0.7],
      [1.149, 0.7],
      [1.15, 1.15],
      [1.6, 1.6],
      [2, 2],
      [50, 2],
    ] as const)
      expectRel(nextResistance(4, grew), 4 * by, 1e-12, `grew ${grew} times`);
  });

  it("stays between hardly any and that of a far start, 30 N/mm", () => {
    expect(nextResistance(20, 3)).toBe(30);
    expect(nextResistance(30, 0.9)).toBeCloseTo(21, 12);
    expect(nextResistance(1.1e-9, 0.5)).toBe(1e-9);
  });
});

describe("an axle that creeps", () => {
  const rattling = straightCar();
  const rest = solved(rattling, REST);
  /** where it will not stand: it creeps on without end */
  const load = curve(3);

  it.each([
    ["from afar", false, 30, 9],
    ["from nearby", true, 10, 7],
  ] as const)("goes as in oil of the law, %s, and as if it had tried nothing between", (_, near, first, steps) => {
    const { places } = creeping(rattling, rest, load, near, steps);
    expect(places).toHaveLength(steps + 1);
    let c: number = first;
    let whole = 0;
    for (let k = 0; k + 1 < places.length; k++) {
      const [q, to] = [places[k]!, places[k + 1]!];
      const dq = denseStep(rattling, q, load, c);
      const share = shareOf(dq);
      if (share === 1) whole++;
      for (let i = 0; i < q.length; i++) expectAbs(to[i]!, q[i]! + share * dq[i]!, 1e-6 * (isTurn(i) ? 0.12 : 6), `step ${k + 1}, unknown ${i}`);
      const grew = outOfBalanceN(rattling, to, load) / outOfBalanceN(rattling, q, load);
      c = Math.min(30, c * (grew < 1.15 ? Math.max(0.5, Math.min(0.7, grew)) : Math.min(2, grew)));
    }
    expect(whole).toBeGreaterThan(0);
  });

  it("tries Newton's method after 7 steps and every 25; from nearby after 3 and 5 too, where a leap calls it off", () => {
    const tried = (t: Trace): number[] => t.trials.flatMap((n, i) => (n > 0 ? [i] : []));
    const far = creeping(rattling, rest, load, false, 80);
    expect(tried(far)).toEqual([7, 25, 50, 75]);
    for (const n of far.trials) expect(n).toBeLessThanOrEqual(12);
    const close = creeping(rattling, rest, load, true, 80);
    expect(tried(close)).toEqual([3, 5, 7, 25, 50, 75]);
    for (const k of [3, 5]) {
      const leaps = shareOf(denseStep(rattling, close.places[k]!, load)) < 1;
      expect(close.trials[k]).toBeLessThanOrEqual(leaps ? 1 : 8);
    }
  });

  it("ends where a trial comes to an answer close by", () => {
    const m = straightCar(withoutPlay);
    const answer = solved(m, REST);
    const start = lifted(m, answer, 0.2);
    for (const [near, steps] of [
      [false, 7],
      [true, 3],
    ] as const) {
      const t = creeping(m, start, REST, near, 100);
      expect([t.found, t.s.sys.detSign]).toEqual([true, 1]);
      expect(t.places).toHaveLength(steps + 1);
      expect(t.s.iterations - steps).toBeLessThanOrEqual(5);
      for (let i = 0; i < m.n; i++) expectAbs(t.q[i]!, answer[i]!, 1e-6, `unknown ${i}`);
    }
  });

  it("leaves alone what a trial finds further than 3 mm away, and creeps there itself", () => {
    const m = straightCar(withoutPlay);
    // the road 12 mm up under both wheels lifts the whole car
    const up = { lateralG: 0, bumpLeftMm: 12, bumpRightMm: 12 };
    const answer = solved(m, up);
    const t = creeping(m, solved(m, REST), up, false, 200);
    const at = t.places[7]!;
    expect(newton(createSolver(m), at.slice(), up, FINAL_BLEND, 12, 12)).toBe(true);
    expect(apart(m, at, answer)).toBeGreaterThan(3);
    expect(t.trials[7]).toBeGreaterThan(0);
    expect([t.found, t.places.length > 9]).toEqual([true, true]);
    for (let i = 0; i < m.n; i++) expectAbs(t.q[i]!, answer[i]!, 1e-6, `unknown ${i}`);
    // it ends once it is all but at rest, with no push where the rest is stable
    expect(t.places.length).toBeLessThan(40);
  });

  it("is called off as soon as it has gone further than its reach", () => {
    for (const reach of [0.5, 5]) {
      const s = createSolver(rattling);
      const q = rest.slice();
      expect(relax(s, q, load, false, reach)).toBe(false);
      expect(apart(rattling, rest, q)).toBeGreaterThan(reach);
      const way = creeping(rattling, rest, load, false, 1000, reach).places;
      // asked once more before it looks how far it is
      for (const p of way.slice(0, -1)) expect(apart(rattling, rest, p)).toBeLessThanOrEqual(reach);
    }
  });

  it("ends when its work is used up, after 300 steps, or where nothing is finite", () => {
    const s = createSolver(rattling);
    s.workEnd = 4;
    const end = rest.slice();
    expect(relax(s, end, load)).toBe(false);
    expect(s.iterations).toBe(4);
    // the start counts as far where nobody says that it is near
    expect(end).toEqual(creeping(rattling, rest, load, false, 5).places[4]);
    const t = creeping(rattling, rest, load, false, 1000);
    expect(t.found).toBe(false);
    // the last one is tried from, and left as it is
    expect(t.places).toHaveLength(301);
    expect(t.q).toEqual(t.places[300]);
    const lost = createSolver(rattling);
    const q = rest.slice();
    expect(relax(lost, q, curve(Number.NaN))).toBe(false);
    expect([lost.iterations, q]).toEqual([0, rest]);
    const sick = straightCar();
    const u = createSolver(sick);
    u.shouldStop = () => {
      sick.bodyWeight = Number.NaN;
      return false;
    };
    expect(relax(u, rest.slice(), REST)).toBe(false);
    expect(u.iterations).toBe(1);
  });
});

describe("a wheel upright in the middle of its play", () => {
  const m = straightCar(falls);
  const right = m.corners[1];
  /** its centring is faint beside 14 N · 48 mm of falling */
  const edge = (() => {
    const q = droppedStart(m);
    const s = createSolver(m);
    if (!newton(s, q, REST, FINAL_BLEND, 30)) throw new Error("not balanced");
    expect(s.sys.detSign).toBe(-1);
    return q;
  })();

  it.each([
    ["creeping", relax],
    ["solving at a load", solveAt],
  ])("is left to the side it falls to, the top inwards, until its play ends, by %s", (_, way) => {
    expectAbs(edge[right.base + WHEEL_TILT]! + edge[right.base + HUB_TURN]!, 0, 0.01, "upright, rad");
    const s = createSolver(m);
    const q = edge.slice();
    expect(way(s, q, REST)).toBe(true);
    expect(s.sys.detSign).toBe(1);
    expect(outOfBalanceN(m, q, REST)).toBeLessThanOrEqual(1e-8 * m.totalWeight);
    expect(q[right.base + WHEEL_TILT]!).toBeGreaterThan((2 * Math.PI) / 180);
  });

  it("is no answer where it may not be left", () => {
    const s = createSolver(m);
    const q = edge.slice();
    expect(solveAt(s, q, REST, false, 14, 1e-6)).toBe(false);
    expect(q).toEqual(edge);
  });
});

describe("a wheel just beyond the load that holds it at one end of its play", () => {
  const m = straightCar((s) => {
    falls(s);
    s.corner.hub.bearingOffsetMm = 6;
    // a tread wide enough that it falls only slowly
    s.right = { hub: { tiltPlayDeg: 2 }, tyre: { effectiveWidthMm: 19 } };
  });
  const tilt = m.corners[1].base + WHEEL_TILT;

  /** The last position that holds, and the load beyond it. */
  function fold(): { q: Float64Array; g: number } {
    let q = solved(m, REST);
    let [low, high] = [0, 0.2];
    while (high - low > 1e-9) {
      const g = (low + high) / 2;
      const s = createSolver(m);
      const next = q.slice();
      if (newton(s, next, curve(g), FINAL_BLEND, 14, 4) && s.sys.detSign > 0 && next[tilt]! > 0) [low, q] = [g, next];
      else high = g;
    }
    return { q, g: high };
  }

  it.each([
    ["all but at rest, Newton's method is tried in one step of 25", 1e-7],
    ["still on its way, it is not tried so", 1e-4],
  ])("falls slowly to the other end; %s", (_, beyondG) => {
    const from = fold();
    const load = curve(from.g + beyondG);
    const slow = outOfBalanceN(m, from.q, load) < 1e-5 * m.totalWeight;
    expect(slow).toBe(beyondG < 1e-5);
    const s = createSolver(m);
    const q = from.q.slice();
    const places: Float64Array[] = [];
    s.shouldStop = () => {
      places.push(q.slice());
      return false;
    };
    expect(relax(s, q, load)).toBe(true);
    expect(s.sys.detSign).toBe(1);
    expectAbs(q[tilt]!, (-2 * Math.PI) / 180, 0.005, "rad");
    expect(outOfBalanceN(m, q, load)).toBeLessThanOrEqual(1e-8 * m.totalWeight);
    // a trial takes 12 steps at most, a try to end it 20
    expect(s.iterations).toBeLessThan(slow ? 200 : 80);
    // once there it is done: nothing is pushed that stands
    expect(places.filter((p) => apart(m, p, q) < 0.05).length).toBeLessThan(10);
  });
});

describe("the push off a knife's edge", () => {
  /** Wheels on mere edges, held upright by a bearing that is a little too weak for it. */
  function wobbly(bearingNmmPerRad: number): { m: AxleModel; q: Float64Array; s: Solver } {
    const m = straightCar((s) => {
      withoutPlay(s);
      Object.assign(s.corner.hub, { staticCamberDeg: 0, bearingOffsetMm: 0 });
      s.corner.tyre.effectiveWidthMm = 0.5;
    });
    const q = solved(m, REST);
    for (const c of m.corners) c.bearing.k = bearingNmmPerRad;
    const s = createSolver(m);
    newton(s, q, REST, FINAL_BLEND, 30);
    assemble(m, q, REST, FINAL_BLEND, s.r, s.sys, s.ws);
    return { m, q, s };
  }

  it("is 0.02 mm along the softest way, the wheels' tops inwards", () => {
    const { m, q, s } = wobbly(600);
    const k = Matrix.from1DArray(m.n, m.n, Array.from(denseTangent(s.sys)));
    const softest = Math.min(...new EigenvalueDecomposition(k, { assumeSymmetric: true }).realEigenvalues.map(Math.abs));
    factor(s.sys);
    const to = q.slice();
    pushOff(s, to);
    expectAbs(apart(m, q, to), 0.02, 1e-12, "mm, turns over 50 mm");
    const v = Matrix.columnVector(Array.from(to, (x, i) => x - q[i]!));
    const size = v.norm("frobenius");
    const quotient = v.transpose().mmul(k).mmul(v).get(0, 0) / size ** 2;
    expectRel(Math.abs(quotient), softest, 0.2, "stiffness along it, N/mm");
    for (const c of m.corners) expect(c.sign * (to[c.base + WHEEL_TILT]! - q[c.base + WHEEL_TILT]!)).toBeGreaterThan(0);
  });

  /** One element an arm leaves no inner nodes: the tangent may be any matrix. All unknowns are held alike but for what `soft` does. */
  function pushed(soft: (a: Float64Array, at: (i: number, j: number) => number, m: AxleModel) => void): { m: AxleModel; moved: Float64Array } {
    const m = straightCar(() => {}, 1);
    const s = createSolver(m);
    expect(m.nKept).toBe(m.n);
    const at = (i: number, j: number): number => m.kept[i]! * m.nKept + m.kept[j]!;
    for (let i = 0; i < m.n; i++) s.sys.a[at(i, i)] = 1;
    soft(s.sys.a, at, m);
    factor(s.sys);
    const moved = new Float64Array(m.n);
    pushOff(s, moved);
    return { m, moved };
  }

  /** Makes a wheel's tilt together with `times` another unknown a soft way, and what is square to that a hard one. */
  const along = (corner: 0 | 1, other: number, times: number) =>
    pushed((a, at) => {
      const tilt = cornerBase(corner) + WHEEL_TILT;
      const size = 1 + times * times;
      const [soft, hard] = [0.01, 10];
      a[at(tilt, tilt)] = (soft + hard * times * times) / size;
      a[at(other, other)] = (soft * times * times + hard) / size;
      a[at(tilt, other)] = ((soft - hard) * times) / size;
      a[at(other, tilt)] = ((soft - hard) * times) / size;
    });

  it("is as large whichever of body and hubs goes furthest", () => {
    for (const corner of [0, 1] as const) {
      const base = cornerBase(corner);
      for (const other of [HEAVE, BODY_TURN, base + HUB_X, base + HUB_Z, base + HUB_TURN])
        for (const furthest of [0.3, 4]) {
          const times = isTurn(other) ? furthest : 50 * furthest;
          const { m, moved } = along(corner, other, times);
          expectAbs(apart(m, new Float64Array(m.n), moved), 0.02, 1e-9, "mm, turns over 50 mm");
          expectRel(moved[other]!, times * moved[base + WHEEL_TILT]!, 1e-3, "along with the tilt");
        }
    }
  });

  it("leans the wheels in, hub and wheel together", () => {
    for (const corner of [0, 1] as const)
      for (const times of [-3, -0.3, 0.3, 3]) {
        const base = cornerBase(corner);
        const { m, moved } = along(corner, base + HUB_TURN, times);
        expect(m.corners[corner].sign * (moved[base + HUB_TURN]! + moved[base + WHEEL_TILT]!), `${corner}, ${times}`).toBeGreaterThan(0);
      }
  });

  it("is none where the tangent tells no way", () => {
    for (const stiffness of [1e-320, Number.POSITIVE_INFINITY])
      expect(
        pushed((a, at, m) => {
          for (const c of m.corners) a[at(c.base + WHEEL_TILT, c.base + WHEEL_TILT)] = stiffness;
        }).moved.every((v) => v === 0),
      ).toBe(true);
  });

  it("is given twice at most: what leads back to the edge is told as it is", () => {
    const m = straightCar(withoutPlay);
    const q = solved(m, REST);
    // the rest of the car pushes the body over, but the push is the same to both sides
    m.otherRollK = -1e6;
    const s = createSolver(m);
    expect(relax(s, q, REST)).toBe(true);
    expect(s.sys.detSign).toBe(-1);
    expectAbs(q[BODY_TURN]!, 0, 1e-9, "rad");
  });
});
