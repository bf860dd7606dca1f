import type { LimitName } from "../analysis.ts";
import type { FullPush } from "../drive/thrust-on-arms.ts";
import { failuresOf } from "../limits/records.ts";
import type { Change } from "./change-list.ts";

/** Highest safe speed on the curve, least lean of the outer wheel at the load, or least use of one limit at the load. */
export type Aim = "speed" | "lean" | LimitName;

/** What a design does; null where the load has no equilibrium. */
export interface Outcome {
  safeSpeedMps: number;
  safeLateralG: number;
  /** what gives at the safe speed; null: the equilibrium ends, told in `endWords` */
  gives: LimitName | null;
  givesPart: string;
  /** at which wheel in the curve; null: at both, or the equilibrium ends */
  givesWheel: "outer" | "inner" | null;
  /** lean of the outer wheel at the load, ° */
  leanDeg: number | null;
  rollDeg: number | null;
  /** worst utilization of each limit at the load, shock in; absent where it does not apply */
  utilization: Partial<Record<LimitName, number>> | null;
  reachableMps: number;
  /** what the drive's hardest push does along the road, whatever the load; null: it does not push this axle */
  fullPush: FullPush | null;
}

export interface ChangeResult {
  change: Change;
  outcome: Outcome;
  /** against the design as it is; positive is better */
  buys: {
    speedMps: number;
    /** degrees of lean less (size), null without an equilibrium at the load */
    leanDeg: number | null;
    /** utilization less, per limit */
    utilization: Partial<Record<LimitName, number>>;
  };
  /** limits that held at the load before and give there now, cautions left out */
  breaks: LimitName[];
}

export interface Refusal {
  change: Change;
  reason: string;
}

/** How good a result is for an aim: larger is better. Ties in speed are broken by what the limits leave at the load. */
function worth(r: ChangeResult, aim: Aim): number {
  const spare = -worstOf(r.outcome, failuresOf(r.change.scenario));
  if (aim === "speed") return r.buys.speedMps + 1e-6 * spare;
  if (aim === "lean") return (r.buys.leanDeg ?? Number.NEGATIVE_INFINITY) + 1e-6 * spare;
  return (r.buys.utilization[aim] ?? 0) + 1e-6 * spare;
}

function worstOf(o: Outcome, failures: readonly LimitName[]): number {
  if (!o.utilization) return 100;
  return Math.max(0, ...failures.map((n) => o.utilization?.[n] ?? 0));
}

/** A limit that a change makes worse at the load; `is` null: the changed car finds no hold there. */
export interface Worsening {
  name: LimitName;
  was: number;
  is: number | null;
}

/** What gives first at the load and is asked for more by a change, or what held and gives with it; null: neither. */
export function worsening(r: Pick<ChangeResult, "change" | "outcome" | "breaks">, base: Outcome): Worsening | null {
  const { utilization: before } = base;
  if (!before) return null;
  const was = (n: LimitName): number => before[n] ?? 0;
  const first = failuresOf(r.change.scenario).reduce((a, b) => (was(b) > was(a) ? b : a));
  const after = r.outcome.utilization;
  if (!after) return { name: first, was: was(first), is: null };
  const is = (n: LimitName): number => after[n] ?? 0;
  // to the hundredth that is told
  if (is(first) >= 1 && Math.round(100 * is(first)) > Math.round(100 * was(first))) return { name: first, was: was(first), is: is(first) };
  const [breaks] = [...r.breaks].sort((a, b) => is(b) - is(a));
  return breaks === undefined ? null : { name: breaks, was: was(breaks), is: is(breaks) };
}

/** What a builder would not notice: of moves that buy as much the shortest is taken. m/s, °, share of what a part can take. */
const NO_ODDS = { speed: 0.015, lean: 0.05, limit: 0.005 } as const;

/** Of moves of one kind the one that buys most without making a limit give that held before; where none buys anything, the shortest. */
function bestMove(moves: readonly ChangeResult[], aim: Aim): ChangeResult {
  const whole = moves.filter((r) => r.breaks.length === 0);
  const open = whole.length > 0 ? whole : moves;
  const most = Math.max(...open.map((r) => worth(r, aim)));
  const even = NO_ODDS[aim === "speed" || aim === "lean" ? aim : "limit"];
  const holes = (r: ChangeResult): number => r.change.move?.holes ?? 0;
  return open
    .filter((r) => most <= even || worth(r, aim) >= most - even)
    .reduce((a, b) => (holes(b) < holes(a) || (holes(b) === holes(a) && worth(b, aim) > worth(a, aim)) ? b : a));
}

/** The list for an aim, best first; what makes worse what gives first stands behind all that does not. */
export function rankChanges(solved: readonly ChangeResult[], aim: Aim, base: Outcome): ChangeResult[] {
  const kinds = new Map<string, ChangeResult[]>();
  for (const r of solved) {
    const kind = r.change.move?.kind ?? r.change.id;
    const alike = kinds.get(kind);
    if (alike) alike.push(r);
    else kinds.set(kind, [r]);
  }
  // equal ones by name, so that the order does not hang on the order of the work
  return [...kinds.values()]
    .map((alike) => (alike.length > 1 ? bestMove(alike, aim) : alike[0]!))
    .map((r) => ({ r, behind: worsening(r, base) ? 1 : 0 }))
    .sort((a, b) => a.behind - b.behind || worth(b.r, aim) - worth(a.r, aim) || (a.r.change.id < b.r.change.id ? -1 : 1))
    .map(({ r }) => r);
}

/** What a change buys in the unit of the aim (m/s, °, share of what a part can take); null: no answer at the load. */
export const bought = (r: ChangeResult, aim: Aim): number | null =>
  aim === "speed" ? r.buys.speedMps : aim === "lean" ? r.buys.leanDeg : (r.buys.utilization[aim] ?? null);

/** Whether a builder would notice what a change buys. */
export const helps = (r: ChangeResult, aim: Aim): boolean => (bought(r, aim) ?? 0) > NO_ODDS[aim === "speed" || aim === "lean" ? aim : "limit"];

/** Refusals that say something: a way in which some number of holes is possible is none. */
export function shownRefusals(refused: readonly Refusal[], solved: readonly ChangeResult[]): Refusal[] {
  const possible = new Set(solved.map((r) => r.change.move?.kind));
  const out = new Map<string, Refusal>();
  for (const r of refused) {
    const { move, id } = r.change;
    if (!move) out.set(id, r);
    else if (!possible.has(move.kind)) {
      const kept = out.get(move.kind);
      if (!kept || move.holes < kept.change.move!.holes) out.set(move.kind, r);
    }
  }
  return [...out.values()];
}
