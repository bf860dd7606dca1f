import type { ArmName, JointName, Load, Side } from "../design/types.ts";
import type { V2 } from "../vec.ts";

/**
 * A solved axle in the picture frame: x to the right as seen from behind, z up, mm, N, rad;
 * angles counter-clockwise. Everything a picture, a limit or a report needs stands here as plain numbers.
 */
export interface AxleState {
  load: Load;
  /** the body turns about its centre of gravity; heave is that point's rise from as-built */
  body: { heaveMm: number; angleRad: number; cg: V2 };
  left: CornerState;
  right: CornerState;
  antiRollBarN: number;
}

export interface ArmState {
  /** nodes from the inner end to the outer end, at the pins */
  nodes: V2[];
  /** section turn of each node against as-built, rad */
  turns: number[];
  /** fraction of the arm's as-built length of each node */
  fractions: number[];
  /** axial force per element, tension positive */
  axialN: number[];
  /** bending moment at each node, N·mm, positive when it makes the arm sag (convex below) on the right-hand side's drawing */
  momentNmm: number[];
  /** largest distance of a node from the straight line between the ends, with sign (+ = up), mm */
  bowMm: number;
  /** the spring seat's node index, when the seat is on this arm */
  seatNode: number | null;
}

export interface JointState {
  /** centre of the hole and of the pin; inner joints: hole in the chassis, pin on the arm; outer: pin on the arm, hole in the hub */
  hole: V2;
  pin: V2;
  /** outboard part minus inboard part, mm */
  offset: V2;
  /** force that the inboard part puts on the outboard part, N */
  force: V2;
  forceN: number;
  /** the pin lies inside its clearance and carries nothing */
  floats: boolean;
}

export interface CornerState {
  side: Side;
  /** hub: position of the as-built wheel centre point fixed to the hub, and turn */
  hub: { at: V2; angleRad: number };
  /** wheel against hub, counter-clockwise, without static camber */
  wheelTiltRad: number;
  wheelCentre: V2;
  /** turn of the wheel plane from upright, static camber included */
  wheelAngleRad: number;
  bearing: { at: V2; momentNmm: number };
  arms: Record<ArmName, ArmState>;
  joints: Record<JointName, JointState>;
  spring: { top: V2; seat: V2; lengthMm: number; springN: number; bumpStopN: number; droopStopN: number; totalN: number };
  tyre: {
    verticalN: number;
    /** on the wheel, positive to the right in the picture */
    lateralN: number;
    /** where the pressure's resultant meets the road */
    contact: V2;
    /** loaded strip across the tread, coordinate along the wheel axis from the wheel plane, positive to the right, mm */
    fromMm: number;
    toMm: number;
    halfWidthMm: number;
    /** penetration at strip coordinate e: d0 + d1 e - d2 e² (mm); pressure per mm width = rate * penetration */
    penetration: { d0: number; d1: number; d2: number };
    rateNPerMm2: number;
    lifted: boolean;
  };
}

/**
 * `laidOver`: a wheel leans so far that it no longer stands on its tread. `unsettled`: the search was ended by its bound of work without
 * telling either way. `stopped`: somebody stopped it. `cannotBeBuilt`: a part has no hold, so that nothing can be solved.
 */
export type NoEquilibriumKind =
  | "buckles"
  | "slides"
  | "tips"
  | "locks"
  | "springOutOfReach"
  | "unstable"
  | "laidOver"
  | "unsettled"
  | "stopped"
  | "cannotBeBuilt";

/** Why there is no equilibrium, in one plain sentence, and the last load share that still had one. */
export interface NoEquilibrium {
  kind: NoEquilibriumKind;
  message: string;
  /** the load at which it happens, when it was found by loading up */
  atLoad: Load;
  side?: Side;
  arm?: ArmName;
}
