import type { Load, Scenario, Side } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import type { Camera } from "../camera.ts";
import { projector, unprojector } from "../camera.ts";
import { dashes } from "../geometry.ts";
import { type Mark, mark } from "../marks.ts";

const DOT_PX = 1.1;
const HALF_PITCH_FROM_PX = 36;
const DOTS_MOST = 6000;

export const bumpOf = (load: Load, side: Side): number => (side === "left" ? load.bumpLeftMm : load.bumpRightMm);

/** One dot per hole above the road; half pitch too where it is far apart on screen. Dots stay while the body moves. */
export function paperMark(pitchMm: number, halfPitch: boolean, camera: Camera): Mark {
  const px = projector(camera);
  const back = unprojector(camera);
  const low = back([0, camera.heightPx]);
  const high = back([camera.widthPx, 0]);
  const fine = halfPitch && pitchMm * camera.scale > HALF_PITCH_FROM_PX;
  let step = fine ? pitchMm / 2 : pitchMm;
  while (((high[0] - low[0]) / step) * ((high[1] - Math.max(0, low[1])) / step) > DOTS_MOST || step * camera.scale < 7) step *= 2;
  const at: V2[] = [];
  for (let x = Math.ceil(low[0] / step) * step; x <= high[0]; x += step) {
    for (let z = Math.max(step, Math.ceil(low[1] / step) * step); z <= high[1]; z += step) at.push(px([x, z]));
  }
  return mark("paper", "paper", [{ kind: "dots", at, radius: DOT_PX, fill: "dot" }]);
}

/** The road with a raised or sunk plate under each wheel, and the centre line. */
export function roadMarks(load: Load, state: AxleState, camera: Camera): Mark[] {
  const px = projector(camera);
  const back = unprojector(camera);
  const left = back([0, 0])[0] - 5;
  const right = back([camera.widthPx, 0])[0] + 5;
  const line: V2[] = [[left, 0]];
  for (const side of ["left", "right"] as const) {
    const bump = bumpOf(load, side);
    if (bump === 0) continue;
    const c = state[side].tyre.contact[0];
    const half = state[side].tyre.halfWidthMm + 8;
    line.push([c - half - 9, 0], [c - half, bump], [c + half, bump], [c + half + 9, 0]);
  }
  line.push([right, 0]);
  const y = px([0, 0])[1];
  const ticks: V2[] = [];
  for (let x = 6; x < camera.widthPx; x += 15) ticks.push([x, y + 6], [x + 5, y + 1.5]);
  const centre = dashes(
    [
      [px([0, 0])[0], 0],
      [px([0, 0])[0], y + 22],
    ],
    [14, 3, 3, 3],
  );
  return [
    mark("centre", "paper", [{ kind: "segments", pairs: centre, stroke: { tone: "body-line", width: 0.75 } }]),
    mark("road", "construction", [
      { kind: "poly", points: line.map(px), closed: false, stroke: { tone: "road", width: 2 } },
      { kind: "segments", pairs: ticks, stroke: { tone: "road", width: 0.75, alpha: 0.45 } },
    ]),
  ];
}

export const sceneBounds = (scenario: Scenario): { left: number; right: number; bottom: number; top: number } => {
  const c = scenario.corner;
  const xs = [c.wheelCentre.sMm + c.wheel.treadWidthMm / 2 + 12, ...scenario.fit.outlines.flatMap((o) => o.points.map((p) => Math.abs(p.sMm)))];
  const zs = [c.wheelCentre.zMm + c.wheel.radiusMm + 22, c.spring.top.zMm + 10, ...scenario.fit.outlines.flatMap((o) => o.points.map((p) => p.zMm + 6))];
  const half = Math.max(...xs);
  return { left: -half, right: half, bottom: 0, top: Math.max(...zs) };
};
