import type { V2 } from "../../core/vec.ts";
import { dashes, length, normalOf, scale, sub, unit } from "../geometry.ts";
import { type Mark, mark } from "../marks.ts";

/** A point that may not go on: a bar across its way, and a dotted line to where the hand pulls. */
export function refusalMark(at: V2, hand: V2): Mark {
  const d = sub(hand, at);
  const far = length(d);
  const u = far > 1 ? unit(d) : ([1, 0] as V2);
  const n = normalOf(u);
  const foot: V2 = [at[0] + u[0] * 16, at[1] + u[1] * 16];
  const bar = scale(n, 20);
  return mark("refusal", "top", [
    {
      kind: "segments",
      pairs: [
        [foot[0] + bar[0], foot[1] + bar[1]],
        [foot[0] - bar[0], foot[1] - bar[1]],
      ],
      stroke: { tone: "u-3-text", width: 4 },
    },
    { kind: "segments", pairs: far > 22 ? dashes([foot, hand], [2, 4]) : [], stroke: { tone: "u-3-text", width: 1.5 } },
  ]);
}
