import { describe, expect, it } from "vitest";
import type { LimitName } from "../../../src/core/analysis.ts";
import { analyze, buildBench, limitContext, solveLoad } from "../../../src/core/analyze.ts";
import { checkScenario } from "../../../src/core/design/check.ts";
import { CARRIERS, type Load, type Scenario, SIDES, type Side } from "../../../src/core/design/types.ts";
import { firstToGive } from "../../../src/core/limits/limits.ts";
import { wheelPush } from "../../../src/core/limits/push.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import { drivingSpeeds } from "../../../src/core/studies/driving.ts";
import { mapPoint, safeSpeedAt } from "../../../src/core/studies/map-levels.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { byRatio, evenly, type SpeedMap, type SpeedMapOptions } from "../../../src/core/studies/speed-map.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { wholeSpeedMap } from "../../support/whole-studies.ts";

const car = (name: string, change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(shipped(name));
  change(s);
  return s;
};
const reportOf = (s: Scenario, load: Load) => {
  const r = analyze(s, load, { radiusM: 6 });
  if (!r.ok) throw new Error(r.reason.message);
  return r.report;
};
const used = (s: Scenario, load: Load, name: LimitName): number =>
  Math.max(
    ...reportOf(s, load)
      .limits.filter((l) => l.name === name)
      .map((l) => l.utilization),
  );
const STRAIGHT: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

// statics, by hand: what acts on the hub square to the picture is the push at the wheel's centre or at the road, the two joints' forces and what
// a level rod across the car adds about the upright axis; their sums along the road, about the axle's axis and about the upright axis are naught
describe("the hub's balance along the road and about both other axes", () => {
  it.each(SHIPPED.flatMap((name) => CARRIERS.map((carriedBy) => [name, carriedBy] as const)))("%s, motor on %s", (name, carriedBy) => {
    const s = car(name, (c) => {
      c.drive.carriedBy = carriedBy;
      c.drive.stallTorqueNmm *= 0.8;
    });
    if (checkScenario(s).length > 0) return;
    const b = buildBench(s);
    const load: Load = { lateralG: 0.3, bumpLeftMm: 2, bumpRightMm: 0, throttle: 0.7 };
    const solved = solveLoad(b, load);
    if (!solved.ok) throw new Error(solved.reason.message);
    const x = limitContext(b, solved.state, 3)!;
    for (const side of SIDES) {
      const p = wheelPush(x, side)!;
      const st = solved.state[side];
      const [upper, lower, at] = [st.joints.upperOuter.hole, st.joints.lowerOuter.hole, carriedBy === "hub" ? st.tyre.contact : st.wheelCentre];
      expectRel(p.jointPushN.upper + p.jointPushN.lower, p.passedOnN, 1e-12, "N along the road");
      expectAbs(p.passedOnN * at[1] - p.jointPushN.upper * upper[1] - p.jointPushN.lower * lower[1], 0, 1e-9, "N·mm about the axle's axis");
      const out = side === "right" ? 1 : -1;
      const upright = out * (p.passedOnN * at[0] - p.jointPushN.upper * upper[0] - p.jointPushN.lower * lower[0]);
      expectRel(p.steeringNmm, upright, 1e-9, "N·mm about the upright axis: the rod's");
      const twist = carriedBy === "upperArm" || carriedBy === "lowerArm" ? -p.passedOnN * (st.wheelCentre[1] - st.tyre.contact[1]) : 0;
      expectAbs(p.armTwistNmm.upper + p.armTwistNmm.lower, twist, 1e-9, "N·mm that an arm takes");
    }
  });
});

