import { LIMIT_NAMES, type LimitName } from "../../../core/analysis.ts";
import { capital } from "../../../core/capital.ts";
import type { Scenario } from "../../../core/design/types.ts";
import { fitDistance } from "../../../core/limits/fit.ts";
import { failuresOf, isDistance } from "../../../core/limits/records.ts";
import { type Aim, bought, type ChangeResult, helps, type Outcome, worsening } from "../../../core/studies/rank-changes.ts";
import { mpsToKmh } from "../../../core/units.ts";
import { degrees, fixed, roomWords } from "../../../view/format.ts";
import { mapWords } from "../../../view/map/names.ts";

export interface ChangeRow {
  id: string;
  title: string;
  /** what it costs in a word, and told out */
  kind: string;
  cost: string;
  /** what else it does, and what gives after it */
  next: string;
  /** what it buys in the unit of the aim, positive is better; null: no answer at this load */
  buys: number | null;
  /** said at once: what gives first and is made worse; empty where nothing is */
  worse: string;
  /** enough to be noticed */
  helps: boolean;
  /** where it leads: "to 1.9°" */
  words: string;
  scenario: Scenario;
}

export const aimOf = (text: string): Aim => (text === "lean" || LIMIT_NAMES.includes(text as LimitName) ? (text as Aim) : "speed");

/** Aims worth a choice: speed, lean, each limit that is near at this load, and the chosen one. */
export function aimsOf(scenario: Scenario, used: Partial<Record<LimitName, number>> | null, chosen: Aim): { key: Aim; words: string }[] {
  const near = LIMIT_NAMES.filter((n) => n === chosen || (used?.[n] ?? 0) >= 0.3).sort((a, b) => (used?.[b] ?? 0) - (used?.[a] ?? 0));
  return [
    { key: "speed", words: "more safe speed" },
    { key: "lean", words: "less lean" },
    ...near.map((n) => ({ key: n as Aim, words: `more margin: ${mapWords(n, scenario.corner).line}` })),
  ];
}

/** Where the design stands now, in the unit of the numbers beside the bars. */
export function aimNow(aim: Aim, base: Outcome | null, scenario: Scenario, radius: string, g: string): string {
  if (aim === "speed") return base ? `Now safe on ${radius} m up to ${fixed(mpsToKmh(base.safeSpeedMps), 1)} km/h.` : "";
  if (!base) return "";
  if (aim === "lean") return base.leanDeg === null ? `No hold at ${g} g as it is.` : `The outer wheel now leans ${degrees(base.leanDeg)} at ${g} g.`;
  const share = base.utilization?.[aim];
  return share === undefined
    ? ""
    : `${capital(mapWords(aim, scenario.corner).line)}: now ${useWords(aim, share, scenario)}${isDistance(aim) ? "" : " of what it can take"}, at ${g} g.`;
}

/** How far a limit is used: a share of what it can take, or for what is told by a distance the room that is left. */
const useWords = (name: LimitName, share: number, s: Scenario): string =>
  isDistance(name) ? roomWords(fitDistance(name === "fit" ? s.fit.clearanceMm : 0, share)) : fixed(share, 2);

/** The same place told of a changed design. */
function leadsTo(o: Outcome, aim: Aim, changed: Scenario): string | null {
  if (aim === "speed") return fixed(mpsToKmh(o.safeSpeedMps), 1);
  if (aim === "lean") return o.leanDeg === null ? null : degrees(o.leanDeg);
  const share = o.utilization?.[aim];
  return share === undefined ? null : useWords(aim, share, changed);
}

/** What a change does besides its aim: to speed or lean, and to what is worst at the load. */
function besides(r: ChangeResult, aim: Aim, base: Outcome, changed: Scenario, g: string): string {
  const { outcome } = r;
  const out: string[] = [];
  const kmh = (o: Outcome): string => fixed(mpsToKmh(o.safeSpeedMps), 1);
  if (aim !== "speed") out.push(kmh(outcome) === kmh(base) ? "as fast as before" : `safe up to ${kmh(outcome)} km/h instead of ${kmh(base)}`);
  if (aim !== "lean" && outcome.leanDeg !== null && base.leanDeg !== null && degrees(outcome.leanDeg) !== degrees(base.leanDeg))
    out.push(`outer wheel leans ${degrees(outcome.leanDeg)} instead of ${degrees(base.leanDeg)}`);
  out.push(...alongRoad(outcome, base));
  if (outcome.gives !== null && outcome.gives !== base.gives) out.push(`first to give then: ${mapWords(outcome.gives, changed.corner).line}`);
  else if (slower(outcome, base)) out.push(...whySlower(outcome, base, changed));
  const used = outcome.utilization;
  const worst = used && failuresOf(changed).reduce((a, b) => ((used[b] ?? 0) > (used[a] ?? 0) ? b : a));
  if (used && worst && worst !== aim && worst !== worsening(r, base)?.name && (used[worst] ?? 0) >= 1) {
    const is = useWords(worst, used[worst] ?? 0, changed);
    const was = useWords(worst, base.utilization?.[worst] ?? 0, changed);
    const { part, does } = mapWords(worst, changed.corner);
    out.push(`${part} ${does} at ${g} g${is === was ? " as before" : `: ${is} instead of ${was}${isDistance(worst) ? "" : " of what it can take"}`}`);
  }
  const room = used?.fit;
  if (room !== undefined && room >= 1 && worst !== "fit" && (base.utilization?.fit ?? 0) < 1) out.push(`near the body: ${useWords("fit", room, changed)}`);
  return out.join("; ");
}

