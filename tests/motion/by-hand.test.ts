import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { bearingDamping, jointDamping, type Rates, springDamper } from "../../src/motion/forces.ts";
import { buildMotion, type MotionModel } from "../../src/motion/model.ts";
import { holdBody, kerbForce, scrapes } from "../../src/motion/outside.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** Single forces and masses of the moving axle against hand calculations from the file's numbers. */

const model = (change: (s: Scenario) => void = () => {}): MotionModel => {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.corner.hub.staticCamberDeg = 0;
  change(s);
  return buildMotion(s);
};
const m = model();
const [left, right] = m.bare.corners;
const vector = (n = m.bare.n): Float64Array => new Float64Array(n);
/** Speeds at the end of the step, nothing else moving. */
function moving(at: readonly (readonly [number, number])[], of = m): Rates {
  const end = vector(of.bare.n);
  for (const [i, v] of at) end[i] = v;
  return { perStep: 2400, end, perEnd: 3600 };
}
const STILL = moving([]);

describe("masses", () => {
  // body 2.2 kg as a box of 0.7 · 304 by 1.2 · 92 mm: (212.8² + 110.4²)/12 = 4789.333333 mm²
  it("of body, hub and wheel are the file's, spread as said", () => {
    expect(m.bodyKg).toBe(2.2);
    expectRel(m.bodyInertia, 2.2 * 4789.333333, 1e-9, "kg·mm²");
    for (const c of m.corners) {
      expectRel(c.hubKg, 0.13, 1e-12, "kg");
      expectRel(c.wheelKg, 0.22, 1e-12, "kg");
      // a bar of 44 mm between the ball joints: 44²/12; a ring of 0.8 · 48 mm about its diameter, 36 mm wide: 38.4²/2 + 36²/12
      expectRel(c.hubInertia, (0.13 * 44 ** 2) / 12, 1e-12, "kg·mm²");
      expectRel(c.wheelInertia, 0.22 * (737.28 + 108), 1e-12, "kg·mm²");
    }
  });

  it("leave the hub a fiftieth of the unsprung mass where all of it is the wheel's", () => {
    const all = model((s) => {
      s.corner.wheel.massKg = s.corner.wheel.unsprungMassKg;
    });
    expectRel(all.corners[0].hubKg, 0.007, 1e-12, "kg");
    expectRel(all.corners[0].wheelKg, 0.343, 1e-12, "kg");
  });

  it("take the radius of gyration and the tyre's damping that are given", () => {
    const s = shipped("heavy-forked.json");
    expectRel(buildMotion(s, { bodyGyrationMm: 50 }).bodyInertia, 2.2 * 2500, 1e-12, "kg·mm²");
    // damping ratio 0.06 of 0.35 kg on 14 N/mm: 2 · 0.06 sqrt(0.35/14000) = 6e-4 s
    expectRel(m.tyreDampingS[0], 6e-4, 1e-12, "s");
    expectRel(buildMotion(s, { tyreDampingRatio: 0.5 }).tyreDampingS[1], 5e-3, 1e-12, "s");
  });

  it("stand on flanks twice as stiff as the tyre, feet 8 mm under the ball joint and 12 mm under the lower pivot", () => {
    expect(m.flankK).toEqual([28, 28]);
    // lower ball joint at (120, 28), hub at (152, 48); lower pivot at (48, 32), centre of gravity at (0, 92)
    expect(m.hubFoot).toEqual([
      [32, -28],
      [-32, -28],
    ]);
    expect(m.bodyFeet).toEqual([
      [-48, -72],
      [48, -72],
    ]);
  });

  it("leave weights and tyres to the moving world", () => {
    expect(m.bare.bodyWeight).toBe(0);
    for (const c of m.bare.corners) expect([c.wheelWeight, c.hubWeight, c.tyre.rate]).toEqual([0, 0, 0]);
    expect([m.bare.n, m.x]).toEqual([m.axle.n + 1, m.axle.n]);
    expectRel(m.axle.corners[0].wheelWeight, 2.157463, 1e-9, "N in the core's own model");
  });
});

