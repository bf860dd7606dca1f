import { LIMIT_NAMES } from "../core/analysis.ts";
import { fieldName, pathName } from "../core/design/field-words.ts";
import { pedals } from "../core/design/load.ts";
import { JOINT_NAMES, SIDES } from "../core/design/types.ts";
import { DRIVINGS } from "../core/studies/driving.ts";
import { NONE, type SpeedMap } from "../core/studies/speed-map.ts";
import { mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { csvText } from "../view/csv.ts";
import { differences } from "../view/differences.ts";
import { JOINT_WORDS } from "../view/words.ts";
import { buildList, materialRows } from "./build-list.ts";
import type { ReportData } from "./data.ts";
import { summaryOf } from "./summary.ts";
import { assumptions } from "./words.ts";

/** The report as one plain object for other programs: everything that is printed, and the whole design. */
export function reportObject(d: ReportData): object {
  const { request: r } = d;
  return {
    format: "wheelstay-report",
    version: 1,
    date: r.date,
    loadCase: r.caseName,
    load: r.load,
    radiusM: r.radiusM,
    track: r.trackName,
    speedKmh: d.speedKmh,
    shock: r.shock,
    hand: d.hand,
    summary: summaryOf(d),
    scenario: r.scenario,
    analysis: d.a.report,
    state: d.a.state,
    b: d.b ? { scenario: d.b.scenario, analysis: d.b.report, differences: differences(r.scenario, d.b.scenario) } : null,
    bHasNoAnswer: d.bReason,
    buildingList: buildList(r.scenario, d.a.corners, d.a.state, d.alike),
    curves: d.curves,
    map: mapObject(d.map),
    mapOtherHand: d.otherMap ? mapObject(d.otherMap) : null,
    mapB: d.bMap ? mapObject(d.bMap) : null,
    driving: d.driving,
    changes: d.changes && {
      base: d.changes.base,
      results: d.changes.results.map(({ change, outcome, buys }) => ({
        id: change.id,
        title: change.title,
        cost: { kind: change.costKind, words: change.cost },
        differences: differences(r.scenario, change.scenario),
        outcome,
        buys,
      })),
      refused: d.changes.refused.map((x) => ({ id: x.change.id, title: x.change.title, reason: x.reason })),
    },
    guesses: d.guesses,
    sure: d.sure,
    drive: { ...d.drive, wheels: d.wheels },
    leanAndLip: d.lip,
    materials: materialRows(d.a.corners),
    assumptions: assumptions(d),
    cautions: CAUTIONS,
  };
}

/** Grids are lists of rows, one per speed, each with a value per radius. */
function mapObject(map: SpeedMap): object {
  const n = map.radiiM.length;
  const rows = (values: Float64Array | Uint8Array): number[][] => Array.from(map.speedsMps, (_, i) => Array.from(values.subarray(i * n, (i + 1) * n)));
  return {
    hand: map.options.hand,
    shock: map.options.shock,
    radiiM: Array.from(map.radiiM),
    speedsMps: Array.from(map.speedsMps),
    worst: rows(map.worst),
    gives: rows(map.first).map((row) => row.map((i) => (i === NONE ? null : (LIMIT_NAMES[i] ?? null)))),
    leanDeg: rows(map.leanDeg),
    safe: map.safe.map((p) => ({ ...p, speedKmh: mpsToKmh(p.speedMps) })),
    reachableMps: map.reachableMps,
    driven: map.driven,
    end: map.end,
    error: map.error,
  };
}

/** A line of the table: what, of which design or side, at which place, how much. */
type Line = readonly [section: string, what: string, where: string, at: number | "", atUnit: string, value: number | string, unit: string];

const unitOf = (path: string): string => fieldName(path)?.unit.replace("%", "of 1") ?? "";

const HEAD = ["section", "what", "where", "at", "at unit", "value", "unit"];

function lines(d: ReportData): Line[] {
  const { request: r, a } = d;
  const out: Line[] = [
    ["load", "cornering", "", "", "", r.load.lateralG, "g"],
    ["load", "road height", "left", "", "", r.load.bumpLeftMm, "mm"],
    ["load", "road height", "right", "", "", r.load.bumpRightMm, "mm"],
    ["load", "throttle", "", "", "", pedals(r.load).throttle, "of 1"],
    ["load", "braking", "", "", "", pedals(r.load).brakeG, "g"],
    ["load", "speed", "", r.radiusM, "m", d.speedKmh, "km/h"],
  ];
  for (const [design, drawn] of [
    ["A", a],
    ["B", d.b],
  ] as const) {
    if (!drawn) continue;
    for (const side of ["left", "right"] as const) {
      const s = drawn.report[side];
      const where = `${design} ${side}`;
      out.push(["wheel", "camber", where, "", "", s.camberDeg, "°"]);
      out.push(["wheel", "vertical load", where, "", "", s.verticalLoadN, "N"]);
      out.push(["wheel", "lateral load", where, "", "", s.lateralLoadN, "N"]);
      out.push(["wheel", "travel", where, "", "", s.wheelTravelMm, "mm"]);
      out.push(["wheel", "spring force", where, "", "", s.springForceN, "N"]);
      if (s.push) {
        const p = s.push;
        out.push(["along the road", "push asked for", where, "", "", p.askedN, "N"]);
        out.push(["along the road", "push that reaches the road", where, "", "", p.passedOnN, "N"]);
        out.push(["along the road", "wheel shift", where, "", "", p.wheelShiftMm, "mm"]);
        out.push(["along the road", "steering axis tilt", where, "", "", p.axisTiltDeg, "°"]);
        out.push(["along the road", "moment of the steering rod", where, "", "", p.steeringNmm, "N·mm"]);
        for (const n of JOINT_NAMES) out.push(["along the road", `${JOINT_WORDS[n]}, force in space`, where, "", "", p.jointForceN[n], "N"]);
      }
      for (const [part, deg] of Object.entries(s.camberBudgetDeg.byPart)) out.push(["lean by part", part, where, "", "", deg, "°"]);
      for (const [part, deg] of Object.entries(s.camberBudgetDeg.byMotion)) out.push(["lean by motion", part, where, "", "", deg, "°"]);
    }
    out.push(["body", "roll", design, "", "", drawn.report.rollDeg, "°"]);
    for (const l of drawn.report.limits)
      out.push([
        "limit",
        `${l.name}: ${l.part}`,
        `${design} ${l.wheel}`,
        l.demand,
        l.unit,
        ...(l.place ? ([l.place.distanceMm, "mm free"] as const) : ([l.utilization, "of what it holds"] as const)),
      ]);
  }
  const b = buildList(r.scenario, a.corners, a.state, d.alike);
  for (const h of b.holes) {
    out.push(["hole", `${h.what}, out`, h.side, h.outHoles, "holes", h.outMm, "mm"]);
    out.push(["hole", `${h.what}, up`, h.side, h.upHoles, "holes", h.upMm, "mm"]);
  }
  for (const x of b.arms) out.push(["arm", `${x.arm} arm, length`, x.side, x.lengthHoles, "holes", x.lengthMm, "mm"]);
  for (const p of b.parts) {
    out.push(["part", `${p.group}: ${p.what}`, b.alike ? "both" : "left", "", "", p.left, ""]);
    if (!b.alike) out.push(["part", `${p.group}: ${p.what}`, "right", "", "", p.right, ""]);
  }
  for (const [design, set] of [
    ["A", d.curves.a],
    ["B", d.curves.b],
  ] as const) {
    if (!set) continue;
    for (const p of set.sweep.points)
      for (const [i, side] of (["left", "right"] as const).entries()) {
        out.push(["curve over cornering", "camber", `${design} ${side}`, p.g, "g", p.camberDeg[i] as number, "°"]);
        out.push(["curve over cornering", "vertical load", `${design} ${side}`, p.g, "g", p.verticalN[i] as number, "N"]);
        out.push(["curve over cornering", "load of the hub", `${design} ${side}`, p.g, "g", p.hubDemand[i] as number, set.sweep.hubUnit]);
      }
    for (const p of set.travel) {
      out.push(["curve over travel", "camber", design, p.mm, "mm", p.camberDeg, "°"]);
      out.push(["curve over travel", "roll centre", design, p.mm, "mm", p.rollCentreMm, "mm"]);
      out.push(["curve over travel", "motion ratio", design, p.mm, "mm", p.motionRatio, ""]);
    }
  }
  for (const [design, map] of [
    ["A", d.map],
    ["A", d.otherMap],
    ["B", d.bMap],
  ] as const) {
    if (!map) continue;
    for (const p of map.safe)
      out.push(["safe speed", p.limit ?? "no steady position", `${design} ${map.options.hand}-hand`, p.radiusM, "m", mpsToKmh(p.speedMps), "km/h"]);
  }
  for (const way of d.driving ? DRIVINGS : []) {
    const at = d.driving!.each[way];
    out.push(["safe speed by driving", `${way}: ${at.limit ?? "no steady position"}`, `A ${d.hand}-hand`, r.radiusM, "m", mpsToKmh(at.speedMps), "km/h"]);
  }
  const full = r.scenario.drive.onThisAxle ? d.drive.onArms : null;
  for (const side of full ? SIDES : []) {
    out.push(["full throttle standing", "push", `A ${side}`, "", "", full![side].thrustN, "N"]);
    out.push(["full throttle standing", "wheel shift", `A ${side}`, "", "", full![side].wheelShiftMm, "mm"]);
    out.push(["full throttle standing", "steering axis tilt", `A ${side}`, "", "", full![side].casterChangeDeg, "°"]);
  }
  for (const c of d.changes?.results ?? []) {
    out.push(["change buys", c.change.title, c.change.costKind, r.radiusM, "m", mpsToKmh(c.buys.speedMps), "km/h"]);
    if (c.buys.leanDeg !== null) out.push(["change buys", c.change.title, c.change.costKind, "", "", c.buys.leanDeg, "° less lean"]);
  }
  for (const e of d.guesses?.effects ?? [])
    if (e.change !== null)
      out.push(["guess", pathName(e.path), "", e.step.amount ?? "", e.step.amount === null ? "" : unitOf(e.path), e.change, "of what gives first"]);
  out.push(...sureLines(d));
  if (d.drive.drivenMps !== null) out.push(["drive", "top speed driven", "", "", "", mpsToKmh(d.drive.drivenMps), "km/h"]);
  out.push(["drive", "reachable speed", "", "", "", mpsToKmh(d.drive.topSpeedMps), "km/h"]);
  for (const w of d.wheels) {
    out.push(["wheel speed", "outer over inner", "", w.radiusM, "m", w.ratio, ""]);
    out.push(["wheel speed", "inner wheel", `${mpsToKmh(w.carMps).toFixed(2)} km/h`, w.radiusM, "m", w.innerRpm, "1/min"]);
    out.push(["wheel speed", "outer wheel", `${mpsToKmh(w.carMps).toFixed(2)} km/h`, w.radiusM, "m", w.outerRpm, "1/min"]);
  }
  return out;
}

/** How sure it is: ranges, the speed to drive at most, chances. */
function sureLines({ sure, request: r }: ReportData): Line[] {
  if (!sure) return [];
  const out: Line[] = [];
  const band = (what: string, at: { low: number; high: number; sd: number }, unit: string): void => {
    out.push(["how sure", `${what}, ±`, "A", "", "", at.sd, unit], ["how sure", `${what}, 5 % end`, "A", "", "", at.low, unit]);
    out.push(["how sure", `${what}, 95 % end`, "A", "", "", at.high, unit]);
  };
  for (const [key, b] of Object.entries(sure.at?.bands ?? {})) band(key, b, "");
  if (sure.safe) {
    band("safe speed", sure.safe.band, "m/s");
    out.push(["how sure", "drive at most", `chance ${sure.safe.atMost.chance}`, r.radiusM, "m", mpsToKmh(sure.safe.atMost.speedMps), "km/h"]);
  }
  for (const p of sure.at?.passed ?? []) out.push(["how sure", `chance: ${p.limit}`, "A", "", "", p.chance.chance, "of 1"]);
  if (sure.at) out.push(["how sure", "chance: anything gives", "A", "", "", sure.at.any.chance, "of 1"]);
  return out;
}

/** The report as one table in long form: a value per line. */
export function reportCsv(d: ReportData): string {
  return csvText({ head: HEAD, rows: lines(d) });
}
