import { LIMIT_NAMES, type LimitName } from "../../core/analysis.ts";
import type { Scenario } from "../../core/design/types.ts";
import type { Aim, ChangeResult } from "../../core/studies/changes.ts";
import { mpsToKmh } from "../../core/units.ts";
import { signed } from "../format.ts";
import { mapWords } from "./names.ts";

export interface ChangeRow {
  id: string;
  title: string;
  /** what it costs in a word, and told out */
  kind: string;
  cost: string;
  /** what gives after it */
  next: string;
  /** what it buys in the unit of the aim, positive is better; null: no answer at this load */
  buys: number | null;
  words: string;
  scenario: Scenario;
}

export const aimOf = (text: string): Aim => (text === "lean" || LIMIT_NAMES.includes(text as LimitName) ? (text as Aim) : "speed");

/** Aims worth a choice: speed, lean, and each limit that is near at this load. */
export function aimsOf(scenario: Scenario, used: Partial<Record<LimitName, number>> | null): { key: Aim; words: string }[] {
  const near = LIMIT_NAMES.filter((n) => (used?.[n] ?? 0) >= 0.3).sort((a, b) => (used?.[b] ?? 0) - (used?.[a] ?? 0));
  return [
    { key: "speed", words: "safe speed" },
    { key: "lean", words: "less lean" },
    ...near.map((n) => ({ key: n as Aim, words: `margin: ${mapWords(n, scenario.corner).line}` })),
  ];
}

/** What the numbers beside the bars are. */
export function aimUnit(aim: Aim, radius: string, g: string): string {
  if (aim === "speed") return `safe speed at ${radius} m, km/h`;
  if (aim === "lean") return `lean less at ${g} g, degrees`;
  return `share of what it can take, at ${g} g`;
}

export function changeRow(r: ChangeResult, aim: Aim, scenario: Scenario): ChangeRow {
  const buys = aim === "speed" ? mpsToKmh(r.buys.speedMps) : aim === "lean" ? r.buys.leanDeg : (r.buys.utilization[aim] ?? null);
  const gives = r.outcome.gives;
  return {
    id: r.change.id,
    title: r.change.title.charAt(0).toUpperCase() + r.change.title.slice(1),
    kind: r.change.costKind,
    cost: r.change.cost,
    next: gives ? `then ${mapWords(gives, scenario.corner).line}` : "",
    buys,
    words: buys === null ? "no hold" : signed(buys, aim === "speed" || aim === "lean" ? 1 : 2),
    scenario: r.change.scenario,
  };
}

/** What is too little to be worth a long bar, in the unit of the aim. */
const LITTLE: Record<"speed" | "lean" | "limit", number> = { speed: 0.5, lean: 0.2, limit: 0.05 };
export const littleOf = (aim: Aim): number => LITTLE[aim === "speed" || aim === "lean" ? aim : "limit"];

/** Said where nothing on the list helps; empty where something does. */
export const noHelp = (rows: readonly ChangeRow[], aim: Aim): string =>
  rows.length > 0 && rows.every((r) => (r.buys ?? 0) < littleOf(aim) / 10) ? "No single change on the list helps here." : "";

/** Left and right end of each bar as a share of the width, about a common zero. */
export function barScale(rows: readonly ChangeRow[], little: number): { zero: number; at: (v: number) => number } {
  const most = Math.max(little, ...rows.map((r) => r.buys ?? 0));
  const least = Math.min(0, ...rows.map((r) => r.buys ?? 0));
  // what is lost may be much: it gets at most a third of the width
  const low = Math.max(least, -0.5 * most);
  const span = most - low;
  return { zero: -low / span, at: (v) => (Math.max(low, Math.min(most, v)) - low) / span };
}
