import type { StiffPart } from "../analysis.ts";
import { type JointName, type Load, SIDES, type Side } from "../design/types.ts";
import { assemble } from "../equilibrium/assemble.ts";
import { solveSystem } from "../equilibrium/condense.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import { FINAL_BLEND, type Solver } from "../equilibrium/newton.ts";
import { HUB_TURN, WHEEL_TILT } from "../equilibrium/unknowns.ts";
import { radToDeg } from "../units.ts";

const JOINTS: readonly JointName[] = ["upperInner", "upperOuter", "lowerInner", "lowerOuter"];

export const STIFF_PARTS: readonly StiffPart[] = [
  ...SIDES.flatMap((side): StiffPart[] => [
    `${side}.spring`,
    `${side}.tyreVertical`,
    `${side}.tyreTilt`,
    `${side}.upperArm`,
    `${side}.lowerArm`,
    `${side}.innerPivotSprings`,
    ...JOINTS.map((j): StiffPart => `${side}.${j}Give`),
    `${side}.bearingGive`,
  ]),
  "antiRollBar",
  "restOfCar",
];

/** Multiplies one part's stiffness in place; the function returned puts the old values back to the bit. */
export function scaleStiffness(model: AxleModel, part: StiffPart, factor: number): () => void {
  if (part === "antiRollBar") return scaled(model, ["barK"], factor);
  if (part === "restOfCar") return scaled(model, ["otherRollK"], factor);
  const [side, name] = part.split(".") as [Side, string];
  const c: CornerModel = model.corners[side === "left" ? 0 : 1];
  if (name === "spring") return scaled(c.spring, ["k"], factor);
  if (name === "tyreVertical") return scaled(c.tyre, ["verticalFactor"], factor);
  if (name === "tyreTilt") return scaled(c.tyre, ["tiltFactor"], factor);
  if (name === "bearingGive") return scaled(c.bearing, ["k", "kc"], factor);
  if (name === "innerPivotSprings") {
    const undo = [scaled(c.arms.upper, ["pivotK"], factor), scaled(c.arms.lower, ["pivotK"], factor)];
    return () => {
      for (const u of undo) u();
    };
  }
  if (name === "upperArm" || name === "lowerArm") {
    const arm = c.arms[name === "upperArm" ? "upper" : "lower"];
    const old = [arm.ea, arm.kNear, arm.kFar] as const;
    [arm.ea, arm.kNear, arm.kFar] = old.map((v) => v.map((x) => x * factor)) as [Float64Array, Float64Array, Float64Array];
    return () => {
      [arm.ea, arm.kNear, arm.kFar] = old;
    };
  }
  return scaled(c.joints[name.slice(0, -4) as JointName], ["k", "kc"], factor);
}

function scaled<K extends string>(target: Record<K, number>, keys: readonly K[], factor: number): () => void {
  const old = keys.map((k) => target[k]);
  for (const k of keys) target[k] = target[k] * factor;
  return () => {
    keys.forEach((k, i) => {
      target[k] = old[i]!;
    });
  };
}

/** Relative change for the difference of residuals; they are linear in every stiffness (but for tyres with a load exponent). */
const STEP = 2 ** -10;

/**
 * Change of each wheel's camber when one part is made 1 % stiffer, °: -λᵀ ∂R/∂ln k, with Kᵀ λ = ∂camber/∂q.
 * The solver must have just solved `q` at `load`: its tangent is used as it stands.
 */
export function camberPerStiffer(s: Solver, q: Float64Array, load: Load): [Record<StiffPart, number>, Record<StiffPart, number>] {
  const { model } = s;
  const adjoint = model.corners.map((c) => {
    const v = new Float64Array(model.n);
    v[c.base + HUB_TURN] = -c.sign;
    v[c.base + WHEEL_TILT] = -c.sign;
    solveSystem(s.sys, v, v, true);
    return v;
  });
  const more = new Float64Array(model.n);
  const less = new Float64Array(model.n);
  const out = [{}, {}] as [Record<StiffPart, number>, Record<StiffPart, number>];
  for (const part of STIFF_PARTS) {
    for (const [r, factor] of [
      [more, 1 + STEP],
      [less, 1 - STEP],
    ] as const) {
      const undo = scaleStiffness(model, part, factor);
      assemble(model, q, load, FINAL_BLEND, r, null, s.ws);
      undo();
    }
    for (const w of [0, 1] as const) {
      let sum = 0;
      for (let i = 0; i < model.n; i++) sum -= adjoint[w]![i]! * (more[i]! - less[i]!);
      out[w][part] = radToDeg((0.01 * sum) / (2 * STEP)) + 0;
    }
  }
  return out;
}
