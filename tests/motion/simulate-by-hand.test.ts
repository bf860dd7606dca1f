import { describe, expect, it } from "vitest";
import { buildBench, limitContext, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { wheelPush } from "../../src/core/limits/push.ts";
import { onGrip } from "../../src/motion/along-road.ts";
import { CHANNELS, channelIndex } from "../../src/motion/channels.ts";
import type { ManoeuvreName, Params } from "../../src/motion/manoeuvres.ts";
import type { MotionEvent } from "../../src/motion/session.ts";
import { beats, factorOf, hitHardest, lastSample, type Progress, type SimulateOptions, simulate } from "../../src/motion/simulate.ts";
import { column, type Peak, type Trace } from "../../src/motion/trace.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { traceHash } from "../support/trace-hash.ts";

/** Short runs at coarse steps: when they sample, when they end, what they keep, and what stands beside it. */

const FILE = "heavy-forked.json";
const COARSE: SimulateOptions = { stepsPerSecond: 600, samplesPerSecond: 60, breaks: false };

function run(name: ManoeuvreName, params: Params, options: SimulateOptions = COARSE, change: (s: Scenario) => void = () => {}): Trace & { told: Progress[] } {
  const s = structuredClone(shipped(FILE));
  change(s);
  const g = simulate(s, name, params, options);
  const told: Progress[] = [];
  for (;;) {
    const next = g.next();
    if (!next.done) {
      told.push(next.value);
      continue;
    }
    if (!next.value.ok) throw new Error(next.value.reason.message);
    return { ...next.value.trace, told };
  }
}
const peak = (t: Trace, key: string): Peak => t.peaks[channelIndex(key)]!;
const times = (t: Trace): number[] => [...t.timeS].map((v) => Math.round(v * 1e6) / 1e6);
const last = (t: Trace): number => t.timeS[t.timeS.length - 1]!;

describe("the samples of a run", () => {
  it.each([
    // time of the run, options; steps to a sample, samples behind the start
    [{}, COARSE, 10, 6],
    [{}, { ...COARSE, longestS: 0.051 }, 10, 4],
    [{}, { ...COARSE, longestS: 0.001 }, 10, 1],
    [{}, { ...COARSE, longestS: 9, samplesPerSecond: 240, elementsPerArm: 2 }, 3, 20],
    [{}, { ...COARSE, longestS: 0.005, samplesPerSecond: 5000 }, 1, 3],
    [{ lastsS: 0.2 }, { breaks: false, longestS: 0.004 }, 10, 1],
  ] as [Params, SimulateOptions, number, number][])("of %j with %j lie %i steps apart, %i behind the start", (more, options, apart, samples) => {
    const t = run("constantLoad", { lastsS: 0.1, ...more }, options);
    const perSecond = options.stepsPerSecond ?? 2400;
    expect(t.stepsPerSecond).toBe(perSecond);
    expectRel(t.samplesPerSecond, perSecond / apart, 1e-12, "samples per second");
    expect(times(t)).toEqual(Array.from({ length: samples + 1 }, (_, k) => Math.round((1e6 * k * apart) / perSecond) / 1e6));
    expect(t.durationS).toBe(Math.min((more.lastsS ?? 0.1) as number, options.longestS ?? 9));
    expect(t.poses).toHaveLength(samples + 1);
    for (const c of t.columns) expect(c).toHaveLength(samples + 1);
    expect([t.health.steps, t.health.openSteps, t.health.openN]).toEqual([samples * apart, 0, 0]);
    expect(t.health.pinGapMm).toBeLessThan(1e-3);
    // it stands on its wheels
    expectRel(column(t, "left.verticalN")[0]!, 14.2196425, 1e-4, "N");
    expect([t.broken, t.whole, t.loose]).toEqual([false, true, []]);
  });

  it("are finer at a kerb, unless told", () => {
    expect(run("kerbStrike", {}, { longestS: 0.003 }).stepsPerSecond).toBe(2880);
    expect(run("kerbStrike", {}, { ...COARSE, longestS: 0.01 }).stepsPerSecond).toBe(600);
  });

  it("tell the time after every 24", () => {
    const t = run("constantLoad", { lastsS: 0.1 }, { ...COARSE, samplesPerSecond: 600 });
    expect(t.told.map((p) => [Math.round(p.timeS * 600), p.durationS])).toEqual([
      [24, 0.1],
      [48, 0.1],
    ]);
  });

  it("hold the pose of their moment: unknowns without the body's own place, what acts, rims", () => {
    const t = run("constantLoad", { lastsS: 0.1, lateralG: 0.3 });
    const last = t.poses[6]!;
    expect(last.q).toHaveLength(t.axles[0].n);
    expect(last.extras.verticalN[1]).toBe(column(t, "right.verticalN")[6]);
    expect(last.extras.lateralMm).toBe(column(t, "lateralMm")[6]);
    expect(last.q[0]).toBe(column(t, "heaveMm")[6]);
    expect(last.bareRim).toEqual([false, false]);
    expect(t.poses[0]!.extras.load.lateralG).toBe(0);
    // what is asked for reaches its third at a third of a second: (1 - cos(π/3))/2 of 0.3 g at the start of the last step
    expectRel(last.extras.load.lateralG, 0.3 * ((1 - Math.cos((Math.PI * (0.1 - 1 / 600)) / 0.3)) / 2), 1e-9, "g");
  });
});

describe("a peak", () => {
  it.each([
    ["most", 2, 1, true],
    ["most", -2, 1, false],
    ["most", 1, 1, false],
    ["least", -2, 1, true],
    ["least", 2, 1, false],
    ["least", 1, 1, false],
    ["either", -2, 1, true],
    ["either", 2, -1, true],
    ["either", 1, -2, false],
    ["either", -1, 1, false],
    ["most", -9, Number.NaN, true],
    ["least", 9, Number.NaN, true],
    ["either", 0, Number.NaN, true],
  ] as const)("%s: %d after %d is one: %s", (kind, v, old, is) => {
    expect(beats(kind, v, old)).toBe(is);
  });

  it("has a factor over a steady value of its sign and of more than a fiftieth of it", () => {
    expect([factorOf(6, 4), factorOf(-6, -4), factorOf(1, 4)]).toEqual([1.5, 1.5, 0.25]);
    expect([factorOf(6, null), factorOf(6, -4), factorOf(-6, 4), factorOf(0, 4), factorOf(0, 0)]).toEqual([null, null, null, null, null]);
    expect([factorOf(100, 2.01), factorOf(-100, -2.01)]).toEqual([100 / 2.01, 100 / 2.01]);
    expect([factorOf(100, 2), factorOf(100, 1.99), factorOf(-100, -1.99)]).toEqual([null, null, null]);
  });

  it("of the road's force names the side with the larger factor", () => {
    expect(hitHardest(1.2, 1.3)).toEqual({ side: "right", factor: 1.3 });
    expect(hitHardest(1.3, 1.2)).toEqual({ side: "left", factor: 1.3 });
    expect(hitHardest(1.2, 1.2).side).toBe("left");
    expect(hitHardest(null, 0.5)).toEqual({ side: "right", factor: 0.5 });
    expect(hitHardest(0.5, null)).toEqual({ side: "left", factor: 0.5 });
    expect(hitHardest(null, null)).toEqual({ side: "left", factor: null });
  });
});

describe("the end of a run", () => {
  const news = (...kinds: MotionEvent["kind"][]): MotionEvent[] => kinds.map((kind) => ({ kind }) as MotionEvent);

  it("comes 0.6 s after something has come off, and is put off by nothing else", () => {
    // 0.6 s of 24 samples a second are 14.4
    expect(lastSample(90, 100, 10, 24, news("lifts", "comesOff"))).toBe(25);
    expect(lastSample(90, 20, 10, 24, news("comesOff"))).toBe(20);
    // a second thing that comes off puts it off
    expect(lastSample(25, 100, 20, 24, news("comesOff"))).toBe(35);
    for (const other of [news(), news("lifts", "slides", "spins", "touchesStop", "exceeds")]) expect(lastSample(25, 100, 20, 24, other)).toBe(25);
  });
});

describe("the peaks of a run", () => {
  const bump: Params = { heightMm: 6, lengthMm: 80, wheels: 2, lateralG: 0.2 };
  const short = { ...COARSE, samplesPerSecond: 100, longestS: 0.11 };
  // every step is a sample: its columns hold all there is
  const every = run("singleBump", bump, { ...short, samplesPerSecond: 600 });
  const some = run("singleBump", bump, short);
  const ARMS = /useArm|useBuckling/;

  it("are the most, the most either way and the least of all steps, at the first time they are met", () => {
    CHANNELS.forEach((c, i) => {
      const values = [...every.columns[i]!];
      const size = (v: number): number => (c.peak === "most" ? v : c.peak === "least" ? -v : Math.abs(v));
      const at = values.reduce((best, v, k) => (size(v) > size(values[best]!) ? k : best), 0);
      expect(every.peaks[i], c.key).toMatchObject({ channel: c.key, label: c.label, unit: c.unit, side: c.side, value: values[at], timeS: every.timeS[at] });
    });
  });

  it("do not hang on how often it is sampled", () => {
    CHANNELS.forEach((c, i) => {
      if (ARMS.test(c.key)) return;
      expect([some.peaks[i]!.value, some.peaks[i]!.timeS], c.key).toEqual([every.peaks[i]!.value, every.peaks[i]!.timeS]);
    });
    // the bump's own top lies between two samples
    expect(Math.max(...column(some, "right.roadMm"))).toBeLessThan(peak(some, "right.roadMm").value);
  });

  it("name the wheel that is hit hardest, and its factor over the steady force", () => {
    expect(every.shockSide).toBe("right");
    const p = peak(every, "right.roadForceN");
    expectRel(every.shockFactor!, p.value / p.steady!, 1e-12, "shock");
    expect(every.health.iterations).toBeGreaterThan(0);
    // the blow opens the bearings' pins by a trace
    expect(every.health.pinGapMm).toBeGreaterThan(0);
    expect(run("singleBump", { ...bump, wheels: 1, lateralG: 0 }, short).shockSide).toBe("left");
    // at rest all along: neither is hit
    const calm = run("constantLoad", { lastsS: 0.1 });
    expectRel(calm.shockFactor!, 1, 1e-3, "shock of nothing");
  });

  it("have their factor over the steady value", () => {
    const p = peak(every, "right.verticalN");
    expectRel(p.factor!, p.value / p.steady!, 1e-12, "load on the right wheel");
    expect(p.factor).toBeGreaterThan(1.2);
    expect([peak(every, "right.roadMm").factor, peak(every, "speedMps").factor]).toEqual([null, null]);
  });
});

describe("the answer at rest beside a run", () => {
  const LOAD: Load = { lateralG: 0.4, bumpLeftMm: 1, bumpRightMm: 2 };
  const solved = (load: Load, change: (s: Scenario) => void = () => {}) => {
    const s = structuredClone(shipped(FILE));
    change(s);
    const bench = buildBench(s, { elementsPerArm: 4 });
    const r = solveLoad(bench, load);
    if (!r.ok) throw new Error(r.reason.message);
    return { bench, state: r.state };
  };

  it("is the core's own, at the run's speed", () => {
    const t = run("constantLoad", { ...LOAD, lastsS: 0.1, speedMps: 9 }, { ...COARSE, longestS: 0.01 });
    const { bench, state } = solved(LOAD);
    const limits = limitsAt(bench, state, 9);
    const at = (key: string): number => t.steady![channelIndex(key)]!;
    expectRel(at("right.verticalN"), state.right.tyre.verticalN, 1e-9, "N");
    expectRel(at("left.springMm"), state.left.spring.lengthMm, 1e-9, "mm");
    expectAbs(t.steadyState!.body.angleRad, state.body.angleRad, 1e-9, "rad");
    for (const [key, name] of [
      ["useHub", "hubRetention"],
      ["useTyre", "tyreOffRim"],
      ["useArm", "armYield"],
      ["useBuckling", "armBuckling"],
    ])
      for (const side of ["left", "right"])
        expectRel(at(`${side}.${key}`), limits.find((l) => l.name === name && l.wheel === side)!.utilization, 1e-9, `${side} ${name}`);
    expectRel(at("left.useGrip"), 0.4 / 1.05, 1e-9, "grip");
    // wheels rise with their road, less what the body follows
    expect(at("right.travelMm")).toBeGreaterThan(at("left.travelMm"));
    expect([at("speedMps"), at("left.pushN"), t.steadyReason]).toEqual([9, 0, null]);
  });

  it("holds the push along the road of a car that is driven, on the run's own grip", () => {
    const t = run("constantLoad", { lastsS: 0.1, throttle: 0.5, grip: 0.5, speedMps: 2 }, { ...COARSE, longestS: 0.01 });
    const { bench, state } = solved({ lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0.5 } as Load);
    const context = limitContext(bench, state, 2)!;
    const push = wheelPush({ ...context, model: onGrip(context.model, [0.525, 0.525]) }, "left")!;
    const at = (key: string): number => t.steady![channelIndex(key)]!;
    expect(Math.abs(push.passedOnN)).toBeGreaterThan(1);
    expectRel(at("left.pushN"), push.passedOnN, 1e-6, "N");
    expectRel(at("left.wheelShiftMm"), push.wheelShiftMm, 1e-6, "mm");
    expectRel(at("left.useGrip"), push.gripUsed, 1e-6, "grip");
    // twice the grip is half used
    const plain = wheelPush(context, "left")!;
    expectRel(push.gripUsed, 2 * plain.gripUsed, 1e-6, "grip");
  });

  it("may be none, with its reason: then nothing has a factor", () => {
    // tips over: half the track of 152 mm over 500 mm of height is 0.3 g
    const t = run("constantLoad", { lastsS: 0.1, lateralG: 0.9 }, { ...COARSE, longestS: 0.01 }, (s) => {
      s.body.cgHeightMm = 500;
    });
    expect([t.steady, t.steadyState, t.shockFactor, t.shockSide]).toEqual([null, null, null, "left"]);
    expect(t.steadyReason).toMatch(/tips at 0\.28 g/);
    for (const p of t.peaks) expect([p.steady, p.factor]).toEqual([null, null]);
  });

  it("is not looked for where the axle has no rest to start from", () => {
    const s = structuredClone(shipped("heavy-straight.json"));
    s.body.carMassKg = 5000;
    const end = simulate(s, "slalom").next();
    expect(end.done).toBe(true);
    expect(end.value).toMatchObject({ ok: false });
  });
});

describe("a run on which something breaks", () => {
  const BREAKS: SimulateOptions = { stepsPerSecond: 300, samplesPerSecond: 30 };

  it("goes on for 0.6 s after a wheel has come off, and no longer than it would", () => {
    const off = (lastsS: number): Trace =>
      run("constantLoad", { lastsS }, BREAKS, (s) => {
        s.left = { hub: { retention: { capacityN: 1 } } };
      });
    const t = off(2);
    // in the first step, on the way to the first sample
    expect(t.events.filter((e) => e.kind === "comesOff").map((e) => e.side)).toEqual(["left"]);
    expectRel(last(t), (1 + 18) / 30, 1e-9, "s");
    expect([t.broken, t.whole, t.durationS]).toEqual([true, true, 2]);
    expect(t.loose.map((l) => [l.kind, l.side, l.fromSample, l.poses.length])).toEqual([["wheel", "left", 1, 19]]);
    expect(t.loose[0]!.poses[18]!.z).toBeLessThan(t.loose[0]!.poses[0]!.z + 20);
    expectRel(last(off(0.3)), 0.3, 1e-9, "s");
  });

  it("is drawn with a bare rim from then on", () => {
    const t = run("constantLoad", { lastsS: 0.1, lateralG: 0.3 }, BREAKS, (s) => {
      s.right = { tyre: { seat: { bandTensionN: 0.001, bandMassGPerMm: 0 } } };
    });
    expect([t.poses[0]!.bareRim, t.poses[3]!.bareRim]).toEqual([
      [false, false],
      [false, true],
    ]);
    // 0.72 of 48 mm
    const radii = t.axles.map((a) => a.corners.map((c) => Math.round(c.tyre.radius * 1e6) / 1e6));
    expect(radii).toEqual([
      [48, 48],
      [34.56, 48],
      [48, 34.56],
      [34.56, 34.56],
    ]);
  });

  it("ends where a joint comes apart, with a sample of that moment", () => {
    const t = run("constantLoad", { lastsS: 2 }, BREAKS, (s) => {
      s.corner.joints.lowerOuter.pullOutN = 0.5;
    });
    expect(times(t)).toEqual([0, Math.round(1e6 / 300) / 1e6]);
    expect([t.broken, t.whole, t.health.steps]).toEqual([true, false, 1]);
    for (const c of t.columns) expect(c).toHaveLength(2);
    expect(t.told).toEqual([]);
  });

  it("ends at once where an arm breaks at rest", () => {
    const material = { name: "chalk", youngMPa: 2400, poisson: 0.35, yieldMPa: 0.01, densityKgPerM3: 1050, plastic: true, maxTempC: 80, source: "invented" };
    const t = run("constantLoad", { lastsS: 2 }, BREAKS, (s) => {
      s.left = { lowerArm: { material } };
    });
    expect([times(t), t.whole, t.broken]).toEqual([[0], false, true]);
    expect(column(t, "left.useArm")[0]).toBeGreaterThan(1);
  });

  it("is whole and unbroken where nothing is let break", () => {
    const t = run("constantLoad", { lastsS: 0.1 }, { ...BREAKS, breaks: false }, (s) => {
      s.corner.joints.lowerOuter.pullOutN = 0.5;
    });
    expect(t.events.map((e) => e.kind)).toContain("exceeds");
    expect([t.broken, t.whole]).toEqual([false, true]);
    expectRel(last(t), 0.1, 1e-9, "s");
  });
});

describe("the outside world of a run", () => {
  it("lets the axle of a landing fall from its height", () => {
    const t = run("landing", { dropMm: 60 }, { ...COARSE, longestS: 0.05 });
    expectAbs(column(t, "left.verticalN")[0]!, 0, 0, "N");
    // 0.05 s: g t²/2 = 12.26 mm of the 60
    expectAbs(peak(t, "left.verticalN").value, 0, 1e-9, "N");
    const sunk = column(t, "heaveMm")[0]! - column(t, "heaveMm")[3]!;
    expectAbs(sunk, 12.258, 1.5, "mm");
    // it stands on the road in the answer at rest
    expectRel(peak(t, "left.verticalN").steady!, 14.2196425, 1e-6, "N");
  });

  it("meets a bump where it lies, and sooner when the car goes faster meanwhile", () => {
    // 2 m/s: the bump begins at 0.1 s and rises until 0.2 s
    const at = (params: Params): number =>
      column(run("singleBump", { heightMm: 6, lengthMm: 400, wheels: 2, speedMps: 2, ...params }, { ...COARSE, longestS: 0.15 }), "right.roadMm")[9]!;
    const steady = at({});
    expectAbs(steady, 3, 0.1, "mm: half its height, but for what a round wheel smooths");
    expect(at({ throttle: 1 })).toBeGreaterThan(steady + 0.01);
    expect(at({ brakeG: 1 })).toBeLessThan(steady - 0.01);
  });

  it("is slowed down by the brakes as they are pressed: v' = -1 g (1 - cos(π t/0.1))/2 by brakes and by little else", () => {
    const t = run("constantLoad", { lastsS: 0.1, brakeG: 0.3, speedMps: 5 }, { ...COARSE });
    // the integral over the press is half of 0.1 s; rolling and drag take up to 0.05 g besides
    const slower = 5 - column(t, "speedMps")[6]!;
    expect(slower).toBeGreaterThan(0.3 * 9.80665 * 0.05 * 0.98);
    expect(slower).toBeLessThan(0.3 * 9.80665 * 0.05 * 1.02 + 0.05 * 9.80665 * 0.1);
    expectAbs(column(t, "wayM")[6]!, 0.5, 0.01, "m");
  });

  it("has the rough road of its seed, of the first one unless told", () => {
    const rough = (seed?: number): string =>
      traceHash(run("washboard", { heightMm: 0, roughnessMm: 2, lastsS: 0.3 }, { ...COARSE, longestS: 0.13, ...(seed === undefined ? {} : { seed }) }));
    expect(rough()).toBe(rough(1));
    expect(rough(2)).not.toBe(rough(1));
  });

  it("grips as the surface does", () => {
    const t = run("constantLoad", { lastsS: 0.1, grip: 0.5, lateralG: 0.2 }, { ...COARSE, longestS: 0.01 });
    expectRel(t.steady![channelIndex("left.useGrip")]!, 0.2 / 0.525, 1e-9, "share");
  });
});
