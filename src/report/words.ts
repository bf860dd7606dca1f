import { pedals } from "../core/design/load.ts";
import type { Corner, Load } from "../core/design/types.ts";
import { fixed } from "../view/format.ts";
import { plain } from "./build-list.ts";
import type { ReportData } from "./data.ts";

/** "throttle 60 %", "braking 0.30 g": what of both a load has. */
export function pedalParts(l: Load): string[] {
  const { throttle, brakeG } = pedals(l);
  return [...(throttle === 0 ? [] : [`throttle ${fixed(100 * throttle, 0)} %`]), ...(brakeG === 0 ? [] : [`braking ${fixed(brakeG, 2)} g`])];
}

/** "cornering 0.80 g, left-hand curve, right wheel outside, level road" */
export function loadWords(l: Load): string {
  const g = l.lateralG;
  const parts = [
    g === 0 ? "straight on" : `cornering ${fixed(Math.abs(g), 2)} g, ${g > 0 ? "left-hand curve, right" : "right-hand curve, left"} wheel outside`,
  ];
  if (l.bumpLeftMm !== 0) parts.push(`road ${plain(l.bumpLeftMm, 1)} mm up under the left wheel`);
  if (l.bumpRightMm !== 0) parts.push(`road ${plain(l.bumpRightMm, 1)} mm up under the right wheel`);
  if (l.bumpLeftMm === 0 && l.bumpRightMm === 0) parts.push("level road");
  return [...parts, ...pedalParts(l)].join(", ");
}

export const curveWords = (d: ReportData): string => `${plain(d.request.radiusM, 2)} m${d.request.trackName ? ` (${d.request.trackName})` : ""}`;

function hubWords(c: Corner): string {
  const r = c.hub.retention;
  if (r.kind === "crossPin") return "The cross-pin is cut at two places; each takes half of the pull, and the tilting moment as a pair of forces.";
  if (r.kind === "screwedRing") return "The ring's thread is loaded like a lip on its radius and strips over half of the engaged length.";
  return r.model === "ring"
    ? "The hub lip is taken as a ring that can also be pressed, as soft as the shoulder it presses on (ring model). A bench test decides whether that fits your hub."
    : "The hub lip only pulls, and the wheel pivots on a stiff shoulder outside it (shoulder model). A bench test decides whether that fits your hub.";
}

/** What the answers take for granted, in the order of how much it may matter. */
export function assumptions(d: ReportData): string[] {
  const { scenario, shock } = d.request;
  const c = d.a.corners.right;
  const spread = scenario.corner.tyre.loadExponent;
  const out = [
    "Steady driving: the car has settled in the curve. A knock from the road comes in only through the road shock factor, which multiplies forces and leaves the position as it is.",
    shock === 1 ? "Road shock ×1: a smooth road." : `Road shock ×${plain(shock)}: forces from the road, at their peak, are that many times the steady ones.`,
    spread === 1
      ? "Both tyres use the same share of their grip. A newton moved between them changes the lean by about a tenth of a degree."
      : `The tyres' side force grows with wheel load to the power ${plain(spread)}.`,
    c.tyre.effectiveWidthMm === null
      ? "The whole tread carries. Half the width would add about a degree of lean: a tilt test of the tyre tells."
      : `${plain(c.tyre.effectiveWidthMm, 1)} mm of the tread carry.`,
    hubWords(c),
    "Frame, uprights and wheels do not bend; joints, their mounts and the bearings flex as the file says.",
    "Where pins or bearings have play, the wheel stands where it settles after rolling a little; the range that play leaves is told beside it.",
    "Arms are calculated as frames in space with the forces of this load; sideways buckling comes from there.",
    "A push along the road leaves the view from behind as it is and moves no weight from one axle to the other; side and along-road force share one grip (friction circle).",
    "The drive: motors on straight torque lines, full batteries, no slip, flat road. Heat of the hub is for still air of 23 °C and driving on for ever.",
    `The speed map is right to ${plain(100 * d.map.error.utilization, 1)} % of a limit and ${plain(d.map.error.lateralG, 4)} g.`,
    "Changes are tried one at a time; how much stiffer, longer or thicker a part gets is a step such as a builder has in the box, invented here.",
  ];
  if (scenario.body.otherRollStiffnessNmmPerDeg === 0) out.push("Nothing of the roll is held by the other axle (this axle alone).");
  else out.push(`The rest of the car holds ${plain(scenario.body.otherRollStiffnessNmmPerDeg, 0)} N·mm for each degree of roll.`);
  return out;
}
