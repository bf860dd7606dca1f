import { bodyPoint, hubPoint, nodePoint, type Point } from "./couple.ts";
import type { CornerModel } from "./model.ts";

/** The way from a spring's upper eye on the body to its lower one on an arm or the hub, mm. */
export interface SpringSpan {
  dx: number;
  dz: number;
  length: number;
}

/** Room for what `springEnds` tells. */
export const springSpan = (): SpringSpan => ({ dx: 0, dz: 0, length: 0 });

/** Finds both ends of a corner's spring at `q`: puts the upper one into `top`, the lower one into `seat`, the way between them into `span`. */
export function springEnds(top: Point, seat: Point, q: Float64Array, c: CornerModel, span: SpringSpan): SpringSpan {
  const s = c.spring;
  bodyPoint(top, q, s.top);
  if (s.on === "hub") hubPoint(seat, q, c.base, s.hubLever);
  else nodePoint(seat, q, s.node);
  span.dx = s.seatAt[0] - s.topAt[0] + seat.dx - top.dx;
  span.dz = s.seatAt[1] - s.topAt[1] + seat.dz - top.dz;
  span.length = Math.sqrt(span.dx * span.dx + span.dz * span.dz);
  return span;
}
