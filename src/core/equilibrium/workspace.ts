import { type BeamOut, beamOut } from "./beam.ts";
import { type Point, point } from "./couple.ts";
import { type SpringSpan, springSpan } from "./spring-ends.ts";
import { type TreadOut, treadOut } from "./tread.ts";

/** Scratch memory of the assembly, and what is added to the loads from outside. */
export interface Workspace {
  beam: BeamOut;
  treads: [TreadOut, TreadOut];
  /** side force of each tyre, N, positive to the right */
  side: [number, number];
  /** further side force of each tyre, N, positive to the right: what a tyre that has not rolled may hold */
  scrub: [number, number];
  p1: Point;
  p2: Point;
  span: SpringSpan;
}

/** Room for one assembly of the residual. */
export function workspace(): Workspace {
  return { beam: beamOut(), treads: [treadOut(), treadOut()], side: [0, 0], scrub: [0, 0], p1: point(), p2: point(), span: springSpan() };
}
