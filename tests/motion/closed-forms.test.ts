import { describe, expect, it } from "vitest";
import { G } from "../../src/core/units.ts";
import { liftForDrop } from "../../src/motion/drop.ts";
import { createSession, type Session } from "../../src/motion/session.ts";
import { STEPS_PER_SECOND } from "../../src/motion/settings.ts";
import { forgetForces, step, stillInput } from "../../src/motion/step.ts";
import { poseOf } from "../../src/motion/world.ts";
import { expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { meanPeriod, pendulums, quarterCars, rig } from "./rigs.ts";

/** What motion is held to against closed forms. */
const ONE_PER_CENT = 0.01;

describe("a mass on spring and damper", () => {
  const mass = 1.1;
  const k = 3;
  const omega = Math.sqrt((k * 1000) / mass);
  const deflection = (forceN: number): number => forceN / (2 * k);

  /** heave of the body over time under a force on it, mm */
  function heave(zeta: number, force: (t: number) => number, seconds: number): { t: number[]; z: number[] } {
    const { s } = rig(
      quarterCars({ sprungKg: mass, unsprungKg: 0.01, spring: k, tyre: 1e4, damper: 2 * zeta * Math.sqrt(k * 1000 * mass) }),
      () => {},
      STEPS_PER_SECOND,
    );
    const input = stillInput();
    forgetForces(s, input);
    const t: number[] = [];
    const z: number[] = [];
    for (let i = 1; i <= seconds * STEPS_PER_SECOND; i++) {
      input.push[1] = force(i * s.h);
      step(s, input);
      t.push(i * s.h);
      z.push(s.q[0]!);
    }
    return { t, z };
  }

  // overshoot exp(-πζ/√(1-ζ²)) at t = π/(ω√(1-ζ²)): Ogata, Modern Control Engineering, transient response of second-order systems
  it.each([
    [0.1, 0.72924761],
    [0.2, 0.5266206],
    [0.3, 0.3723261],
    [0.5, 0.16303353],
  ])("overshoots a force step at a damping ratio of %s as the closed form says, and at its time", (zeta, overshoot) => {
    const { t, z } = heave(zeta, () => 6, 0.25);
    const top = z.indexOf(Math.max(...z));
    expectRel(z[top]! / deflection(6) - 1, overshoot, ONE_PER_CENT, "overshoot");
    expectRel(t[top]!, Math.PI / (omega * Math.sqrt(1 - zeta * zeta)), ONE_PER_CENT, "time of the peak, s");
  });

  it("swings at √(k/m) and keeps its swing for ten periods when nothing damps", () => {
    const { t, z } = heave(0, () => 6, 2.5);
    const swing = z.map((v) => v - deflection(6));
    expectRel(meanPeriod(t, swing), (2 * Math.PI) / omega, ONE_PER_CENT, "period, s");
    const period = (2 * Math.PI) / omega;
    const late = Math.max(...swing.filter((_, i) => t[i]! > 9 * period && t[i]! < 10.5 * period));
    expectRel(late, deflection(6), ONE_PER_CENT, "swing after ten periods, mm");
  });

  // Chopra, Dynamics of Structures, step force with finite rise time: peak = 1 + |sin(π t_r/T)| / (π t_r/T)
  it.each([0.2, 0.5, 1])("answers a force that rises over %s of its period with the closed form's peak", (share) => {
    const period = (2 * Math.PI) / omega;
    const rise = share * period;
    const { z } = heave(0, (t) => 6 * Math.min(1, t / rise), 3 * period);
    expectRel(Math.max(...z) / deflection(6), 1 + Math.abs(Math.sin(Math.PI * share)) / (Math.PI * share), ONE_PER_CENT, "peak over static");
  });
});

describe("two masses, body and wheel", () => {
  // Barton and Fieldhouse, Automotive Chassis Engineering, p. 209, Eq. 3.82-3.84: 317.5/45.4 kg, 22/192 kN/m; exact roots of the printed quadratic
  const body = { sprungKg: 317.5, unsprungKg: 45.4, spring: 22, tyre: 192, damper: 0 };

  function record(seconds: number): { t: number[]; body: number[]; wheel: number[] } {
    const { m, s } = rig(quarterCars(body), () => {}, STEPS_PER_SECOND);
    const input = stillInput();
    forgetForces(s, input);
    const out = { t: [] as number[], body: [] as number[], wheel: [] as number[] };
    const hub = m.axle.corners[1].base + 1;
    for (let i = 1; i <= seconds * STEPS_PER_SECOND; i++) {
      input.push[1] = 200;
      step(s, input);
      out.t.push(i * s.h);
      out.body.push(s.q[0]!);
      out.wheel.push(s.q[hub]!);
    }
    return out;
  }

  it("swing with the published body and wheel-hop frequencies", () => {
    const { t, body: zb, wheel: zw } = record(5);
    // rest under the push: springs in series
    const restWheel = 100 / body.tyre;
    const restBody = restWheel + 100 / body.spring;
    const ratio = 0.104176;
    // each mode seen alone: project on the other's mass-weighted shape
    const slow = zb.map((z, i) => body.sprungKg * (z - restBody) + body.unsprungKg * ratio * (zw[i]! - restWheel));
    const across = -body.sprungKg / (body.unsprungKg * ratio);
    const fast = zb.map((z, i) => body.sprungKg * (z - restBody) + body.unsprungKg * across * (zw[i]! - restWheel));
    expectRel(1 / meanPeriod(t, slow), 1.253924, ONE_PER_CENT, "body frequency, Hz");
    expectRel(1 / meanPeriod(t, fast), 10.935317, ONE_PER_CENT, "wheel-hop frequency, Hz");
  });
});

describe("a pendulum", () => {
  // exact period 2π√(L/g) / agm(1, cos(α/2)) for a swing of α either way (Gauss)
  function agm(x: number, y: number): number {
    let a = x;
    let b = y;
    for (let i = 0; i < 20; i++) [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
    return a;
  }

  it.each([5, 40])("of a hub on two hanging arms swings in its exact period from %s°", (degrees) => {
    const length = 100;
    const alpha = (degrees * Math.PI) / 180;
    const { m, s } = rig(
      pendulums(length),
      (model, q) => {
        for (const c of model.axle.corners) {
          // both sides swing outwards first, so that the body stays where it is held
          const turn = c.sign * alpha;
          const dx = length * Math.sin(turn);
          const dz = length * (1 - Math.cos(turn));
          q[c.base] = dx;
          q[c.base + 1] = dz;
          for (const name of ["upper", "lower"] as const) {
            const arm = c.arms[name];
            for (let k = 0; k < arm.count; k++) {
              q[arm.base + 3 * k] = arm.fractions[k]! * dx;
              q[arm.base + 3 * k + 1] = arm.fractions[k]! * dz;
              q[arm.base + 3 * k + 2] = turn;
            }
          }
        }
      },
      STEPS_PER_SECOND,
    );
    const input = stillInput();
    input.hold = { xMm: 0, heaveMm: 0, angleRad: 0, nPerMm: 1e5, nsPerMm: 100, nmmPerRad: 1e9, nmmsPerRad: 1e6 };
    forgetForces(s, input);
    const t: number[] = [];
    const x: number[] = [];
    const at = m.axle.corners[1].base;
    for (let i = 1; i <= 4 * STEPS_PER_SECOND; i++) {
      step(s, input);
      t.push(i * s.h);
      x.push(s.q[at]!);
    }
    const exact = (2 * Math.PI * Math.sqrt(length / 1000 / G)) / agm(1, Math.cos(alpha / 2));
    expectRel(meanPeriod(t, x), exact, ONE_PER_CENT, "period, s");
    expectRel(Math.max(...x.slice(-STEPS_PER_SECOND)), length * Math.sin(alpha), ONE_PER_CENT, "swing after three seconds, mm");
  });
});

describe("an axle that is let go", () => {
  const centre = (x: Session): number => {
    const parts = [
      { kg: x.m.bodyKg, z: poseOf(x.world.body).z },
      ...[0, 1].flatMap((i) => [
        { kg: x.m.corners[i]!.hubKg, z: poseOf(x.world.hubs[i]!).z },
        { kg: x.m.corners[i]!.wheelKg, z: poseOf(x.world.wheels[i]!).z },
      ]),
    ];
    return parts.reduce((sum, p) => sum + p.kg * p.z, 0) / parts.reduce((sum, p) => sum + p.kg, 0);
  };

  it("falls by g t²/2 until its tyres touch, whatever springs and wheels do meanwhile", () => {
    const made = createSession(shipped("heavy-forked.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!made.ok) throw new Error(made.reason.message);
    const x = made.session;
    liftForDrop(x, 300);
    const start = centre(x);
    const steps = Math.floor(0.2 * STEPS_PER_SECOND);
    for (let i = 0; i < steps; i++) step(x.s, x.input);
    const t = steps * x.s.h;
    expect(Math.max(...x.s.tyre.verticalN)).toBeLessThanOrEqual(0);
    expectRel(start - centre(x), (G * 1000 * t * t) / 2, ONE_PER_CENT, "fall, mm");
  });
});
