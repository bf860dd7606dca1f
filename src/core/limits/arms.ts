import type { LimitResult } from "../analysis.ts";
import type { Arm3d } from "../arm/arm-frame.ts";
import { armBucklingFactor } from "../arm/buckling.ts";
import type { UprightMoments } from "../arm/section-forces.ts";
import { armStress } from "../arm/stress.ts";
import { ARM_NAMES, type ArmName, type Side } from "../design/types.ts";
import type { ArmState } from "../equilibrium/state.ts";
import type { SolvedArmLoads } from "./arm-loads.ts";
import { type LimitContext, limitResult } from "./context.ts";
import { armLoads } from "./push.ts";

const place = (name: ArmName, at: string): string => `${name} arm, ${at}`;

const largest = (m: UprightMoments): number => Math.max(...Array.from(m.momentNmm, Math.abs));

/** The worse arm of a wheel. */
function worseArm(results: readonly LimitResult[]): LimitResult | null {
  return results.reduce<LimitResult | null>((w, r) => (w && w.utilization >= r.utilization ? w : r), null);
}

/** Stress against yield, and a caution above half of it for plastics, which creep: the worse arm of each. */
export function armStressLimits(x: LimitContext, side: Side): LimitResult[] {
  const each = ARM_NAMES.map((name) => armStressOf(x, side, name));
  return [worseArm(each.map((l) => l.yields)), worseArm(each.flatMap((l) => l.sets ?? []))].filter((r) => r !== null);
}

/** The same of one arm; `sets` is null for a material that does not creep. */
export function armStressOf(x: LimitContext, side: Side, name: ArmName): { yields: LimitResult; sets: LimitResult | null } {
  const arm3d = x.arms3d[side][name];
  const carried = armLoads(x, side, name);
  const stress = armStress(arm3d, carried.loads, carried.upright, carried.along).worst;
  const m = arm3d.material;
  const draft = { part: place(name, stress.at), demand: stress.vonMisesMPa, unit: "N/mm²", inputs: forceInputs(carried) };
  return {
    yields: limitResult("armYield", side, { ...draft, capacity: m.yieldMPa }),
    sets: m.plastic ? limitResult("armSet", side, { ...draft, capacity: m.yieldMPa / 2 }) : null,
  };
}

const forceInputs = ({ loads, upright }: SolvedArmLoads): LimitResult["inputs"] => [
  { name: "force along the arm at the ball joint", value: loads.ballJoint[1], unit: "N" },
  { name: "force across the arm at the ball joint", value: loads.ballJoint[2], unit: "N" },
  { name: "largest bending moment of the bent arm", value: largest(upright), unit: "N·mm" },
  ...(loads.ballJoint[0] === 0 ? [] : [{ name: "push along the road at the ball joint", value: loads.ballJoint[0], unit: "N" }]),
];

/** What may make an arm give way sideways, and how far that is away. */
export interface ArmBuckling {
  /** all that the arm carries may grow by this before it buckles; Infinity: it never does */
  factor: number;
  /** pushed: it steps aside like a strut; bent: nowhere pushed along itself, it twists over under its bending (lateral-torsional buckling) */
  by: "pushed" | "bent";
  /** largest push along the arm, N, or largest bending moment, N·mm, now */
  demand: number;
  unit: "N" | "N·mm";
}

/** Multiple of its load at which the arm buckles, and that load: the push along it (N), or its largest bending (N·mm) where nothing pushes it. */
export function armBuckling(a: Arm3d, { loads, upright, along }: SolvedArmLoads, arm: ArmState): ArmBuckling {
  const factor = armBucklingFactor(a, loads, upright, 1, along);
  const push = -Math.min(...arm.axialN);
  return push > 0 ? { factor, by: "pushed", demand: push, unit: "N" } : { factor, by: "bent", demand: largest(upright), unit: "N·mm" };
}

/** What presses or bends the arm, in the words of a limit's place. */
export const BUCKLING_WORDS: Readonly<Record<ArmBuckling["by"], string>> = {
  pushed: "pushed along itself",
  bent: "bent, not pushed: it twists over",
};

/** Buckling in space of the worse arm. */
export function armBucklingLimit(x: LimitContext, side: Side): LimitResult {
  return worseArm(ARM_NAMES.map((name) => armBucklingOf(x, side, name)))!;
}

/** Buckling in space of one arm: demand and capacity as its push, or its bending where it is pulled, so that the ratio is the inverse of the load factor. */
export function armBucklingOf(x: LimitContext, side: Side, name: ArmName): LimitResult {
  const carried = armLoads(x, side, name);
  const { factor, by, demand, unit } = armBuckling(x.arms3d[side][name], carried, x.state[side].arms[name]);
  const buckles = Number.isFinite(factor);
  return limitResult("armBuckling", side, {
    part: place(name, BUCKLING_WORDS[by]),
    demand: buckles ? demand : 0,
    capacity: buckles ? demand * factor : 1,
    unit,
    inputs: [...forceInputs(carried), { name: "all its loads may grow by a factor of", value: buckles ? factor : 0, unit: "" }],
  });
}
