import type { LimitResult } from "../analysis.ts";
import { armBucklingFactor } from "../arm/buckling.ts";
import { type ArmLoads, armStress } from "../arm/stress.ts";
import type { ArmName, Side } from "../design/types.ts";
import type { V3 } from "../vec.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";

/** Forces of the solved axle on one arm, in the arm's own frame along its loaded chord (x forward, y outwards, z up), N. */
export function armLoads(x: LimitContext, side: Side, name: ArmName): { loads: ArmLoads; momentFactor: number } {
  const { c, s } = cornerOfContext(x, side);
  const arm = s.arms[name];
  const a = arm.nodes[0]!;
  const b = arm.nodes[arm.nodes.length - 1]!;
  const len = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  const yx = (b[0] - a[0]) / len;
  const yz = (b[1] - a[1]) / len;
  const up = c.sign;
  const local = (fx: number, fz: number): V3 => [0, fx * yx + fz * yz, up * (fz * yx - fx * yz)];
  const joint = s.joints[`${name}Outer`];
  const ballJoint = local(-joint.force[0], -joint.force[1]);
  let seat: V3 | null = null;
  let linear = 0;
  if (arm.seatNode !== null) {
    const sp = s.spring;
    const push = sp.totalN / sp.lengthMm;
    seat = local((sp.seat[0] - sp.top[0]) * push, (sp.seat[1] - sp.top[1]) * push);
    linear = Math.abs(ballJoint[2]) * (1 - arm.fractions[arm.seatNode]!) * len;
  }
  const actual = Math.max(...arm.momentNmm.map(Math.abs));
  // what compression (and an anti-roll bar) adds to the straight arm's moment; without a seat there is none to add to
  const momentFactor = linear > 1e-6 ? Math.max(1, actual / linear) : 1;
  return { loads: { ballJoint, seat }, momentFactor };
}

const place = (name: ArmName, at: string): string => `${name} arm, ${at}`;

/** The worse arm of a wheel. */
function worseArm(results: readonly LimitResult[]): LimitResult | null {
  return results.reduce<LimitResult | null>((w, r) => (w && w.utilization >= r.utilization ? w : r), null);
}

/** Stress against yield, and a caution above half of it for plastics, which creep: the worse arm of each. */
export function armStressLimits(x: LimitContext, side: Side): LimitResult[] {
  const yields: LimitResult[] = [];
  const sets: LimitResult[] = [];
  for (const name of ["upper", "lower"] as const) {
    const arm3d = x.arms3d[side][name];
    const { loads, momentFactor } = armLoads(x, side, name);
    const stress = armStress(arm3d, { ...loads, momentFactor }).worst;
    const m = arm3d.material;
    const draft = {
      part: place(name, stress.at),
      demand: stress.vonMisesMPa,
      unit: "N/mm²",
      inputs: [...forceInputs(loads), { name: "compression makes the bending larger by a factor of", value: momentFactor, unit: "" }],
    };
    yields.push(limitResult("armYield", side, { ...draft, capacity: m.yieldMPa }));
    if (m.plastic) sets.push(limitResult("armSet", side, { ...draft, capacity: m.yieldMPa / 2 }));
  }
  return [worseArm(yields), worseArm(sets)].filter((r) => r !== null);
}

const forceInputs = (loads: ArmLoads): LimitResult["inputs"] => [
  { name: "force along the arm at the ball joint", value: loads.ballJoint[1], unit: "N" },
  { name: "force across the arm at the ball joint", value: loads.ballJoint[2], unit: "N" },
];

/** Buckling in space of the worse arm: demand and capacity as a strut load, so that the ratio is the inverse of the load factor. */
export function armBucklingLimit(x: LimitContext, side: Side): LimitResult {
  const results = (["upper", "lower"] as const).map((name) => {
    const { loads } = armLoads(x, side, name);
    const factor = armBucklingFactor(x.arms3d[side][name], loads);
    const strut = Math.max(0, -Math.min(...x.state[side].arms[name].axialN));
    const demand = strut > 0 ? strut : Math.abs(loads.ballJoint[2]);
    const buckles = Number.isFinite(factor);
    return limitResult("armBuckling", side, {
      part: place(name, "strut load"),
      demand: buckles ? demand : 0,
      capacity: buckles ? demand * factor : 1,
      unit: "N",
      inputs: [...forceInputs(loads), { name: "all its loads may grow by a factor of", value: buckles ? factor : 0, unit: "" }],
    });
  });
  return worseArm(results)!;
}
