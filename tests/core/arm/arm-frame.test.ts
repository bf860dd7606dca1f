import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { legLines } from "../../../src/core/arm/layout.ts";
import { ballJointStiffness, clampedVerticalFlexibility, mainStiffnesses, stiffnessRose } from "../../../src/core/arm/stiffness.ts";
import type { Arm } from "../../../src/core/design/types.ts";
import { arbArm, arbLength, arbSeat, plainArm } from "../../support/arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const CLOSED = 1e-6;
/** so deep in the shear direction that shear counts nothing would need another section; compare with shear put in */
const E = 2400;
const G = E / 2.7;
const [b, h] = [8, 4];
const A = b * h;
const I = (b * h ** 3) / 12;
const Ip = (h * b ** 3) / 12;
const GAs = (5 / 6) * G * A;

describe("closed forms of the layouts", () => {
  it("straight: FL³/3EI with shear, EA/L, and FL³/3EI sideways", () => {
    const a = buildArm3d({ ...plainArm, layout: "straight" }, 90, null);
    expectRel(clampedVerticalFlexibility(a).tip, 90 ** 3 / (3 * E * I) + 90 / GAs, CLOSED, "vertical (mm/N)");
    const s = mainStiffnesses(a);
    expectRel(s.lateral, (E * A) / 90, CLOSED, "lateral (N/mm)");
    expectRel(s.foreAft, 1 / (90 ** 3 / (3 * E * Ip) + 90 / GAs), CLOSED, "fore-aft (N/mm)");
    expect(s.vertical).toBe(0);
  });

  it("twin: two beams between pivots and a rigid cross piece", () => {
    const a = buildArm3d({ ...plainArm, layout: "twin", spreadMm: 50 }, 90, null);
    const phi = (ei: number) => (12 * ei) / (GAs * 90 ** 2);
    // fore-aft: the cross piece turns; frame of two clamped beams whose ends are coupled: sway with 2·12EI and turning
    // stiffness 2·4EI + the beams' axial couple
    const ei = E * Ip;
    const k11 = (2 * 12 * ei) / (90 ** 3 * (1 + phi(ei)));
    const k12 = (2 * 6 * ei) / (90 ** 2 * (1 + phi(ei)));
    const k22 = (2 * (4 + phi(ei)) * ei) / (90 * (1 + phi(ei))) + (2 * E * A * 25 ** 2) / 90;
    expectRel(mainStiffnesses(a).foreAft, k11 - k12 ** 2 / k22, CLOSED, "fore-aft (N/mm)");
    expectRel(mainStiffnesses(a).lateral, (2 * E * A) / 90, CLOSED, "lateral (N/mm)");
    expectRel(clampedVerticalFlexibility(a).tip, (90 ** 3 / (3 * E * I) + 90 / GAs) / 2, CLOSED, "vertical (mm/N)");
  });

  it("A: along the arm 2[EA cos²/L + 12EI sin²/(L³(1+Φ))] with pivots that do not turn in plan", () => {
    const spread = 2 * 100 * Math.sin(Math.PI / 6);
    const a = buildArm3d({ ...plainArm, layout: "A", spreadMm: spread }, 100 * Math.cos(Math.PI / 6), null);
    const phi = (12 * E * Ip) / (GAs * 100 ** 2);
    const ky = 2 * ((E * A * 0.75) / 100 + (12 * E * Ip * 0.25) / (100 ** 3 * (1 + phi)));
    expectRel(mainStiffnesses(a).lateral, ky, CLOSED, "lateral (N/mm)");
  });

  it("Y with inner ends held: the two-freedom system of legs with a stem (own derivation), 3.989663626 mm/N without shear", () => {
    const [cos, sin] = [Math.cos(Math.PI / 6), 0.5];
    const J = 117.0850193;
    const L = 100;
    const stem = 40;
    // no shear: the published number
    const solve = (phi: number) => {
      const c = (E * I) / (1 + phi);
      const k11 = (2 * 12 * c) / L ** 3;
      const k12 = (-2 * 6 * c * cos) / L ** 2;
      const k22 = 2 * (((4 + phi) * c * cos * cos) / L + (G * J * sin * sin) / L);
      const det = k11 * k22 - k12 ** 2;
      return [(k22 - k12 * stem) / det, (k11 * stem - k12) / det] as const;
    };
    const [w0, t0] = solve(0);
    expectRel(w0 + t0 * stem + stem ** 3 / (3 * E * I), 3.989663626, 1e-7, "published (mm/N)");
    const [w, t] = solve((12 * E * I) / (GAs * L * L));
    const length = L * cos + stem;
    const a = buildArm3d({ ...plainArm, layout: "split", stemShare: stem / length, spreadMm: L }, length, null);
    // the inner ends are held about y in both; the frame's pins are held about x for this flexibility
    expectRel(clampedVerticalFlexibility(a).tip, w + t * stem + stem ** 3 / (3 * E * I) + stem / GAs, CLOSED, "vertical (mm/N)");
  });

  it("straight on a free pin with a seat: overhanging beam, F a²(l + a)/3EI (Gere, Table G) plus shear", () => {
    const a = buildArm3d({ ...plainArm, layout: "straight" }, 90, 2 / 3);
    const [span, over] = [60, 30];
    const shear = (over ** 2 / span + over) / GAs;
    expectRel(1 / mainStiffnesses(a).vertical, (over ** 2 * (span + over)) / (3 * E * I) + shear, CLOSED, "vertical (mm/N)");
  });

  it("a very stiff pin leaves the clamped propped beam, a soft one the free pin", () => {
    const flexibility = (k: number) => 1 / mainStiffnesses(buildArm3d({ ...plainArm, layout: "straight", pivotStiffnessNmmPerDeg: k }, 90, 2 / 3)).vertical;
    const free = flexibility(0);
    expectRel(flexibility(1e-6), free, 1e-6, "soft (mm/N)");
    // propped cantilever with overhang: F a²(3l + 4a)/12EI (Roark, Table 8.1), shear besides
    const [span, over] = [60, 30];
    const c = buildArm3d({ ...plainArm, layout: "straight" }, 90, 2 / 3);
    const f = clampedVerticalFlexibility(c);
    const held = f.tip - f.tipSeat ** 2 / f.seat;
    expectRel(flexibility(1e12), held, 1e-6, "stiff (mm/N)");
    expectRel(held, (over ** 2 * (3 * span + 4 * over)) / (12 * E * I), 0.03, "without shear (mm/N)");
  });
});

