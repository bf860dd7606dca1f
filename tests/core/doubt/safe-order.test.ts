import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { uncertainInputs, withInputs } from "../../../src/core/doubt/inputs.ts";
import { type SafeDerivatives, safeDerivatives } from "../../../src/core/doubt/safe-order.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import type { CurveOptions } from "../../../src/core/studies/curve-options.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const RADIUS_M = 5;
/** What the speed hangs on most, and one that it does not. */
const KEYS = [
  "corner.hub.retention.capacityN",
  "corner.hub.retention.radiusMm",
  "corner.wheel.radiusMm",
  "body.cgHeightMm",
  "body.carMassKg",
  "corner.tyre.friction",
  "corner.spring.rateNPerMm",
  "material.abs.youngMPa",
  "fit.alongRoadMm",
];

function check(s: Scenario, options: Partial<CurveOptions>): SafeDerivatives {
  const inputs = uncertainInputs(s, rangeOf);
  const d = toTheEnd(safeDerivatives(buildBench(s), inputs, RADIUS_M, options))!;
  for (const [i, u] of inputs.list.entries()) {
    if (!KEYS.includes(u.key)) continue;
    // speeds are found to 1e-7 g
    const h = 2e-3 * u.value;
    const speed = (by: number): number => safeSpeedOf(buildBench(withInputs(inputs, new Map([[i, u.value + by]]))), RADIUS_M, options).speedMps;
    const full = (speed(h) - speed(-h)) / (2 * h);
    expectAbs(d.by![i]!, full, 2e-4 * Math.abs(full) + (1e-6 * d.safe.speedMps) / h, `${u.key}, m/s`);
  }
  return d;
}

describe("derivatives of the safe speed", () => {
  it.each([
    ["asymmetric.json", "hubRetention", { hand: "right", shock: 1.3 }],
    ["heavy-cross-pinned.json", "camber", {}],
    ["twin-tube-hub-spring.json", "sliding", { bumpRightMm: 1 }],
    ["heavy-straight.json", "hubRetention", { throttle: 0.6 }],
  ] as [string, string, Partial<CurveOptions>][])("agree with differences of safe speeds: %s, %s", (file, limit, options) => {
    const d = check(shipped(file), options);
    expect(d.safe.limit!.name).toBe(limit);
  });

  it("are none where the steady positions end before any limit, with the reason", () => {
    const s = shipped("heavy-straight.json");
    const { joints, hub, tyre, spring } = s.corner;
    const strong = Object.fromEntries(Object.entries(joints).map(([name, j]) => [name, { ...j, pullOutN: 1e5 }])) as typeof joints;
    // nothing gives, and the car tips once its inner spring hangs slack
    const grippy: Scenario = {
      ...s,
      body: { ...s.body, cgHeightMm: 200 },
      corner: {
        ...s.corner,
        joints: strong,
        spring: { ...spring, droopStop: null },
        tyre: { ...tyre, friction: 1, seat: { ...tyre.seat, bandTensionN: 900 } },
        hub: { ...hub, retention: { ...hub.retention, capacityN: 1e4 } as typeof hub.retention },
      },
      limits: { ...s.limits, camberDeg: 45 },
    };
    const d = toTheEnd(safeDerivatives(buildBench(grippy), uncertainInputs(grippy, rangeOf), RADIUS_M))!;
    expect([d.safe.limit, d.by, d.why]).toEqual([null, null, "ends"]);
  });
});
