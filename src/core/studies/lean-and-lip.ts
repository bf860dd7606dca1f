import { buildBench, limitContext, solveLoad } from "../analyze.ts";
import { editCorners } from "../design/edit-corners.ts";
import type { Load, Scenario, Side } from "../design/types.ts";
import { hubRetention, outwardPullN } from "../limits/hub-retention.ts";
import { radToDeg } from "../units.ts";

/**
 * Which way the lean of a wheel works on what holds it: read from the model, not assumed. A leaning flat tread moves its contact towards the
 * edge it leans on; the wheel's load there tilts it against, or along with, the side force. The built-in camber of both wheels is turned a little both ways, and
 * everything solved again.
 */
export interface LeanAndLip {
  side: Side;
  /** lean at the load, ° (positive: top outwards), and what the hub then has to hold, N */
  leanDeg: number;
  demandN: number;
  part: string;
  /** pull outwards (negative: pushed on), N, and tilting moment on the bearing, N·mm, positive when it pries as the side force does */
  pullN: number;
  momentNmm: number;
  /** what two forces make of that moment: the side force at the ground, and the wheel load beside the bearing, N·mm; what is left is the wheel's own weight */
  bySideForceNmm: number;
  byWheelLoadNmm: number;
  /** change of the demand for a degree that the wheel stands more upright, N: negative relieves */
  perDegUprightN: number;
  /** "standing the wheel up loads the hub lip more", ... */
  words: string;
}

const TURN_DEG = 0.25;
/** a change below this share of the demand per degree is told as hardly any */
const HARDLY = 0.005;

/** Both wheels at a load; null when it has no equilibrium. */
export function leanAndLip(scenario: Scenario, load: Load): Record<Side, LeanAndLip> | null {
  const solve = (add: number) => {
    const b = buildBench(add === 0 ? scenario : editCorners(scenario, (c) => ({ ...c, hub: { ...c.hub, staticCamberDeg: c.hub.staticCamberDeg + add } })));
    const r = solveLoad(b, load);
    return r.ok ? limitContext(b, r.state, 0) : null;
  };
  const here = solve(0);
  const less = solve(-TURN_DEG);
  const more = solve(TURN_DEG);
  if (!here || !less || !more) return null;
  const lean = (x: NonNullable<typeof here>, side: Side): number => (side === "left" ? 1 : -1) * radToDeg(x.state[side].wheelAngleRad);
  const tell = (side: Side): LeanAndLip => {
    const s = here.state[side];
    const l = hubRetention(here, side);
    const outward = side === "right" ? 1 : -1;
    const leanDeg = lean(here, side);
    const slope = (hubRetention(more, side).demand - hubRetention(less, side).demand) / (lean(more, side) - lean(less, side));
    const perDegUprightN = leanDeg >= 0 ? -slope : slope;
    // moments of the road's two forces about the bearing, turned so that the side force's own is positive
    const dx = s.tyre.contact[0] - s.bearing.at[0];
    const dz = s.tyre.contact[1] - s.bearing.at[1];
    const side0 = -dz * s.tyre.lateralN;
    const sign = Math.sign(side0) || outward;
    const hardly = Math.abs(perDegUprightN) < HARDLY * Math.max(l.demand, 1);
    const words = hardly
      ? `standing the ${side} wheel up hardly changes what the ${l.part} holds`
      : `standing the ${side} wheel up by a degree ${perDegUprightN < 0 ? "relieves" : "loads"} the ${l.part} by ${Math.abs(perDegUprightN).toFixed(1)} N`;
    return {
      side,
      leanDeg,
      demandN: l.demand,
      part: l.part,
      pullN: outwardPullN(here, side),
      // the bearing resists the moment of what acts on the wheel
      momentNmm: sign * s.bearing.momentNmm,
      bySideForceNmm: sign * side0,
      byWheelLoadNmm: sign * dx * s.tyre.verticalN,
      perDegUprightN,
      words,
    };
  };
  return { left: tell("left"), right: tell("right") };
}
