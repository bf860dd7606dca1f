import { describe, expect, it } from "vitest";
import { buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { readState } from "../../src/core/equilibrium/readout.ts";
import { CHANNELS } from "../../src/motion/channels.ts";
import { completeParams, MANOEUVRE_INFO, MANOEUVRES, type ManoeuvreName, type Params } from "../../src/motion/manoeuvres.ts";
import { motionReport } from "../../src/motion/run.ts";
import { type SimulateOptions, simulate } from "../../src/motion/simulate.ts";
import { channelAt, column, looseAt, sampleState, type Trace, traceTable } from "../../src/motion/trace.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { traceHash } from "../support/trace-hash.ts";
import { simulateAll } from "../support/whole-run.ts";

function trace(file: string, name: ManoeuvreName, params: Params = {}, options: SimulateOptions = {}): Trace {
  const r = simulateAll(shipped(file), name, params, options);
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}

const peak = (t: Trace, key: string) => t.peaks.find((p) => p.channel === key)!;

describe("a trace", () => {
  it.each(MANOEUVRES)("is the same to the last bit when it is made again: %s", (name) => {
    const once = trace("light-same-hub.json", name);
    const again = trace("light-same-hub.json", name);
    expect(traceHash(again)).toBe(traceHash(once));
    expect(again.events).toEqual(once.events);
  });

  it("is handed over bit by bit with the time, and the same as at once", () => {
    const g = simulate(shipped("light-same-hub.json"), "steeringStep");
    const times: number[] = [];
    let next = g.next();
    while (!next.done) {
      times.push(next.value.timeS);
      next = g.next();
    }
    expect(times.length).toBeGreaterThan(5);
    expect([...times].sort((a, b) => a - b)).toEqual(times);
    if (!next.value.ok) throw new Error(next.value.reason.message);
    expect(traceHash(next.value.trace)).toBe(traceHash(trace("light-same-hub.json", "steeringStep")));
  });

  it("has a row for every sample and a number for every channel", () => {
    const t = trace("light-same-hub.json", "singleBump");
    const { head, rows } = traceTable(t);
    expect(head).toHaveLength(34 + 1);
    expect(rows).toHaveLength(t.timeS.length);
    for (const row of rows) expect(row.filter(Number.isFinite)).toHaveLength(head.length);
  });
});

describe("a pose of a trace", () => {
  const t = trace("heavy-forked.json", "steeringStep", {}, { breaks: false });

  it("is the static solution's pose at the start and tells the same lean as the channel", () => {
    const bench = buildBench(shipped("heavy-forked.json"));
    if (!bench.rest.ok) throw new Error(bench.rest.reason.message);
    const start = sampleState(t, 0);
    expectAbs(start.right.wheelAngleRad, bench.rest.state.right.wheelAngleRad, 1e-4, "wheel angle, rad");
    expectAbs(start.right.joints.lowerOuter.forceN, bench.rest.state.right.joints.lowerOuter.forceN, 0.05, "joint force, N");
    for (const time of [0.2, 0.31234, 0.9]) {
      const s = sampleState(t, time);
      expectAbs((-s.right.wheelAngleRad * 180) / Math.PI, channelAt(t, "right.camberDeg", time), 1e-9, "camber, °");
      expectAbs(s.right.tyre.verticalN, channelAt(t, "right.verticalN", time), 1e-9, "load, N");
    }
  });

  it("goes over from sample to sample without a jump, and stays at the ends beyond them", () => {
    const dt = 1 / t.samplesPerSecond;
    const at = (time: number) => sampleState(t, time).right.wheelCentre[1];
    const a = at(0.25);
    const b = at(0.25 + dt);
    expectAbs(at(0.25 + dt / 2), (a + b) / 2, 1e-6, "height half-way, mm");
    expect(sampleState(t, -1).body.angleRad).toBe(sampleState(t, 0).body.angleRad);
    expect(sampleState(t, 99).body.angleRad).toBe(sampleState(t, t.timeS[t.timeS.length - 1]!).body.angleRad);
  });

  it("balances: the forces of the joints on a floating arm are those of its ends", () => {
    // an arm without spring seat is a two-force member: pulled equally at both ends
    const s = sampleState(t, 0.2);
    const inner = s.right.joints.upperInner;
    const outer = s.right.joints.upperOuter;
    for (const k of [0, 1]) expectAbs(inner.force[k]!, outer.force[k]!, 0.02, "force through the upper arm, N");
  });
});

describe("a steering step", () => {
  const t = trace("heavy-forked.json", "steeringStep", { holdS: 3 }, { breaks: false });

  it("rolls over its steady lean and settles on the static answer", () => {
    const steady = t.steady!;
    expect(peak(t, "rollDeg").factor).toBeGreaterThan(1.05);
    const last = t.timeS.length - 1;
    CHANNELS.forEach((c, i) => {
      if (!/camberDeg|verticalN|rollDeg|retentionN|jointN/.test(c.key)) return;
      expectAbs(t.columns[i]![last]!, steady[i]!, 0.02 * Math.abs(steady[i]!) + 0.02, `${c.key} at the end, ${c.unit}`);
    });
    const solved = solveLoad(buildBench(shipped("heavy-forked.json")), { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!solved.ok) throw new Error(solved.reason.message);
    expectAbs(steady[CHANNELS.findIndex((c) => c.key === "right.verticalN")]!, solved.state.right.tyre.verticalN, 1e-3, "steady load, N");
  });

  it("gives the shock factor as the largest force of the road over the steady one", () => {
    const p = peak(t, `${t.shockSide}.roadForceN`);
    expect(t.shockFactor).toBe(p.value / p.steady!);
    expect(t.shockFactor!).toBeGreaterThan(1);
    expect(t.shockFactor!).toBeLessThan(1.6);
  });

  it("slower is gentler", () => {
    expect(peak(trace("heavy-forked.json", "steeringStep", { riseS: 1.5 }, { breaks: false }), "rollDeg").factor!).toBeLessThan(peak(t, "rollDeg").factor!);
  });

  it("mirrors when steered the other way", () => {
    const m = trace("heavy-forked.json", "steeringStep", { lateralG: -0.6, holdS: 3 }, { breaks: false });
    expectRel(peak(m, "left.retentionN").value, peak(t, "right.retentionN").value, 1e-3, "pull on the outer wheel, N");
    expectRel(peak(m, "rollDeg").value, -peak(t, "rollDeg").value, 1e-3, "roll, °");
  });
});

describe("what is overloaded", () => {
  const t = trace("heavy-forked.json", "steeringStep", { lateralG: 0.7 });
  const event = t.events.find((e) => e.kind === "comesOff")!;

  it("comes off: the outer wheel, with moment, cause and numbers named", () => {
    expect(event.side).toBe("right");
    expect(event.limit).toBe("hubRetention");
    expect(event.message).toMatch(/^The right wheel came off at 0\.\d\d s: hub lip, \d+ N, holds 85 N\.$/);
    expect(event.demand).toBeGreaterThanOrEqual(event.capacity);
    expect(t.broken).toBe(true);
  });

  it("is gone from then on: the wheel falls free, the hub carries nothing, the car goes on", () => {
    const after = event.timeS + 0.1;
    const s = sampleState(t, after);
    expect(s.right.tyre.verticalN).toBe(0);
    expect(s.right.tyre.lifted).toBe(true);
    const [wheel] = looseAt(t, after);
    expect(wheel).toMatchObject({ kind: "wheel", side: "right" });
    expectAbs(wheel!.pose.x, s.right.wheelCentre[0], 1e-9, "place of the loose wheel, mm");
    const before = sampleState(t, event.timeS - 0.01);
    expect(Math.abs(s.right.wheelCentre[0] - s.right.hub.at[0])).toBeGreaterThan(Math.abs(before.right.wheelCentre[0] - before.right.hub.at[0]));
    expect(t.timeS[t.timeS.length - 1]!).toBeGreaterThan(event.timeS + 0.2);
    for (const c of t.columns) for (const v of c) expect(Number.isFinite(v)).toBe(true);
  });

  it("holds when nothing is allowed to break, and the trace is the same up to that moment", () => {
    const held = trace("heavy-forked.json", "steeringStep", { lateralG: 0.7 }, { breaks: false });
    expect(held.broken).toBe(false);
    expect(held.events.find((e) => e.kind === "exceeds")!.timeS).toBe(event.timeS);
    const until = Math.floor(event.timeS * t.samplesPerSecond);
    expect(column(held, "right.camberDeg").slice(0, until)).toEqual(column(t, "right.camberDeg").slice(0, until));
    expect(peak(held, "right.useHub").value).toBeGreaterThan(1);
  });

  it("is the tyre where the tyre is what holds least, and the car runs on its rim", () => {
    const s = structuredClone(shipped("heavy-cross-pinned.json"));
    s.corner.tyre.seat = { kind: "stretchedBand", bandTensionN: 3, bandMassGPerMm: 0, friction: 0.4, extraHoldN: 0 };
    const r = simulateAll(s, "steeringStep");
    if (!r.ok) throw new Error(r.reason.message);
    const off = r.trace.events.find((e) => e.kind === "comesOff")!;
    expect(off.message).toMatch(/^The right tyre came off its rim at 0\.\d\d s: pushed sideways, 7\.\d N, holds 7\.5 N\.$/);
    expect(r.trace.loose.map((l) => l.kind)).toContain("tyre");
    const late = sampleState(r.trace, off.timeS + 0.15);
    expect(late.right.wheelCentre[1]).toBeLessThan(sampleState(r.trace, off.timeS).right.wheelCentre[1] - 5);
    // it hops, and bears on its rim in between
    const after = column(r.trace, "right.verticalN").filter((_, i) => r.trace.timeS[i]! > off.timeS + 0.05);
    expect(Math.max(...after)).toBeGreaterThan(5);
  });

  it("ends the motion when it is a joint", () => {
    const s = structuredClone(shipped("heavy-cross-pinned.json"));
    s.corner.joints.lowerOuter.pullOutN = 20;
    const r = simulateAll(s, "singleBump", { heightMm: 10 });
    if (!r.ok) throw new Error(r.reason.message);
    expect(r.trace.whole).toBe(false);
    expect(r.trace.events.at(-1)!.message).toMatch(/^The right lower outer joint came apart at 0\.1\d s: 2\d N, holds 20 N\.$/);
    expectAbs(r.trace.timeS[r.trace.timeS.length - 1]!, r.trace.events.at(-1)!.timeS, 1e-12, "end of the trace, s");
  });
});

describe("at rest", () => {
  it("the trace's limits are the static core's", () => {
    const t = trace("heavy-stiff-bar.json", "constantLoad", { lateralG: 0.5 }, { breaks: false });
    const bench = buildBench(shipped("heavy-stiff-bar.json"));
    const solved = solveLoad(bench, { lateralG: 0.5, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!solved.ok) throw new Error(solved.reason.message);
    const limits = limitsAt(bench, readState(bench.model, solved.q, solved.state.load), 6);
    for (const [key, name] of [
      ["useHub", "hubRetention"],
      ["useTyre", "tyreOffRim"],
      ["useJoint", "jointPullOut"],
      ["useArm", "armYield"],
    ] as const)
      for (const side of ["left", "right"] as const) {
        const limit = limits.find((l) => l.name === name && l.wheel === side)!;
        expectAbs(channelAt(t, `${side}.${key}`, 9), limit.utilization, 0.03 * limit.utilization, `${side} ${name}`);
      }
  });
});

describe("numbers of a manoeuvre", () => {
  it("are completed by their defaults, all inside their ranges", () => {
    for (const name of MANOEUVRES) {
      const n = completeParams(name, {});
      for (const p of MANOEUVRE_INFO[name].params) expect(n[p.key]).toBe(p.byDefault);
    }
  });

  it("are refused by name and range when they lie outside, and when nobody asked for them", () => {
    expect(() => completeParams("singleBump", { heightMm: 500 })).toThrow("heightMm (height) is 500; it must lie between -20 and 60 mm.");
    expect(() => completeParams("landing", { heightMm: 5 })).toThrow('Landing from a drop has no number "heightMm"');
    expect(() => completeParams("slalom", { speedMps: Number.NaN })).toThrow(/speedMps \(speed\) is NaN/);
  });

  it("make a report with rows for a table", () => {
    const r = simulateAll(shipped("light-same-hub.json"), "kerbStrike", {}, { breaks: false });
    if (!r.ok) throw new Error(r.reason.message);
    const report = motionReport(r.trace);
    expect(report.peaks).toHaveLength(34);
    expect(report.title).toBe("Kerb strike");
    expect(traceTable(r.trace).head[0]).toBe("timeS");
    // a kerb on the right hits the right wheel first, and pushes it inwards
    const right = r.trace.peaks.find((p) => p.channel === "right.roadForceN")!;
    expect(right.value).toBeGreaterThan(r.trace.peaks.find((p) => p.channel === "left.verticalN")!.steady!);
    expect(column(r.trace, "right.useHub").findIndex((v) => v > 0.5)).toBeGreaterThan(0.09 * r.trace.samplesPerSecond);
  });

  it("say what is wrong when the axle has no rest", () => {
    const s = structuredClone(shipped("light-same-hub.json"));
    s.corner.spring.freeLengthMm = 10;
    s.corner.spring.droopStop = null;
    s.corner.spring.bumpStop.lengthMm = 1;
    const r = simulateAll(s, "slalom");
    expect(r.ok ? "" : r.reason.message).toMatch(/spring/);
  });
});