describe("a spring's damper", () => {
  // spring from (76, 88) to six tenths of the lower arm, (91.2, 29.6): 60.345671 mm, direction down and out (0.251882, -0.967758)
  const arm = right.arms.lower;
  const seat = arm.base + 3 * arm.seatNode!;
  const push = (vz: number, vx = 0): { push: number; fx: number; fz: number; heave: number } => {
    const r = vector();
    const p = springDamper(
      null,
      r,
      vector(),
      right,
      moving([
        [seat, vx],
        [seat + 1, vz],
      ]),
    );
    return { push: p, fx: r[seat]!, fz: r[seat + 1]!, heave: r[0]! };
  };

  it("pushes against closing by 25 N·s/m and pulls against opening by 45, along the spring", () => {
    // seat up by 100 mm/s closes by 96.7758 mm/s
    expectRel(push(100).push, 2.419395, 1e-5, "N while closing");
    expectRel(push(-100).push, -4.354911, 1e-5, "N while opening");
    // residual of inside forces: minus the force on the seat, which is pushed down and out
    expectRel(push(100).fz, 2.419395 * 0.967758, 1e-5, "N up on the residual of the seat");
    expectRel(push(100).fx, -2.419395 * 0.251882, 1e-5, "N sideways on the residual of the seat");
    expectRel(push(100).heave, -2.419395 * 0.967758, 1e-5, "N on the residual of the body");
  });

  it("feels speed along the spring alone", () => {
    expectAbs(push(25.1882, 96.7758).push, 0, 1e-4, "N across the spring");
  });

  it("is nothing without damping, and feels the hub where it sits on the hub", () => {
    const none = model((s) => {
      s.corner.spring.damping = { bumpNsPerM: 0, reboundNsPerM: 0 };
    });
    expect(springDamper(null, vector(none.bare.n), vector(none.bare.n), none.bare.corners[1], STILL)).toBe(0);
    const onHub = model((s) => {
      s.corner.spring.seat = { on: "hub", sMm: 100, zMm: 40 };
      s.corner.spring.top = { sMm: 100, zMm: 100 };
      s.corner.spring.damping = { bumpNsPerM: 0, reboundNsPerM: 45 };
    });
    const c = onHub.bare.corners[1];
    const told = (at: readonly (readonly [number, number])[]): number => springDamper(null, vector(onHub.bare.n), vector(onHub.bare.n), c, moving(at, onHub));
    expectRel(told([[c.base + 1, -100]]), -4.5, 1e-9, "N, hub falling");
    expectAbs(told([[c.base + 1, 100]]), 0, 1e-12, "N, hub rising on a damper for rebound alone");
    // 1 rad/s counter-clockwise about the wheel's centre, 52 mm outboard of the seat: the seat falls by 52 mm/s
    expectRel(told([[c.base + 2, 1]]), -2.34, 1e-9, "N, hub turning");
    // body turning by 1 rad/s lifts the spring's top by 100 mm/s
    expectRel(told([[1, 1]]), -4.5, 1e-9, "N, body turning");
  });
});

