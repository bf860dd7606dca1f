import { describe, expect, it } from "vitest";
import { CHANNELS } from "../../src/motion/channels.ts";
import type { Params } from "../../src/motion/manoeuvres.ts";
import { createSession } from "../../src/motion/session.ts";
import { channelAt, column, type Trace } from "../../src/motion/trace.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { simulateAll } from "../support/whole-run.ts";

function trace(name: "singleBump" | "constantLoad", params: Params): Trace {
  const r = simulateAll(shipped("heavy-forked.json"), name, params, { breaks: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}
const peak = (t: Trace, key: string) => t.peaks.find((p) => p.channel === key)!;

describe("peaks of a bump under the right wheel", () => {
  const t = trace("singleBump", { wheels: 2 });

  it("are the largest either way, the largest, and of a spring's length the least", () => {
    for (const c of CHANNELS) {
      const values = [...column(t, c.key)];
      const p = peak(t, c.key).value;
      if (c.peak === "least") {
        expect(p, c.key).toBeLessThanOrEqual(Math.min(...values));
        expect(p, c.key).toBeGreaterThan(Math.min(...values) - 0.5);
      } else if (c.peak === "most") expect(p, c.key).toBeGreaterThanOrEqual(Math.max(...values));
      else expect(Math.abs(p), c.key).toBeGreaterThanOrEqual(Math.max(...values.map(Math.abs)));
    }
    expect(peak(t, "right.springMm").value).toBeLessThan(column(t, "right.springMm")[0]! - 1);
  });

  it("name the wheel that is hit hardest and its factor as the road's shock", () => {
    const factor = (side: string) => peak(t, `${side}.roadForceN`).factor!;
    expect(factor("right")).toBeGreaterThan(factor("left") + 0.1);
    expect([t.shockSide, t.shockFactor]).toEqual(["right", factor("right")]);
    const left = trace("singleBump", { wheels: 1 });
    expect(left.shockSide).toBe("left");
    expectRel(left.shockFactor!, factor("right"), 1e-3, "the same bump on the other side");
  });
});

describe("grip", () => {
  it("of the ground is the tyre's times the surface's, once", () => {
    const made = createSession(shipped("heavy-forked.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, { grip: 0.6 });
    if (!made.ok) throw new Error(made.reason.message);
    // tyres of 1.05
    for (const i of [0, 1] as const) expectRel(made.session.s.grip[i], 0.63, 1e-12, "side force over load");
  });

  it("is used by 0.3 g on a surface of 0.6 under tyres of 1.05 to 0.476, in the trace and in its steady answer", () => {
    const t = trace("constantLoad", { lateralG: 0.3, grip: 0.6 });
    for (const side of ["left", "right"]) {
      const key = `${side}.useGrip`;
      expectAbs(channelAt(t, key, 9), 0.3 / 0.63, 0.01, `${key} at the end`);
      expectRel(peak(t, key).steady!, 0.3 / 0.63, 1e-9, `${key} steady`);
    }
  });
});
