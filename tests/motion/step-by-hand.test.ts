import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { HEAVE, HUB_Z } from "../../src/core/equilibrium/unknowns.ts";
import { liftForDrop } from "../../src/motion/drop.ts";
import { BODY_X, heavyAt } from "../../src/motion/inertia.ts";
import { createSession } from "../../src/motion/session.ts";
import { MAX_ITERATIONS } from "../../src/motion/settings.ts";
import { forgetForces, type StepInput, type Stepper, step, stillInput } from "../../src/motion/step.ts";
import { poseOf, setSpeed } from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { pendulums, quarterCars, type Rig, rig } from "./rigs.ts";

/** One step after another, against the recurrence of the method, closed forms of motion, and what is known of Newton's method. */

/** per side: body of 2 kg on 2 N/mm and 12 N·s/m, wheel of 0.5 kg on 20 N/mm */
const SPRUNG = 2;
const UNSPRUNG = 0.5;
const SPRING = 2;
const TYRE = 20;
const DAMPER = 0.012;
const G = 9.80665;
/** coarse: the wheel hops through 5 rad in a step, so that the method's own period and damping are plain to see */
const PER_SECOND = 40;
/** Arms and joints that pull next to nothing: they are long and swing little, so that all that is left goes straight with the place. */
const PIN_N_PER_MM = 1;
function light(s: Scenario): Scenario {
  const pin = { clearanceMm: 0, pinNPerMm: 3 * PIN_N_PER_MM, holeNPerMm: 3 * PIN_N_PER_MM, mountNPerMm: 3 * PIN_N_PER_MM, pullOutN: 1e9 };
  s.corner.joints = { upperInner: pin, upperOuter: pin, lowerInner: pin, lowerOuter: pin };
  for (const name of ["upperArm", "lowerArm"] as const) {
    s.corner[name].section = { shape: "round", diameterMm: 1 };
    s.corner[name].material = {
      name: "string",
      youngMPa: 100,
      poisson: 0.3,
      yieldMPa: 1e9,
      densityKgPerM3: 1,
      plastic: true,
      maxTempC: 80,
      source: "invented",
    };
  }
  s.corner.hub.tiltStiffnessNmmPerDeg = 1000;
  return s;
}
const cars = (edit: (s: Scenario) => Scenario = (s) => s): Rig =>
  rig(edit(quarterCars({ sprungKg: SPRUNG, unsprungKg: UNSPRUNG, spring: SPRING, tyre: TYRE, damper: 1000 * DAMPER })), () => {}, PER_SECOND);
/** Everything falls and flies together: hubs on hanging arms, springs without a rate, 0.75 m above the road. */
const flying = (): Rig => rig(light(pendulums(100)), () => {}, 400);
const ready = (r: Rig, input: StepInput): Rig => {
  forgetForces(r.s, input);
  return r;
};

/** Second-order speed at the end of a step, by the last two changes: the backward difference of second order. */
const endSpeed = (x: number, before: number, earlier: number, h: number): number => (3 * x - 4 * before + earlier) / (2 * h);

/**
 * Newmark's method as a recurrence of three places (N. M. Newmark 1959; its form from memory), gamma = 0.51 and beta = 1.01²/4:
 * M (x1 - 2 x0 + x-1)/h² + beta f1 + (1/2 + gamma - 2 beta) f0 + (1/2 - gamma + beta) f-1 = 0, f = K x + C v - p, from rest at 0.
 */
