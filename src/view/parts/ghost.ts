import type { Corner, Scenario, Side } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { dashes } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { bodyPose } from "../poses.ts";
import { armContour } from "./arm.ts";
import { shellLines } from "./body.ts";
import { wheelOutline } from "./wheel.ts";

const DASH_B = [7, 4];
const DASH_STATIC = [5, 4];

/** Another axle (design B, or A unloaded) as dashed outlines of wheels, arms and shell, unfilled. */
export function ghostMarks(
  key: string,
  scenario: Scenario,
  corners: Record<Side, Corner>,
  state: AxleState,
  factor: number,
  pxPerMm: number,
  px: (p: V2) => V2,
  tone: string,
): { marks: Mark[]; letter: V2 } {
  const prims: Prim[] = [];
  const pattern = key === "ghost" ? DASH_B : DASH_STATIC;
  const stroke = { tone, width: key === "ghost" ? 1.5 : 1 };
  for (const side of ["left", "right"] as const) {
    prims.push({ kind: "segments", pairs: dashes(wheelOutline(corners[side], state[side]).map(px), pattern, true), stroke });
    for (const arm of ["upper", "lower"] as const) {
      const spec = arm === "upper" ? corners[side].upperArm : corners[side].lowerArm;
      prims.push({ kind: "segments", pairs: dashes(armContour(spec, state[side], arm, factor, pxPerMm, px), pattern, true), stroke });
    }
  }
  const pose = bodyPose(scenario, state);
  let letter: V2 = px([0, 0]);
  let highest = Number.POSITIVE_INFINITY;
  for (const line of shellLines(scenario)) {
    const points = line.points.map((p) => px(pose(p)));
    prims.push({ kind: "segments", pairs: dashes(points, pattern, line.closed), stroke });
    for (const p of points) if (p[1] < highest && p[0] > px([20, 0])[0]) [letter, highest] = [p, p[1]];
  }
  if (!Number.isFinite(highest)) letter = px(state.right.wheelCentre);
  return { marks: [mark(key, key === "ghost" ? "shell" : "construction", prims)], letter };
}
