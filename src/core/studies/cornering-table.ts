import { LIMIT_NAMES, type LimitName, type LimitResult } from "../analysis.ts";
import { type Bench, limitContext, type SolvedLoad, solveLoad } from "../analyze.ts";
import { type Scenario, SIDES, type Side } from "../design/types.ts";
import { NO_PUSH, type PushAsked, pushAsked } from "../drive/push.ts";
import { readState } from "../equilibrium/readout.ts";
import { gripG, REST, solveNear } from "../equilibrium/solve.ts";
import type { NoEquilibrium } from "../equilibrium/state.ts";
import { armBucklingLimit } from "../limits/arms.ts";
import { hubFrictionAt } from "../limits/hub-heat.ts";
import { allLimits } from "../limits/limits.ts";
import { isPushLimit, isSpeedLimit, LIMITS } from "../limits/records.ts";
import { shockOn } from "../limits/shock.ts";
import { sliding } from "../limits/wheel.ts";
import { tryBetween } from "../numerics/try-between.ts";
import { radToDeg } from "../units.ts";
import { type CurveOptions, loadOn } from "./curve-options.ts";

/**
 * One sweep over the cornering level: what the equilibrium gives to the limits, tabulated so finely that straight lines between the
 * knots are right to a stated share. Speed and radius enter the equilibrium only through v²/R, so that this sweep is all a speed map needs of it.
 */
/** A quantity over the cornering level. */
interface Series {
  key: string;
  /** the limit whose utilization it is; null: a quantity that a limit needs along with the speed */
  limit: LimitName | null;
  caution: boolean;
  /** ascending, g */
  aG: number[];
  value: number[];
}

/** The shock sets where limits are reached. */
export interface TableOptions extends CurveOptions {
  /** highest cornering level wanted, g */
  toG: number;
  /** largest error of a utilization between knots, as a share of max(1, utilization) */
  tolerance: number;
  /** no two knots closer than this, g: how sharply a jump (a part falling over in its play) is placed */
  leastStepG: number;
}

export interface CorneringTable {
  options: TableOptions;
  /** push asked of each wheel, from none of the drive's to all of it standing still: limits that it changes are told at each; one where it is the same at every speed */
  pushes: PushAsked[];
  series: Map<string, Series>;
  /** the table ends here, g */
  endG: number;
  /** why there is no equilibrium beyond; null: the table was not asked to go on */
  end: NoEquilibrium | null;
  solves: number;
}

/** Quantities besides utilizations, told apart by side. */
const SIDE_QUANTITIES = ["lateralN", "frictionNmm", "pressureMPa"] as const;
export type SideQuantity = (typeof SIDE_QUANTITIES)[number];
/** Where a side's quantity stands in the table. */
export const quantityKey = (q: SideQuantity, side: Side): string => `${q}/${side}`;

const COARSE_STEPS = 12;
/** The first limit's crossing: it is near enough within this cornering level, or this share of what the part takes. */
const CROSSING_G = 1e-4;
const CROSSING_SHARE = 5e-4;
const CROSSING_TRIES = 12;

interface Knot {
  a: number;
  q: Float64Array;
  values: Map<string, number>;
}

const limitKey = (l: LimitResult): string => (LIMITS[l.name].per === "axle" ? l.name : `${l.name}/${l.wheel}`);
/** Where a limit stands in the table under the push of that number. */
const pushedKey = (key: string, push: number): string => `${key}@${push}`;
/** The push of a key, 0 where it is told for all of them alike. */
export const pushOfKey = (key: string): { key: string; push: number } => {
  const at = key.indexOf("@");
  return at < 0 ? { key, push: 0 } : { key: key.slice(0, at), push: Number(key.slice(at + 1)) };
};
const BUCKLING_KEYS = ["armBuckling/left", "armBuckling/right"];

/** Pushes at which limits are told; what they ask grows nearly straight with it. Buckling, which is dear and smooth, at every other. */
const PUSHES = 5;
const everyOther = (push: number): boolean => push % 2 === 0;

function pushesOf(s: Scenario, o: TableOptions): PushAsked[] {
  const standing = pushAsked(s, { ...REST, throttle: o.throttle, brakeG: o.brakeG }, 0);
  if (standing.driveN === 0) return [standing];
  return Array.from({ length: PUSHES }, (_, i) => ({ ...standing, driveN: (standing.driveN * i) / (PUSHES - 1) }));
}

