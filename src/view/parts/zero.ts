import type { Scenario } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import type { LabelWish } from "../labels.ts";
import { type Mark, mark } from "../marks.ts";
import { bodyPose } from "../poses.ts";

const ARM_HOLES = 3;
const HEAD_PX = 6;

/** Where places are counted from: middle of the car on the ground as built, carried along with the body; arms of three holes out and up. */
export function zeroMark(scenario: Scenario, state: AxleState, px: (p: V2) => V2, spare: boolean): { mark: Mark; label: LabelWish } {
  const pose = bodyPose(scenario, state);
  const arm = ARM_HOLES * scenario.holePitchMm;
  const at = px(pose([0, 0]));
  const line = (to: V2, wing: V2): V2[] => {
    const end = px(pose(to));
    const d: V2 = [end[0] - at[0], end[1] - at[1]];
    const len = Math.sqrt(d[0] ** 2 + d[1] ** 2) || 1;
    const back: V2 = [end[0] - (d[0] / len) * HEAD_PX, end[1] - (d[1] / len) * HEAD_PX];
    const half: V2 = [wing[0] * HEAD_PX * 0.5, wing[1] * HEAD_PX * 0.5];
    return [at, end, end, [back[0] + half[0], back[1] + half[1]], end, [back[0] - half[0], back[1] - half[1]]];
  };
  const ticks: V2[] = [];
  for (let i = 1; i < ARM_HOLES; i++)
    for (const [p, way] of [
      [
        [i * scenario.holePitchMm, 0],
        [0, 1],
      ],
      [
        [-i * scenario.holePitchMm, 0],
        [0, 1],
      ],
      [
        [0, i * scenario.holePitchMm],
        [1, 0],
      ],
    ] as [V2, V2][]) {
      const q = px(pose(p));
      ticks.push([q[0] - 3 * way[0], q[1] - 3 * way[1]], [q[0] + 3 * way[0], q[1] + 3 * way[1]]);
    }
  return {
    mark: mark("zero", "top", [
      { kind: "circle", at, radius: 5, fill: "lift", stroke: { tone: "ink", width: 2 } },
      {
        kind: "segments",
        pairs: [...line([arm, 0], [0, 1]), ...line([-arm, 0], [0, 1]), ...line([0, arm], [1, 0]), ...ticks],
        stroke: { tone: "ink", width: 1.5 },
      },
    ]),
    label: {
      key: "zero",
      at,
      lines: [
        { text: "0: places count from here", size: 14, strong: true, tone: "ink" },
        ...(spare ? [] : [{ text: "out to either side, and up", size: 14, strong: false, tone: "ink-2" }]),
      ],
      priority: 1.3,
      spots: ["upperRight", "upperLeft", "above", "right", "left", "below"],
      gap: 12,
      must: true,
    },
  };
}
