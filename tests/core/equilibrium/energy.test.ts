import { describe, expect, it } from "vitest";
import type { Load } from "../../../src/core/design/types.ts";
import { assemble } from "../../../src/core/equilibrium/assemble.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver } from "../../../src/core/equilibrium/newton.ts";
import { treadOut } from "../../../src/core/equilibrium/tread.ts";
import { sideForces } from "../../../src/core/equilibrium/tyre-forces.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { roadForce, storedEnergy, wheelAt } from "../../support/axle-energy.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const SEEDS = Array.from({ length: 24 }, (_, seed) => seed);
const SHARP = { mm: 0, rad: 0 };
/** steps of the central differences, mm and rad */
const STEP_MM = 1e-4;
const STEP_RAD = 2e-6;
/** cut-off of the differences and rounding, of the largest force and the largest moment of the axle */
const SLOPE = 1e-7;

/** body, corners and nodes by their docstrings: turns are the body's, the hub's and the wheel's, and every third of a node */
const isTurn = (i: number): boolean => (i < 12 ? i === 1 || (i > 1 && ((i - 2) % 5 === 2 || (i - 2) % 5 === 3)) : (i - 12) % 3 === 2);

function drawn(seed: number): { m: AxleModel; q: Float64Array; load: Load } {
  const m = buildAxle(randomScenario(seed), { elementsPerArm: seed % 2 === 0 ? 2 : 4 });
  const r = createRandom(seed + 4000);
  const q = Float64Array.from({ length: m.n }, (_, i) => (isTurn(i) ? r.between(-0.05, 0.05) : r.between(-0.3, 0.3)));
  // all of it lower, so that the tyres are pressed in, here and there far enough for the whole tread
  const drop = r.between(-5, -0.5);
  q[0] = q[0]! + drop;
  for (const c of m.corners) {
    q[c.base + 1] = q[c.base + 1]! + drop;
    c.tyre.exponent = 1;
    if (!Number.isFinite(c.tyre.lateralK)) q[c.base + 4] = 0;
  }
  for (let i = 12; i < m.n; i += 3) q[i + 1] = q[i + 1]! + drop;
  return { m, q, load: { lateralG: r.between(-1, 1), bumpLeftMm: r.between(-1, 2), bumpRightMm: r.between(-1, 2) } };
}

describe("forces of the whole axle", () => {
  it.each(SEEDS)("are the slopes of what is stored in it, and the road's side force where it acts (seed %i)", (seed) => {
    const { m, q, load } = drawn(seed);
    const s = createSolver(m);
    const r = new Float64Array(m.n);
    assemble(m, q, load, SHARP, r, null, s.ws);
    const expected = new Float64Array(m.n);
    for (let i = 0; i < m.n; i++) {
      const h = isTurn(i) ? STEP_RAD : STEP_MM;
      const old = q[i]!;
      const [up, down] = [old + h, old - h].map((v) => {
        q[i] = v;
        return storedEnergy(m, q, load);
      }) as [number, number];
      q[i] = old;
      expected[i] = (up - down) / (2 * h);
    }
    for (const c of m.corners) {
      // the road holds the tread by the cornering level of what it carries, at its own height
      const road = c.side === "left" ? load.bumpLeftMm : load.bumpRightMm;
      const fx = -load.lateralG * roadForce(c, q, road);
      const { centre, turn } = wheelAt(c, q);
      const bearing = [c.centre[0] + q[c.base]!, c.centre[1] + q[c.base + 1]!];
      const [cos, sin] = [Math.cos(q[c.base + 2]!), Math.sin(q[c.base + 2]!)];
      bearing[1] = bearing[1]! + sin * c.bearingLever[0] + cos * c.bearingLever[1];
      const act = (i: number, f: number): void => {
        expected[c.base + i] = expected[c.base + i]! - f;
      };
      act(0, fx);
      act(2, fx * (c.centre[1] + q[c.base + 1]! - road));
      act(3, fx * (bearing[1]! - road));
      if (Number.isFinite(c.tyre.lateralK)) act(4, fx * Math.cos(turn));
      else expected[c.base + 4] = 0;
      expect(centre[1] - road).toBeGreaterThan(0);
    }
    const most = (turns: boolean): number =>
      Math.max(
        1,
        ...Array.from(r)
          .filter((_, i) => isTurn(i) === turns)
          .map(Math.abs),
      );
    const [force, moment] = [most(false), most(true)];
    for (let i = 0; i < m.n; i++) expectAbs(r[i]!, expected[i]!, SLOPE * (isTurn(i) ? moment : force), `unknown ${i} of ${m.n}`);
  });
});

describe("side force of two tyres", () => {
  it("is shared by load to the power of the exponent: 20 and 5 N at 0.5 g and 0.8 make 9.399 and 3.101 N", () => {
    const m = buildAxle(randomScenario(0));
    for (const c of m.corners) Object.assign(c.tyre, { exponent: 0.8, verticalFactor: 1 });
    const treads = [treadOut(), treadOut()] as const;
    treads[0].force = 20;
    treads[1].force = 5;
    const side: [number, number] = [0, 0];
    sideForces({ ...m, totalWeight: 25 }, 0.5, treads, side, null);
    // 20^0.8 = 10.98561, 5^0.8 = 3.62390; the rounding near no load changes the fifth digit
    expectRel(side[0], -12.5 * (10.98561 / 14.60951), 2e-3, "N");
    expectRel(side[1], -12.5 * (3.6239 / 14.60951), 2e-3, "N");
    expectRel(side[0] + side[1], -12.5, 1e-12, "N");
  });
});