/** Builds the table; yields after the coarse pass and now and then afterwards, always with a table that can be used. */
export function* buildTable(b: Bench, options: TableOptions): Generator<CorneringTable, CorneringTable> {
  const knots: Knot[] = [];
  const meta = new Map<string, { limit: LimitName | null; caution: boolean }>();
  const grip = gripG(b.model);
  let top = Math.min(options.toG, grip);
  let end: NoEquilibrium | null =
    options.toG > grip ? { kind: "slides", message: `The tyres let go at ${grip.toFixed(2)} g (friction).`, atLoad: loadOn(options, grip) } : null;
  let solves = 0;
  const { scenario } = b.model;
  const { spinMustHold } = scenario.limits;
  const pushes = pushesOf(scenario, options);
  // the fit hangs on the push only where the room before and behind the tyre was measured
  const isPushed = (name: LimitName): boolean => isPushLimit(name) && (name !== "fit" || scenario.fit.alongRoadMm !== null);
  const unpushed = LIMIT_NAMES.filter((name) => name === "armBuckling" || !isPushed(name));
  const keyOf = (l: LimitResult, push: number): string => (pushes.length > 1 && isPushed(l.name) ? pushedKey(limitKey(l), push) : limitKey(l));
  const bucklingKeys = pushes.length > 1 ? BUCKLING_KEYS.flatMap((key) => pushes.flatMap((_, i) => (everyOther(i) ? [pushedKey(key, i)] : []))) : BUCKLING_KEYS;
  const put = (values: Map<string, number>, key: string, limit: LimitName | null, caution: boolean, v: number): void => {
    values.set(key, v);
    if (!meta.has(key)) meta.set(key, { limit, caution });
  };

  /** From the knot below, else from the one above (beyond a jump only that leads on), else the long way from rest. */
  const sample = (a: number, near: Knot | null, above: Knot | null = null): Knot | NoEquilibrium => {
    solves++;
    const load = loadOn(options, a);
    if (near) b.last = near.q;
    if (near && above) b.last = solveNear(b.model, load, near.q, b.solver) ?? solveNear(b.model, load, above.q, b.solver) ?? near.q;
    const r: SolvedLoad = solveLoad(b, load);
    if (!r.ok) return r.reason;
    const values = new Map<string, number>();
    const x = limitContext(b, r.state, 0)!;
    pushes.forEach((push, i) => {
      for (const l of allLimits({ ...x, push }, i === 0 ? ["armBuckling"] : unpushed)) {
        if (isSpeedLimit(l.name)) continue;
        // a wheel that may spin or lock slides where its side force alone lets it
        if (l.name === "sliding" && !spinMustHold) continue;
        put(values, keyOf(l, i), l.name, l.caution, l.utilization);
      }
    });
    if (!spinMustHold) {
      const l = sliding({ ...x, push: NO_PUSH });
      put(values, limitKey(l), l.name, l.caution, l.utilization);
    }
    for (const side of SIDES) {
      const s = r.state[side];
      const f = hubFrictionAt(x, side);
      put(values, quantityKey("lateralN", side), null, false, Math.abs(s.tyre.lateralN));
      put(values, quantityKey("frictionNmm", side), null, false, f.torqueNmm);
      put(values, quantityKey("pressureMPa", side), null, false, f.pressureMPa);
      put(values, `leanDeg/${side}`, null, false, (side === "left" ? 1 : -1) * radToDeg(s.wheelAngleRad));
    }
    return { a, q: r.q, values };
  };
  /** buckling costs more than all the rest together and is smooth: it is told at fewer knots */
  const addBuckling = (k: Knot): void => {
    const x = limitContext(b, readState(b.model, k.q, loadOn(options, k.a)), 0)!;
    pushes.forEach((push, i) => {
      if (!everyOther(i)) return;
      const pushed = { ...x, push };
      for (const side of SIDES) {
        const l = armBucklingLimit(pushed, side);
        put(k.values, keyOf(l, i), l.name, l.caution, l.utilization);
      }
    });
  };

  const table = (): CorneringTable => {
    const series = new Map<string, Series>();
    for (const [key, m] of meta) series.set(key, { key, limit: m.limit, caution: m.caution, aG: [], value: [] });
    for (const k of knots)
      for (const [key, v] of k.values) {
        const s = series.get(key)!;
        s.aG.push(k.a);
        s.value.push(v);
      }
    return { options, pushes, series, endG: knots.length > 0 ? knots[knots.length - 1]!.a : 0, end, solves };
  };

  const first = sample(0, null);
  if (!("q" in first)) {
    end = first;
    return table();
  }
  knots.push(first);
  // coarse pass; where it meets the end of all equilibrium it goes on up to there
  for (let i = 1; i <= COARSE_STEPS; i++) {
    const last = knots[knots.length - 1]!;
    const k = sample((top * i) / COARSE_STEPS, last);
    if ("q" in k) {
      knots.push(k);
      continue;
    }
    end = k;
    top = Math.abs(k.atLoad.lateralG);
    if (top > last.a + options.leastStepG) {
      const stop = sample(top, last);
      if ("q" in stop) knots.push(stop);
    }
    break;
  }
  // a speed may be told from the first table already: where the first limit is reached it is as sharp as the last
  const share = (k: Knot): number => {
    let most = 0;
    for (const [key, v] of k.values) {
      const m = meta.get(key)!;
      if (m.limit && !m.caution) most = Math.max(most, v * shockOn(m.limit, options.shock));
    }
    return most;
  };
  for (let n = 0; n < CROSSING_TRIES; n++) {
    const i = knots.findIndex((k) => share(k) >= 1);
    if (i <= 0) break;
    const [lo, hi] = [knots[i - 1]!, knots[i]!];
    const [below, above] = [share(lo), share(hi)];
    if (hi.a - lo.a < 2 * CROSSING_G || above - 1 < CROSSING_SHARE || 1 - below < CROSSING_SHARE) break;
    const k = sample(tryBetween(n, lo.a, hi.a, below - 1, above - 1, CROSSING_G), lo, hi);
    if (!("q" in k)) break;
    knots.splice(i, 0, k);
  }
  knots.forEach((k, i) => {
    if (i % 2 === 0 || i === knots.length - 1) addBuckling(k);
  });
  yield table();

  // refine: a middle knot is kept; an interval is done when straight lines foretold it
  let open: [Knot, Knot][] = [];
  for (let i = 1; i < knots.length; i++) open.push([knots[i - 1]!, knots[i]!]);
  while (open.length > 0) {
    const next: [Knot, Knot][] = [];
    for (const [lo, hi] of open) {
      if (hi.a - lo.a < 2 * options.leastStepG) continue;
      const mid = sample((lo.a + hi.a) / 2, lo, hi);
      if (!("q" in mid)) continue;
      knots.push(mid);
      if (miss(lo, mid, hi, mid.values.keys(), meta) > options.tolerance) next.push([lo, mid], [mid, hi]);
    }
    knots.sort((x, y) => x.a - y.a);
    open = next;
    if (open.length > 0) yield table();
  }
  refineBuckling(knots, bucklingKeys, addBuckling, options.tolerance, meta);
  return table();
}

