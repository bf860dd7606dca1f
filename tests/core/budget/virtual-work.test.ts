import { describe, expect, it } from "vitest";
import { elementSet, unitLoad } from "../../../src/core/budget/elements.ts";
import type { Load } from "../../../src/core/design/types.ts";
import { assemble } from "../../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../../src/core/equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver } from "../../../src/core/equilibrium/newton.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { expectAbs } from "../../support/close.ts";

const SEEDS = Array.from({ length: 12 }, (_, seed) => seed);
const STEP = 1e-5;
/** cut-off of the differences and rounding */
const WORK = 1e-6;
/** what such a share of stiffness, the tyre's floor, leaves at a spring and a tyre that just touch */
const SAME = 1e-4;

const isTurn = (i: number): boolean => (i < 12 ? i === 1 || (i > 1 && ((i - 2) % 5 === 2 || (i - 2) % 5 === 3)) : (i - 12) % 3 === 2);

function moved(m: AxleModel, seed: number): { q: Float64Array; load: Load } {
  const r = createRandom(seed + 900);
  const q = Float64Array.from({ length: m.n }, (_, i) => (isTurn(i) ? r.between(-0.05, 0.05) : r.between(-0.3, 0.3)));
  for (const c of m.corners) {
    q[c.base + 1] = q[c.base + 1]! - 3;
    c.tyre.exponent = 1;
  }
  return { q, load: { lateralG: r.between(-0.8, 0.8), bumpLeftMm: r.between(-1, 1), bumpRightMm: r.between(-1, 1) } };
}

describe("forces of a unit moment on a wheel", () => {
  it.each(SEEDS)("do the work of the moment in every small motion (principle of virtual work; seed %i)", (seed) => {
    const m = buildAxle(randomScenario(seed), { elementsPerArm: 2 });
    const { q, load } = moved(m, seed);
    const set = elementSet(m);
    unitLoad(set, q, load);
    const n = [set.n[0].slice(), set.n[1].slice()] as const;
    const deformed = (i: number, by: number): Float64Array => {
      const x = q.slice();
      x[i] = x[i]! + by;
      unitLoad(set, x, load);
      return set.e.slice();
    };
    for (let i = 0; i < m.n; i++) {
      const [up, down] = [deformed(i, STEP), deformed(i, -STEP)];
      for (const w of [0, 1] as const) {
        let work = 0;
        let size = 1e-3;
        for (let k = 0; k < up.length; k++) {
          const part = (n[w][set.forceOf[k]!]! * (up[k]! - down[k]!)) / (2 * STEP);
          work += part;
          size += Math.abs(part);
        }
        const c = m.corners[w];
        // top leaning outwards: clockwise on the right
        const moment = i === c.base + 2 || i === c.base + 3 ? -c.sign : 0;
        expectAbs(work, moment, WORK * size, `wheel ${w}, unknown ${i} of ${m.n}`);
      }
    }
  });

  it.each(SEEDS)("lean the wheel as the axle's own tangent does where nothing is loaded and all is in touch (seed %i)", (seed) => {
    const m = buildAxle(randomScenario(seed), { elementsPerArm: 2 });
    const q = new Float64Array(m.n);
    // each tread hands on the cornering level of what it comes to carry
    const load = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 };
    const touch = 1e-7;
    for (const c of m.corners) {
      for (const j of Object.values(c.joints)) Object.assign(j, { clearance: 0, kc: 0 });
      Object.assign(c.bearing, { play: 0, kc: 0 });
      const length = Math.hypot(c.spring.seatAt[0] - c.spring.topAt[0], c.spring.seatAt[1] - c.spring.topAt[1]);
      Object.assign(c.spring, { free: length + touch, bumpLength: length - 1, droopLength: length + 1 });
      // upright flat wheels whose tread just touches the road
      c.staticTurn = 0;
      Object.assign(c.tyre, { crown: 0, radius: c.centre[1] + touch, exponent: 1 });
      Object.assign(c, { wheelWeight: 0, hubWeight: 0 });
    }
    const set = elementSet(m);
    unitLoad(set, q, load);
    const s = createSolver(m);
    assemble(m, q, load, { mm: 0, rad: 0 }, s.r, s.sys, s.ws);
    factor(s.sys);
    const v = new Float64Array(m.n);
    // what was solved last: the right wheel
    const c = m.corners[1];
    v[c.base + 2] = -1;
    v[c.base + 3] = -1;
    solveSystem(s.sys, v, v, true);
    const most = (turns: boolean): number =>
      Math.max(
        ...Array.from(v)
          .filter((_, i) => isTurn(i) === turns)
          .map(Math.abs),
      );
    const [mm, rad] = [most(false), most(true)];
    expect(rad).toBeGreaterThan(0);
    for (let i = 0; i < m.n; i++) expectAbs(set.v[i]!, v[i]!, SAME * (isTurn(i) ? rad : mm), `unknown ${i} of ${m.n}`);
  });
});