describe("an axle that is pushed", () => {
  const forked = shipped("heavy-forked.json");

  it("stands as it stands without the push, and carries as much in the plane", () => {
    const load: Load = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 3 };
    const [still, pushed] = [reportOf(forked, load), reportOf(forked, { ...load, throttle: 1 })];
    for (const key of ["camberDeg", "verticalLoadN", "jointForceN", "armAxialForceN", "springForceN"] as const)
      expect(pushed.right[key]).toEqual(still.right[key]);
    expect(still.right.push).toBeNull();
  });

  it("is the same on wheels that nothing drives as when it rolls along", () => {
    const idle = car("heavy-forked.json", (s) => {
      s.drive.onThisAxle = false;
    });
    const load: Load = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 };
    expect({ ...reportOf(idle, { ...load, throttle: 1 }), throttle: 0, solver: null }).toEqual({ ...reportOf(idle, load), solver: null });
  });

  it("mirrored, is its mirror image", () => {
    const load: Load = { lateralG: 0.35, bumpLeftMm: 1, bumpRightMm: 0, throttle: 0.6, brakeG: 0.1 };
    const [one, other] = [reportOf(forked, load), reportOf(forked, { ...load, lateralG: -0.35, bumpLeftMm: 0, bumpRightMm: 1 })];
    for (const key of ["askedN", "passedOnN", "wheelShiftMm", "axisTiltDeg", "steeringNmm"] as const)
      expectRel(one.left.push![key], other.right.push![key], 1e-6, key);
    const carried = car("heavy-forked.json", (s) => {
      s.drive.carriedBy = "lowerArm";
    });
    const pull = (lateralG: number, bumpLeftMm: number, wheel: Side) =>
      reportOf(carried, { ...load, lateralG, bumpLeftMm, bumpRightMm: 1 - bumpLeftMm }).limits.find((l) => l.name === "jointPullOut" && l.wheel === wheel)!
        .demand;
    expectRel(pull(0.35, 1, "left"), pull(-0.35, 0, "right"), 1e-6, "N at the worst joint");
  });

  // throttle and brake that ask for the same force: 7.33 N of the drive standing still over 5 kg on four wheels is 0.598 g
  it("reversed, shifts back as far as forward", () => {
    const asked = reportOf(forked, { ...STRAIGHT, throttle: 1 }).left.push!.askedN;
    const brakeG = (asked * 4) / (forked.body.carMassKg * 9.80665);
    const [fore, back] = [reportOf(forked, { ...STRAIGHT, throttle: 1 }).left.push!, reportOf(forked, { ...STRAIGHT, brakeG }).left.push!];
    expectRel(back.askedN, -fore.askedN, 1e-12, "N");
    expectRel(back.wheelShiftMm, -fore.wheelShiftMm, 1e-4, "mm");
    expectRel(back.axisTiltDeg, -fore.axisTiltDeg, 1e-3, "°");
  });

  it("costs straight arms what forked ones spare: 1.5 against 0.6 mm and 1.0 against 0.4°", () => {
    const straight = reportOf(shipped("heavy-straight.json"), { ...STRAIGHT, throttle: 1 }).right.push!;
    const fork = reportOf(forked, { ...STRAIGHT, throttle: 1 }).right.push!;
    expect(straight.wheelShiftMm).toBeGreaterThan(2 * fork.wheelShiftMm);
    expect(straight.axisTiltDeg).toBeGreaterThan(2 * fork.axisTiltDeg);
  });

  it("lets its tyres go earlier: a wheel that spins is a caution, or fails where the builder says so", () => {
    const strong = (mustHold: boolean) =>
      car("heavy-forked.json", (s) => {
        s.drive.stallTorqueNmm *= 4;
        s.limits.spinMustHold = mustHold;
      });
    const load: Load = { lateralG: 0.2, bumpLeftMm: 0, bumpRightMm: 0 };
    expect(used(forked, { ...load, throttle: 1 }, "sliding")).toBeGreaterThan(1.5 * used(forked, load, "sliding"));
    const free = reportOf(strong(false), { ...load, throttle: 1 }).limits.filter((l) => l.name === "sliding");
    expect(free.every((l) => l.utilization > 1 && l.caution && l.part.endsWith("wheel spins"))).toBe(true);
    expect(firstToGive(reportOf(strong(true), { ...load, throttle: 1 }).limits).name).toBe("sliding");
    // what does not reach the road does not reach the arms
    const { askedN, passedOnN, spinsOrLocks } = reportOf(strong(false), { ...load, throttle: 1 }).left.push!;
    expect(spinsOrLocks).toBe(true);
    expect(passedOnN).toBeLessThan(askedN);
  });

  it("uses up the room before the tyre by its shift", () => {
    const tight = (room: number) =>
      car("heavy-straight.json", (s) => {
        s.fit = { ...s.fit, outlines: [], keepOut: [], alongRoadMm: room, clearanceMm: 1 };
      });
    const at = (room: number, throttle: number) => reportOf(tight(room), { ...STRAIGHT, throttle }).limits.find((l) => l.name === "fit")!;
    const shift = reportOf(tight(2), { ...STRAIGHT, throttle: 1 }).right.push!.wheelShiftMm;
    expectAbs(at(2, 1).place!.distanceMm, 2 - shift, 1e-9, "mm left");
    expectAbs(at(2, 0).place!.distanceMm, 2, 1e-12, "mm at rest");
    expect(at(1, 1).part).toBe("tyre touches the body before it");
  });

  it("is refused where a straight arm that spins about itself would carry the motor", () => {
    const spins = car("heavy-straight.json", (s) => {
      s.corner.lowerArm.pivotFreeAboutArm = true;
      s.drive.carriedBy = "lowerArm";
    });
    expect(checkScenario(spins).map((p) => p.path)).toEqual(["drive.carriedBy"]);
  });
});

