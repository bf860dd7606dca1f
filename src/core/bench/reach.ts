import { resolveMaterial } from "../arm/materials.ts";
import type { BenchKind } from "../design/tried.ts";
import type { Scenario, Side } from "../design/types.ts";
import { cornerOn, pathsOn } from "./settings.ts";

/**
 * The ± (one standard deviation) that a careful test reaches with what a workshop has, by the fields that it measures as usually set up.
 * Shares of the value: common practice, no source.
 */
export function reachOf(s: Scenario, side: Side | "both", kind: BenchKind): Record<string, number> {
  const c = cornerOn(s, side);
  const all = (field: string, sd: number): Record<string, number> => Object.fromEntries(pathsOn(s, side, field).map((p) => [p, sd]));
  switch (kind) {
    case "armHang":
    case "armAlongRoad":
      return all("lowerArm.material.youngMPa", 0.03 * resolveMaterial(c.lowerArm.material).youngMPa);
    case "wheelTilt":
      return { ...all("hub.tiltStiffnessNmmPerDeg", 0.04 * c.hub.tiltStiffnessNmmPerDeg), ...all("hub.tiltPlayDeg", 0.05) };
    case "pinPlay":
      return all("joints.lowerInner.clearanceMm", 0.01);
    case "springPress":
      return { ...all("spring.rateNPerMm", 0.02 * c.spring.rateNPerMm), ...all("spring.freeLengthMm", 0.2) };
    case "tyrePress":
      return all("tyre.verticalNPerMm", 0.04 * c.tyre.verticalNPerMm);
    case "tyreTilt":
      return all("tyre.effectiveWidthMm", 0.05 * (c.tyre.effectiveWidthMm ?? c.wheel.treadWidthMm));
    case "tyreSideways":
      return all("tyre.lateralNPerMm", 0.05 * (c.tyre.lateralNPerMm ?? 25));
    case "hubPullOff": {
      const { retention: r } = c.hub;
      return r.kind === "lip" ? all("hub.retention.capacityN", 0.08 * r.capacityN) : all("hub.retention.shearStrengthMPa", 0.08 * r.shearStrengthMPa);
    }
    case "jointPullOut":
      return all("joints.lowerInner.pullOutN", 0.1 * c.joints.lowerInner.pullOutN);
    case "tyrePushOff": {
      const { seat } = c.tyre;
      return seat.kind === "stretchedBand" ? all("tyre.seat.bandTensionN", 0.08 * seat.bandTensionN) : all("tyre.seat.extraHoldN", 0.1 * seat.extraHoldN);
    }
    case "wheelWeights":
      return { "body.carMassKg": 0.005, "body.axleShare": 0.003 };
    case "heightByTilting":
      return { "body.cgHeightMm": 0.02 * s.body.cgHeightMm };
    case "motor":
      return { "drive.stallTorqueNmm": 0.03 * s.drive.stallTorqueNmm, "drive.noLoadRpm": 0.01 * s.drive.noLoadRpm };
  }
}
