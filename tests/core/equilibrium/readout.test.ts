import { describe, expect, it } from "vitest";
import type { Load, Scenario } from "../../../src/core/design/types.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { camberRad, readState } from "../../../src/core/equilibrium/readout.ts";
import type { AxleState } from "../../../src/core/equilibrium/state.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, NODE_TURN, NODE_Z, nodeAt, TREAD_SHIFT, WHEEL_TILT } from "../../../src/core/equilibrium/unknowns.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** What is read of unknowns that are set by hand. Upper arm from (56, 76) to (120, 72), wheel at (152, 48), centre of gravity 92 mm up. */
const model = (change: (s: Scenario) => void = () => {}): AxleModel => {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.corner.hub.staticCamberDeg = 0;
  s.corner.hub.bearingOffsetMm = 0;
  Object.assign(s.corner.tyre, { crownRadiusMm: null, effectiveWidthMm: null });
  change(s);
  return buildAxle(s);
};
const plain = model();
const read = (at: readonly (readonly [number, number])[], m = plain, load: Partial<Load> = {}): AxleState => {
  const q = new Float64Array(m.n);
  for (const [i, v] of at) q[i] = v;
  return readState(m, q, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, ...load });
};
const [LEFT, RIGHT] = plain.corners.map((c) => c.base) as [number, number];
const near = (a: readonly number[], b: readonly number[], tolerance: number, what: string): void =>
  b.forEach((v, i) => {
    expectAbs(a[i]!, v, tolerance, `${what}, ${i}`);
  });

describe("places", () => {
  it("of body, hub and wheel", () => {
    const s = read([
      [HEAVE, 2],
      [BODY_TURN, 0.01],
      [RIGHT + HUB_X, 0.3],
      [RIGHT + HUB_Z, 0.4],
      [RIGHT + HUB_TURN, 0.03],
      [RIGHT + WHEEL_TILT, -0.01],
    ]);
    expect(s.body).toEqual({ heaveMm: 2, angleRad: 0.01, cg: [0, 94] });
    near(s.right.hub.at, [152.3, 48.4], 1e-12, "hub (mm)");
    expect(s.right.hub.angleRad).toBe(0.03);
    expect(s.right.wheelTiltRad).toBe(-0.01);
    expectRel(s.right.wheelAngleRad, 0.02, 1e-12, "wheel (rad)");
    // the bearing is on the wheel's middle plane
    near(s.right.bearing.at, [152.3, 48.4], 1e-12, "bearing (mm)");
    near(s.right.wheelCentre, [152.3, 48.4], 1e-12, "wheel (mm)");
    // chassis pivot 56 mm out and 16 mm under the centre of gravity, turned by 0.01 rad and lifted by 2 mm
    near(s.right.joints.upperInner.hole, [56.157197, 78.560791], 1e-6, "chassis hole (mm)");
    near(s.right.joints.upperInner.pin, [56, 76], 1e-12, "pin on the arm (mm)");
    near(s.left.joints.upperInner.hole, [-55.837203, 77.440809], 1e-5, "chassis hole (mm)");
  });

  it("camber is positive with the top outwards", () => {
    const q = new Float64Array(plain.n);
    for (const base of [LEFT, RIGHT]) q[base + HUB_TURN] = 0.02;
    expectRel(camberRad(plain, q, 0), 0.02, 1e-12, "left (rad)");
    expectRel(camberRad(plain, q, 1), -0.02, 1e-12, "right (rad)");
  });

  it("an arm's bow is its farthest node above the line of its ends, up positive on either side", () => {
    for (const side of ["left", "right"] as const) {
      const arm = plain.corners[side === "left" ? 0 : 1].arms.upper;
      const bow = (mm: number) => read([[nodeAt(arm, 3) + NODE_Z, mm]])[side].arms.upper;
      // chord of 64 mm out and 4 mm down
      expectRel(bow(0.5).bowMm, (0.5 * 64) / Math.hypot(64, 4), 1e-9, `${side}, up (mm)`);
      expectRel(bow(-0.5).bowMm, (-0.5 * 64) / Math.hypot(64, 4), 1e-9, `${side}, down (mm)`);
      expectAbs(bow(0).bowMm, 0, 1e-12, `${side}, straight (mm)`);
      const turned = read([[nodeAt(arm, 3) + NODE_TURN, 0.01]])[side].arms.upper;
      expect(turned.turns.filter((t) => t !== 0)).toEqual([0.01]);
      expect(turned.turns[3]).toBe(0.01);
      expect([turned.fractions[0], turned.fractions[arm.count - 1], turned.nodes.length]).toEqual([0, 1, arm.count]);
    }
  });
});

