import { describe, expect, it } from "vitest";
import type { TyreSeat } from "../../../src/core/design/types.ts";
import { tyreHoldN } from "../../../src/core/limits/wheel.ts";
import { expectRel } from "../../support/close.ts";

// band of 30 × 3 mm, 1150 kg/m³, stretched to 0.25 MPa, friction 0.8: m' = ρA = 0.1035 g/mm, T = 22.5 N
const band: TyreSeat = { kind: "stretchedBand", bandTensionN: 0.25 * 90, bandMassGPerMm: 1150 * 90e-6, friction: 0.8, extraHoldN: 25 };

describe("a tyre held by its stretched tread", () => {
  // thin rotating ring, σ = ρ v² (Carvill 1993, p. 15, 1.2.7); contact lost as in flat belts (Shigley, sec. 17-2); numbers recomputed
  it.each([
    [10, 12.15, 61.0726],
    [14, 2.214, 11.1288],
  ])("keeps at %d m/s %d N of tension and holds %d N sideways", (speed, tension, hold) => {
    expectRel(tyreHoldN(band, speed), hold, 1e-5, "N");
    expectRel(tyreHoldN(band, speed) / (2 * Math.PI * 0.8), tension, 1e-6, "N of tension");
  });

  it("lifts off at 14.744 m/s and holds nothing beyond", () => {
    const lift = Math.sqrt(0.25e6 / 1150);
    expectRel(lift, 14.744196, 1e-7, "m/s");
    expect(tyreHoldN(band, lift * (1 - 1e-6))).toBeGreaterThan(0);
    expect(tyreHoldN(band, lift * (1 + 1e-6))).toBe(0);
  });

  it("holds at rest friction times 2π times its tension, and its rim's radius does not matter", () => {
    expectRel(tyreHoldN(band, 0), 0.8 * 2 * Math.PI * 22.5, 1e-12, "N");
  });

  it("is held by discs or glue besides, whatever the speed; a plain band knows neither", () => {
    for (const kind of ["sideDiscs", "glue"] as const) {
      expect(tyreHoldN({ ...band, kind }, 0)).toBe(tyreHoldN(band, 0) + 25);
      expect(tyreHoldN({ ...band, kind }, 30)).toBe(25);
    }
  });
});
