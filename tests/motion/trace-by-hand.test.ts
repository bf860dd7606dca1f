import { describe, expect, it } from "vitest";
import { buildAxle } from "../../src/core/equilibrium/model.ts";
import { CHANNELS, channelIndex } from "../../src/motion/channels.ts";
import type { PoseExtras } from "../../src/motion/pose.ts";
import { motionReport } from "../../src/motion/run.ts";
import { channelAt, looseAt, samplePlace, sampleState, type Trace, traceTable } from "../../src/motion/trace.ts";
import { expectAbs } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { traceHash } from "../support/trace-hash.ts";

/** A trace made by hand: three samples at 0, 0.5 and 1 s; channel c has the values 10 c, 10 c + 1 and 10 c + 4. */
const axle = buildAxle(shipped("heavy-forked.json"));
const extras = (n: number, more: Partial<PoseExtras> = {}): PoseExtras => ({
  load: { lateralG: 0.1 * n, bumpLeftMm: n, bumpRightMm: 2 * n },
  verticalN: [10 + n, 20 + n],
  lateralN: [-n, -2 * n],
  damperN: [0.5 * n, n],
  bearingNmm: [100 * n, -100 * n],
  jointForce: Float64Array.from({ length: 16 }, (_, i) => n * i),
  lateralMm: 4 * n,
  wheelOff: [null, null],
  ...more,
});
const pose = (n: number, more: Partial<PoseExtras> = {}, bareRim: [boolean, boolean] = [false, false]) => {
  const q = new Float64Array(axle.n);
  q[0] = n;
  return { q, extras: extras(n, more), bareRim };
};
const raised = (mm: number): Trace["axles"][0] => ({ ...axle, cg: [0, 92 + mm] });
const trace = (more: Partial<Trace> = {}): Trace => ({
  manoeuvre: "singleBump",
  params: { speedMps: 6 },
  durationS: 1,
  stepsPerSecond: 2400,
  samplesPerSecond: 2,
  timeS: Float64Array.of(0, 0.5, 1),
  columns: CHANNELS.map((_, c) => Float64Array.of(10 * c, 10 * c + 1, 10 * c + 4)),
  poses: [pose(0), pose(1), pose(2)],
  loose: [
    {
      kind: "wheel",
      side: "right",
      fromSample: 1,
      poses: [
        { x: 100, z: 40, angle: 0 },
        { x: 110, z: 60, angle: 1 },
      ],
    },
  ],
  peaks: CHANNELS.map((c, i) => ({ channel: c.key, label: c.label, unit: c.unit, side: c.side, value: i, timeS: 0.5, steady: 2, factor: i / 2 })),
  events: [],
  steady: null,
  steadyReason: null,
  steadyState: null,
  shockFactor: 1.5,
  shockSide: "right",
  broken: false,
  whole: true,
  health: { steps: 2400, iterations: 0, openSteps: 0, openN: 0, pinGapMm: 0 },
  axles: [raised(0), raised(1), raised(2), raised(3)],
  ...more,
});

