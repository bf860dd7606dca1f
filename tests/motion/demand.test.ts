import { beforeEach, describe, expect, it } from "vitest";
import {
  armDue,
  armWatches,
  cornerDemands,
  type Demand,
  jointDemand,
  jointN,
  movingPullN,
  readDemands,
  retentionNow,
  travelMm,
  tyreDemand,
  use,
} from "../../src/motion/demand.ts";
import { bearingDamping, type Rates } from "../../src/motion/forces.ts";
import { buildMotion } from "../../src/motion/model.ts";
import { stepper } from "../../src/motion/step.ts";
import { buildWorld } from "../../src/motion/world.ts";
import { expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** What holds and what is asked of it at an imposed moment, against hand calculations. */

const scenario = structuredClone(shipped("heavy-forked.json"));
scenario.corner.hub.staticCamberDeg = 0;
const m = buildMotion(scenario);
const rest = new Float64Array(m.bare.n);
const world = buildWorld(m, rest);
const [LEFT, RIGHT] = [0, 1] as const;
/** What is asked of a corner at the imposed moment. */
const demands = (i: 0 | 1) => {
  const d = cornerDemands();
  readDemands(s, i, 0.5, false, null, d);
  return d;
};
const tyreNow = (i: 0 | 1): Demand => tyreDemand(demands(i), i === LEFT ? "left" : "right");
const jointNow = (i: 0 | 1): Demand => jointDemand(demands(i), i === LEFT ? "left" : "right");
const at = () => stepper(m, world, rest, 1 / 2400, 6000, 8, [1, 1]);
let s = at();
beforeEach(() => {
  s = at();
});

describe("outward pull on a wheel that is thrown about", () => {
  // wheel of 0.22 kg, accelerated by 2 m/s² to the right and 5 m/s² up in a curve of 0.5 g; road: 30 N up, 12 N to the left.
  // across: -12 + 0.22 (4.903325 - 2) = -11.361269 N; up: 30 - 0.22 (9.80665 + 5) = 26.742537 N
  const impose = (turnRad: number): void => {
    for (const i of [LEFT, RIGHT]) {
      s.before.verticalN[i] = 30;
      s.before.lateralN[i] = -12;
      s.wheelAcc[2 * i] = 2000;
      s.wheelAcc[2 * i + 1] = 5000;
      s.q[m.axle.corners[i].base + 2] = turnRad / 2;
      s.q[m.axle.corners[i].base + 3] = turnRad / 2;
    }
  };

  it("is what road, weight and acceleration leave along the axle of an upright wheel", () => {
    impose(0);
    expectRel(movingPullN(s, RIGHT, 0.5), -11.361269, 1e-6, "N on the right");
    expectRel(movingPullN(s, LEFT, 0.5), 11.361269, 1e-6, "N on the left");
  });

  it("takes its share of the upright force on a wheel turned by 0.2 rad", () => {
    impose(0.2);
    // -11.361269 cos 0.2 + 26.742537 sin 0.2
    expectRel(movingPullN(s, RIGHT, 0.5), -5.821878, 1e-6, "N on the right");
    expectRel(movingPullN(s, LEFT, 0.5), 5.821878, 1e-6, "N on the left");
  });

  it("adds a kerb's push to the wheel on its own side alone", () => {
    impose(0);
    s.before.kerbN = -40;
    expectRel(movingPullN(s, RIGHT, 0.5), -51.361269, 1e-6, "N on the right");
    expectRel(movingPullN(s, LEFT, 0.5), 11.361269, 1e-6, "N on the left");
    s.before.kerbN = 40;
    expectRel(movingPullN(s, LEFT, 0.5), -28.638731, 1e-6, "N on the left");
  });

  // lip of 7 mm: F + 2 M/r (Carvill, 1993, p. 15 case 9)
  it("goes on the lip with the moment of the bearing", () => {
    impose(0);
    s.before.bearingMoment[LEFT] = -350;
    const d = retentionNow(s, LEFT, 0.5);
    expectRel(d.demand, 11.361269 + 100, 1e-6, "N");
    expect([d.limit, d.side, d.part, d.capacity, d.unit]).toEqual(["hubRetention", "left", "hub lip", 85, "N"]);
  });
});

describe("a tyre on its rim", () => {
  it("is pushed by road and kerb together, the kerb on its own side", () => {
    s.tyre.lateralN[RIGHT] = -12;
    s.tyre.lateralN[LEFT] = -7;
    s.kerbN = -40;
    expect(tyreNow(RIGHT).demand).toBe(52);
    expect(tyreNow(LEFT).demand).toBe(7);
    s.kerbN = 40;
    expect(tyreNow(RIGHT).demand).toBe(12);
    expect(tyreNow(LEFT).demand).toBe(33);
  });

  // 2 pi · 0.6 · (30 - 0.15 · 6²) N at 6 m/s (thin rotating ring: Carvill, 1993, p. 15)
  it("is held by what its band still presses at the speed", () => {
    expectRel(tyreNow(RIGHT).capacity, 92.739815, 1e-6, "N");
    expect(tyreNow(LEFT).side).toBe("left");
    expect(tyreNow(RIGHT)).toMatchObject({ limit: "tyreOffRim", side: "right", part: "tyre on its rim", unit: "N" });
  });
});

describe("the joint that is nearest to coming apart", () => {
  it("is judged by the size of its force over what it holds, by name", () => {
    // upper inner, upper outer, lower inner, lower outer of the left wheel, then of the right: x, z
    s.jointForce.set([3, 4, 6, -8, 0, 0, 0, 1, 1, 0, 0, 2, -5, 12, 0, 3]);
    expect([0, 1, 2, 3].map((k) => jointN(s, LEFT, k))).toEqual([5, 10, 0, 1]);
    expect([0, 1, 2, 3].map((k) => jointN(s, RIGHT, k))).toEqual([1, 2, 13, 3]);
    expect([demands(LEFT).joint, demands(RIGHT).joint]).toEqual([1, 2]);
    expect(jointNow(RIGHT)).toEqual({ limit: "jointPullOut", side: "right", part: "lower inner pin", demand: 13, capacity: 60, unit: "N" });
    expect(jointNow(LEFT)).toMatchObject({ side: "left", part: "upper outer joint", demand: 10 });
    expectRel(use(demands(RIGHT).jointN, demands(RIGHT).jointHoldsN), 13 / 60, 1e-12, "share");
  });
});

describe("use of what holds", () => {
  it("is demand over capacity, nothing without demand, and beyond all measure where nothing holds", () => {
    expect(use(30, 60)).toBe(0.5);
    expect(use(0, 0)).toBe(0);
    expect(use(-3, 60)).toBe(0);
    expect(use(1, 0)).toBe(Number.MAX_VALUE);
  });
});

describe("wheel travel", () => {
  it("is the rise of the wheel's centre less that of the body", () => {
    s.q[m.axle.corners[1].base + 1] = 3;
    expectRel(travelMm(s, RIGHT), 3, 1e-12, "mm, wheel up");
    s.q[0] = 2;
    expectRel(travelMm(s, RIGHT), 1, 1e-12, "mm, body up by 2");
    expectRel(travelMm(s, LEFT), -2, 1e-12, "mm, body up by 2");
  });

  // wheel centres at 152 mm from the middle, 48 mm above ground, the centre of gravity at 92 mm: seen from the body that has turned
  // counter-clockwise by 0.02 rad they stand at -152 sin 0.02 - 44 cos 0.02 + 44 on the right
  it("falls on the right and rises on the left when the body turns with its right side up", () => {
    s.q[1] = 0.02;
    expectRel(travelMm(s, RIGHT), -3.030998, 1e-6, "mm");
    expectRel(travelMm(s, LEFT), 3.048597, 1e-6, "mm");
  });

  // 156 mm out: -156 sin 0.02 - 44 cos 0.02 + 44
  it("of a wheel that has moved outwards on a turned body", () => {
    s.q[1] = 0.02;
    s.q[m.axle.corners[1].base] = 4;
    expectRel(travelMm(s, RIGHT), -3.110992, 1e-6, "mm");
  });

  it("is not fooled by a sideways shift of the wheel on a level body", () => {
    s.q[m.axle.corners[1].base] = 4;
    expectRel(1 + travelMm(s, RIGHT), 1, 1e-12, "mm");
  });
});

describe("an arm's stress", () => {
  // told anew after a fifteenth of a second, or when its load has grown by one per cent
  it("is told again when its load has grown, or when it is time", () => {
    const [w] = armWatches();
    expect(armDue(w, 0, 0)).toBe(true);
    Object.assign(w, { largest: 100, toldAtS: 1 });
    expect([armDue(w, 100.9, 1.01), armDue(w, 101.1, 1.01), armDue(w, 0, 1.06), armDue(w, 0, 1 + 1 / 15)]).toEqual([false, true, false, true]);
  });
});

describe("moment of a wheel's bearing", () => {
  const rates = (radPerS: number): Rates => {
    const end = new Float64Array(m.bare.n);
    end[m.bare.corners[1].base + 3] = radPerS;
    return { perStep: 2400, end, perEnd: 3600 };
  };
  const moment = (tiltRad: number, radPerS: number): { told: number; residual: number } => {
    const q = new Float64Array(m.bare.n);
    q[m.bare.corners[1].base + 3] = tiltRad;
    const r = new Float64Array(m.bare.n);
    const told = bearingDamping(null, r, q, m.bare.corners[1], rates(radPerS));
    return { told, residual: r[m.bare.corners[1].base + 3]! };
  };

  // 260 N·mm/° is 14896.902674 N·mm/rad; play 0.5° = 0.008726646 rad; damping over stiffness 2e-4 s
  it("is that of its tilt beyond the play and of its damping together", () => {
    expectRel(moment(0.02, 0).told, 167.938053, 1e-7, "N·mm still");
    expectRel(moment(0.02, 3).told, 167.938053 + 8.938142, 1e-7, "N·mm while tilting at 3 rad/s");
    expectRel(moment(-0.02, 3).told, -167.938053 + 8.938142, 1e-7, "N·mm while coming back");
    expectRel(moment(0.004, 3).told, 8.938142, 1e-7, "N·mm inside the play");
  });

  it("hands only the damping to the residual: the spring of the bearing is in the core's", () => {
    expectRel(moment(0.02, 3).residual, 8.938142, 1e-7, "N·mm");
  });
});
