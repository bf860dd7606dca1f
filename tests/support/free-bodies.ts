import { ARM_NAMES, type ArmName, SIDES, type Side } from "../../src/core/design/types.ts";
import type { AxleModel } from "../../src/core/equilibrium/model.ts";
import type { AxleState } from "../../src/core/equilibrium/state.ts";
import type { V2 } from "../../src/core/vec.ts";

/** A force at a point; a bare moment has no force. Picture frame, N, N·mm. */
interface Action {
  at: V2;
  force: V2;
  moment?: number;
}

/** A body cut free: everything that acts on it, as the solved state tells it. */
export interface FreeBody {
  name: string;
  actions: Action[];
  about: V2;
}

const minus = (f: V2): V2 => [-f[0], -f[1]];
export const cross = (a: V2, b: V2): number => a[0] * b[1] - a[1] * b[0];

export function resultant(b: FreeBody): { force: V2; moment: number } {
  let x = 0;
  let z = 0;
  let m = 0;
  for (const a of b.actions) {
    x += a.force[0];
    z += a.force[1];
    m += (a.moment ?? 0) + cross([a.at[0] - b.about[0], a.at[1] - b.about[1]], a.force);
  }
  return { force: [x, z], moment: m };
}

const cornerOf = (m: AxleModel, side: Side) => m.corners[side === "left" ? 0 : 1];

/** Force of the spring and its stops on its seat. */
function seatForce(state: AxleState, side: Side): V2 {
  const { seat, top, totalN, lengthMm } = state[side].spring;
  return [((seat[0] - top[0]) / lengthMm) * totalN, ((seat[1] - top[1]) / lengthMm) * totalN];
}

/** Force of the anti-roll bar on a lower arm: along the body's own upright, down on the right for a positive bar force. */
function barForce(m: AxleModel, state: AxleState, side: Side): Action | null {
  if (m.barK === 0) return null;
  const a = state.body.angleRad;
  const f = (side === "right" ? -1 : 1) * state.antiRollBarN;
  const arm = state[side].arms.lower;
  const node = arm.fractions.findIndex((x) => Math.abs(x - m.scenario.antiRollBar.atFraction) < 1e-3);
  return { at: arm.nodes[node]!, force: [-Math.sin(a) * f, Math.cos(a) * f] };
}

/** Moment of an arm's pivot spring on the arm. */
const pivotMoment = (m: AxleModel, state: AxleState, side: Side, arm: ArmName): number =>
  -cornerOf(m, side).arms[arm].pivotK * (state[side].arms[arm].turns[0]! - state.body.angleRad);

/** What acts on an arm beyond its inner pin, outermost last. */
export function armActions(m: AxleModel, state: AxleState, side: Side, name: ArmName): Action[] {
  const s = state[side];
  const out: Action[] = [];
  const seat = s.arms[name].seatNode;
  if (seat !== null) out.push({ at: s.spring.seat, force: seatForce(state, side) });
  const bar = name === "lower" ? barForce(m, state, side) : null;
  if (bar) out.push(bar);
  const outer = s.joints[`${name}Outer`];
  out.push({ at: outer.pin, force: minus(outer.force) });
  return out;
}

function arm(m: AxleModel, state: AxleState, side: Side, name: ArmName): FreeBody {
  const inner = state[side].joints[`${name}Inner`];
  return {
    name: `${side} ${name} arm`,
    about: inner.pin,
    actions: [{ at: inner.pin, force: inner.force, moment: pivotMoment(m, state, side, name) }, ...armActions(m, state, side, name)],
  };
}

function wheelLoads(m: AxleModel, state: AxleState, side: Side): Action[] {
  const s = state[side];
  const w = cornerOf(m, side).wheelWeight;
  return [
    { at: s.tyre.contact, force: [s.tyre.lateralN, s.tyre.verticalN] },
    { at: s.wheelCentre, force: [w * state.load.lateralG, -w] },
  ];
}

/** Wheel and hub as one. */
function hub(m: AxleModel, state: AxleState, side: Side): FreeBody {
  const s = state[side];
  const w = cornerOf(m, side).hubWeight;
  const actions: Action[] = [...wheelLoads(m, state, side), { at: s.hub.at, force: [w * state.load.lateralG, -w] }];
  for (const name of ARM_NAMES) actions.push({ at: s.joints[`${name}Outer`].hole, force: s.joints[`${name}Outer`].force });
  if (cornerOf(m, side).spring.on === "hub") actions.push({ at: s.spring.seat, force: seatForce(state, side) });
  return { name: `${side} hub with wheel`, about: s.hub.at, actions };
}

/** The wheel alone: whatever force its bearing puts on it acts at the bearing, with the moment told. */
function wheel(m: AxleModel, state: AxleState, side: Side): FreeBody {
  const { at, momentNmm } = state[side].bearing;
  const loads = wheelLoads(m, state, side);
  const force = resultant({ name: "", about: at, actions: loads }).force;
  return { name: `${side} wheel`, about: at, actions: [...loads, { at, force: minus(force), moment: -momentNmm }] };
}

function body(m: AxleModel, state: AxleState): FreeBody {
  const cg = state.body.cg;
  const actions: Action[] = [{ at: cg, force: [m.bodyWeight * state.load.lateralG, -m.bodyWeight], moment: -m.otherRollK * state.body.angleRad }];
  for (const side of SIDES) {
    actions.push({ at: state[side].spring.top, force: minus(seatForce(state, side)) });
    const bar = barForce(m, state, side);
    if (bar) actions.push({ at: bar.at, force: minus(bar.force) });
    for (const name of ARM_NAMES) {
      const inner = state[side].joints[`${name}Inner`];
      actions.push({ at: inner.hole, force: minus(inner.force), moment: -pivotMoment(m, state, side, name) });
    }
  }
  return { name: "sprung body", about: cg, actions };
}

export function freeBodies(m: AxleModel, state: AxleState): FreeBody[] {
  return [body(m, state), ...SIDES.flatMap((side) => [arm(m, state, side, "upper"), arm(m, state, side, "lower"), hub(m, state, side), wheel(m, state, side)])];
}