describe("the push in pins and holes", () => {
  const STEEL = { name: "steel", youngMPa: 210_000, poisson: 0.3, yieldMPa: 300, densityKgPerM3: 7850, plastic: false, maxTempC: 300, source: "a test" };
  // arms and joints so stiff that only what is asked about is left: two parallel steel beams 50 mm apart, joints of 1e6 N/mm
  const stiff = (clearanceMm: number): Scenario =>
    car("heavy-forked.json", (s) => {
      const arm = {
        ...s.corner.upperArm,
        layout: "twin" as const,
        spreadMm: 50,
        section: { shape: "rectangle" as const, widthMm: 20, heightMm: 20 },
        material: STEEL,
      };
      s.corner.upperArm = arm;
      s.corner.lowerArm = arm;
      for (const j of Object.values(s.corner.joints)) Object.assign(j, { pinNPerMm: 1e6, holeNPerMm: 1e6, mountNPerMm: 1e6, clearanceMm: 0 });
      s.corner.joints.upperOuter.clearanceMm = clearanceMm;
      s.corner.joints.lowerOuter.clearanceMm = clearanceMm;
    });
  const pushed = (s: Scenario, side: Side = "right") => {
    const b = buildBench(s);
    const solved = solveLoad(b, { lateralG: 0.3, bumpLeftMm: 0, bumpRightMm: 0, throttle: 1 });
    if (!solved.ok) throw new Error(solved.reason.message);
    const p = wheelPush(limitContext(b, solved.state, 0)!, side)!;
    return { p, corner: solved.state[side] };
  };

  // statics: the share X at the ball joint, L from the line of the pins, is held by a pair of forces ± X L / spread along the arm, beside half of
  // the plane's force on each pin; told is twice the worse one
  it("pulls at one inner pin and presses the other by the push's moment over their distance", () => {
    const { p, corner } = pushed(stiff(0));
    for (const name of ["upper", "lower"] as const) {
      const nodes = corner.arms[name].nodes;
      const [a, b] = [nodes[0]!, nodes.at(-1)!];
      const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const [fx, fz] = corner.joints[`${name}Inner`].force;
      const along = (fx * (b[0] - a[0]) + fz * (b[1] - a[1])) / long;
      const across = (fz * (b[0] - a[0]) - fx * (b[1] - a[1])) / long;
      const pair = (p.jointPushN[name] * long) / 50;
      const worse = Math.max(...[1, -1].map((way) => 2 * Math.hypot(along / 2 + way * pair, across / 2)));
      expectRel(p.jointPullN[`${name}Inner`], worse, 2e-3, `N, ${name}`);
      expect(worse).toBeGreaterThan(1.2 * Math.hypot(along, across));
    }
  });

  // by hand: a push F forwards at the road, h below the centre, lifts the front of the arm that carries the stage: its front pin holds down with
  // F h / spread and presses outwards with X L / spread, its rear pin the other way round; half of the plane's force is on each
  it.each(SIDES)("holds down at the front what a stage on the arm lifts there: %s", (side) => {
    const s = stiff(0);
    s.drive.carriedBy = "lowerArm";
    const { p, corner } = pushed(s, side);
    const nodes = corner.arms.lower.nodes;
    const [a, b] = [nodes[0]!, nodes.at(-1)!];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [fx, fz] = corner.joints.lowerInner.force;
    const outwards = (fx * (b[0] - a[0]) + fz * (b[1] - a[1])) / long;
    const up = (fz * Math.abs(b[0] - a[0]) - fx * (b[1] - a[1]) * Math.sign(b[0] - a[0])) / long;
    const pair = (p.jointPushN.lower * long) / 50;
    const lift = (p.passedOnN * (corner.wheelCentre[1] - corner.tyre.contact[1])) / 50;
    const front = Math.hypot(outwards / 2 + pair, up / 2 - lift);
    const rear = Math.hypot(outwards / 2 - pair, up / 2 + lift);
    expectRel(p.jointPullN.lowerInner, 2 * Math.max(front, rear), 2e-3, "N");
    // the other pairing would tell another pull
    expect(
      Math.abs(Math.max(Math.hypot(outwards / 2 + pair, up / 2 + lift), Math.hypot(outwards / 2 - pair, up / 2 - lift)) - Math.max(front, rear)),
    ).toBeGreaterThan(0.05);
  });

  // a pin lies in its hole where the force in space presses it: of 0.8 mm the share that the push has in that force
  it("uses up the outer joints' play by its share of the force in space", () => {
    const { p, corner } = pushed(stiff(0.8));
    for (const name of ["upper", "lower"] as const) {
      const space = Math.hypot(p.jointPushN[name], ...corner.joints[`${name}Outer`].force);
      expectAbs(p.jointShiftMm[name], (0.8 * p.jointPushN[name]) / space, 5e-3, `mm, ${name}`);
      expect(p.jointShiftMm[name]).toBeGreaterThan(0.02);
    }
  });
});

