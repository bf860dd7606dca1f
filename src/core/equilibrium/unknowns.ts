/**
 * Where each unknown stands in the vectors of the solver. All are changes against as-built in the picture frame (x right as seen from behind,
 * z up, turns counter-clockwise; mm and rad): the body, then each corner from its `base`, then each arm's nodes from the arm's `base`.
 */

/** The body's centre of gravity up, and its turn about it. */
export const HEAVE = 0;
export const BODY_TURN = 1;
const BODY_UNKNOWNS = 2;

/** From a corner's `base`: the hub at the as-built wheel centre, the wheel's tilt in its bearing, the tread's shift under the rim along the wheel's axis. */
export const HUB_X = 0;
export const HUB_Z = 1;
export const HUB_TURN = 2;
export const WHEEL_TILT = 3;
export const TREAD_SHIFT = 4;
export const PER_CORNER = 5;
/** Left corner 0, right corner 1. */
export const cornerBase = (corner: number): number => BODY_UNKNOWNS + PER_CORNER * corner;

/** From a node's first unknown (`nodeAt`). */
export const NODE_X = 0;
export const NODE_Z = 1;
export const NODE_TURN = 2;
export const PER_NODE = 3;
/** First unknown of all arm nodes: what stands before belongs to the body and both corners. */
export const FIRST_NODE = cornerBase(2);
/** First unknown of a node of an arm. */
export const nodeAt = (arm: { base: number }, node: number): number => arm.base + PER_NODE * node;
/** First unknown of an arm's outer end. */
export const lastNodeAt = (arm: { base: number; count: number }): number => arm.base + PER_NODE * (arm.count - 1);

/** Whether an unknown is a turn (rad); the others are lengths (mm). */
export function isTurn(i: number): boolean {
  if (i >= FIRST_NODE) return (i - FIRST_NODE) % PER_NODE === NODE_TURN;
  if (i < BODY_UNKNOWNS) return i === BODY_TURN;
  const own = (i - BODY_UNKNOWNS) % PER_CORNER;
  return own === HUB_TURN || own === WHEEL_TILT;
}

/** Turn of a corner's wheel plane from upright, rad, static camber included. */
export const wheelTurn = (c: { base: number; staticTurn: number }, q: Float64Array): number => q[c.base + HUB_TURN]! + q[c.base + WHEEL_TILT]! + c.staticTurn;
