import type { LimitName } from "../core/analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../core/analyze.ts";
import { curveRadiusM, speedInCurve } from "../core/cornering.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import { inputsThatMatter, type Spread, spreadOf } from "../core/doubt/bands.ts";
import { type Derivatives, derivatives, type SolvedPoint } from "../core/doubt/first-order.ts";
import { type UncertainInputs, uncertainInputs } from "../core/doubt/inputs.ts";
import { type MeasureNext, measureNext } from "../core/doubt/measure-next.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import { safeDerivatives } from "../core/doubt/safe-order.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import type { CurveOptions } from "../core/studies/curve-options.ts";
import { LIMIT_FAR } from "../core/tolerances.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { createAnswers } from "../state/answers.ts";
import { type Delta, withDelta } from "../state/delta.ts";
import type { ShareRow } from "../view/doubt-words.ts";
import { runJob } from "./jobs.ts";

/** A design as what changed since the request before, with the curve that its safe speed is told for. */
export interface BandsRequest {
  scenario: Delta | null;
  load: Load;
  radiusM: number;
  options: Partial<CurveOptions>;
  /** a hand waits: only inputs that matter, from one side, and either the answer's spread or that of the safe speed */
  inHand: "answer" | "safe" | null;
}

interface SafeSpread {
  speedMps: number;
  lateralG: number;
  /** one standard deviation, m/s; null: it cannot be told to first order */
  sdMps: number | null;
  why: "" | "ends" | "jumps";
}

/** How far the numbers of an answer spread, to first order; plain data. */
export interface BandsTold {
  /** one standard deviation by output; null: not asked */
  sd: ReadonlyMap<OutputKey, number> | null;
  /** null: not asked, or the car does not stand */
  safe: SafeSpread | null;
  /** inputs by their part of the variance, most first; told at rest */
  rows: Record<"left" | "right" | "safe", readonly ShareRow[]> | null;
  /** which bench tests make the safe speed's band narrower; told at rest */
  next: MeasureNext | null;
}

/** so many inputs are told of each answer, and none below this part of it */
const ROWS = 8;
const LEAST_SHARE = 0.005;

let held: Scenario | null = null;
let radiusM = 0;
const answers = createAnswers(false, () => radiusM);
/** the derivatives at hand, for the inputs of the same names */
let last: { keys: string; derivatives: Derivatives } | null = null;

/** Spreads to first order; null when something newer was asked meanwhile, or the car has no equilibrium. Throws when a change comes before its design. */
export function bandsOf(lane: string, job: number, r: BandsRequest): Promise<BandsTold | null> {
  if (held === null && !(r.scenario && "is" in r.scenario)) throw new Error("the design was never told");
  held = withDelta(held, r.scenario) as Scenario;
  radiusM = r.radiusM;
  return runJob(lane, job, bands(held, r), () => undefined);
}

function* bands(scenario: Scenario, r: BandsRequest): Generator<number, BandsTold | null> {
  const { load, inHand } = r;
  const bench = inHand ? answers.at(scenario, load, "hand").bench : buildBench(scenario);
  const inputs = uncertainInputs(scenario, rangeOf);
  const keys = inputs.list.map((u) => u.key).join();
  if (inHand === "safe") {
    const safe = yield* safeOf(bench, inputs, r);
    return safe && { sd: null, safe: safe.told, rows: null, next: null };
  }
  const point = pointOf(bench, r);
  if (!point) return null;
  const before = last?.keys === keys ? last.derivatives : null;
  const d = yield* derivatives(point, inputs, inHand ? { quick: true, ...(before ? { before, wanted: inputsThatMatter(inputs, before) } : {}) } : {});
  if (!d) return null;
  last = { keys, derivatives: d };
  const spreads = new Map(d.keys.map((key, k) => [key, spreadOf(inputs, (i) => d.by[i]?.[k] ?? null)]));
  const sd = new Map([...spreads].map(([key, spread]) => [key, spread.sd]));
  if (inHand) return { sd, safe: null, rows: null, next: null };
  const safe = yield* safeOf(bench, inputs, r);
  const rows = (spread: Spread | null | undefined): ShareRow[] => (spread ? rowsOf(inputs, spread) : []);
  return {
    sd,
    safe: safe?.told ?? null,
    rows: { left: rows(spreads.get("camberDeg.left")), right: rows(spreads.get("camberDeg.right")), safe: rows(safe?.spread) },
    next: safe?.by ? measureNext(inputs, safe.by) : null,
  };
}

function pointOf(bench: Bench, { load, radiusM: asked, inHand }: BandsRequest): SolvedPoint | null {
  const solved = solveLoad(bench, load);
  if (!solved.ok) return null;
  const speedMps = speedInCurve(load.lateralG, curveRadiusM(bench.scenario, asked));
  return { bench, load, q: solved.q, speedMps, shock: 1, leaveOut: inHand ? DEAR : farOf(bench, solved.state, speedMps) };
}

/** Limits that cost more than all others together: in hand their bands stay as they were, at rest they are told where they come near. */
const DEAR: readonly LimitName[] = ["armBuckling", "fit"];
const farOf = (bench: Bench, state: AxleState, speedMps: number): LimitName[] =>
  limitsAt(bench, state, speedMps).some((l) => l.name === "armBuckling" && l.utilization > LIMIT_FAR) ? [] : ["armBuckling"];

function* safeOf(
  bench: Bench,
  inputs: UncertainInputs,
  { radiusM: onM, options }: BandsRequest,
): Generator<number, { told: SafeSpread; spread: Spread | null; by: readonly (number | null)[] | null } | null> {
  const d = yield* safeDerivatives(bench, inputs, onM, options, true);
  if (!d) return null;
  const { by } = d;
  const spread = by && spreadOf(inputs, (i) => by[i] ?? null);
  return { told: { speedMps: d.safe.speedMps, lateralG: d.safe.lateralG, sdMps: spread?.sd ?? null, why: d.why }, spread, by };
}

const rowsOf = (inputs: UncertainInputs, { shares }: Spread): ShareRow[] =>
  inputs.list
    .map((u, i) => ({ ...u, share: shares[i]! }))
    .filter((u) => Math.abs(u.share) >= LEAST_SHARE)
    .sort((x, y) => y.share - x.share)
    .slice(0, ROWS);