describe("safe speeds of a pushed car", () => {
  // weak straight arms, so that the push decides
  const weak = car("heavy-straight.json", (s) => {
    s.limits.wheelShiftMm = 1;
    s.corner.hub.retention = { kind: "lip", radiusMm: 8, capacityN: 400, model: "ring", shoulderRadiusMm: 8, journalShare: 0 };
  });
  const bench = buildBench(weak);
  const map = (o: Partial<SpeedMapOptions>): SpeedMap => wholeSpeedMap(weak, { radiiM: byRatio(2, 20, 6), speedsMps: evenly(0, 10, 6), ...o });

  it("are on the map what they are one by one", () => {
    for (const pedals of [{ throttle: 0.6 }, { brakeG: 0.3 }, { throttle: 0.4, brakeG: 0.2 }]) {
      const m = map(pedals);
      for (const radiusM of [3, 8]) {
        const one = safeSpeedOf(bench, radiusM, pedals);
        expectRel(safeSpeedAt(m, radiusM).speedMps, one.speedMps, 4e-3, `m/s on ${radiusM} m under ${JSON.stringify(pedals)}`);
      }
    }
  }, 60_000);

  // every limit that a push changes, from its own equilibrium at speeds whose push lies between those that the map was made for
  it("rest on limits that are at any speed what they are there", () => {
    const m = map({ throttle: 0.7 });
    for (const [radiusM, speedMps] of [
      [4, 1.3],
      [6, 2.9],
      [12, 4.6],
    ] as const) {
      const lateralG = (speedMps * speedMps) / (9.80665 * radiusM);
      const r = analyze(weak, { lateralG, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0.7 }, { radiusM });
      if (!r.ok) throw new Error(r.reason.message);
      const point = mapPoint(m, radiusM, speedMps);
      for (const name of ["wheelShift", "axisTilt", "armYield", "jointPullOut", "armBuckling"] as const)
        expectAbs(point[name], Math.max(...r.report.limits.filter((l) => l.name === name).map((l) => l.utilization)), 6e-3, `${name} at ${speedMps} m/s`);
    }
  }, 60_000);

  it("name the worst way of driving", () => {
    const { each, worst } = toTheEnd(drivingSpeeds(bench, 6));
    expect(each[worst].speedMps).toBe(Math.min(...Object.values(each).map((e) => e.speedMps)));
    expect(each.fullThrottle.limit).toBe("wheelShift");
    expect(each.fullThrottle.speedMps).toBe(0);
    expect(each.coasting.speedMps).toBeGreaterThan(3);
  });
});
