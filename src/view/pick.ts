import { SIDES } from "../core/design/types.ts";
import type { V2 } from "../core/vec.ts";
import { distanceToSegment, inside } from "./geometry.ts";
import { plateOutline } from "./parts/body.ts";
import { wheelOutline } from "./parts/wheel.ts";
import { armHeightAt, bentNodes, bodyPose, drawnSeat } from "./poses.ts";
import type { Drawn } from "./scene.ts";

export const PARTS = ["lowerArm", "upperArm", "spring", "hub", "wheel", "tyre", "pins", "body", "car"] as const;
export type PartName = (typeof PARTS)[number];

const NEAR_PX = 9;

/** The part under a point of the sheet (px); null on bare paper. */
export function partAt(a: Drawn, bend: number, at: V2, pxPerMm: number, px: (p: V2) => V2): PartName | null {
  for (const side of SIDES) {
    const s = a.state[side];
    const c = a.corners[side];
    for (const arm of ["upper", "lower"] as const) {
      const nodes = bentNodes(s.arms[arm], bend).map(px);
      const reach = Math.max(NEAR_PX, (armHeightAt(arm === "upper" ? c.upperArm : c.lowerArm, 0.5) * pxPerMm) / 2);
      for (let i = 1; i < nodes.length; i++) if (distanceToSegment(at, nodes[i - 1] as V2, nodes[i] as V2) <= reach) return `${arm}Arm`;
    }
    if (distanceToSegment(at, px(s.spring.top), px(drawnSeat(c, s, bend))) <= 14) return "spring";
    if (
      distanceToSegment(at, px(s.joints.upperOuter.hole), px(s.joints.lowerOuter.hole)) <= 14 ||
      distanceToSegment(at, px(s.bearing.at), px(s.wheelCentre)) <= 14
    )
      return "hub";
    const outline = wheelOutline(c, s).map(px);
    if (inside(outline, at)) return Math.abs(px(s.wheelCentre)[1] - at[1]) > c.wheel.radiusMm * 0.7 * pxPerMm ? "tyre" : "wheel";
  }
  const pose = bodyPose(a.scenario, a.state);
  return inside(
    plateOutline(a.corners).map((p) => px(pose(p))),
    at,
  )
    ? "body"
    : null;
}