describe("joints of a moving axle", () => {
  // outer joints: 1/(1/2000 + 1/1200 + 1/1500) = 500 N/mm, clearance 0.1 mm, damping over stiffness 1e-4 s
  it("push with what they are strained beyond their clearance, and with their damping", () => {
    const q = vector();
    q[right.base] = 0.3;
    q[right.base + 1] = 0.4;
    const r = vector();
    const force = new Float64Array(16);
    jointDamping(null, r, q, m.bare, moving([[right.base, 10]]), force);
    // hub 0.5 mm off along (0.6, 0.8): 500 · 0.4 N back; damping 500 · 1e-4 · 10 = 0.5 N
    for (const joint of [1, 3]) {
      expectRel(force[8 + 2 * joint]!, -120.5, 1e-9, "N to the right on the hub");
      expectRel(force[8 + 2 * joint + 1]!, -160, 1e-9, "N up on the hub");
    }
    for (const joint of [0, 2]) expect([force[8 + 2 * joint], force[8 + 2 * joint + 1]].map((v) => v! + 0)).toEqual([0, 0]);
    expect([...force.slice(0, 8)].every((v) => v + 0 === 0)).toBe(true);
    // only the damping is handed on: both outer joints
    expectRel(r[right.base]!, 1, 1e-9, "N");
  });

  it("have no give inside their clearance, and all of it where there is none", () => {
    const q = vector();
    q[left.base] = 0.05;
    const force = new Float64Array(16);
    jointDamping(null, vector(), q, m.bare, STILL, force);
    for (const v of force) expectAbs(v, 0, 1e-12, "N inside the clearance");
    const tight = model((s) => {
      for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
    });
    const p = vector(tight.bare.n);
    p[tight.bare.corners[0].base] = 0.05;
    jointDamping(null, vector(tight.bare.n), p, tight.bare, moving([], tight), force);
    expectRel(force[2]!, -25, 1e-9, "N on the left hub, upper outer");
    expectRel(force[6]!, -25, 1e-9, "N on the left hub, lower outer");
  });

  it("feel a hub that turns by the lever of each", () => {
    // 1 rad/s about the hub's point (152, 48): upper joint at (120, 72), lever (-32, 24): moves by (-24, -32) mm/s
    const force = new Float64Array(16);
    jointDamping(null, vector(), vector(), m.bare, moving([[right.base + 2, 1]]), force);
    expectRel(force[8 + 2]!, 1.2, 1e-9, "N to the right");
    expectRel(force[8 + 3]!, 1.6, 1e-9, "N up");
    // lower joint at (120, 28), lever (-32, -20): (20, -32) mm/s
    expectRel(force[8 + 6]!, -1, 1e-9, "N to the right");
    expectRel(force[8 + 7]!, 1.6, 1e-9, "N up");
  });

  it("feel a body that turns by the lever of each", () => {
    // inner joints 1/(1/2000 + 1/1200 + 1/800) = 387.096774 N/mm; upper pivot (56, 76) from (0, 92): moves by (16, 56) mm/s
    const force = new Float64Array(16);
    jointDamping(null, vector(), vector(), m.bare, moving([[1, 1]]), force);
    expectRel(force[8]!, 387.096774 * 1e-4 * 16, 1e-8, "N to the right on the arm");
    expectRel(force[9]!, 387.096774 * 1e-4 * 56, 1e-8, "N up on the arm");
  });
});

describe("a bearing without play", () => {
  it("carries all of its tilt", () => {
    const firm = model((s) => {
      s.corner.hub.tiltPlayDeg = 0;
    });
    const c = firm.bare.corners[0];
    const q = vector(firm.bare.n);
    q[c.base + 3] = -0.01;
    expectRel(bearingDamping(null, vector(firm.bare.n), q, c, moving([], firm)), -148.969027, 1e-8, "N·mm");
  });
});

describe("a kerb", () => {
  // right tyre from 134 to 170 mm; flank 28 N/mm; damping over stiffness 6e-4 s
  const hit = (xMm: number, speedMmps = 0, heightMm = 15, at: readonly (readonly [number, number])[] = []) => {
    const r = vector();
    const f = kerbForce(null, r, vector(), m, { side: "right", xMm, speedMmps, heightMm }, moving(at), true);
    return { f, r };
  };

  it("pushes the tyre it has met inwards by how deep it stands in it, and does not pull", () => {
    expectRel(hit(169).f, -28, 1e-9, "N, 1 mm deep");
    expect(hit(171).f).toBe(0);
    const { r } = hit(169);
    // on the body's x, the hub's x, and by the height of the kerb, 33 mm below the wheel's centre, on hub and wheel
    expectRel(r[m.x]!, 28, 1e-9, "N");
    expectRel(r[right.base]!, 28, 1e-9, "N");
    expectRel(r[right.base + 2]!, 28 * 33, 1e-9, "N·mm");
    expectRel(r[right.base + 3]!, 28 * 33, 1e-9, "N·mm");
    expect(r[left.base]).toBe(0);
  });

  it("is felt sooner and harder the faster they meet", () => {
    expectRel(hit(169, -1000).f, -28 * 1.6, 1e-9, "N, kerb coming at 1 m/s");
    expectRel(hit(170.5, -1000).f, -28 * 0.1, 1e-9, "N, half a millimetre ahead");
    expectRel(hit(169, 0, 15, [[right.base, 1000]]).f, -28 * 1.6, 1e-9, "N, hub going at 1 m/s");
    expectRel(hit(169, 0, 15, [[m.x, 1000]]).f, -28 * 1.6, 1e-9, "N, car going at 1 m/s");
  });

  it("is not felt when the tread passes over it, nor by a wheel that is off; above the wheel's centre it counts as at it", () => {
    const r = vector();
    const up = vector();
    up[right.base + 1] = 16;
    const kerb = { side: "right", xMm: 160, speedMmps: 0, heightMm: 15 } as const;
    expect(kerbForce(null, r, up, m, kerb, STILL, true)).toBe(0);
    expect(kerbForce(null, r, vector(), m, kerb, STILL, false)).toBe(0);
    expectRel(hit(169, 0, 90).r[right.base + 2]! + 1, 1, 1e-9, "N·mm of lever at the centre");
  });

  it("is met on the left in the mirror's way", () => {
    const r = vector();
    expectRel(kerbForce(null, r, vector(), m, { side: "left", xMm: -169, speedMmps: 0, heightMm: 15 }, STILL, true), 28, 1e-9, "N");
    expectRel(r[left.base]!, -28, 1e-9, "N");
  });
});

