import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { type Bench, buildBench, limitContext, limitsAt, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { plainLoad } from "../design/load.ts";
import { cornerOf } from "../design/sides.ts";
import { type Load, type Scenario, SIDES } from "../design/types.ts";
import { END_SHARE } from "../equilibrium/path.ts";
import { gripG, solveNear } from "../equilibrium/solve.ts";
import type { AxleState, NoEquilibriumKind } from "../equilibrium/state.ts";
import { armBucklingLimit } from "../limits/arms.ts";
import { firstToGive } from "../limits/limits.ts";
import { kinematicsCurve } from "../linkage/curve.ts";
import { tryBetween } from "../numerics/try-between.ts";
import { LIMIT_FAR } from "../tolerances.ts";
import { radToDeg } from "../units.ts";

export interface CurvesRequest {
  scenario: Scenario;
  bumpLeftMm: number;
  bumpRightMm: number;
  /** neither where they are not told */
  throttle?: number;
  brakeG?: number;
  /** 1: left-hand curves, -1: right-hand curves */
  direction: 1 | -1;
  toG: number;
  count: number;
  radiusM: number;
}

export interface CurvesPoint {
  g: number;
  camberDeg: [number, number];
  verticalN: [number, number];
  hubDemand: [number, number];
  rollDeg: number;
  /** worst utilization of each kind of limit, either wheel */
  worst: Partial<Record<LimitName, number>>;
}

/** All curves of one design under the present bumps. */
export interface CurvesAnswer {
  /** the axle over cornering, from straight on to where it ends; pairs are left, right */
  sweep: {
    points: CurvesPoint[];
    /** what holds the wheel that is nearest to coming off within the sweep, and that wheel: 0 left, 1 right; null: both are held alike */
    hubWheel: 0 | 1 | null;
    hubPart: string;
    hubCapacity: number;
    hubUnit: string;
    /** where the equilibrium ends before the sweep does */
    endsAtG: number | null;
    endsBy: string;
    /** the first load at which a limit is reached, found by itself however far apart the points are; null: none within the sweep */
    gives: { name: LimitName; g: number } | null;
  };
  travel: { mm: number; camberDeg: number; rollCentreMm: number; motionRatio: number }[];
}

const TRAVEL_ROWS = 25;
const END_WORDS = {
  buckles: "arm buckles",
  slides: "slides",
  tips: "tips",
  locks: "arms lock",
  springOutOfReach: "spring out of reach",
  unstable: "no hold",
  laidOver: "wheel laid over",
  unsettled: "not settled",
  stopped: "stopped",
  cannotBeBuilt: "cannot be built",
} as const satisfies Record<NoEquilibriumKind, string>;

/** Buckling costs more than all other limits together: it is told at both ends and the middle, and everywhere only where it comes near. */
function addBuckling(bench: Bench, points: readonly CurvesPoint[], states: readonly AxleState[], radiusM: number): void {
  const at = (i: number): number => {
    const x = limitContext(bench, states[i]!, speedInCurve(points[i]!.g, radiusM));
    const u = x ? Math.max(...SIDES.map((side) => armBucklingLimit(x, side).utilization)) : 0;
    points[i]!.worst.armBuckling = u;
    return u;
  };
  const last = points.length - 1;
  if (last < 0) return;
  const first = [...new Set([0, last >> 1, last])];
  const most = Math.max(...first.map(at));
  if (most > LIMIT_FAR) for (let i = 1; i < last; i++) if (!first.includes(i)) at(i);
}

const nearBuckling = (p: CurvesPoint): boolean => (p.worst.armBuckling ?? 0) > LIMIT_FAR;

/** How sharply a load is placed at which something gives or all hold ends, g: speeds told from it do not show it. */
const PLACE_G = 5e-5;
const PLACE_TRIES = 24;

/** The last load with an answer, from one that the way up the load ended at: that is known to a share of the load asked for only. */
function lastHold(b: Bench, from: number, asked: number, loadAt: (g: number) => Load): number {
  if (from >= gripG(b.model)) return from;
  const at = solveLoad(b, loadAt(from));
  let q = at.ok ? at.q : null;
  let lo = from;
  let hi = Math.min(asked, from + 2 * END_SHARE * asked);
  while (q && hi - lo > PLACE_G) {
    const mid = (lo + hi) / 2;
    const next: Float64Array | null = solveNear(b.model, loadAt(mid), q, b.solver);
    if (next) [q, lo] = [next, mid];
    else hi = mid;
  }
  return lo;
}

const worstOf = (p: CurvesPoint): number => Math.max(0, ...Object.values(p.worst));

interface Worst {
  name: LimitName;
  utilization: number;
}

/** Where the worst limit reaches 1 between the last point where all holds and the first, `i`, where something gives. */
function givesFirst(points: readonly CurvesPoint[], i: number, worstAt: (g: number) => Worst | null): { name: LimitName; g: number } {
  const at = points[i]!;
  const before = points[i - 1];
  let top: Worst = { name: largest(at.worst), utilization: worstOf(at) };
  if (!before) return { name: top.name, g: at.g };
  let lo = before.g;
  let hi = at.g;
  let fLo = worstOf(before) - 1;
  for (let n = 0; n < PLACE_TRIES && hi - lo > PLACE_G; n++) {
    const g: number = tryBetween(n, lo, hi, fLo, top.utilization - 1, 0.3 * PLACE_G);
    const w = worstAt(g);
    if (w && w.utilization < 1) [lo, fLo] = [g, w.utilization - 1];
    else if (w) [hi, top] = [g, w];
    else hi = g;
  }
  return { name: top.name, g: hi };
}

const largest = (worst: CurvesPoint["worst"]): LimitName => LIMIT_NAMES.reduce((a, b) => ((worst[b] ?? 0) > (worst[a] ?? 0) ? b : a));

/** The axle over cornering (g counted positive), and its outer corner over wheel travel. */
export function curvesOf(r: CurvesRequest): CurvesAnswer {
  const bench = buildBench(r.scenario);
  const loadAt = (g: number): Load => plainLoad({ ...r, lateralG: r.direction * g });
  const points: CurvesPoint[] = [];
  const states: AxleState[] = [];
  const qs: Float64Array[] = [];
  const unheld = { part: "hub", capacity: 0, unit: "N", most: 0 };
  const hubs = [{ ...unheld }, { ...unheld }] as [typeof unheld, typeof unheld];
  const put = (g: number, { state, q }: { state: AxleState; q: Float64Array }): void => {
    const worst: Partial<Record<LimitName, number>> = {};
    const hubDemand: [number, number] = [0, 0];
    for (const l of limitsAt(bench, state, speedInCurve(g, r.radiusM), ["armBuckling"])) {
      if (l.name === "hubRetention") {
        const wheel = l.wheel === "left" ? 0 : 1;
        hubDemand[wheel] = l.demand;
        hubs[wheel] = { part: l.part, capacity: l.capacity, unit: l.unit, most: Math.max(hubs[wheel].most, l.utilization) };
      }
      if (!l.caution && l.utilization > (worst[l.name] ?? -1)) worst[l.name] = l.utilization;
    }
    const { left, right, body } = state;
    states.push(state);
    qs.push(q);
    points.push({
      g,
      camberDeg: [radToDeg(left.wheelAngleRad), -radToDeg(right.wheelAngleRad)],
      verticalN: [left.tyre.verticalN, right.tyre.verticalN],
      hubDemand,
      rollDeg: -radToDeg(body.angleRad),
      worst,
    });
  };
  let endsAtG: number | null = null;
  let endsBy = "";
  for (let i = 0; i < r.count; i++) {
    const g = (r.toG * i) / (r.count - 1);
    const solved = solveLoad(bench, loadAt(g));
    if (solved.ok) {
      put(g, solved);
      continue;
    }
    endsBy = END_WORDS[solved.reason.kind];
    endsAtG = lastHold(bench, Math.abs(solved.reason.atLoad.lateralG), g, loadAt);
    // the curves go on to where they end
    const end = solveLoad(bench, loadAt(endsAtG));
    if (end.ok && endsAtG > (points.at(-1)?.g ?? endsAtG)) put(endsAtG, end);
    break;
  }
  addBuckling(bench, points, states, r.radiusM);
  const leaveOut: LimitName[] = points.some(nearBuckling) ? [] : ["armBuckling"];
  const over = points.findIndex((p) => worstOf(p) >= 1);
  // each try starts from the nearest answer below at which all holds
  let below = qs[over - 1] ?? null;
  const worstAt = (g: number): Worst | null => {
    bench.last = below;
    const solved = solveLoad(bench, loadAt(g));
    if (!solved.ok) return null;
    const first = firstToGive(limitsAt(bench, solved.state, speedInCurve(g, r.radiusM), leaveOut));
    if (first.utilization < 1) below = solved.q;
    return { name: first.name, utilization: first.utilization };
  };
  const gives = over < 0 ? null : givesFirst(points, over, worstAt);
  const alike = hubs[0].part === hubs[1].part && hubs[0].capacity === hubs[1].capacity;
  const nearest = hubs[0].most > hubs[1].most ? 0 : 1;
  const hubWheel = alike ? null : nearest;
  const hub = hubs[nearest];
  const corner = cornerOf(r.scenario, r.direction > 0 ? "right" : "left");
  const reach = Math.max(4, r.scenario.fit.bumpTravelMm, r.scenario.fit.droopTravelMm);
  const rows = kinematicsCurve(corner, -reach, reach, TRAVEL_ROWS);
  return {
    sweep: { points, hubWheel, hubPart: hub.part, hubCapacity: hub.capacity, hubUnit: hub.unit, endsAtG, endsBy, gives },
    travel: rows.ok ? rows.rows.map((k) => ({ mm: k.travelMm, camberDeg: k.camberDeg, rollCentreMm: k.rollCentreHeightMm, motionRatio: k.motionRatio })) : [],
  };
}