describe("stiffness at the ball joint", () => {
  it("is symmetric, positive, and its plane part does not couple with the vertical one", () => {
    fc.assert(
      fc.property(arbArm, arbLength, arbSeat, (arm, L, seat) => {
        const k = ballJointStiffness(buildArm3d(arm, L, seat));
        expect(k[0][1]).toBe(k[1][0]);
        expect(k[0][2]).toBe(0);
        expect(k[0][0]).toBeGreaterThan(0);
        expect(k[0][0] * k[1][1] - k[0][1] ** 2).toBeGreaterThan(0);
        expect(k[2][2]).toBeGreaterThan(0);
      }),
      { numRuns: 200 },
    );
  });

  it("flexibilities are symmetric (Maxwell-Betti) and vanish for a rigid material", () => {
    fc.assert(
      fc.property(arbArm, arbLength, arbSeat, (arm, L, seat) => {
        const { flexibility: f } = buildArm3d(arm, L, seat);
        for (let i = 0; i < 6; i++)
          for (let j = 0; j < 6; j++) expectAbs(f[i * 6 + j]!, f[j * 6 + i]!, 1e-7 * Math.sqrt(f[i * 7]! * f[j * 7]!) + 1e-18, `f[${i}][${j}] (mm/N)`);
      }),
      { numRuns: 200 },
    );
    const stiff: Arm = { ...plainArm, material: { ...(plainArm.material as object), youngMPa: 1e12 } as Arm["material"] };
    for (const v of buildArm3d(stiff, 80, 0.5).flexibility) expectAbs(v, 0, 1e-7, "flexibility (mm/N)");
  });

  it("the rose is smallest and largest at the principal stiffnesses and repeats after half a turn", () => {
    const a = buildArm3d(plainArm, 88, 0.7);
    const s = mainStiffnesses(a);
    const rose = stiffnessRose(a, "fromAbove");
    expect(rose).toHaveLength(72);
    expectRel(rose[0]!.nPerMm, s.foreAft, 1e-9, "forward (N/mm)");
    expectRel(rose[18]!.nPerMm, s.lateral, 1e-9, "outboard (N/mm)");
    for (let i = 0; i < 36; i++) expectRel(rose[i]!.nPerMm, rose[i + 36]!.nPerMm, 1e-9, "half a turn on (N/mm)");
    expectRel(stiffnessRose(a, "fromBehind")[18]!.nPerMm, s.vertical, 1e-9, "up (N/mm)");
  });

  it("an arm without a seat on a free pin swings: no stiffness but exactly along it", () => {
    const rose = stiffnessRose(buildArm3d(plainArm, 88, null), "fromBehind");
    rose.forEach((p, i) => (i % 36 === 0 ? expect(p.nPerMm).toBeGreaterThan(0) : expect(p.nPerMm).toBe(0)));
  });

  it("all lengths twice as large with the section: stiffness doubles", () => {
    const twice: Arm = { ...plainArm, spreadMm: 112, section: { shape: "rectangle", widthMm: 16, heightMm: 8 } };
    const k1 = ballJointStiffness(buildArm3d(plainArm, 80, 0.6));
    const k2 = ballJointStiffness(buildArm3d(twice, 160, 0.6));
    for (let i = 0; i < 3; i++) expectRel(k2[i]![i]!, 2 * k1[i]![i]!, 1e-9, `k[${i}] (N/mm)`);
  });

  it("split without stem is A, and a seat moved over the fork changes nothing suddenly", () => {
    const k = (arm: Arm) => ballJointStiffness(buildArm3d(arm, 80, 0.5));
    expect(k({ ...plainArm, stemShare: 0 })).toEqual(k({ ...plainArm, layout: "A" }));
    const before = mainStiffnesses(buildArm3d(plainArm, 80, 0.6 - 1.5e-3)).vertical;
    const after = mainStiffnesses(buildArm3d(plainArm, 80, 0.6 + 1.5e-3)).vertical;
    expectRel(after, before, 0.03, "vertical (N/mm)");
  });

  it("a lone beam on a pin that spins is no mechanism, and just as stiff", () => {
    const straight: Arm = { ...plainArm, layout: "straight" };
    expect(ballJointStiffness(buildArm3d({ ...straight, pivotFreeAboutArm: true }, 80, 0.5))).toEqual(ballJointStiffness(buildArm3d(straight, 80, 0.5)));
  });
});

describe("plan view lines", () => {
  it("legs start at the pivots and meet where the stem begins", () => {
    const p = legLines(plainArm, 100);
    expect(p.innerPivots).toEqual([
      [28, 0],
      [-28, 0],
    ]);
    expect(p.lines.map((l) => l.leg)).toEqual(["leg front", "leg rear", "stem"]);
    expect(p.lines[0]!.to).toEqual([0, 60]);
    expect(p.lines[2]!.to).toEqual(p.ballJoint);
    expect(p.lines[0]!.widthMm).toBe(8);
  });

  it("twin beams end at the cross piece, a straight arm is one line", () => {
    expect(legLines({ ...plainArm, layout: "twin" }, 100).crossPiece).toEqual([
      [28, 100],
      [-28, 100],
    ]);
    expect(legLines({ ...plainArm, layout: "straight" }, 100).lines).toHaveLength(1);
  });
});