describe("an outer joint of 500 N/mm with 0.1 mm of clearance", () => {
  const joint = (x: number, z: number, m = plain) =>
    read(
      [
        [RIGHT + HUB_X, x],
        [RIGHT + HUB_Z, z],
      ],
      m,
    ).right.joints.upperOuter;

  it("pulls the hub back by what it is off beyond the clearance", () => {
    const j = joint(0.3, 0.4);
    near(j.pin, [120, 72], 1e-9, "pin on the arm (mm)");
    near(j.hole, [120.3, 72.4], 1e-9, "hole in the hub (mm)");
    near(j.offset, [0.3, 0.4], 1e-12, "offset (mm)");
    // the faint centring of 1e-7 of the stiffness besides
    near(j.force, [-120, -160], 1e-4, "force (N)");
    expectAbs(j.forceN, 200, 1e-4, "force (N)");
    expect(j.floats).toBe(false);
  });

  it("floats within it, and does not where it has none", () => {
    const loose = joint(0.05, 0);
    expectAbs(loose.forceN, 0, 1e-5, "force (N)");
    expect(loose.floats).toBe(true);
    const centred = joint(0, 0);
    expect([centred.force.map((v) => v + 0), centred.floats]).toEqual([[0, 0], true]);
    const tight = joint(
      0.05,
      0,
      model((s) => {
        s.corner.joints.upperOuter.clearanceMm = 0;
      }),
    );
    near(tight.force, [-25, 0], 1e-9, "force (N)");
    expect(tight.floats).toBe(false);
  });
});

describe("a bearing of 260 N·mm/° with 0.5° of play", () => {
  const moment = (deg: number, m = plain): number => read([[RIGHT + WHEEL_TILT, (deg * Math.PI) / 180]], m).right.bearing.momentNmm;
  it("holds against what goes beyond it", () => {
    expectAbs(moment(1.5), 260, 1e-3, "N·mm");
    expectAbs(moment(-1.5), -260, 1e-3, "N·mm");
    expectAbs(moment(0.4), 0, 1e-3, "N·mm");
    const firm = model((s) => {
      s.corner.hub.tiltPlayDeg = 0;
    });
    expectRel(moment(-1.5, firm), -390, 1e-9, "N·mm without play");
  });
});

describe("a tyre of 14 N/mm, 36 mm wide", () => {
  // turned by 0.02 rad and 2 mm down: 27.865605 N, -30.237984 N·mm about the wheel's plane; 48 sin 0.02 - 1.085136 cos 0.02 mm aside
  it("meets the road where its pressure has its middle", () => {
    const t = read([
      [RIGHT + HUB_Z, -2],
      [RIGHT + HUB_TURN, 0.02],
    ]).right.tyre;
    expectRel(t.verticalN, 27.865605, 1e-6, "N");
    near(t.contact, [151.875017, 0], 1e-5, "contact (mm)");
    expect([t.fromMm, t.toMm, t.halfWidthMm, t.lifted]).toEqual([-18, 18, 18, false]);
    expectRel(t.penetration.d0, 1.9904, 1e-6, "in the middle (mm)");
    expectRel(t.rateNPerMm2, 14 / 36, 1e-12, "N/mm²");
  });

  it("shifted by 1.5 mm under the wheel, and on a road of 3 mm", () => {
    const soft = model((s) => {
      s.corner.tyre.lateralNPerMm = 9;
    });
    const t = read([[RIGHT + TREAD_SHIFT, 1.5]], soft, { bumpRightMm: 3, lateralG: 0.5 }).right.tyre;
    near(t.contact, [153.5, 3], 1e-9, "contact (mm)");
    expectRel(t.verticalN, 42, 1e-12, "N");
    expectRel(t.lateralN, -21, 1e-12, "N to the left in a left curve");
  });

  // crown of 100 mm, 0.5 mm down and turned by 0.01 rad, by quadrature of its penetration: mean place -1.000033 mm, mean of its square 21.105 mm², so that the
  // tread there stands 0.10553 mm back
  it("with a crown meets it where its shoulders leave it", () => {
    const crowned = model((s) => {
      s.corner.tyre.crownRadiusMm = 100;
    });
    const t = read(
      [
        [RIGHT + HUB_Z, -0.5],
        [RIGHT + HUB_TURN, 0.01],
      ],
      crowned,
    ).right.tyre;
    near(t.contact, [151.478953, 0], 1e-5, "contact (mm)");
  });

  it("in the air carries nothing", () => {
    const t = read([[RIGHT + HUB_Z, 1]]).right.tyre;
    expectAbs(t.verticalN, 0, 0, "N");
    near(t.contact, [152, 0], 1e-12, "contact (mm)");
    expect(t.lifted).toBe(true);
  });
});

describe("an anti-roll bar", () => {
  it("is strained by how much higher its right end stands", () => {
    const barred = model((s) => {
      s.antiRollBar.rateNPerMm = 3;
    });
    const arm = barred.corners[1].arms.lower;
    expectRel(read([[nodeAt(arm, arm.barNode!) + NODE_Z, 2]], barred).antiRollBarN, 6, 1e-12, "N");
    const without = model((s) => {
      s.antiRollBar.rateNPerMm = 0;
    });
    expect(read([], without).antiRollBarN).toBe(0);
  });
});
