import type { LimitResult } from "../analysis.ts";
import { ARM_WORDS, JOINT_WORDS } from "../design/part-words.ts";
import { armHeight } from "../design/room.ts";
import { ARM_NAMES, JOINT_NAMES, type Side } from "../design/types.ts";
import type { V2 } from "../vec.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";
import { barShape, bodyFrame, fitUtilization, fixedOutlines } from "./fit.ts";

/** What stands lowest: heights in mm above the level road. */
interface Lowest {
  part: string;
  at: V2;
}

/** The lowest of pins, bent arms and the body's outlines on a side, in the picture frame at the solved load. */
function lowestOf(x: LimitContext, side: Side): Lowest {
  const { c, s } = cornerOfContext(x, side);
  let low: Lowest = { part: JOINT_WORDS.lowerInner, at: s.joints.lowerInner.pin };
  const look = (part: string, at: V2): void => {
    if (at[1] < low.at[1]) low = { part, at };
  };
  for (const name of JOINT_NAMES) look(JOINT_WORDS[name], s.joints[name].pin);
  for (const name of ARM_NAMES) {
    const { nodes } = s.arms[name];
    const height = armHeight(name === "upper" ? c.corner.upperArm : c.corner.lowerArm);
    for (let i = 1; i < nodes.length; i++) for (const p of barShape(nodes[i - 1]!, nodes[i]!, height)) look(ARM_WORDS[name], p);
  }
  const { back } = bodyFrame(x.model, x.state);
  const sign = side === "right" ? 1 : -1;
  for (const o of fixedOutlines(x.model.scenario)) for (const p of o.points) if (sign * p[0] >= 0) look(o.name, back(p));
  return low;
}

/**
 * How high the lowest of pins, arms and body stands above a level road at the load; below it, it would drag, or its place was typed
 * wrongly. Height of the road under a wheel is a bump under that wheel alone and does not count here.
 */
export function belowRoad(x: LimitContext, side: Side): LimitResult {
  const { part, at } = lowestOf(x, side);
  const heightMm = at[1];
  const under = heightMm < 0;
  const r = limitResult("belowRoad", side, {
    part: `${part} ${under ? "below" : "above"} the road`,
    demand: 0,
    capacity: heightMm,
    unit: "mm",
    inputs: [{ name: under ? "below the road by" : "above the road", value: Math.abs(heightMm), unit: "mm" }],
  });
  return { ...r, utilization: fitUtilization(0, heightMm), place: { at, distanceMm: heightMm, between: part, outline: "the road" } };
}