function newmark(mass: Matrix, k: Matrix, c: Matrix, p: (n: number) => number[], h: number, steps: number): number[][] {
  const [gamma, beta] = [0.51, 1.01 ** 2 / 4];
  const x = [0, 1, 2].map(() => Matrix.columnVector([0, 0]));
  const end = (i: number): Matrix => Matrix.columnVector([0, 1].map((a) => endSpeed(x[i]!.get(a, 0), x[i - 1]!.get(a, 0), x[i - 2]!.get(a, 0), h)));
  const force = (n: number, v: Matrix): Matrix => Matrix.sub(Matrix.add(k.mmul(x[n + 2]!), c.mmul(v)), Matrix.columnVector(p(n)));
  let [now, before] = [Matrix.zeros(2, 1), Matrix.zeros(2, 1)];
  for (let n = 0; n < steps; n++) {
    const i = n + 2;
    const known = Matrix.sub(Matrix.mul(x[i]!, 4), x[i - 1]!).mul(1 / (2 * h));
    const right = mass
      .mmul(Matrix.sub(Matrix.mul(x[i]!, 2), x[i - 1]!))
      .mul(1 / h ** 2)
      .add(Matrix.add(c.mmul(known), Matrix.columnVector(p(n + 1))).mul(beta))
      .sub(Matrix.mul(now, 0.5 + gamma - 2 * beta))
      .sub(Matrix.mul(before, 0.5 - gamma + beta));
    const left = Matrix.mul(mass, 1 / h ** 2).add(Matrix.add(k, Matrix.mul(c, 1.5 / h)).mul(beta));
    x.push(solve(left, right));
    before = now;
    now = force(n + 1, end(i + 1));
  }
  return x.slice(2).map((v) => v.to1DArray());
}

describe("body and wheel on springs and dampers", () => {
  const STEPS = 24;
  const mass = new Matrix([
    [SPRUNG, 0],
    [0, UNSPRUNG],
  ]).mul(1e-3);
  const coupled = (v: number, ground: number, hand: number): Matrix =>
    new Matrix([
      [v + hand, -v],
      [-v, v + ground],
    ]);
  const push = (n: number): number => (n === 0 ? 0 : n <= 10 ? 4 : 4 * Math.cos(n));
  const CLOSE = 1e-3;

  // a hand of 1 N/mm and 4 N·s/m holds the body 1 mm higher: half of it for each side
  it("move as Newmark's method has it, pushed and held", () => {
    const [handN, handNs] = [1, 0.004];
    const input = stillInput();
    const { m, s } = ready(cars(), input);
    // closed to a ten thousandth of a newton: a share of 5e-5 of the weight
    m.axle.totalWeight = 2;
    input.hold = { heaveMm: 1, nPerMm: handN, nsPerMm: handNs, nmmPerRad: 0, nmmsPerRad: 0 };
    const h = 1 / PER_SECOND;
    const should = newmark(mass, coupled(SPRING, TYRE, handN / 2), coupled(DAMPER, 0, handNs / 2), (n) => [push(n) + (n > 0 ? handN / 2 : 0), 0], h, STEPS);
    const at = (n: number): number[] => should[Math.max(0, n)]!;
    const load = (n: number): number => (SPRUNG + UNSPRUNG) * G - TYRE * at(n)[1]!;
    for (let n = 1; n <= STEPS; n++) {
      input.push[1] = 2 * push(n);
      expect(step(s, input)).toBe(true);
      expectAbs(s.q[HEAVE]!, at(n)[0]!, CLOSE, `body after ${n} steps, mm`);
      const speeds = [0, 1].map((a) => endSpeed(at(n)[a]!, at(n - 1)[a]!, at(n - 2)[a]!, h));
      const speedsWere = [0, 1].map((a) => (at(n)[a]! - at(n - 1)[a]!) / h);
      expectAbs(s.v[HEAVE]!, speedsWere[0]!, 1, `speed of the body over step ${n}, mm/s`);
      m.axle.corners.forEach((c, i) => {
        expectAbs(s.q[c.base + HUB_Z]!, at(n)[1]!, CLOSE, `wheel ${i} after ${n} steps, mm`);
        expectAbs(s.tyre.verticalN[i]!, load(n), TYRE * CLOSE, `load on wheel ${i} after ${n} steps, N`);
        expectAbs(s.before.verticalN[i]!, load(n - 1), TYRE * CLOSE, `load on wheel ${i} a step before, N`);
        expectAbs(s.damperN[i]!, -DAMPER * (speeds[0]! - speeds[1]!), 0.02, `push of damper ${i} in step ${n}, N`);
        const acceleration = (at(n)[1]! - 2 * at(n - 1)[1]! + at(n - 2)[1]!) / h ** 2;
        expectAbs(s.wheelAcc[2 * i + 1]!, acceleration, 100, `acceleration of wheel ${i} at the start of step ${n}, mm/s²`);
      });
    }
    expect([s.steps, s.open]).toEqual([STEPS, 0]);
  });
});