describe("what scrapes over the ground", () => {
  // body's feet at 92 - 72 = 20 mm; a bare hub's at 48 - 28 = 20 mm; 60 N/mm, damping over stiffness 6e-4 s
  it("is pushed up by its depth, at its lever", () => {
    const q = vector();
    q[0] = -21;
    const r = vector();
    scrapes(null, r, q, m, STILL, [true, true], [0, 0]);
    expectRel(r[0]!, -120, 1e-9, "N on both feet of the body");
    expectAbs(r[1]!, 0, 1e-9, "N·mm, alike on both sides");
    const onRight = vector();
    scrapes(null, onRight, q, m, STILL, [true, true], [-5, 2]);
    expectRel(onRight[0]!, -180, 1e-9, "N with 3 mm on the right");
    expectRel(onRight[1]!, -180 * 48, 1e-9, "N·mm");
  });

  it("damps, and never pulls", () => {
    const q = vector();
    q[0] = -21;
    const r = vector();
    scrapes(null, r, q, m, moving([[0, -1000]]), [true, true], [0, 0]);
    expectRel(r[0]!, -192, 1e-9, "N at 1 m/s down");
    const away = vector();
    scrapes(null, away, q, m, moving([[0, 3000]]), [true, true], [0, 0]);
    expect(away[0]).toBe(0);
  });

  it("is a hub only without its wheel", () => {
    const q = vector();
    q[right.base + 1] = -21;
    q[left.base + 1] = -21;
    const r = vector();
    scrapes(null, r, q, m, STILL, [true, false], [0, 0]);
    expectRel(r[right.base + 1]!, -60, 1e-9, "N on the right");
    expectRel(r[right.base + 2]!, 60 * 32, 1e-9, "N·mm on the right, foot inboard");
    expect(r[left.base + 1]).toBe(0);
  });
});

describe("a hand on the body", () => {
  it("pulls where it is given by spring and damper, and nowhere else", () => {
    const r = vector();
    const q = vector();
    q[m.x] = 3;
    q[0] = 5;
    q[1] = 0.02;
    holdBody(
      null,
      r,
      q,
      m,
      { heaveMm: 1, nPerMm: 2, nsPerMm: 0.1, nmmPerRad: 900, nmmsPerRad: 7 },
      moving([
        [0, 30],
        [1, 4],
      ]),
    );
    expectRel(r[0]!, 2 * 4 + 3, 1e-12, "N");
    expect([r[1], r[m.x]]).toEqual([0, 0]);
    holdBody(null, r, q, m, { xMm: 1, angleRad: 0, nPerMm: 2, nsPerMm: 0.1, nmmPerRad: 900, nmmsPerRad: 7 }, moving([[1, 4]]));
    expectRel(r[m.x]!, 4, 1e-12, "N");
    expectRel(r[1]!, 18 + 28, 1e-12, "N·mm");
  });
});
