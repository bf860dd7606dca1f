import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { type Bench, limitContext, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { gripG } from "../equilibrium/solve.ts";
import { allLimits, firstToGive } from "../limits/limits.ts";
import { failuresOf } from "../limits/records.ts";
import { underShock } from "../limits/shock.ts";
import { type CurveOptions, handSign, loadOn } from "../studies/curve-options.ts";
import { endOf } from "../studies/map-levels.ts";
import { type SafeSpeed, safeSpeedOf } from "../studies/safe-speed.ts";
import { gone } from "./ahead.ts";
import { levelStep, sideStep, tangentAt } from "./first-order.ts";
import type { UncertainInputs } from "./inputs.ts";
import { utilizationKey } from "./safe-order.ts";

/**
 * The safe speed of a car that is nearly another one whose safe speed is known: the crossing is looked for about the known one, and below it
 * only where the known car comes near to giving. Found to `LEVEL_G`, some thousandth of a speed and far within any doubt.
 */
export interface SafeIn {
  lateralG: number;
  /** what gives there; null: the car's steady positions end there, or it stands nowhere (0 g) */
  limit: LimitName | null;
}

/** What is known of the car as it is designed, about one curve. */
export interface SafeBase {
  radiusM: number;
  options: CurveOptions;
  safe: SafeIn;
  /** unknowns at its safe level and at rest: where the search of every neighbour starts, so that none hangs on another */
  q: Float64Array;
  restQ: Float64Array;
  /** how safe level and unknowns go with the inputs, to first order; null where that cannot be told */
  ahead: Ahead | null;
  /** growth of what gives first with the level, per g */
  slope: number;
  /** levels below the safe one at which the car comes near to giving: looked at in every neighbour */
  near: readonly { lateralG: number; q: Float64Array }[];
  /** limits that are not looked at: cautions, and buckling where it is far */
  leaveOut: readonly LimitName[];
}

/** Per unit of each input, and per g. */
interface Ahead {
  /** of the safe level; 0 where it cannot be told */
  level: Float64Array;
  q: (Float64Array | null)[];
  restQ: (Float64Array | null)[];
  byLevel: Float64Array;
}

/** The level is found to this, g. */
const LEVEL_G = 2e-4;
/** And a limit to this share of 1. */
const SHARE = 3e-4;
/** What rises by so much within so small a step has jumped there: a part has fallen over in its play. It is placed to that step, g. */
const JUMP = 0.02;
const JUMP_G = 2e-3;
const TRIES = 40;
/** A peak of utilization that is lower than this below the safe level stays below 1 in any neighbour. */
const NEAR = 0.5;
/** Buckling that is used less than this at the safe level of the design is told in no neighbour: it costs more than all the rest. */
const BUCKLING_FAR = 0.3;
/** First order is not followed further down than to this share of the base's level. */
const LEAST_OF_BASE = 0.3;

const worstAt = (b: Bench, o: CurveOptions, radiusM: number, lateralG: number, leaveOut: readonly LimitName[]) => {
  const r = solveLoad(b, loadOn(o, lateralG));
  if (!r.ok) return r;
  const limits = underShock(allLimits(limitContext(b, r.state, speedInCurve(lateralG, radiusM))!, leaveOut), o.shock);
  return { ok: true as const, q: r.q, worst: firstToGive(limits), limits };
};

/** Makes a base of a car that stands; its safe level is that of `safeSpeedOf`. Null where it does not stand. */
export function safeBase(b: Bench, inputs: UncertainInputs, radiusM: number, options: CurveOptions): SafeBase | null {
  if (!b.rest.ok) return null;
  const tried = new Map<number, { used: number; q: Float64Array }>();
  const safe = safeSpeedOf(b, radiusM, options, (lateralG, worst, q) => tried.set(lateralG, { used: worst.utilization, q }));
  const counted = failuresOf(b.scenario);
  const cautions = LIMIT_NAMES.filter((name) => !counted.includes(name));
  const quick = [...cautions, "armBuckling" as const];
  const levels = [...tried].sort((x, y) => x[0] - y[0]).filter(([lateralG]) => lateralG < safe.lateralG);
  // a peak is where the next level is used less; standing still counts as one
  const near = levels.flatMap(([lateralG, { used, q }], i) =>
    used > NEAR && (i === 0 || used >= levels[i - 1]![1].used) && i + 1 < levels.length && used > levels[i + 1]![1].used ? [{ lateralG, q }] : [],
  );
  b.last = levels.at(-1)?.[1].q ?? b.rest.q;
  const at = worstAt(b, options, radiusM, safe.lateralG, cautions);
  const q = at.ok ? at.q : (levels.at(-1)?.[1].q ?? b.rest.q);
  const buckling = at.ok ? Math.max(0, ...at.limits.filter((l) => l.name === "armBuckling").map((l) => l.utilization)) : 1;
  const base = {
    radiusM,
    options,
    safe: { lateralG: safe.lateralG, limit: safe.limit?.name ?? safe.end?.limit ?? null },
    q,
    restQ: b.rest.q,
    near,
    leaveOut: buckling < BUCKLING_FAR ? quick : cautions,
  };
  return at.ok ? { ...base, ...aheadOf(b, inputs, base, safe) } : { ...base, ahead: null, slope: 0 };
}

/** How the base goes on to first order. */
function aheadOf(b: Bench, inputs: UncertainInputs, base: Pick<SafeBase, "radiusM" | "options" | "q">, safe: SafeSpeed): Pick<SafeBase, "ahead" | "slope"> {
  const { radiusM, options, q } = base;
  const { limit } = safe;
  const point = { bench: b, load: loadOn(options, safe.lateralG), q, speedMps: safe.speedMps, shock: options.shock };
  const t = tangentAt({ ...point, leaveOut: LIMIT_NAMES.filter((name) => name !== limit?.name) });
  const byLevel = t && levelStep(t, (a) => speedInCurve(a, radiusM));
  if (!t || !byLevel) return { ahead: null, slope: 0 };
  const k = limit ? t.keys.indexOf(utilizationKey(limit.name, limit.wheel)) : -1;
  const slope = k < 0 ? 0 : byLevel.by[k]! * handSign(options.hand);
  const ahead: Ahead = { level: new Float64Array(inputs.list.length), q: [], restQ: [], byLevel: byLevel.q.map((v) => v * handSign(options.hand)) };
  for (const i of inputs.list.keys()) {
    const step = sideStep(t, inputs, i, true);
    ahead.q.push(step?.q ?? null);
    ahead.restQ.push(step?.restQ ?? null);
    if (step && slope > 0) ahead.level[i] = -step.by[k]! / slope;
  }
  return { ahead, slope };
}

/** A level with what is used there; none where there is no steady position, which ends at `endsG` then. */
interface Tried {
  lateralG: number;
  used: number | null;
  endsG: number;
  limit: LimitName | null;
  q: Float64Array | null;
}

/** A safe level that was looked for, with the unknowns there; null where it was none that can be held (the steady positions end). */
export type Found = SafeIn & { q: Float64Array | null };

/**
 * The safe level of a neighbour of the base on its curve.
 * @param off its inputs less those of the base; null: it is the base's own car
 * @param from where to look instead of where first order leads
 */
export function safeIn(base: SafeBase, b: Bench, off: Float64Array | null, from: Found | null = null): Found {
  if (!b.rest.ok) return { lateralG: 0, limit: null, q: null };
  const grip = gripG(b.model);
  const quick = base.leaveOut.includes("armBuckling") ? base.leaveOut : [...base.leaveOut, "armBuckling" as const];
  const usable = (q: Float64Array): Float64Array => (q.length === b.model.n ? q : b.rest.ok ? b.rest.q : q);
  const tryAt = (lateralG: number, leaveOut: readonly LimitName[]): Tried => {
    const w = worstAt(b, base.options, base.radiusM, lateralG, leaveOut);
    if (w.ok) return { lateralG, used: w.worst.utilization, endsG: Number.POSITIVE_INFINITY, limit: w.worst.name, q: w.q };
    return { lateralG, used: null, endsG: Math.abs(w.reason.atLoad.lateralG), limit: endOf(w.reason, 0)?.limit ?? null, q: null };
  };
  const gives = (t: Tried): boolean => t.used === null || t.used >= 1;

  let found: Tried | null = null;
  for (const peak of base.near) {
    if (peak.lateralG >= grip) break;
    b.last = usable(peak.q);
    const t = tryAt(peak.lateralG, quick);
    if (gives(t)) {
      found = t.lateralG === 0 ? t : between(standing(b, tryAt, quick), t, quick);
      break;
    }
  }
  found ??= about();
  if (quick.length === base.leaveOut.length || found.lateralG === 0) return { lateralG: found.lateralG, limit: found.limit, q: found.q };
  // the arms' buckling costs most: it is asked for once the rest is found
  const whole = tryAt(found.lateralG, base.leaveOut);
  if (whole.limit !== "armBuckling" || (whole.used ?? 0) < 1) return { lateralG: found.lateralG, limit: found.limit, q: found.q };
  const sooner = between(standing(b, tryAt, base.leaveOut), whole, base.leaveOut);
  return { lateralG: sooner.lateralG, limit: sooner.limit, q: sooner.q };

  /** From the base's own level outwards until it is held between two. */
  function about(): Tried {
    const { first, start } = foretold();
    b.last = usable(start);
    let at = tryAt(first, quick);
    let below: Tried | null = null;
    let above: Tried | null = null;
    for (let n = 0; n < TRIES; n++) {
      // so near to 1 it is found, from whichever side: at the tyres' grip at once, where sliding is what comes to 1
      if (at.used !== null && Math.abs(at.used - 1) < SHARE) return at;
      if (gives(at)) above = at;
      else below = at;
      if (below && above) return between(below, above, quick);
      // the tyres' grip is the end of all, where sliding comes to 1
      if (below && below.lateralG >= grip) return { ...below, limit: "sliding" };
      if (above && above.lateralG === 0) return above;
      // where the steady positions end was told along with that they do: no need to feel for it
      if (at.used === null && at.endsG > 0 && at.endsG < at.lateralG && !below) {
        b.last = usable(start);
        const last = tryAt(at.endsG, quick);
        if (last.used !== null && last.used < 1) return { ...last, limit: at.limit };
        if (last.used !== null) {
          at = last;
          continue;
        }
      }
      at = tryAt(onward(at, n, grip), quick);
    }
    return at;
  }

  /** The first level that is tried, and unknowns next to those there. */
  function foretold(): { first: number; start: Float64Array } {
    const { ahead } = base;
    if (from?.q) return { first: Math.min(from.lateralG, grip), start: from.q };
    if (!ahead || !off || base.q.length !== b.model.n) return { first: Math.min(base.safe.lateralG, grip), start: base.q };
    const foretold = base.safe.lateralG + ahead.level.reduce((sum, d, i) => sum + d * off[i]!, 0);
    const first = Math.min(grip, Math.max(LEAST_OF_BASE * base.safe.lateralG, foretold));
    const start = gone(base.q, ahead.q, off);
    const more = first - base.safe.lateralG;
    return { first, start: start.map((v, k) => v + more * ahead.byLevel[k]!) };
  }

  function onward(at: Tried, n: number, top: number): number {
    const down = gives(at);
    const widen = 1.15 * 2 ** n;
    const least = 0.01 * 2 ** n;
    const by = at.used === null || !(base.slope > 0) ? 0.1 * 2 ** n : (Math.abs(at.used - 1) / base.slope) * widen;
    const step = Math.max(least, Math.min(by, 0.5));
    return down ? Math.max(0, at.lateralG - step) : Math.min(top, at.lateralG + step);
  }

  /** Straight lines between a level that holds and one that gives; halved where there is no slope. */
  function between(lo: Tried, hi: Tried, leaveOut: readonly LimitName[]): Tried {
    let [below, above] = [lo, hi];
    let side = 0;
    for (let n = 0; n < TRIES; n++) {
      if (above.lateralG - below.lateralG <= LEVEL_G) break;
      if (above.used !== null && above.used - 1 < SHARE) break;
      if (above.used === null && above.endsG < above.lateralG - LEVEL_G) {
        b.last = below.q;
        const last = above.endsG - below.lateralG > LEVEL_G ? tryAt(above.endsG, leaveOut) : below;
        if (last.used !== null && last.used < 1) return { ...last, limit: above.limit };
        above = last.used === null ? { ...above, lateralG: above.endsG } : last;
        continue;
      }
      const [fLo, fHi] = [below.used! - 1, above.used === null ? Number.NaN : above.used - 1];
      const width = above.lateralG - below.lateralG;
      // no line leads to a jump; beyond it every trial is a long one
      if (width < JUMP_G && fHi - fLo > JUMP) break;
      // a line that hangs at one end for long is no use: halve then
      const straight = Number.isFinite(fHi) && Math.abs(side) < 3 ? below.lateralG - (fLo * width) / (fHi - fLo) : below.lateralG + width / 2;
      const edge = 0.02 * width;
      // every trial comes up from below, as the load does on the road: where a part falls over in its play two positions can hold
      b.last = below.q;
      const t = tryAt(Math.min(above.lateralG - edge, Math.max(below.lateralG + edge, straight + (side <= 0 ? edge / 20 : -edge / 20))), leaveOut);
      if (gives(t)) {
        side = Math.max(1, side + 1);
        above = t;
      } else {
        side = Math.min(-1, side - 1);
        below = t;
        if (1 - t.used! < SHARE) return { ...t, limit: t.limit };
      }
    }
    return above.used === null ? { ...below, limit: above.limit } : above;
  }
}

/** The car at rest on its wheels, as the lower end of a search. */
function standing(b: Bench, tryAt: (lateralG: number, leaveOut: readonly LimitName[]) => Tried, leaveOut: readonly LimitName[]): Tried {
  if (b.rest.ok) b.last = b.rest.q;
  return tryAt(0, leaveOut);
}
