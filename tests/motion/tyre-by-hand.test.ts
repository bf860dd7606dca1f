import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { HUB_TURN, HUB_X, HUB_Z, TREAD_SHIFT, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import type { Rates } from "../../src/motion/forces.ts";
import { buildMotion, type MotionModel } from "../../src/motion/model.ts";
import { dynamicTyres, type TyreState, tyreState } from "../../src/motion/tyre.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/**
 * A tyre in motion against hand calculations. Wheel of 48 mm radius, 36 mm wide, at (±152, 48), bearing on the wheel's middle plane; tyre of 14 N/mm, flat,
 * grip 1.05, damping over stiffness 6e-4 s; 6 m/s, slip stiffness 8 per rad, 2400 steps a second.
 */
const model = (change: (s: Scenario) => void = () => {}): MotionModel => {
  const s = structuredClone(shipped("heavy-forked.json"));
  const { hub, tyre } = s.corner;
  hub.staticCamberDeg = 0;
  hub.bearingOffsetMm = 0;
  Object.assign(tyre, { crownRadiusMm: null, lateralNPerMm: null, effectiveWidthMm: null, loadExponent: 1 });
  change(s);
  return buildMotion(s);
};
const rigid = model();
const soft = model((s) => {
  s.corner.tyre.lateralNPerMm = 20;
});
const SLIP = 8;
const ROLL = 6000;

interface Moment {
  m?: MotionModel;
  /** of the right wheel, by place in its corner */
  q?: readonly (readonly [number, number])[];
  v?: readonly (readonly [number, number])[];
  /** the body's speed sideways, mm/s */
  bodyMmps?: number;
  steer?: number;
  road?: number;
  roadSpeed?: number;
  grip?: number;
  was?: { level: number; target: number };
}

/** What the right tyre does; it is pressed in by 2 mm unless told. */
function right({ m = rigid, q = [[HUB_Z, -2]], v = [], bodyMmps = 0, steer = 0, road = 0, roadSpeed = 0, grip = 1.05, was }: Moment): {
  out: TyreState;
  /** on the unknowns of its corner, then on the body's x */
  r: number[];
} {
  const vector = (): Float64Array => new Float64Array(m.bare.n);
  const [at, end, r] = [vector(), vector(), vector()];
  const { base } = m.axle.corners[1];
  for (const [place, value] of q) at[base + place] = value;
  for (const [place, value] of v) end[base + place] = value;
  end[m.x] = bodyMmps;
  const rates: Rates = { perStep: 2400, end, perEnd: 3600 };
  const out = tyreState();
  out.levelWas[1] = was?.level ?? steer;
  out.targetWas[1] = was?.target ?? steer;
  // the left wheel stands on a road far below
  const input = { steer, road: [-50, road], roadSpeed: [0, roadSpeed] } as const;
  dynamicTyres(null, r, at, m, [m.axle.corners[0].tyre, m.axle.corners[1].tyre], input, { rollMmps: ROLL, slipPerRad: SLIP, grip: [grip, grip] }, rates, out);
  return { out, r: [...r.slice(base, base + 5), r[m.x]!] };
}
const vertical = (m: Moment): number => right(m).out.verticalN[1];
const side = (m: Moment): number => right(m).out.lateralN[1];

describe("the road's push on a rolling tyre", () => {
  it("is its stiffness times what it is pressed in, from wheel and road alike", () => {
    expectRel(vertical({}), 28, 1e-12, "N, wheel down by 2 mm");
    expectRel(vertical({ road: 1 }), 42, 1e-12, "N, road up by 1 mm");
    expectAbs(vertical({ q: [[HUB_Z, 1]] }), 0, 0, "N in the air");
    expect(right({ q: [[HUB_Z, 1]] }).out.gripUsed[1]).toBe(0);
  });

  // 6e-4 s ahead: 100 mm/s press it in by 0.06 mm more
  it("grows with the speed at which they meet, and never pulls", () => {
    expectRel(vertical({ v: [[HUB_Z, -100]] }), 28.84, 1e-12, "N, wheel going down");
    expectRel(vertical({ roadSpeed: 100 }), 28.84, 1e-12, "N, road going up");
    expectAbs(vertical({ v: [[HUB_Z, 1e5]] }), 0, 0, "N going up");
  });

  // turned by 0.02 rad: penetration 2 - 48 (1 - cos 0.02) = 1.990400 mm in the middle, 14 N/mm; 0.388889 N/mm² · sin 0.02 · 36³/12 N·mm about the middle
  it("moves towards the edge that is pressed in more", () => {
    const t = right({
      q: [
        [HUB_Z, -2],
        [HUB_TURN, 0.005],
        [WHEEL_TILT, 0.015],
      ],
    });
    expectRel(t.out.verticalN[1], 27.865605, 1e-6, "N");
    expectRel(t.out.treads[1].moment, -30.237984, 1e-6, "N·mm about the wheel's plane");
    // the wheel's lowest point lies 48 sin 0.02 to the right of its centre
    const moment = 27.865605 * 48 * Math.sin(0.02) - 30.237984 * Math.cos(0.02);
    expectRel(t.r[HUB_TURN]!, -moment, 1e-5, "N·mm on the hub");
    expectRel(t.r[WHEEL_TILT]!, -moment, 1e-5, "N·mm on the wheel");
    // a moment ahead the turn is larger by 6e-4 s · 5 rad/s
    const ahead = right({
      q: [
        [HUB_Z, -2],
        [HUB_TURN, 0.02],
      ],
      v: [
        [HUB_TURN, 2],
        [WHEEL_TILT, 3],
      ],
    });
    expectRel(ahead.out.treads[1].d1, -Math.sin(0.023), 1e-12, "slope of the tread");
  });
});

// bearing 5 mm inboard; the hub turned by -0.1 rad, the wheel upright in it: the bearing stands 5 sin 0.1 higher than the hub's point and 5 cos 0.1 inboard
describe("a wheel on a bearing off its middle", () => {
  const offset = model((s) => {
    s.corner.hub.bearingOffsetMm = 5;
  });
  const q = [
    [HUB_Z, -2 - 5 * Math.sin(0.1)],
    [HUB_TURN, -0.1],
    [WHEEL_TILT, 0.1],
  ] as const;

  it("hands the road's force to hub and bearing at their levers", () => {
    const { out, r } = right({ m: offset, q, steer: 0.3 });
    expectRel(out.verticalN[1], 28, 1e-9, "N");
    // 28 N up and 8.4 N to the left on the road, 46 mm under the wheel's centre
    const [aside, up] = [5 - 5 * Math.cos(0.1), 5 * Math.sin(0.1)];
    expectRel(r[HUB_TURN]!, 8.4 * (46 - up) - 28 * aside, 1e-9, "N·mm about the hub's point");
    expectRel(r[WHEEL_TILT]!, 8.4 * 46 - 28 * 5, 1e-9, "N·mm about the bearing");
  });

  it("comes down as hub and wheel turn against each other", () => {
    // hub 10 rad/s, wheel as fast the other way in it: the centre falls by 5 · 10 mm/s less what the hub's turn lifts
    const falls = 50 - 10 * (5 - 5 * Math.cos(0.1));
    const v = [
      [HUB_TURN, 10],
      [WHEEL_TILT, -10],
    ] as const;
    expectRel(vertical({ m: offset, q, v }), 28 + 14 * 6e-4 * falls, 1e-9, "N");
  });
});

describe("a tyre's side force", () => {
  // to the left: 0.3 · 28 N, on road level, 46 mm under the wheel's centre
  it("is what the steering asks, on body, hub and wheel", () => {
    const { out, r } = right({ steer: 0.3 });
    expectRel(out.lateralN[1], -8.4, 1e-12, "N");
    expectRel(r[HUB_X]!, 8.4, 1e-12, "N on the hub");
    expectRel(r[5]!, 8.4, 1e-12, "N on the body's x");
    expectRel(r[HUB_Z]!, -28, 1e-12, "N up");
    expectRel(r[HUB_TURN]!, 8.4 * 46, 1e-12, "N·mm on the hub");
    expectRel(r[WHEEL_TILT]!, 8.4 * 46, 1e-12, "N·mm on the wheel");
    expect(r[TREAD_SHIFT]).toBe(0);
    expectRel(out.gripUsed[1], 0.3 / 1.05, 1e-12, "share of the grip");
  });

  // In one step it rolls 2.5 mm of a way of 24 mm: 0.104167, by the trapezoidal rule 0.104167/2.104167 = 0.0495050 of what is asked for at both ends.
  // 100 mm/s of 6 m/s ask for 8/60 = 0.133333.
  it.each([
    ["hub", { v: [[HUB_X, 100]] }],
    ["body", { bodyMmps: 100 }],
    // 46 mm over the road
    ["hub turning", { v: [[HUB_TURN, 100 / 46]] }],
    ["wheel tilting", { v: [[WHEEL_TILT, 100 / 46]] }],
  ] as [string, Moment][])("builds up against the way its tread wanders: %s", (_, moving) => {
    const { out } = right({ steer: 0.3, ...moving });
    expectRel(out.target[1], 0.433333333, 1e-8, "asked for, N/N");
    expectRel(out.level[1], 0.30660066, 1e-8, "N/N");
    // what the turn's speed presses in ahead is nothing for an upright wheel in its middle, but shifts the load: the same force
    expectRel(out.lateralN[1], -0.30660066 * out.verticalN[1], 1e-8, "N");
  });

  it("goes on from what it was, half by what was asked for then", () => {
    // 0.1 + 0.0495050 (0 + 0.2 - 2 · 0.1), and (0.4 + 0.2 - 2 · 0.1)
    expectRel(side({ was: { level: 0.1, target: 0.2 } }), -2.8, 1e-12, "N");
    expectRel(side({ steer: 0.4, was: { level: 0.1, target: 0.2 } }), -28 * 0.11980198, 1e-8, "N");
  });

  it("is held to the grip either way, and says how much more is asked for", () => {
    const much = right({ steer: 2, grip: 0.8 });
    expectRel(much.out.lateralN[1], -22.4, 1e-12, "N to the left");
    expectRel(much.out.gripUsed[1], 2.5, 1e-12, "share of the grip");
    expectRel(side({ steer: -2, grip: 0.8 }), 22.4, 1e-12, "N to the right");
  });

  // carcass of 20 N/mm: it gives by itself, without a way to roll; 0.3 + 8 · (100 + 50)/6000 = 0.5
  it("of a soft carcass follows at once, and pulls at its tread", () => {
    const { out, r } = right({
      m: soft,
      steer: 0.3,
      q: [
        [HUB_Z, -2],
        [TREAD_SHIFT, 0.5],
      ],
      v: [
        [HUB_X, 100],
        [TREAD_SHIFT, 50],
      ],
    });
    expectRel(out.level[1], 0.5, 1e-12, "N/N");
    expectRel(out.lateralN[1], -14, 1e-12, "N");
    expectRel(r[TREAD_SHIFT]!, 14, 1e-12, "N on the tread");
    // the tread has moved 0.5 mm to the right under the wheel
    expectRel(r[HUB_TURN]!, 14 * 46 - 28 * 0.5, 1e-12, "N·mm on the hub");
  });

  it("of the left tyre is its own", () => {
    const { out } = right({ steer: 0.3 });
    expectAbs(out.lateralN[0], 0, 1e-12, "N in the air");
    expectAbs(out.verticalN[0], 0, 0, "N in the air");
  });
});
