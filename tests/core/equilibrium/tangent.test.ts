import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { Load } from "../../../src/core/design/types.ts";
import { assemble, type Blend } from "../../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../../src/core/equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver, FINAL_BLEND, type Solver } from "../../../src/core/equilibrium/newton.ts";
import { gripG } from "../../../src/core/equilibrium/solve.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { MOMENT_ARM_MM } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { randomLoad, solvedCases } from "../../support/axle-states.ts";
import { expectAbs } from "../../support/close.ts";
import { denseTangent } from "../../support/dense-tangent.ts";

const SEEDS = 60;
/** central differences against the largest entry of row and column: cut-off and rounding with the step below */
const DIFFERENCE = 2e-6;
const STEP = 2e-6;
/** two ways to solve 100 to 140 equations whose stiffnesses differ by a factor of up to 1e10, of the largest unknown */
const SOLVED = 1e-7;

const seatOn = (m: AxleModel): string => {
  const { spring } = m.corners[0];
  return spring.on === "arm" ? spring.arm : spring.on;
};
const isTurn = (i: number): boolean => (i < 12 ? i === 1 || (i > 1 && ((i - 2) % 5 === 2 || (i - 2) % 5 === 3)) : i % 3 === 2);

/** Every unknown away from as-built: body and hubs by millimetres and degrees, pins in and out of their clearance. */
function randomState(model: AxleModel, seed: number): { q: Float64Array; load: Load; blend: Blend } {
  const r = createRandom(seed + 77);
  const q = new Float64Array(model.n);
  const drop = r.between(-4, 1);
  for (let i = 0; i < model.n; i++) q[i] = isTurn(i) ? r.between(-0.04, 0.04) : r.between(-0.4, 0.4);
  q[0] = q[0]! + drop;
  for (const c of model.corners) q[c.base + 1] = q[c.base + 1]! + drop;
  for (let i = 12; i < model.n; i += 3) q[i + 1] = q[i + 1]! + drop;
  return { q, load: randomLoad(seed, gripG(model)), blend: seed % 2 === 0 ? FINAL_BLEND : { mm: 0.02, rad: 1e-3 } };
}

interface Drawn {
  seed: number;
  s: Solver;
  q: Float64Array;
  load: Load;
  blend: Blend;
}

function drawn(seed: number): Drawn {
  const model = buildAxle(randomScenario(seed), { elementsPerArm: [8, 8, 4, 2][seed % 4]! });
  const s = createSolver(model);
  if (seed % 5 === 0) s.ws.scrub = [0.7, -0.3];
  if (seed % 7 === 0) for (const c of model.corners) Object.assign(c.tyre, { verticalFactor: 1.2, tiltFactor: 0.7 });
  return { seed, s, ...randomState(model, seed) };
}

const seeds = Array.from({ length: SEEDS }, (_, seed) => seed);

