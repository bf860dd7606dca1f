import type { LimitName } from "../analysis.ts";
import { type Bench, buildBench, limitContext, limitsAt, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { cornerOf } from "../design/sides.ts";
import { type Scenario, SIDES } from "../design/types.ts";
import type { AxleState, NoEquilibriumKind } from "../equilibrium/state.ts";
import { armBucklingLimit } from "../limits/arms.ts";
import { kinematicsCurve } from "../linkage/curve.ts";
import { LIMIT_FAR } from "../tolerances.ts";
import { radToDeg } from "../units.ts";

export interface CurvesRequest {
  scenario: Scenario;
  bumpLeftMm: number;
  bumpRightMm: number;
  /** 1: left-hand curves, -1: right-hand curves */
  direction: 1 | -1;
  toG: number;
  count: number;
  radiusM: number;
}

interface CurvesPoint {
  g: number;
  camberDeg: [number, number];
  verticalN: [number, number];
  hubDemand: [number, number];
  rollDeg: number;
  worst: Partial<Record<LimitName, number>>;
}

export interface CurvesAnswer {
  sweep: { points: CurvesPoint[]; hubPart: string; hubCapacity: number; hubUnit: string; endsAtG: number | null; endsBy: string };
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

/** The axle over cornering (g counted positive), and its outer corner over wheel travel. */
export function curvesOf(r: CurvesRequest): CurvesAnswer {
  const bench = buildBench(r.scenario);
  const points: CurvesPoint[] = [];
  const states: AxleState[] = [];
  let hub = { part: "hub", capacity: 0, unit: "N" };
  let endsAtG: number | null = null;
  let endsBy = "";
  for (let i = 0; i < r.count; i++) {
    const g = (r.toG * i) / (r.count - 1);
    const solved = solveLoad(bench, { lateralG: r.direction * g, bumpLeftMm: r.bumpLeftMm, bumpRightMm: r.bumpRightMm });
    if (!solved.ok) {
      endsAtG = Math.abs(solved.reason.atLoad.lateralG);
      endsBy = END_WORDS[solved.reason.kind];
      break;
    }
    const limits = limitsAt(bench, solved.state, speedInCurve(g, r.radiusM), ["armBuckling"]);
    states.push(solved.state);
    const worst: Partial<Record<LimitName, number>> = {};
    const hubDemand: [number, number] = [0, 0];
    for (const l of limits) {
      if (l.name === "hubRetention") {
        hubDemand[l.wheel === "left" ? 0 : 1] = l.demand;
        hub = { part: l.part, capacity: l.capacity, unit: l.unit };
      }
      if (!l.caution && l.utilization > (worst[l.name] ?? -1)) worst[l.name] = l.utilization;
    }
    const { left, right, body } = solved.state;
    points.push({
      g,
      camberDeg: [radToDeg(left.wheelAngleRad), -radToDeg(right.wheelAngleRad)],
      verticalN: [left.tyre.verticalN, right.tyre.verticalN],
      hubDemand,
      rollDeg: -radToDeg(body.angleRad),
      worst,
    });
  }
  addBuckling(bench, points, states, r.radiusM);
  const corner = cornerOf(r.scenario, r.direction > 0 ? "right" : "left");
  const reach = Math.max(4, r.scenario.fit.bumpTravelMm, r.scenario.fit.droopTravelMm);
  const rows = kinematicsCurve(corner, -reach, reach, TRAVEL_ROWS);
  return {
    sweep: { points, hubPart: hub.part, hubCapacity: hub.capacity, hubUnit: hub.unit, endsAtG, endsBy },
    travel: rows.ok ? rows.rows.map((k) => ({ mm: k.travelMm, camberDeg: k.camberDeg, rollCentreMm: k.rollCentreHeightMm, motionRatio: k.motionRatio })) : [],
  };
}
