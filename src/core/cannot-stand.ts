import { arm3dOf } from "./arm/arm-frame.ts";
import { planarSegmentsOf } from "./arm/reduction.ts";
import { capital } from "./capital.ts";
import { checkScenario } from "./design/check.ts";
import { pathName } from "./design/field-words.ts";
import { ARM_WORDS } from "./design/part-words.ts";
import { cornerOf } from "./design/sides.ts";
import { ARM_NAMES, type ArmName, type Scenario, SIDES, type Side } from "./design/types.ts";

/**
 * Why the mechanics cannot even begin with a scenario whose single values are in range, in one sentence that names the part; null when they
 * can. Ask it before a design is saved. Never throws. Frames of arms are remembered, so that it costs nothing where the design is solved too.
 */
export function cannotStand(s: Scenario): string | null {
  const problem = checkScenario(s)[0];
  if (problem) {
    const name = pathName(problem.path);
    const unit = problem.unit ? ` ${problem.unit}` : "";
    return `${capital(name)} is ${problem.value}${unit}; allowed ${problem.allowed}.`;
  }
  const arm = armWithoutFrame(s);
  return arm && armWithoutFrameWords(arm);
}

export interface ArmPlace {
  side: Side;
  arm: ArmName;
}

/** Why such an arm cannot be worked out and what to do, one or two sentences. */
export const armWithoutFrameWords = ({ side, arm }: ArmPlace): string =>
  `The ${side} ${ARM_WORDS[arm]} cannot be worked out: it has too little hold at its inner pins, or its measures lie too far apart. Spread its pins wider, or make its bars more alike.`;

/** The first arm whose frame or planar stand-in cannot be made. */
export function armWithoutFrame(s: Scenario): ArmPlace | null {
  for (const side of SIDES) {
    const c = cornerOf(s, side);
    for (const arm of ARM_NAMES) {
      const [inner, outer, made] = arm === "upper" ? [c.upperInner, c.upperOuter, c.upperArm] : [c.lowerInner, c.lowerOuter, c.lowerArm];
      const dx = outer.sMm - inner.sMm;
      const dz = outer.zMm - inner.zMm;
      const length = Math.sqrt(dx * dx + dz * dz);
      const seat = c.spring.seat.on === `${arm}Arm` && c.spring.seat.on !== "hub" ? c.spring.seat.fraction : null;
      try {
        const frame = arm3dOf(made, length, seat);
        const segments = planarSegmentsOf(made, length, seat);
        if (!frame.flexibility.every(Number.isFinite) || !segments.every((p) => p.ei > 0 && p.ea > 0 && p.ga > 0)) return { side, arm };
      } catch (e) {
        // the frame tells by a range error that it is a mechanism or has no measures
        if (e instanceof RangeError) return { side, arm };
        throw e;
      }
    }
  }
  return null;
}
