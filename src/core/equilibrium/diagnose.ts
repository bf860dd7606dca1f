import type { ArmName, Load, Side } from "../design/types.ts";
import { LAID_OVER_DEG } from "../tolerances.ts";
import { radToDeg } from "../units.ts";
import type { ArmModel, AxleModel } from "./model.ts";
import type { LaidOver } from "./path.ts";
import type { AxleState, NoEquilibrium, NoEquilibriumKind } from "./state.ts";

/**
 * Names the physical thing that ends the loading path, from the last state that still had an answer.
 * Order: what is nearest to its own end wins; a car that tips or an arm that buckles shows it well before the fold.
 */

/** Planar Euler load of a pin-ended arm, N: pi² / L² times the mean bending stiffness weighted with sin², shear taken off. */
export function planarEulerN(arm: ArmModel): number {
  let curvature = 0;
  let shear = 0;
  const parts = 32;
  for (let i = 0; i < parts; i++) {
    const f = (i + 0.5) / parts;
    const seg = arm.segments.find((s) => f >= s.fromFraction && f <= s.toFraction) ?? arm.segments[0]!;
    curvature += (Math.sin(Math.PI * f) ** 2 / seg.ei) * (2 / parts);
    shear += (Number.isFinite(seg.ga) ? (2 * Math.cos(Math.PI * f) ** 2) / seg.ga : 0) / parts;
  }
  const bent = (Math.PI / arm.length) ** 2 / curvature;
  return 1 / (1 / bent + shear);
}

/** Angle between an arm and the line of its hub joints, 0..90°: the linkage locks when they line up. */
function transmissionDeg(state: AxleState, side: Side, arm: ArmName): number {
  const c = state[side];
  const a = c.joints[`${arm}Inner`].pin;
  const b = c.joints[`${arm}Outer`].hole;
  const o = c.joints[arm === "upper" ? "lowerOuter" : "upperOuter"].hole;
  const angle = Math.abs(
    radToDeg(Math.atan2((b[0] - a[0]) * (o[1] - b[1]) - (b[1] - a[1]) * (o[0] - b[0]), (b[0] - a[0]) * (o[0] - b[0]) + (b[1] - a[1]) * (o[1] - b[1]))),
  );
  return Math.min(angle, 180 - angle);
}

/** Below this angle the linkage has no more way to go, ° */
const LOCK_DEG = 12;
/** A strut above this share of its Euler load is what gave way. */
const BUCKLE_SHARE = 0.6;
/** A spring with less force than this share of the weight is about to go slack. */
const SLACK_SHARE = 0.02;
/** A wheel that leans further than this is folding up, ° */
const FOLD_DEG = 9;
/** A wheel with less than this share of the weight has lifted. */
const LIFT_SHARE = 0.03;

const loadWords = (at: Load): string => {
  const parts: string[] = [];
  if (at.lateralG !== 0) parts.push(`${Math.abs(at.lateralG).toFixed(2)} g`);
  if (at.bumpLeftMm !== 0) parts.push(`${at.bumpLeftMm.toFixed(1)} mm under the left wheel`);
  if (at.bumpRightMm !== 0) parts.push(`${at.bumpRightMm.toFixed(1)} mm under the right wheel`);
  return parts.length > 0 ? `at ${parts.join(", ")}` : "under its own weight";
};

interface Finding {
  kind: NoEquilibriumKind;
  /** how near to its own end, 1 = there */
  weight: number;
  message: string;
  side?: Side;
  arm?: ArmName;
}

function findings(model: AxleModel, state: AxleState, at: Load): Finding[] {
  const out: Finding[] = [];
  const where = loadWords(at);
  for (const c of model.corners) {
    const s = state[c.side];
    for (const name of ["upper", "lower"] as const) {
      const n = -Math.min(...s.arms[name].axialN);
      const share = n / planarEulerN(c.arms[name]);
      if (share > BUCKLE_SHARE)
        out.push({
          kind: "buckles",
          weight: share / BUCKLE_SHARE,
          message: `The ${c.side} ${name} arm buckles ${where} (strut load ${n.toFixed(0)} N).`,
          side: c.side,
          arm: name,
        });
      const angle = transmissionDeg(state, c.side, name);
      if (angle < LOCK_DEG)
        out.push({
          kind: "locks",
          weight: LOCK_DEG / Math.max(angle, 0.1),
          message: `The ${c.side} arms lock ${where} (dead centre at the ${name} arm).`,
          side: c.side,
          arm: name,
        });
    }
    const light = s.tyre.verticalN / model.totalWeight;
    const slack = s.spring.totalN <= SLACK_SHARE * model.totalWeight && c.spring.droopK === 0;
    const other = state[c.side === "left" ? "right" : "left"];
    if (model.otherRollK === 0 && (light < LIFT_SHARE || (slack && s.tyre.verticalN < other.tyre.verticalN)))
      out.push({ kind: "tips", weight: 1.5, message: `The car tips ${where}, the ${c.side} wheel lifts first.`, side: c.side });
  }
  return out.sort((a, b) => b.weight - a.weight);
}

/** Which way a wheel leans, in words. */
const leanWay = (leanDeg: number): string => (leanDeg > 0 ? "top outwards" : "top inwards");

/** A wheel that lies on its side just beyond the load `at`. `leanDeg` is its camber there. */
export function laidOverReason({ side, leanDeg }: LaidOver, at: Load): NoEquilibrium {
  return {
    kind: "laidOver",
    message: `The ${side} wheel is laid over ${loadWords(at)}: it leans more than ${LAID_OVER_DEG}° (${leanWay(leanDeg)}) and lies on its side instead of standing on its tread.`,
    atLoad: at,
    side,
  };
}

