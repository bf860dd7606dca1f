import { describe, it } from "vitest";
import type { Params } from "../../src/motion/manoeuvres.ts";
import { createSession } from "../../src/motion/session.ts";
import { channelAt, type Trace } from "../../src/motion/trace.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { simulateAll } from "../support/whole-run.ts";

function trace(name: "singleBump" | "constantLoad", params: Params): Trace {
  const r = simulateAll(shipped("heavy-forked.json"), name, params, { breaks: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}
const peak = (t: Trace, key: string) => t.peaks.find((p) => p.channel === key)!;

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
