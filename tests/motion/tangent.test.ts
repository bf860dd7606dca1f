import { describe, it } from "vitest";
import { axleSystem } from "../../src/core/equilibrium/condense.ts";
import { HEAVE, HUB_TURN, HUB_X, HUB_Z, TREAD_SHIFT, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import { bearingDamping, jointDamping, type Rates, springDamper } from "../../src/motion/forces.ts";
import { buildMotion, type MotionModel } from "../../src/motion/model.ts";
import { holdBody, kerbForce, scrapes } from "../../src/motion/outside.ts";
import { dynamicTyres, tyreState } from "../../src/motion/tyre.ts";
import { expectAbs } from "../support/close.ts";
import { denseTangent } from "../support/dense-tangent.ts";
import { shipped } from "../support/shipped.ts";

/**
 * Every part's tangent against central differences of its own residual, the speeds at the end of the step going along with the place: by 3600 per second.
 * Newton's method leaves out how levers turn under a force that already acts, so contacts are only just met, and dampers are at rest.
 */
const PER_END = 3600;
const STEP = 1e-6;
type Part = (sys: ReturnType<typeof axleSystem> | null, r: Float64Array, q: Float64Array, rates: Rates, m: MotionModel) => void;

const model = (lateralNPerMm: number | null): MotionModel => {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.corner.tyre.lateralNPerMm = lateralNPerMm;
  s.corner.spring.damping = { bumpNsPerM: 30, reboundNsPerM: 30 };
  return buildMotion(s);
};
const rigid = model(null);
const soft = model(20);

/** Within `share` of the size of its row and column, and `leftOut` N and mm: what is left out on purpose where nothing else stands. */
function check(part: Part, m: MotionModel, place: (q: Float64Array) => void, share: number, leftOut = 0.1): void {
  const n = m.bare.n;
  const q = new Float64Array(n);
  place(q);
  const residual = (x: Float64Array, sys: ReturnType<typeof axleSystem> | null = null): Float64Array => {
    const r = new Float64Array(n);
    part(sys, r, x, { perStep: 2400, end: x.map((v, i) => PER_END * (v - q[i]!)), perEnd: PER_END }, m);
    return r;
  };
  const sys = axleSystem(m.bare);
  sys.a.fill(0);
  sys.ke.fill(0);
  residual(q, sys);
  const k = denseTangent(sys);
  const d = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    if (m.bare.kept[j]! < 0) continue;
    const at = (step: number): Float64Array => residual(q.map((v, i) => (i === j ? v + step : v)));
    const [more, less] = [at(STEP), at(-STEP)];
    for (let i = 0; i < n; i++) d[i * n + j] = (more[i]! - less[i]!) / (2 * STEP);
  }
  let any = 0;
  const size = (i: number): number => Math.sqrt(Math.abs(d[i * n + i]!));
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      any = Math.max(any, Math.abs(d[i * n + j]!));
      expectAbs(k[i * n + j]!, d[i * n + j]!, share * size(i) * size(j) + leftOut, `row ${i}, column ${j}`);
    }
  expectAbs(any > 1 ? 1 : 0, 1, 0, "something gives");
}

const lift = (q: Float64Array): void => {
  q[HEAVE] = 0.7;
};

describe("tangent of what damps", () => {
  it("joints", () => check((sys, r, q, rates, m) => jointDamping(sys, r, q, m.bare, rates, new Float64Array(16)), rigid, lift, 1e-6));
  it("bearings", () =>
    check(
      (sys, r, q, rates, m) => {
        for (const c of m.bare.corners) bearingDamping(sys, r, q, c, rates);
      },
      rigid,
      lift,
      1e-6,
    ));
  it("springs, on an arm", () =>
    check(
      (sys, r, q, rates, m) => {
        for (const c of m.bare.corners) springDamper(sys, r, q, c, rates);
      },
      rigid,
      lift,
      1e-6,
    ));
});

describe("tangent of what pushes from outside", () => {
  it("a kerb just met", () =>
    check(
      (sys, r, q, rates, m) => kerbForce(sys, r, q, m, { side: "right", xMm: 170 - 1e-3, speedMmps: 0, heightMm: 15 }, rates, true),
      rigid,
      (q) => {
        q[rigid.axle.corners[1].base + HUB_TURN] = -rigid.axle.corners[1].staticTurn;
      },
      1e-3,
    ));

  // feet at 20 mm above the ground
  it("the ground under body and bare hub, just met", () =>
    check(
      (sys, r, q, rates, m) => scrapes(sys, r, q, m, rates, [true, false], [0, 0]),
      rigid,
      (q) => {
        q[HEAVE] = -20.001;
        q[rigid.axle.corners[1].base + HUB_Z] = -20.001;
      },
      1e-3,
    ));

  it("a hand", () => {
    const hold = { xMm: 3, heaveMm: 2, angleRad: 0.1, nPerMm: 7, nsPerMm: 0.1, nmmPerRad: 900, nmmsPerRad: 5 };
    check((sys, r, q, rates, m) => holdBody(sys, r, q, m, hold, rates), rigid, lift, 1e-6);
  });
});

describe("tangent of the tyres", () => {
  const tyres =
    (steer: number, grip = 1): Part =>
    (sys, r, q, rates, m) => {
      const out = tyreState();
      for (const a of [out.levelWas, out.targetWas]) a.fill(steer);
      const input = { steer, road: [0, 0], roadSpeed: [0, 0] } as const;
      dynamicTyres(sys, r, q, m, [m.axle.corners[0].tyre, m.axle.corners[1].tyre], input, { rollMmps: 6000, slipPerRad: 8, grip: [grip, grip] }, rates, out);
    };
  const pressed =
    (m: MotionModel, shift: number) =>
    (q: Float64Array): void => {
      for (const c of m.axle.corners) {
        q[c.base + HUB_Z] = -0.3;
        q[c.base + HUB_X] = 0.2;
        q[c.base + HUB_TURN] = 0.004 - c.staticTurn;
        q[c.base + WHEEL_TILT] = 0.002;
        q[c.base + TREAD_SHIFT] = shift;
      }
    };
  // what turns under the force that acts is left out: 4 N on levers of 50 mm beside 4800 N·mm/rad
  it("rigid sideways, rolling", () => check(tyres(0), rigid, pressed(rigid, 0), 0.05, 5));
  it("soft sideways, rolling", () => check(tyres(0), soft, pressed(soft, 0.3), 0.05, 5));
  it("sliding: the side force stays as it is", () => check(tyres(0.9, 0.001), rigid, pressed(rigid, 0), 0.05, 5));
});
