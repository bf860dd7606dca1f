import { describe, expect, it } from "vitest";
import { CHANNELS } from "../../src/motion/channels.ts";
import { motionReport } from "../../src/motion/run.ts";
import type { MotionEvent } from "../../src/motion/session.ts";
import type { Peak, Trace } from "../../src/motion/trace.ts";

describe("the report of a run", () => {
  const peaks = CHANNELS.map(
    (c, i): Peak => ({ channel: c.key, label: c.label, unit: c.unit, side: c.side, value: 10 + i, timeS: i / 10, steady: 5 + i, factor: 2 }),
  );
  const event: MotionEvent = {
    timeS: 0.2,
    kind: "exceeds",
    side: "left",
    limit: "hubRetention",
    part: "hub lip",
    demand: 9,
    capacity: 8,
    unit: "N",
    message: "The left wheel would come off.",
  };
  const trace = (params: Record<string, number>): Trace =>
    ({
      manoeuvre: "singleBump",
      params,
      durationS: 0.9,
      timeS: Float64Array.of(0, 0.1, 0.4),
      peaks,
      events: [event],
      shockFactor: 1.4,
      shockSide: "right",
      steadyReason: "no answer",
      broken: true,
      stepsPerSecond: 1200,
    }) as unknown as Trace;

  it("tells the manoeuvre, the time that was run, and the road's shock", () => {
    const params = { speedMps: 6 };
    const { peaks: _, events: __, ...rest } = motionReport(trace(params));
    expect(rest).toEqual({
      manoeuvre: "singleBump",
      title: "Single bump",
      params,
      durationS: 0.4,
      shockFactor: 1.4,
      shockWheel: "right",
      steadyReason: "no answer",
      broken: true,
      stepsPerSecond: 1200,
    });
  });

  it("has a row for each channel that has something to tell: those along the road where it is pushed or braked", () => {
    // 4 of the axle, 15 of each corner; speed, way and 3 of each corner along the road
    const rows = motionReport(trace({})).peaks;
    expect(rows).toHaveLength(34);
    expect(motionReport(trace({ brakeG: 0.1 })).peaks).toHaveLength(42);
    expect(rows[0]).toEqual({ side: "axle", what: "cornering", unit: "g", peak: 10, atS: 0, steady: 5, factor: 2 });
    expect(rows[4]).toEqual({ side: "left", what: "camber", unit: "°", peak: 14, atS: 0.4, steady: 9, factor: 2 });
  });

  it("tells each event with its words and numbers", () => {
    expect(motionReport(trace({})).events).toEqual([
      { atS: 0.2, side: "left", what: "The left wheel would come off.", limit: "hubRetention", demand: 9, capacity: 8, unit: "N" },
    ]);
  });
});
