import { describe, expect, it } from "vitest";
import { assemble } from "../../src/core/equilibrium/assemble.ts";
import { REST } from "../../src/core/equilibrium/solve.ts";
import { workspace } from "../../src/core/equilibrium/workspace.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { createSession, type Session } from "../../src/motion/session.ts";
import { BLEND_MM, BLEND_RAD, STEPS_PER_SECOND } from "../../src/motion/settings.ts";
import { step } from "../../src/motion/step.ts";
import { heightEnergy, motionEnergy, storedEnergy } from "../oracles/motion-energy.ts";
import { expectAbs } from "../support/close.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

function atRest(file: string): Session {
  const made = createSession(shipped(file), REST, { speedMps: 6, breaks: false });
  if (!made.ok) throw new Error(made.reason.message);
  return made.session;
}

describe("the energies", () => {
  // step of the difference quotient, mm or rad; its error is step² times a third derivative, the contacts' corners included
  const STEP = 1e-6;
  it.each(SHIPPED)("have the static core's residual as their slope: %s", (file) => {
    const { m, s } = atRest(file);
    const random = createRandom(7);
    const q = s.q.slice();
    for (let i = 0; i < m.x; i++) q[i] = q[i]! + random.between(-1, 1) * (i < 12 ? 1e-3 : 1e-4);
    const r = new Float64Array(m.axle.n);
    assemble(m.axle, q, REST, { mm: BLEND_MM, rad: BLEND_RAD }, r, null, workspace());
    for (let i = 0; i < m.axle.n; i++) {
      // a stiff tread shift has no energy of its own: the core pins it to zero
      const rigidShift = m.axle.corners.some((c) => i === c.base + 4 && !Number.isFinite(c.tyre.lateralK));
      if (rigidShift) continue;
      const at = (d: number): number => {
        const x = q.slice();
        x[i] = x[i]! + d;
        return storedEnergy(m, x, [0, 0]) + heightEnergy(m, x);
      };
      const slope = (at(STEP) - at(-STEP)) / (2 * STEP);
      expectAbs(slope, r[i]!, 1e-2 + 1e-4 * Math.abs(r[i]!), `slope of unknown ${i}`);
    }
  });
});

describe("a car that was pushed down and tilted and is let go", () => {
  /** What one step may add by rounding of contacts and unfinished iterations, share of the energy that was put in. */
  const STEP_SHARE = 1e-4;
  it.each(SHIPPED)("never gains energy, and loses nearly all that was put in: %s", (file) => {
    const x = atRest(file);
    const { m, s } = x;
    const energy = (): number => storedEnergy(m, s.q, [0, 0]) + heightEnergy(m, s.q);
    const rest = energy();
    x.input.push = [0, -0.5 * m.axle.totalWeight, 6 * m.axle.totalWeight];
    for (let i = 0; i < 2 * STEPS_PER_SECOND; i++) step(s, x.input);
    x.input.push = [0, 0, 0];
    // planck's speeds belong to the middle of the step: the pose's energy is taken there too
    let pose = energy();
    step(s, x.input);
    const put = pose - rest;
    expect(put).toBeGreaterThan(1);
    let last = Number.POSITIVE_INFINITY;
    let end = 0;
    for (let i = 0; i < 2 * STEPS_PER_SECOND; i++) {
      const now = energy();
      const total = (pose + now) / 2 + motionEnergy(s) - rest;
      pose = now;
      expect(total, `energy ${i} steps after the release, N·mm`).toBeLessThanOrEqual(last + STEP_SHARE * put);
      last = Math.min(last, total);
      end = total;
      step(s, x.input);
    }
    expect(end).toBeLessThan(0.01 * put);
  });
});