describe("tangent of the whole axle", () => {
  it("is drawn over all kinds of axle", () => {
    const all = seeds.map(drawn);
    const some = (f: (m: AxleModel) => boolean): number => all.filter(({ s }) => f(s.model)).length;
    for (const [what, f] of Object.entries({
      "an anti-roll bar": (m: AxleModel) => m.barK > 0,
      "a seat on the hub": (m: AxleModel) => m.corners[0].spring.on === "hub",
      "a seat on the upper arm": (m: AxleModel) => seatOn(m) === "upper",
      "a seat on the lower arm": (m: AxleModel) => seatOn(m) === "lower",
      "a crowned tread": (m: AxleModel) => m.corners[0].tyre.crown > 0,
      "a soft carcass": (m: AxleModel) => Number.isFinite(m.corners[0].tyre.lateralK),
      "a load exponent": (m: AxleModel) => m.corners[0].tyre.exponent !== 1,
      "pivot springs": (m: AxleModel) => m.arms.some((a) => a.pivotK > 0),
      "sides that differ": (m: AxleModel) => Object.keys(m.scenario.left).length > 0,
      "a droop stop": (m: AxleModel) => m.corners[0].spring.droopK > 0,
    }))
      expect(some(f), `axles with ${what}`).toBeGreaterThanOrEqual(3);
  });

  it.each(seeds)("equals central differences of the residual (seed %i)", (seed) => {
    const { s, q, load, blend } = drawn(seed);
    const { model } = s;
    const n = model.n;
    const r = new Float64Array(n);
    assemble(model, q, load, blend, r, s.sys, s.ws);
    const k = denseTangent(s.sys);
    const most = (f: (i: number) => number): number => Math.max(...Array.from({ length: n }, (_, i) => Math.abs(f(i))));
    const rows = Array.from({ length: n }, (_, i) => most((j) => k[i * n + j]!));
    const columns = Array.from({ length: n }, (_, j) => most((i) => k[i * n + j]!));
    const up = new Float64Array(n);
    const down = new Float64Array(n);
    for (let j = 0; j < n; j++) {
      const h = isTurn(j) ? STEP / 50 : STEP;
      const old = q[j]!;
      q[j] = old + h;
      assemble(model, q, load, blend, up, null, s.ws);
      q[j] = old - h;
      assemble(model, q, load, blend, down, null, s.ws);
      q[j] = old;
      for (let i = 0; i < n; i++) {
        const slope = (up[i]! - down[i]!) / (2 * h);
        expectAbs(k[i * n + j]!, slope, DIFFERENCE * Math.sqrt(rows[i]! * columns[j]!), `tangent ${i}, ${j} of ${n}`);
      }
    }
  });

  it.each(seeds)("is solved by condensing the arms, as it stands and transposed (seed %i)", (seed) => {
    const { s, q, load, blend } = drawn(seed);
    const { model, sys } = s;
    const n = model.n;
    assemble(model, q, load, blend, new Float64Array(n), sys, s.ws);
    const k = denseTangent(sys);
    factor(sys);
    const random = createRandom(seed + 5);
    const rhs = Float64Array.from({ length: n }, () => random.between(-1, 1));
    for (const transposed of [false, true]) {
      const x = new Float64Array(n);
      solveSystem(sys, rhs, x, transposed);
      // a car whose wheels hang in the air is nearly singular: what must be small is the error put back into the equations
      const size = Math.max(...x.map(Math.abs));
      for (let i = 0; i < n; i++) {
        let sum = -rhs[i]!;
        let most = 0;
        for (let j = 0; j < n; j++) {
          const kij = transposed ? k[j * n + i]! : k[i * n + j]!;
          sum += kij * x[j]!;
          most = Math.max(most, Math.abs(kij));
        }
        expectAbs(sum, 0, 1e-11 * (1 + most * size), `equation ${i}${transposed ? ", transposed" : ""}`);
      }
    }
  });
});

/** Sign of the determinant, counted from the pivots: the product itself may overflow. */
function determinantSign(lu: LuDecomposition, n: number): number {
  const upper = lu.upperTriangularMatrix;
  const order = lu.pivotPermutationVector;
  let sign = 1;
  for (let i = 0; i < n; i++) if (upper.get(i, i) < 0) sign = -sign;
  const seen = new Set<number>();
  for (let i = 0; i < n; i++) {
    let length = 0;
    for (let j = i; !seen.has(j); j = order[j]!) {
      seen.add(j);
      length++;
    }
    if (length > 0 && length % 2 === 0) sign = -sign;
  }
  return sign;
}

describe("condensed system against the dense one of a general package (ml-matrix)", () => {
  it("gives the same answers and the same sign of the determinant, also where it is negative", () => {
    let negative = 0;
    let compared = 0;
    for (const { name, model, solver, q, load } of solvedCases(25)) {
      const n = model.n;
      const { sys } = solver;
      // the solved state itself, and the same axle with a rest of the car that pushes it over: one negative direction more
      for (const push of [0, 1]) {
        const old = model.otherRollK;
        if (push) model.otherRollK = old - 1e7;
        assemble(model, q, load, FINAL_BLEND, new Float64Array(n), sys, solver.ws);
        model.otherRollK = old;
        const dense = Matrix.from1DArray(n, n, Array.from(denseTangent(sys)));
        factor(sys);
        const lu = new LuDecomposition(dense);
        expect(sys.detSign, name).toBe(determinantSign(lu, n));
        if (sys.detSign < 0) negative++;
        const random = createRandom(n + push);
        const rhs = Float64Array.from({ length: n }, () => random.between(-1, 1));
        for (const transposed of [false, true]) {
          const x = new Float64Array(n);
          solveSystem(sys, rhs, x, transposed);
          const other = (transposed ? new LuDecomposition(dense.transpose()) : lu).solve(Matrix.columnVector(Array.from(rhs))).to1DArray();
          // in the measure of the stiffness of each row, so that stiff turns count too
          const size = Math.max(...other.map((v, i) => Math.abs(v) * (isTurn(i) ? MOMENT_ARM_MM : 1)));
          for (let i = 0; i < n; i++)
            expectAbs(x[i]! * (isTurn(i) ? MOMENT_ARM_MM : 1), other[i]! * (isTurn(i) ? MOMENT_ARM_MM : 1), SOLVED * size, `${name}, unknown ${i}`);
          compared++;
        }
      }
    }
    expect(compared).toBeGreaterThan(100);
    expect(negative).toBeGreaterThan(20);
  });
});
