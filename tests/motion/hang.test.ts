import { describe, expect, it } from "vitest";
import { cornerOf } from "../../src/core/design/sides.ts";
import { SIDES } from "../../src/core/design/types.ts";
import { liftForDrop } from "../../src/motion/drop.ts";
import { createSession } from "../../src/motion/session.ts";
import { forgetForces, step } from "../../src/motion/step.ts";
import { setSpeed } from "../../src/motion/world.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

const HELD_S = 0.3;
/** the hand that holds the body gives by some thousandths of a millimetre */
const STILL_MM = 0.01;

// a spring without a droop stop would let go of its seat: such an axle falls as it stood
const STOPPED = SHIPPED.filter((file) => SIDES.every((side) => cornerOf(shipped(file), side).spring.droopStop !== null));

describe.each(STOPPED)("%s, held up by its body before a drop", (file) => {
  it("hangs still: wheels on their droop stops, nothing moves until it is let go", () => {
    const made = createSession(shipped(file), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, { breaks: false });
    if (!made.ok) throw new Error(made.reason.message);
    const x = made.session;
    const { s, m } = x;
    const stood = s.q.slice();
    liftForDrop(x, 40);
    const hung = s.q.slice();
    for (const c of m.axle.corners) expect(hung[c.base + 1]! - hung[0]!, "wheel below where it stood, mm").toBeLessThan(stood[c.base + 1]! - stood[0]!);
    setSpeed(x.world, 0, 0);
    const k = 1e4;
    x.input.hold = {
      xMm: s.q[m.x]!,
      heaveMm: s.q[0]!,
      angleRad: 0,
      nPerMm: k,
      nsPerMm: 2 * Math.sqrt(k * 1000 * m.bodyKg) * 1e-3,
      nmmPerRad: 5e7,
      nmmsPerRad: 2 * Math.sqrt(5e7 * m.bodyInertia * 1e-3),
    };
    forgetForces(s, x.input);
    let most = 0;
    for (let i = 0; i < HELD_S / s.h; i++) {
      expect(step(s, x.input)).toBe(true);
      for (const c of m.axle.corners) {
        const moved = s.q[c.base + 1]! - s.q[0]! - (hung[c.base + 1]! - hung[0]!);
        most = Math.max(most, Math.abs(moved));
      }
    }
    expect(most, "wheel against body, mm").toBeLessThan(STILL_MM);
  });
});
