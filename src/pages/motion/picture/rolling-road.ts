import type { Side } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";
import type { Camera } from "../../../view/camera.ts";
import { projector } from "../../../view/camera.ts";
import { withUnit } from "../../../view/format.ts";
import { type Mark, mark } from "../../../view/marks.ts";

/** Road under one wheel over the way, as its centre follows it. */
export interface RoadAhead {
  /** height, mm, at a way ahead of the wheel (negative: behind), mm */
  heightMm(aheadMm: number): number;
  /** kerb or hole under the wheel now, mm */
  nowMm: number;
}

/** what is seen of the road: this far behind and ahead of the wheel, mm */
const BEHIND_MM = 60;
const AHEAD_MM = 180;
const STEP_PX = 2;
const WIDE_PX = 168;
const NARROW_PX = 92;
const GAP_PX = 16;
const MOST_HIGH_PX = 20;

export interface Strip {
  mark: Mark;
  /** what is under the wheel, and where the words stand, px */
  text: string;
  words: V2;
}

/**
 * The road rolling under a wheel, seen from the side, beside the centre line below the road: true to scale,
 * its way runs towards the bob, which is the wheel's place.
 */
export function rollingStrip(side: Side, road: RoadAhead, camera: Camera): Strip {
  const px = projector(camera);
  const base = px([0, 0]);
  const width = Math.min(camera.widthPx < 600 ? NARROW_PX : WIDE_PX, camera.widthPx / 3.4);
  const left = side === "left" ? base[0] - GAP_PX - width : base[0] + GAP_PX;
  const floor = Math.min(camera.heightPx - 24, base[1] + (camera.widthPx < 600 ? 34 : 62));
  const perMm = width / (BEHIND_MM + AHEAD_MM);
  const line: V2[] = [];
  for (let x = 0; x <= width + 1e-6; x += STEP_PX) {
    const high = Math.max(-MOST_HIGH_PX, Math.min(MOST_HIGH_PX, road.heightMm(x / perMm - BEHIND_MM) * perMm));
    line.push([left + x, floor - high]);
  }
  const at: V2 = [left + BEHIND_MM * perMm, floor - Math.max(-MOST_HIGH_PX, Math.min(MOST_HIGH_PX, road.nowMm * perMm))];
  const filled: V2[] = [...line, [left + width, floor + 5], [left, floor + 5]];
  return {
    mark: mark(`rolling.${side}`, "construction", [
      { kind: "poly", points: filled, closed: true, fill: "road", fillAlpha: 0.16 },
      { kind: "poly", points: line, closed: false, stroke: { tone: "road", width: 1.5 } },
      {
        kind: "poly",
        points: [
          [at[0], at[1] - 1],
          [at[0] - 4.5, at[1] - 11],
          [at[0] + 4.5, at[1] - 11],
        ],
        closed: true,
        fill: "plumb",
      },
    ]),
    text: `road, ${side} wheel ${withUnit(road.nowMm, 1, "mm")}`,
    words: [left - 2, floor + 17],
  };
}