describe("a time of a trace", () => {
  it("lies between two samples, and at the ends beyond them", () => {
    const t = trace();
    const place = (s: number) => samplePlace(t, s);
    expect(place(-3)).toEqual({ index: 0, share: 0 });
    expect(place(0)).toEqual({ index: 0, share: 0 });
    expect(place(0.125)).toEqual({ index: 0, share: 0.25 });
    expect(place(0.5)).toEqual({ index: 1, share: 0 });
    expect(place(0.875)).toEqual({ index: 1, share: 0.75 });
    expect(place(1)).toEqual({ index: 2, share: 0 });
    expect(place(7)).toEqual({ index: 2, share: 0 });
    expect(place(Number.NaN)).toEqual({ index: 0, share: 0 });
    expect(samplePlace(trace({ timeS: Float64Array.of(0.3) }), 5)).toEqual({ index: 0, share: 0 });
    // a last sample that came early, where the motion ended
    expect(samplePlace(trace({ timeS: Float64Array.of(0, 0.5, 0.7) }), 0.65)).toMatchObject({ index: 1 });
    expect(samplePlace(trace({ timeS: Float64Array.of(2, 2.5, 3) }), 2.75)).toEqual({ index: 1, share: 0.5 });
  });

  it("has a channel's value on the straight line between them", () => {
    const i = channelIndex("right.camberDeg");
    for (const [s, v] of [
      [-1, 0],
      [0.25, 0.5],
      [0.5, 1],
      [0.75, 2.5],
      [9, 4],
    ] as const)
      expectAbs(channelAt(trace(), "right.camberDeg", s), 10 * i + v, 1e-12, `at ${s} s`);
  });

  it("has the axle's pose half-way between those of the samples", () => {
    const s = sampleState(trace(), 0.75);
    expectAbs(s.body.heaveMm, 1.5, 1e-12, "mm");
    expect(s.load).toEqual({ lateralG: expect.closeTo(0.15, 12), bumpLeftMm: 1.5, bumpRightMm: 3 });
    expect([s.left.tyre.verticalN, s.right.tyre.verticalN]).toEqual([11.5, 21.5]);
    expect([s.left.tyre.lateralN, s.right.tyre.lateralN]).toEqual([-1.5, -3]);
    expect([s.left.bearing.momentNmm, s.right.bearing.momentNmm]).toEqual([150, -150]);
    expectAbs(s.left.spring.totalN - s.left.spring.springN, 0.75, 1e-9, "N of the left damper");
    expectAbs(s.right.spring.totalN - s.right.spring.springN, 1.5, 1e-9, "N of the right damper");
    // joints in the order upper inner, upper outer, lower inner, lower outer; left then right
    expect(s.left.joints.upperInner.force).toEqual([0, 1.5]);
    expect(s.left.joints.lowerOuter.force).toEqual([9, 10.5]);
    expect(s.right.joints.upperInner.force).toEqual([12, 13.5]);
    expectAbs(s.right.joints.upperOuter.forceN, 1.5 * Math.hypot(10, 11), 1e-9, "N");
    expect(s.left.tyre.lifted).toBe(false);
  });

  it("does not mix poses across the moment at which something comes off", () => {
    const off = { x: 150, z: 40, angle: 0.5 };
    const gone = trace({
      poses: [pose(0), pose(1, { verticalN: [11, 0], wheelOff: [null, off] }), pose(2, { wheelOff: [null, { x: 170, z: 20, angle: 0.7 }] })],
    });
    expect(sampleState(gone, 0.25).body.heaveMm).toBe(0);
    const late = sampleState(gone, 0.75);
    expectAbs(late.body.heaveMm, 1.5, 1e-12, "mm");
    // the loose wheel's own place, seen from a body that is 6 mm to the right; 0.5° of static camber turns the right wheel clockwise
    expectAbs(late.right.wheelCentre[0], 154, 1e-9, "mm");
    expectAbs(late.right.wheelCentre[1], 30, 1e-9, "mm");
    expectAbs(late.right.wheelAngleRad, 0.6 - 0.00872665, 1e-7, "rad");
    expect(late.right.tyre.contact[1]).toBe(0);
    expect(sampleState(gone, 0.5).right.tyre.lifted).toBe(true);
  });

  it("is read with the model of the rims that are bare: left counts one, right two", () => {
    // told apart here by the height of the centre of gravity: 92, 93, 94 and 95 mm
    const height = (bare: [boolean, boolean]): number => sampleState(trace({ poses: [pose(0, {}, bare), pose(1, {}, bare), pose(2, {}, bare)] }), 0).body.cg[1];
    expect([height([false, false]), height([true, false]), height([false, true]), height([true, true])]).toEqual([92, 93, 94, 95]);
    const parted = trace({ poses: [pose(0), pose(1, {}, [true, false]), pose(2, {}, [true, false])] });
    expect(sampleState(parted, 0.25).body.heaveMm).toBe(0);
  });
});

describe("loose parts", () => {
  it("fly from the sample at which they came off, seen from the body", () => {
    const t = trace();
    expect(looseAt(t, 0.4)).toEqual([]);
    const at = (s: number) => looseAt(t, s)[0]!.pose;
    const shift = channelIndex("lateralMm") * 10;
    expectAbs(at(0.5).x, 100 - shift - 1, 1e-9, "mm");
    expectAbs(at(0.75).x, 105 - shift - 2.5, 1e-9, "mm");
    expect([at(0.75).z, at(0.75).angle]).toEqual([50, 0.5]);
    expect([at(1).z, at(8).z]).toEqual([60, 60]);
    expect(looseAt(t, 1)[0]).toMatchObject({ kind: "wheel", side: "right" });
  });
});

describe("a trace on paper", () => {
  it("is a table with time first and a row for each sample", () => {
    const { head, rows } = traceTable(trace());
    expect(head.slice(0, 3)).toEqual(["timeS", "lateralG", "rollDeg"]);
    expect(head).toHaveLength(35);
    expect(rows.map((r) => r.slice(0, 3))).toEqual([
      [0, 0, 10],
      [0.5, 1, 11],
      [1, 4, 14],
    ]);
  });

  // FNV-1a, 32 bits (Fowler, Noll, Vo; the same loop in Python gives bf9cf968 for "foobar" as published) over times and columns, little end first
  it("has the published hash of its bytes, and another one when a pose differs", () => {
    expect(traceHash(trace({ poses: [] }))).toBe("b121232f");
    expect(traceHash(trace())).not.toBe(traceHash(trace({ poses: [pose(0), pose(1), pose(3)] })));
  });

  it("tells peaks by side, in the report too", () => {
    const t = trace({
      events: [{ timeS: 0.5, kind: "lifts", side: "left", limit: "wheelLift", part: "p", demand: 1, capacity: 2, unit: "N", message: "It lifts." }],
    });
    expect([null, "left", "right"].map((side) => t.peaks.filter((p) => p.side === side).length)).toEqual([6, 18, 18]);
    const r = motionReport(t);
    expect(r).toMatchObject({ manoeuvre: "singleBump", title: "Single bump", durationS: 1, shockFactor: 1.5, shockWheel: "right", broken: false });
    expect(r.peaks[0]).toEqual({ side: "axle", what: "cornering", unit: "g", peak: 0, atS: 0.5, steady: 2, factor: 0 });
    expect(r.peaks[19]!.side).toBe("right");
    expect(r.events).toEqual([{ atS: 0.5, side: "left", what: "It lifts.", limit: "wheelLift", demand: 1, capacity: 2, unit: "N" }]);
  });
});