/** Adds buckling to knots between those that have it until straight lines foretell it. */
function refineBuckling(knots: readonly Knot[], keys: readonly string[], add: (k: Knot) => void, tolerance: number, meta: Meta): void {
  const split = (i: number, j: number): void => {
    if (j - i < 2) return;
    const target = (knots[i]!.a + knots[j]!.a) / 2;
    let m = i + 1;
    for (let k = m; k < j; k++) if (Math.abs(knots[k]!.a - target) < Math.abs(knots[m]!.a - target)) m = k;
    add(knots[m]!);
    if (miss(knots[i]!, knots[m]!, knots[j]!, keys, meta) <= tolerance) return;
    split(i, m);
    split(m, j);
  };
  let from = 0;
  for (let i = 1; i < knots.length; i++)
    if (knots[i]!.values.has(keys[0]!)) {
      split(from, i);
      from = i;
    }
}

type Meta = ReadonlyMap<string, { limit: LimitName | null }>;

/** Largest miss of the straight line at the middle knot, as a share of max(1, value); for quantities as a share of their size. */
function miss(lo: Knot, mid: Knot, hi: Knot, keys: Iterable<string>, meta: Meta): number {
  const f = (mid.a - lo.a) / (hi.a - lo.a);
  let worst = 0;
  for (const key of keys) {
    const a = lo.values.get(key);
    const b = hi.values.get(key);
    const v = mid.values.get(key);
    if (a === undefined || b === undefined || v === undefined) continue;
    const size = meta.get(key)!.limit === null ? Math.max(Math.abs(a), Math.abs(b), 1) : Math.max(1, Math.abs(v));
    worst = Math.max(worst, Math.abs(v - (a + f * (b - a))) / size);
  }
  return worst;
}