describe("an axle that flies", () => {
  const h = 1 / 400;
  /** Steps under a frame that accelerates by `lateral(n)` g in step n; returns the iterations of each step. */
  function fly(lateral: (n: number) => number, steps: number): { r: Rig; iterations: number[] } {
    const input = stillInput();
    const r = ready(flying(), input);
    const iterations: number[] = [];
    for (let n = 1; n <= steps; n++) {
      input.lateralG = lateral(n);
      const before = r.s.iterations;
      expect(step(r.s, input)).toBe(true);
      iterations.push(r.s.iterations - before);
    }
    return { r, iterations };
  }

  // v' = v + h a, x' = x + h v' from rest: x = a h² n (n + 1)/2; a frame that accelerates to the left leaves the axle behind on the right
  it("falls by its weight and stays behind in a curve, to rounding, and is foreseen after the first step", () => {
    const { r, iterations } = fly(() => 0.5, 10);
    const way = (h * h * 10 * 11) / 2;
    expectAbs(r.s.q[HEAVE]!, -9806.65 * way, 1e-7, "fall, mm");
    expectAbs(r.s.q[r.m.x]!, 4903.325 * way, 1e-7, "sideways, mm");
    for (const c of r.m.axle.corners) expectAbs(r.s.q[c.base]!, 0, 1e-7, "hub against the body, mm");
    [4903.325, -9806.65, 4903.325, -9806.65].forEach((a, i) => {
      expectAbs(r.s.wheelAcc[i]!, a, 0.01, "acceleration of the wheels, mm/s²");
    });
    expect(iterations).toEqual([1, ...new Array<number>(9).fill(0)]);
    expect(r.s.factors).toBe(1);
  });

  // what is missed by a straight continuation grows or shrinks by the share by which the pull does: 1 at most, nothing when it turns about
  it.each([
    ["grows steadily", (n: number) => 0.1 * n, 1, 3],
    ["halves from step to step", (n: number) => 0.5 ** n, 0.5, 3],
    ["doubles from step to step", (n: number) => 0.01 * 2 ** n, 1, 8],
    ["turns about", (n: number) => 0.1 * (-0.5) ** n, 0, 8],
  ])("expects the share of its last miss to come again, in a curve that %s", (_, lateral, share, most) => {
    const { r, iterations } = fly(lateral, 8);
    expectAbs(r.s.missShare, share, 1e-6, "share");
    let [x, v] = [0, 0];
    for (let n = 1; n <= 8; n++) {
      v += h * 9806.65 * lateral(n);
      x += h * v;
    }
    expectRel(r.s.q[r.m.x]!, x, 1e-6, "sideways, mm");
    expect(iterations.slice(most)).toEqual(new Array<number>(8 - most).fill(0));
    if (most === 8) expect(iterations).toEqual(new Array<number>(8).fill(1));
  });
});

