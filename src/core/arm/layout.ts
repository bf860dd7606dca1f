import type { Arm } from "../design/types.ts";
import type { V2 } from "../vec.ts";

/**
 * Plan view of an arm in its own frame: x forward, y along the arm from the line of the inner pivots (0) to the
 * ball joint (length). mm.
 */
export interface ArmPlan {
  /** half the distance of the inner pivots; 0 for a straight arm */
  halfSpread: number;
  /** y at which the legs meet (fork, apex, cross piece, or the ball joint of a straight arm) */
  legEnd: number;
  /** two legs, or one beam */
  legs: 1 | 2;
  /** twin: the legs stay at ±halfSpread and a rigid cross piece carries the ball joint */
  parallel: boolean;
  legLength: number;
  cos: number;
  sin: number;
}

/** a stem below this share of the arm's length counts as none */
const SHORTEST_STEM = 1e-3;

/**
 * Plan geometry of an arm of the given length (mm).
 * @throws RangeError when the length is not positive
 */
export function armPlan(arm: Arm, lengthMm: number): ArmPlan {
  if (!(lengthMm > 0)) throw new RangeError(`an arm needs a length above 0 mm, not ${lengthMm}`);
  if (arm.layout === "straight") return { halfSpread: 0, legEnd: lengthMm, legs: 1, parallel: true, legLength: lengthMm, cos: 1, sin: 0 };
  const halfSpread = arm.spreadMm / 2;
  if (arm.layout === "twin") return { halfSpread, legEnd: lengthMm, legs: 2, parallel: true, legLength: lengthMm, cos: 1, sin: 0 };
  const legEnd = arm.layout === "A" || arm.stemShare < SHORTEST_STEM ? lengthMm : lengthMm * (1 - arm.stemShare);
  const legLength = Math.sqrt(legEnd * legEnd + halfSpread * halfSpread);
  return { halfSpread, legEnd, legs: 2, parallel: false, legLength, cos: legEnd / legLength, sin: halfSpread / legLength };
}

export type LegName = "leg front" | "leg rear" | "stem" | "beam";

export interface LegLine {
  leg: LegName;
  from: V2;
  to: V2;
  /** width seen from above, mm */
  widthMm: number;
}

/** Lines to draw the arm from above: [x forward, y outboard along the arm], with the width of each piece. */
export function legLines(arm: Arm, lengthMm: number): { lines: LegLine[]; innerPivots: V2[]; ballJoint: V2; crossPiece: [V2, V2] | null } {
  const plan = armPlan(arm, lengthMm);
  const ballJoint: V2 = [0, lengthMm];
  const width = widthOf(arm.section);
  if (plan.legs === 1) {
    return { lines: [{ leg: "beam", from: [0, 0], to: ballJoint, widthMm: width }], innerPivots: [[0, 0]], ballJoint, crossPiece: null };
  }
  const front: V2 = [plan.halfSpread, 0];
  const rear: V2 = [-plan.halfSpread, 0];
  const end = (x: number): V2 => [plan.parallel ? x : 0, plan.legEnd];
  const lines: LegLine[] = [
    { leg: "leg front", from: front, to: end(front[0]), widthMm: width },
    { leg: "leg rear", from: rear, to: end(rear[0]), widthMm: width },
  ];
  if (plan.legEnd < lengthMm) lines.push({ leg: "stem", from: [0, plan.legEnd], to: ballJoint, widthMm: widthOf(arm.stemSection ?? arm.section) });
  return { lines, innerPivots: [front, rear], ballJoint, crossPiece: plan.parallel ? [end(front[0]), end(rear[0])] : null };
}

function widthOf(s: Arm["section"]): number {
  if (s.shape === "round") return s.diameterMm;
  if (s.shape === "tube") return s.outerMm;
  return s.widthMm;
}
