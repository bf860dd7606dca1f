import { describe, expect, it } from "vitest";
import { HUB_Z } from "../../src/core/equilibrium/unknowns.ts";
import { liftForDrop } from "../../src/motion/drop.ts";
import { advance, createSession, type Session } from "../../src/motion/session.ts";
import { forgetForces, step } from "../../src/motion/step.ts";
import { poseOf } from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** Balances of whole steps: what is inside cancels, what is outside does not. Body of 2.2 kg, each hub of 0.13 kg, each wheel of 0.22 kg. */
function session(): Session {
  const made = createSession(shipped("heavy-forked.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, { speedMps: 6, breaks: false });
  if (!made.ok) throw new Error(made.reason.message);
  return made.session;
}
const STEPS = 12;
const H = 1 / 2400;
/** A step counts as solved when no force is out by more than 5e-5 of the weight. */
const CLOSED = 1e-4;

/** Momentum sideways and up, kg·mm/s, and about the road's origin, kg·mm²/s. */
function momentum({ world, m }: Session): [number, number, number] {
  const parts = [
    { body: world.body, kg: m.bodyKg, inertia: m.bodyInertia },
    ...world.hubs.map((body, i) => ({ body, kg: m.corners[i]!.hubKg, inertia: m.corners[i]!.hubInertia })),
    ...world.wheels.map((body, i) => ({ body, kg: m.corners[i]!.wheelKg, inertia: m.corners[i]!.wheelInertia })),
  ];
  const sum: [number, number, number] = [0, 0, 0];
  for (const { body, kg, inertia } of parts) {
    const v = body.getLinearVelocity();
    const p = poseOf(body);
    sum[0] += kg * 10 * v.x;
    sum[1] += kg * 10 * v.y;
    sum[2] += inertia * body.getAngularVelocity() + kg * 10 * (p.x * v.y - p.z * v.x);
  }
  return sum;
}

describe("an axle in the air", () => {
  const x = session();
  liftForDrop(x, 400);
  x.input.push = [5, 12, 300];
  // the push acts already
  forgetForces(x.s, x.input);
  const before = momentum(x);
  const masses = 2.9;
  for (let i = 0; i < STEPS; i++) expect(step(x.s, x.input)).toBe(true);
  const after = momentum(x);

  // 5 N sideways and 12 N up for 5 ms, less the weight of 2.9 kg: kg·mm/s are N·ms
  it("gains as much momentum as it is pushed and weighs", () => {
    expectRel(after[0] - before[0], 5 * STEPS * H * 1000, CLOSED, "sideways (kg·mm/s)");
    expectRel(after[1] - before[1], (12 - masses * 9.80665) * STEPS * H * 1000, CLOSED, "up (kg·mm/s)");
  });

  // about the road's origin: the moment, and the push sideways at the body's height; the rest is symmetric
  it("turns by the moment that is laid on it", () => {
    const height = poseOf(x.world.body).z;
    expectRel(after[2] - before[2], (300 - 5 * height) * STEPS * H * 1000, 5e-3, "kg·mm²/s");
  });

  it("closes its forces in every step", () => {
    expect(x.s.open).toBe(0);
    expect(x.s.steps).toBe(STEPS);
  });
});

describe("an axle at rest", () => {
  it("stays where it is while nothing happens", () => {
    const x = session();
    const q = x.s.q.slice();
    for (let i = 0; i < STEPS; i++) advance(x, x.scene);
    q.forEach((v, i) => {
      expectAbs(x.s.q[i]!, v, 1e-4, `unknown ${i}`);
    });
    expectRel(x.timeS, STEPS * H, 1e-12, "s");
    expectAbs(x.s.wheelAcc[1]!, 0, 20, "mm/s²");
  });

  // the tyre gives before the wheel moves: 14 N/mm, and what its damping feels of the speed
  it("feels a road that rises as soon as it does, on that side alone", () => {
    const x = session();
    const [left, right] = x.s.tyre.verticalN;
    const scene = { ...x.scene, road: [0, 0] as [number, number] };
    for (let i = 1; i <= 3; i++) {
      scene.road[1] = 0.02 * i;
      advance(x, scene);
    }
    // 48 mm/s for 3 steps: 0.06 mm, 6e-4 s ahead 0.029 mm more; the wheel has hardly moved
    expectRel(x.s.tyre.verticalN[1] - right, 14 * (0.06 + 0.0288), 0.1, "N on the right");
    expectAbs(x.s.tyre.verticalN[0] - left, 0, 0.02, "N on the left");
    expect(x.s.q[x.m.axle.corners[1].base + HUB_Z]).toBeGreaterThan(x.s.q[x.m.axle.corners[0].base + HUB_Z]!);
  });
});
