import { describe, expect, it } from "vitest";
import { buildBench, limitContext, solveLoad } from "../../src/core/analyze.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { allLimits } from "../../src/core/limits/limits.ts";
import { wheelPush } from "../../src/core/limits/push.ts";
import { pulledN, startGoing, tellPush } from "../../src/motion/along-road.ts";
import type { ManoeuvreName, Params } from "../../src/motion/manoeuvres.ts";
import { motionReport } from "../../src/motion/run.ts";
import { channelAt, column, type Trace, traceTable } from "../../src/motion/trace.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { simulateAll } from "../support/whole-run.ts";

/**
 * By hand for the forked car without drag: 5 kg, four motors of 120 N·mm through 12:40 at 0.88 on wheels of 48 mm radius: 29.33333 N standing
 * still; 4800 rpm / (10/3) · 2π/60 · 0.048 m = 7.238229 m/s without load; rolling 0.035 · 5 · 9.80665 = 1.716164 N
 */
const STALL_N = 29.33333;
const NO_LOAD = 7.238229;
const ROLLING_N = 1.716164;
const KG = 5;
const G = 9.80665;

const car = (change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.drive.dragNPerMps2 = 0;
  change(s);
  return s;
};
function drive(s: Scenario, name: ManoeuvreName, params: Params): Trace {
  const r = simulateAll(s, name, params, { breaks: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}

describe("a car with its throttle pressed", () => {
  // m v' = F0 (1 − v/v0) − Fr: v comes near its end F0-and-Fr-even by the factor exp(−t/τ), τ = m v0/F0 = 1.233789 s
  const t = drive(car(), "washboard", { speedMps: 2, throttle: 1, heightMm: 2, waveMm: 400, lastsS: 1.5 });
  const END = NO_LOAD * (1 - ROLLING_N / STALL_N);
  const TAU = (KG * NO_LOAD) / STALL_N;
  /** steps of 1/2400 s that hold the push of their start are behind by half a step over τ */
  const STEP_SHARE = 1 / 2400 / 2 / TAU;

  it("gains speed and way as a motor's line says", () => {
    const v = (s: number): number => channelAt(t, "speedMps", s);
    const left = Math.exp(-1 / TAU);
    expectRel(v(1.2), END - (END - v(0.2)) * left, STEP_SHARE, "m/s");
    expectRel(channelAt(t, "wayM", 1.2) - channelAt(t, "wayM", 0.2), END - (END - v(0.2)) * TAU * (1 - left), STEP_SHARE, "m");
    // and nothing of it is the other axle's business alone: each wheel passes on a quarter of what the line gives
    expectRel(channelAt(t, "left.pushN", 1.2), (STALL_N / 4) * (1 - v(1.2) / NO_LOAD), 2e-3, "N");
  });

  it("meets the road where it lies, to the end of the run", () => {
    // 0.2 m of lead-in at 2 m/s; from the second wave on the crests of 2 mm lie 0.4 m apart
    const road = column(t, "right.roadMm");
    const way = column(t, "wayM");
    const crests = [...road.keys()].filter((i) => i > 0 && i < road.length - 1 && road[i]! > road[i - 1]! && road[i]! >= road[i + 1]! && road[i]! > 1.5);
    expect(crests.length).toBeGreaterThan(8);
    for (const i of crests) expectAbs(((way[i]! - 0.2) / 0.4) % 1, 0.5, 0.06, `waves, at ${way[i]} m`);
    expect(crests.at(-1)!).toBeGreaterThan(road.length - 30);
  });
});

describe("a car that brakes", () => {
  // 0.5 g of the brakes and 0.035 g of rolling
  const t = drive(car(), "steeringStep", { speedMps: 4, brakeG: 0.5, lateralG: 0.4, riseS: 0.1, holdS: 1.3 });
  const SLOWS = 0.535 * G;

  it("slows down evenly to a stand, where the brakes push no more", () => {
    expectRel(channelAt(t, "speedMps", 0.2) - channelAt(t, "speedMps", 0.6), 0.4 * SLOWS, 1e-5, "m/s");
    expectRel(channelAt(t, "right.pushN", 0.5), (-0.5 * KG * G) / 4, 1e-6, "N");
    expect(channelAt(t, "speedMps", 1.3)).toBe(0);
    expect(channelAt(t, "right.pushN", 1.3)).toBe(0);
    expect(channelAt(t, "right.wheelShiftMm", 1.3)).toBe(0);
  });

  it("is pulled into the same curve less and less: v²/R, 0.4 g at 4 m/s on 4.0789 m", () => {
    for (const s of [0.3, 0.5, 0.6]) {
      const v = channelAt(t, "speedMps", s);
      // the acceleration is told for the start of the step, the speed for its end: v² changes by 2 a h/v of it meanwhile
      expectRel(channelAt(t, "lateralG", s) * G, v ** 2 / 4.078865, (1.05 * 2 * SLOWS) / 2400 / v, `m/s² at ${s} s`);
    }
  });

  it("does not start backwards or forwards from rest", () => {
    const rest = drive(car(), "constantLoad", { speedMps: 0, brakeG: 0.5, throttle: 0.3, lastsS: 0.3 });
    expect(column(rest, "speedMps").every((v) => v === 0)).toBe(true);
  });
});

describe("wheels that are asked for more than their grip", () => {
  // six times the torque: 44 N a wheel standing still; this axle carries 0.58 of 5 kg: 28.43929 N on a grip of 1.05
  it("spin, and pass on what grip leaves, while the other axle passes on all", () => {
    const t = drive(
      car((s) => {
        s.drive.stallTorqueNmm *= 6;
      }),
      "constantLoad",
      { speedMps: 1, throttle: 1, lastsS: 0.4 },
    );
    const [v1, v2] = [channelAt(t, "speedMps", 0.15), channelAt(t, "speedMps", 0.2)];
    const elsewhere = 88 * (1 - (v1 + v2) / 2 / NO_LOAD);
    expectRel((v2 - v1) / 0.05, (1.05 * 28.43929 + elsewhere - ROLLING_N) / KG, 5e-3, "m/s²");
    expect(t.events.filter((e) => e.kind === "spins").map((e) => e.side)).toEqual(["left", "right"]);
    expect(t.events[0]!.message).toMatch(/^The left wheel spins at 0\.\d\d s: asked for more push than the grip of 1\.05 leaves beside the side force\.$/);
  });
});

describe("a pushed axle that has settled", () => {
  // the static core knows nothing of time: model, section 10, 2 % of a position and 3 % of a force
  it.each(["body", "hub", "lowerArm"] as const)("shifts, tilts and is loaded as the answer at rest at that speed: motor on %s", (carriedBy) => {
    const s = car((c) => {
      c.drive.carriedBy = carriedBy;
    });
    const params = { speedMps: 2, throttle: 0.8, bumpLeftMm: 3, lastsS: 1.2 };
    const t = drive(s, "constantLoad", params);
    const b = buildBench(s);
    const solved = solveLoad(b, { lateralG: 0, bumpLeftMm: 3, bumpRightMm: 0, throttle: 0.8 });
    if (!solved.ok) throw new Error(solved.reason.message);
    const endS = t.timeS.at(-1)!;
    const x = limitContext(b, solved.state, channelAt(t, "speedMps", endS))!;
    const limits = allLimits(x);
    for (const side of ["left", "right"] as const) {
      const p = wheelPush(x, side)!;
      expectRel(channelAt(t, `${side}.wheelShiftMm`, endS), p.wheelShiftMm, 0.02, "mm");
      expectRel(channelAt(t, `${side}.axisTiltDeg`, endS), p.axisTiltDeg, 0.02, "°");
      for (const [channel, name] of [
        ["useJoint", "jointPullOut"],
        ["useArm", "armYield"],
        ["useGrip", "sliding"],
      ] as const)
        expectRel(
          channelAt(t, `${side}.${channel}`, endS),
          Math.max(...limits.filter((l) => l.name === name && (l.wheel === side || (l.wheel === "both" && side === "right"))).map((l) => l.utilization)),
          0.03,
          `${side} ${name}`,
        );
    }
  });
});

describe("the pull in a joint", () => {
  it("has the push square to the picture in the outer ones, which share it, and beside the plane's force in the inner ones", () => {
    const s = car();
    const b = buildBench(s);
    const solved = solveLoad(b, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, throttle: 1 });
    if (!solved.ok) throw new Error(solved.reason.message);
    const g = startGoing(s, 0, 1, 0)!;
    tellPush(g, limitContext(b, solved.state, 0)!, [true, false]);
    const [upperInner, upperOuter, , lowerOuter] = g.pull[0] as unknown as [number, number, number, number];
    expectRel(upperOuter + lowerOuter, STALL_N / 4, 1e-6, "N on both outer joints");
    expectRel(pulledN(g, 0, 1, 30), Math.hypot(30, upperOuter), 1e-12, "N in the upper outer joint");
    expect(upperInner).toBeGreaterThan(0);
    expectRel(pulledN(g, 0, 0, 30), 30 + upperInner, 1e-12, "N in the upper inner joint");
    expect([...g.pull[1]]).toEqual([0, 0, 0, 0]);
  });
});

describe("a run without throttle and brake", () => {
  it("has nothing to tell along the road", () => {
    const t = drive(car(), "singleBump", { speedMps: 6 });
    expect(traceTable(t).head).not.toContain("speedMps");
    expect(motionReport(t).peaks.some((p) => p.what.startsWith("push of the road"))).toBe(false);
    expect(column(t, "right.pushN").every((v) => v === 0)).toBe(true);
  });
});
