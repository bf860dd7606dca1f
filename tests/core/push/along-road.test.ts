import { describe, expect, it } from "vitest";
import { pushOnArm, twistOfArm } from "../../../src/core/arm/along-road.ts";
import { type Arm3d, buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { armBucklingFactor } from "../../../src/core/arm/buckling.ts";
import { partForces, sectionForces } from "../../../src/core/arm/section-forces.ts";
import { armStress } from "../../../src/core/arm/stress.ts";
import type { Arm, Material } from "../../../src/core/design/types.ts";
import { plainArm } from "../../support/arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const material: Material = { name: "test", youngMPa: 2400, poisson: 0.35, yieldMPa: 40, densityKgPerM3: 1000, plastic: true, maxTempC: 80, source: "a test" };
const straight: Arm = { ...plainArm, layout: "straight", material, section: { shape: "rectangle", widthMm: 4, heightMm: 8 } };
/** I across the road 8·4³/12 = 42.666667 mm⁴; load of a cantilever's buckling π²EI/4L² at 100 mm */
const EI = (2400 * (8 * 4 ** 3)) / 12;
const P_E = (Math.PI ** 2 * EI) / (4 * 100 ** 2);
const arm = buildArm3d(straight, 100, null);

// Timoshenko & Gere, Theory of Elastic Stability, 2nd ed. 1961, sec. 1.3 and 1.4: a cantilever under a force across its end and one along itself is
// half of the beam under a central load: the deflection grows by χ = 3(tan u − u)/u³, the moment at the root by tan u / u, u = π/2 √(P/P_E)
const TABLE: [share: number, chi: number, moment: number][] = [
  [0.1, 1.109648, 1.09126],
  [0.2, 1.246675, 1.20507],
  [0.3, 1.422814, 1.351065],
  [-0.5, 0.670812, Math.tanh((Math.PI / 2) * Math.SQRT1_2) / ((Math.PI / 2) * Math.SQRT1_2)],
];

describe("an arm that is pushed along the road while it is pressed or pulled along itself", () => {
  it.each(TABLE)("at %s of the load that buckles it gives %s times as much", (share, chi, moment) => {
    const pressed = pushOnArm(arm, { ballJoint: [0.2, -share * P_E, 0], seat: null });
    const alone = 0.2 * arm.flexibility[0]!;
    // one cubic element stands for the arm: near the end of its use it is off by a few thousandths
    expectRel(pressed.shiftMm / alone, chi, 6e-3, "as much");
    expectRel(Math.abs(pressed.endForces[5]!), 20 * moment, 6e-3, "N·mm at the pin");
  });

  it("gives as the straight arm does where nothing presses or pulls it", () => {
    const { shiftMm, endForces } = pushOnArm(arm, { ballJoint: [3, 0, 0], seat: null });
    expectRel(shiftMm, 3 * arm.flexibility[0]!, 1e-9, "mm");
    endForces.forEach((f, i) => {
      expectAbs(f, 3 * arm.planForces[0]![i]!, 1e-7, "N");
    });
  });

  it("shifts as far back as forward", () => {
    const at = (x: number) => pushOnArm(arm, { ballJoint: [x, -0.2 * P_E, 1], seat: null }).shiftMm;
    expectRel(at(-0.4), -at(0.4), 1e-12, "mm");
  });

  it("does not hold beyond that load", () => {
    expect(pushOnArm(arm, { ballJoint: [0.1, -0.99 * P_E, 0], seat: null }).holds).toBe(true);
    expect(pushOnArm(arm, { ballJoint: [0.1, -1.03 * P_E, 0], seat: null }).holds).toBe(false);
  });

  // closed form of an A with pinned legs: a push along the road is a pull of F/(2 sin φ) in one leg and as much pressure in the other
  it("presses one leg of an A and pulls the other", () => {
    const a = buildArm3d(
      { ...plainArm, layout: "A", material, spreadMm: 100, section: { shape: "rectangle", widthMm: 3, heightMm: 6 } },
      100 * Math.cos(Math.PI / 6),
      null,
    );
    const { endForces } = pushOnArm(a, { ballJoint: [10, 0, 0], seat: null });
    const [front, rear] = [a.pieces.find((p) => p.leg === "leg front")!, a.pieces.find((p) => p.leg === "leg rear")!];
    // 10 / (2 · 0.5) = 10 N but for what the legs' own bending carries
    expectRel(endForces[front.member * 12 + 6]!, -10, 0.02, "N: its outer end comes nearer to its pin");
    expectRel(endForces[rear.member * 12 + 6]!, 10, 0.02, "N");
  });
});

describe("an arm that carries a motor or a gear stage", () => {
  const cuts: [string, Arm3d][] = [
    ["straight", arm],
    ["twin", buildArm3d({ ...plainArm, layout: "twin", material, spreadMm: 40 }, 100, 0.5)],
    ["A", buildArm3d({ ...plainArm, layout: "A", material, spreadMm: 60 }, 90, null)],
    ["forked", buildArm3d({ ...plainArm, layout: "split", material, spreadMm: 60, stemShare: 0.3 }, 110, 0.4)],
  ];

  // statics of a cut right across the arm: twists of the pieces about the arm, their bending seen along it and the couple of their upright
  // forces (force up at x in front: −x) together are the couple that was put on
  it.each(cuts)("is twisted by the whole couple at every cut: %s", (_, a) => {
    const TORQUE = 300;
    const s = sectionForces(a, { ballJoint: [0, 0, 0], seat: null }, undefined, { push: new Float64Array(a.pieces.length * 12), twist: twistOfArm(a, TORQUE) });
    const out = new Float64Array(12);
    for (const at of [0.15, 0.6, 0.95]) {
      let about = 0;
      for (const piece of a.pieces.filter((p) => p.from < at && p.to > at)) {
        partForces(s, piece, piece.from, at, out);
        const axes = a.solved.axes.subarray(piece.member * 9, piece.member * 9 + 9);
        const [f, m] = [
          [0, 1, 2],
          [3, 4, 5],
        ].map((rows) => [0, 1, 2].map((g) => rows.reduce((sum, r, i) => sum + axes[i * 3 + g]! * out[6 + r]!, 0))) as [number[], number[]];
        const nodes = a.solved.frame.nodes;
        const member = a.solved.frame.members[piece.member]!;
        const from = nodes[member.a]!.at[0];
        const to = nodes[member.b]!.at[0] + (member.offsetB?.[0] ?? 0);
        const x = from + ((at - piece.from) / (piece.to - piece.from)) * (to - from);
        about += m[1]! - x * f[2]!;
      }
      expectRel(about, TORQUE, 1e-6, `N·mm at ${at}`);
    }
  });

  // a solid bar of 4 by 8 mm twisted by 300 N·mm: τ = T/(α b a²), α(2) = 0.246 (Timoshenko & Goodier, Theory of Elasticity, table of ch. 10):
  // 300/(0.246·8·16) = 9.527 N/mm², von Mises √3 times that
  it("is stressed as a twisted bar", () => {
    const twist = twistOfArm(arm, 300);
    const stress = armStress(arm, { ballJoint: [0, 0, 0], seat: null }, undefined, { push: new Float64Array(12), twist });
    expectRel(stress.worst.vonMisesMPa, Math.sqrt(3) * 9.527, 0.01, "N/mm²");
  });
});

describe("stress and buckling under loads in all three directions", () => {
  // by hand, straight bar 4 wide and 8 high, 100 mm: 2 N forwards: 200 N·mm over 8·4²/6 = 21.3333 mm³: 9.375; spring-like bending is told as
  // 300 N·mm upright over 4·8²/6 = 42.6667 mm³: 7.03125; 16 N pulled over 32 mm²: 0.5. In the corner at the pin they add: 16.90625 N/mm²
  it("adds the push's bending to the plane's in the worst corner", () => {
    const stress = armStress(arm, { ballJoint: [2, 16, 0], seat: null }, { fractions: [0, 1], momentNmm: [300, 0] });
    expectRel(stress.worst.vonMisesMPa, 16.90625, 1e-6, "N/mm²");
  });

  // a fork whose front leg is pressed by the push steps aside sooner than under the spring alone
  it("lets a pressed leg buckle sooner", () => {
    const slim: Arm = { ...plainArm, layout: "A", material, spreadMm: 70, section: { shape: "rectangle", widthMm: 2, heightMm: 4 } };
    const a = buildArm3d(slim, 110, null);
    const factor = (x: number): number => {
      const loads = { ballJoint: [x, -15, 0] as [number, number, number], seat: null };
      const { endForces } = pushOnArm(a, loads);
      return armBucklingFactor(a, loads, { fractions: [0, 1], momentNmm: [0, 0] }, 1, { push: endForces, twist: null });
    };
    expect(factor(20)).toBeLessThan(0.8 * factor(0));
    expectRel(factor(-20), factor(20), 1e-6, "whichever leg it is");
  });
});