/** A shift of the wheel along the road that is worth a word: by so much, and by such a share, mm. */
const SHIFT = { mm: 0.1, share: 0.2 };

/** What a change gives up, or wins, where the drive pushes. */
function alongRoad(o: Outcome, base: Outcome): string[] {
  if (!o.fullPush || !base.fullPush) return [];
  const [is, was] = [Math.abs(o.fullPush.wheelShiftMm), Math.abs(base.fullPush.wheelShiftMm)];
  if (Math.abs(is - was) < Math.max(SHIFT.mm, SHIFT.share * was)) return [];
  return [`the wheel shifts ${fixed(is, 1)} instead of ${fixed(was, 1)} mm along the road at full push`];
}

/** A loss of speed that shows in the told number, km/h. */
const SLOWER_KMH = 0.05;
const slower = (o: Outcome, base: Outcome): boolean => mpsToKmh(base.safeSpeedMps - o.safeSpeedMps) >= SLOWER_KMH;

/** Why the safe speed falls though the same part gives: the other wheel's turn, or a wheel that stands straighter. */
function whySlower(outcome: Outcome, base: Outcome, changed: Scenario): string[] {
  if (outcome.gives === null || outcome.givesWheel === null) return [];
  const { part } = mapWords(outcome.gives, changed.corner);
  if (outcome.givesWheel !== base.givesWheel) return [`the ${outcome.givesWheel} wheel's ${part} gives first then, and sooner`];
  if (outcome.gives === "hubRetention" && outcome.givesWheel === "outer" && Math.abs(base.leanDeg ?? 0) - Math.abs(outcome.leanDeg ?? 90) > 0.05)
    return ["a wheel that leans less stands less on its outer edge, which eased its hub"];
  return [];
}

/** What a row says at once: what it makes worse that gives at the load. */
function worseWords(r: ChangeResult, base: Outcome, changed: Scenario, g: string): string {
  const w = worsening(r, base);
  if (!w) return "";
  if (w.is === null) return `no hold at ${g} g`;
  const { part, the, does } = mapWords(w.name, changed.corner);
  const change = `${useWords(w.name, w.is, changed)} instead of ${useWords(w.name, w.was, changed)}`;
  return w.was >= 1 ? `worse for ${the}, ${change}` : `then ${part} ${does}, ${change}`;
}

export function changeRow(r: ChangeResult, aim: Aim, base: Outcome, g: string): ChangeRow {
  const buys = aim === "speed" ? mpsToKmh(r.buys.speedMps) : bought(r, aim);
  const to = leadsTo(r.outcome, aim, r.change.scenario);
  return {
    id: r.change.move?.kind ?? r.change.id,
    // "1 in" and "30 %" are not torn apart at the end of a line
    title: capital(r.change.title).replace(/(\d) (in$|out$|%)/, "$1\u00a0$2"),
    kind: r.change.costKind,
    cost: r.change.cost,
    next: besides(r, aim, base, r.change.scenario, g),
    buys,
    worse: worseWords(r, base, r.change.scenario, g),
    helps: helps(r, aim),
    words: to === null ? "no hold" : `to ${to}`,
    scenario: r.change.scenario,
  };
}

/** What is too little to be worth a long bar, in the unit of the aim. */
const LITTLE: Record<"speed" | "lean" | "limit", number> = { speed: 0.5, lean: 0.2, limit: 0.05 };
export const littleOf = (aim: Aim): number => LITTLE[aim === "speed" || aim === "lean" ? aim : "limit"];

/** Most that are shown before all are asked for. */
const SHOWN_FIRST = 6;

/** The rows that help, the best of them; none where the best makes worse what gives first. */
export function shownFirst(rows: readonly ChangeRow[]): readonly ChangeRow[] {
  const good = rows.filter((r) => r.helps);
  return good[0]?.worse === "" ? good.slice(0, SHOWN_FIRST) : [];
}

/** Said where nothing is shown first; empty where something is. */
export function noHelp(rows: readonly ChangeRow[]): string {
  if (rows.length === 0 || shownFirst(rows).length > 0) return "";
  return rows.some((r) => r.helps) ? "No single change helps here without making worse what gives first." : "No single change on the list helps here.";
}

/** Left and right end of each bar as a share of the width, about a common zero. */
export function barScale(rows: readonly ChangeRow[], little: number): { zero: number; at: (v: number) => number } {
  const most = Math.max(little, ...rows.map((r) => r.buys ?? 0));
  const least = Math.min(0, ...rows.map((r) => r.buys ?? 0));
  // what is lost may be much: it gets at most a third of the width
  const low = Math.max(least, -0.5 * most);
  const span = most - low;
  return { zero: -low / span, at: (v) => (Math.max(low, Math.min(most, v)) - low) / span };
}