/** The search was stopped from outside. */
export const stoppedReason = (at: Load): NoEquilibrium => ({
  kind: "stopped",
  message: "The search for a steady position was stopped before it came to an end.",
  atLoad: at,
});

/** The search came to its bound, and nothing shows what gives way: no proof that the car would not stand. */
function unsettledReason(steps: number, at: Load): NoEquilibrium {
  return {
    kind: "unsettled",
    message: `No steady position was found ${loadWords(at)}; the search was ended after ${steps} steps. The car may still stand: pins and wheels rattle in their play, or parts differ so much in stiffness that the search does not settle. Less play or less extreme values help it.`,
    atLoad: at,
  };
}

/**
 * Why the loading path ends.
 * @param state the last one that had an answer, with its load
 * @param wanted the load that was asked for
 * @param ended steps after which the search was ended by its bound; null: it ran to its own end
 */
export function diagnose(model: AxleModel, state: AxleState, wanted: Load, ended: number | null): NoEquilibrium {
  const at = state.load;
  const [first] = findings(model, state, at);
  if (first)
    return { kind: first.kind, message: first.message, atLoad: at, ...(first.side ? { side: first.side } : {}), ...(first.arm ? { arm: first.arm } : {}) };
  for (const c of model.corners) {
    const lean = radToDeg(-c.sign * state[c.side].wheelAngleRad);
    if (Math.abs(lean) > FOLD_DEG)
      return {
        kind: "unstable",
        message: `The ${c.side} wheel folds ${lean > 0 ? "under" : "over"}, ${leanWay(lean)}, ${loadWords(at)}: its lean runs away.`,
        atLoad: at,
        side: c.side,
      };
  }
  const side: Side = wanted.lateralG >= 0 ? "right" : "left";
  for (const c of model.corners) {
    const dx = state[c.side].spring.seat[0] - state[c.side].spring.top[0];
    const dz = state[c.side].spring.seat[1] - state[c.side].spring.top[1];
    if (dx * dx + dz * dz < 4)
      return { kind: "springOutOfReach", message: `The ${c.side} spring has no length left ${loadWords(at)}.`, atLoad: at, side: c.side };
  }
  if (ended !== null) return unsettledReason(ended, at);
  return { kind: "unstable", message: `The suspension gives way on the ${side} side ${loadWords(at)}: it has no steady position beyond.`, atLoad: at, side };
}

/** A part this many times stiffer does not give: if the car stands then, it was this part that gave way. */
const UNBENDING = 1e3;

/** Runs `f` with these arms, or all springs, or all joints and bearings, made unbending; then puts everything back. */
function unbending<T>(model: AxleModel, what: readonly ArmModel[] | "springs" | "joints", f: () => T): T {
  const undo: (() => void)[] = [];
  const stiffen = <K extends string>(target: Record<K, number>, key: K): void => {
    const old = target[key];
    target[key] = old * UNBENDING;
    undo.push(() => {
      target[key] = old;
    });
  };
  if (what === "springs") for (const c of model.corners) stiffen(c.spring, "k");
  else if (what === "joints")
    for (const c of model.corners) {
      for (const j of Object.values(c.joints)) stiffen(j, "k");
      stiffen(c.bearing, "k");
    }
  else
    for (const a of what) {
      const { ea, kNear, kFar } = a;
      const times = (v: Float64Array): Float64Array => v.map((x) => x * UNBENDING);
      Object.assign(a, { ea: times(ea), kNear: times(kNear), kFar: times(kFar) });
      undo.push(() => Object.assign(a, { ea, kNear, kFar }));
    }
  try {
    return f();
  } finally {
    for (const u of undo) u();
  }
}

/**
 * Why the car does not even stand.
 * @param stands tries again to find rest, with the model as it is then
 * @param ended steps after which the search for rest was ended by its bound; null: it ran to its own end
 */
export function diagnoseRest(model: AxleModel, at: Load, stands: () => boolean, ended: number | null): NoEquilibrium {
  for (const c of model.corners) {
    const dx = c.spring.seatAt[0] - c.spring.topAt[0];
    const dz = c.spring.seatAt[1] - c.spring.topAt[1];
    const built = Math.sqrt(dx * dx + dz * dz);
    const most = c.spring.k * c.spring.free;
    if (most < model.bodyWeight / 2 || c.spring.free < 0.5 * built)
      return {
        kind: "springOutOfReach",
        message: `The ${c.side} spring cannot carry the car: it is out of reach, ${c.spring.free.toFixed(0)} mm long and ${built.toFixed(0)} mm from its seat to its top.`,
        atLoad: at,
        side: c.side,
      };
  }
  for (const name of ["upper", "lower"] as const) {
    const pair = model.corners.map((c) => c.arms[name]);
    if (!unbending(model, pair, stands)) continue;
    const alone = model.corners.find((c) => unbending(model, [c.arms[name]], stands));
    return alone
      ? { kind: "buckles", message: `The ${alone.side} ${name} arm buckles under the car's own weight.`, atLoad: at, side: alone.side, arm: name }
      : { kind: "buckles", message: `The ${name} arms buckle under the car's own weight.`, atLoad: at, arm: name };
  }
  if (unbending(model, model.arms, stands)) return { kind: "buckles", message: "The arms buckle under the car's own weight.", atLoad: at };
  if (unbending(model, "springs", stands))
    return { kind: "springOutOfReach", message: "The springs cannot carry the car: where they sit they are too soft or too short for its weight.", atLoad: at };
  if (unbending(model, "joints", stands))
    return { kind: "unstable", message: "The wheels fold under the car's own weight: joints or wheel bearings are too soft.", atLoad: at };
  if (ended !== null) return unsettledReason(ended, at);
  return { kind: "unstable", message: "The suspension does not hold the car up: it finds no steady position under its own weight.", atLoad: at };
}