// contacts that come and go within a step: tangents are made anew, and a step that does not close is begun again where the light parts are
describe("a fall of 300 mm on a stiff anti-roll bar, 200 steps a second", () => {
  it("closes in every step until it has come up again", () => {
    const made = createSession(shipped("heavy-stiff-bar.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, { stepsPerSecond: 200, breaks: false });
    if (!made.ok) throw new Error(made.reason.message);
    const x = made.session;
    liftForDrop(x, 300);
    let most = 0;
    for (let i = 0; i < 70; i++) {
      expect(step(x.s, x.input)).toBe(true);
      most = Math.max(most, ...x.s.tyre.verticalN);
    }
    expect(x.s.open).toBe(0);
    // 2.9 kg at 2.4 m/s, stopped within some 30 ms
    expect(most).toBeGreaterThan(100);
  });
});

describe("the memory of the forces", () => {
  it("is that of the pose as it stands, nothing moving", () => {
    const { m, s } = cars();
    setSpeed(s.world, 3, 7);
    s.rates.end.fill(100);
    const input = stillInput();
    input.push = [3, 5, 70];
    forgetForces(s, input);
    for (const f of [s.s0, s.s1]) {
      // inside forces less outside ones: the springs carry the body, the tyres all
      expectRel(f[HEAVE]!, -2 * SPRUNG * G - 5, 1e-6, "body, N");
      expectAbs(f[1]!, -70, 1e-6, "body, N·mm");
      expectAbs(f[BODY_X]!, -3, 1e-6, "body sideways, N");
      for (const i of [0, 1]) expectRel(f[heavyAt(i) + HUB_Z]!, -UNSPRUNG * G, 1e-6, "hub, N");
    }
    expect(s.damperN.map((v) => v + 0)).toEqual([0, 0]);
    for (const load of [s.tyre.verticalN, s.before.verticalN]) for (const v of load) expectRel(v, 2.5 * G, 1e-9, "load on a wheel, N");
    expectAbs(s.v[HEAVE]!, 7, 1e-9, "mm/s");
    expectAbs(s.v[BODY_X]!, 3, 1e-9, "mm/s");
    [3, 7, 3, 7].forEach((v, i) => {
      expectAbs(s.wheelSpeed[i]!, v, 1e-9, "speed of the wheels, mm/s");
    });
    expect(s.q.length).toBe(m.bare.n);
  });

  it("takes the place from the world, and the next tangent anew", () => {
    const input = stillInput();
    const { s } = ready(cars(light), input);
    step(s, input);
    const [before] = s.s0;
    s.world.body.setPosition({ x: 0, y: s.world.body.getPosition().y + 0.3 });
    forgetForces(s, input);
    expectAbs(s.q[HEAVE]!, 3, 1e-3, "mm up");
    // two springs, and the four pins of the body
    expectRel(s.s0[HEAVE]! - before!, (2 * SPRING + 4 * PIN_N_PER_MM) * 3, 1e-3, "N");
    step(s, input);
    expect(s.factors).toBe(2);
  });

  // right tyre to 2150 mm; flank twice as stiff as the tyre
  it.each([
    ["right", 2149, [true, true], -40],
    ["left", -2149, [true, true], 40],
    ["right", 2149, [true, false], 0],
    ["left", -2149, [true, false], 40],
    ["left", -2149, [false, true], 0],
    ["right", 2149, [false, true], -40],
  ] as ["left" | "right", number, [boolean, boolean], number][])("has a kerb on the %s at %i mm, wheels on: %s", (side, xMm, on, force) => {
    const input = stillInput();
    input.kerb = { side, xMm, speedMmps: 0, heightMm: 100 };
    const { s } = cars();
    s.wheelOn = on;
    forgetForces(s, input);
    expectAbs(s.kerbN, force, 1e-6, "N");
    expectAbs(s.before.kerbN, force, 1e-6, "N");
    forgetForces(s, stillInput());
    expect(s.kerbN).toBe(0);
  });

  // hubs without wheels reach down to 800 - 8 mm, the body to 900 - 12 mm; 60 N/mm
  it("has the ground under bare hubs", () => {
    const { s } = flying();
    const input = stillInput();
    input.road = [800, 795];
    s.wheelOn = [false, false];
    s.tyres = [
      { ...s.tyres[0], rate: 0 },
      { ...s.tyres[1], rate: 0 },
    ];
    forgetForces(s, input);
    expectRel(s.s0[heavyAt(0) + HUB_Z]!, -480, 1e-9, "N on the left");
    expectRel(s.s0[heavyAt(1) + HUB_Z]!, -180, 1e-9, "N on the right");
    expectAbs(s.s0[HEAVE]!, 0, 1e-9, "N on the body");
  });
});

describe("a tyre that is steered", () => {
  // trapezoidal rule over half a radius of 300 mm at 20 m/s: 20 000/(40 · 150) = 10/3 of it rolled in a step, 10/3 / (2 + 10/3) = 0.625
  it("builds up its side force from step to step", () => {
    const input = stillInput();
    const { s } = ready(cars(), input);
    input.steer = 0.2;
    input.hold = { xMm: 0, nPerMm: 1e6, nsPerMm: 0, nmmPerRad: 0, nmmsPerRad: 0 };
    step(s, input);
    const one = 0.625 * 0.2;
    for (const level of s.tyre.level) expectRel(level, one, 1e-2, "side force over load after a step");
    for (const was of s.tyre.levelWas) expectAbs(was, 0, 1e-9, "before");
    step(s, input);
    for (const level of s.tyre.level) expectRel(level, one + 0.625 * (0.4 - 2 * one), 1e-2, "after two");
    for (const was of s.tyre.levelWas) expectRel(was, one, 1e-2, "after one");
    for (const n of s.before.lateralN) expectRel(n, -one * 2.5 * G, 1e-2, "side force after one, N");
  });
});

describe("a step that cannot be made", () => {
  const pose = (s: Stepper): number[] => [s.world.body, ...s.world.hubs, ...s.world.wheels].flatMap((b) => Object.values(poseOf(b)));

  it("leaves the world alone after all its iterations, twice, and the next one is made as if nothing had been", () => {
    const input = stillInput();
    const { s } = ready(cars(), input);
    const fresh = ready(cars(), input).s;
    const before = [pose(s), [...s.q], [...s.v]];
    input.push[1] = Number.NaN;
    expect(step(s, input)).toBe(false);
    expect([pose(s), [...s.q], [...s.v]]).toEqual(before);
    expect([s.steps, s.open, s.iterations]).toEqual([0, 1, 2 * MAX_ITERATIONS]);
    expect(s.openN).toBeNaN();
    input.push = [0, 6, 0];
    for (const x of [s, fresh]) forgetForces(x, input);
    expect([step(s, input), step(fresh, input)]).toEqual([true, true]);
    expect([...s.q]).toEqual([...fresh.q]);
    expect(s.steps).toBe(1);
  });

  // wanted is a share of 5e-5 of the weight, a quarter of it is a step that fails: a weight so small that rounding alone lies between, or above both
  it.each([
    ["made and counted where it is nearly closed", 2e-7, true],
    ["none where more than a quarter of the weight is out", 1e-12, false],
  ])("is %s", (_, weight, made) => {
    const input = stillInput();
    const { m, s } = ready(cars(), input);
    m.axle.totalWeight = weight;
    input.push[1] = 8;
    expect(step(s, input)).toBe(made);
    expect([s.steps, s.open]).toEqual([made ? 1 : 0, 1]);
    expect(s.openN).toBeGreaterThan(made ? 5e-5 * weight : weight / 4);
    expect(s.openN).toBeLessThan(5e-8);
    if (!made) return;
    const one = newmark(
      new Matrix([
        [SPRUNG, 0],
        [0, UNSPRUNG],
      ]).mul(1e-3),
      new Matrix([
        [SPRING, -SPRING],
        [-SPRING, SPRING + TYRE],
      ]),
      new Matrix([
        [DAMPER, -DAMPER],
        [-DAMPER, DAMPER],
      ]),
      (n) => [n > 0 ? 4 : 0, 0],
      1 / PER_SECOND,
      1,
    )[1]!;
    expectRel(s.q[HEAVE]!, one[0]!, 1e-4, "body, mm");
    // the worst is kept
    s.openN = 1;
    step(s, input);
    expect([s.steps, s.open, s.openN]).toEqual([2, 2, 1]);
  });
});
