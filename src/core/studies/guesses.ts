import type { Analysis, LimitName } from "../analysis.ts";
import { analyze } from "../analyze.ts";
import { cannotStand } from "../cannot-stand.ts";
import { checkScenario } from "../design/check.ts";
import { splitPath, withValueAt } from "../design/field-path.ts";
import { guesses, homeOf } from "../design/origins.ts";
import { type Load, type Scenario, SIDES } from "../design/types.ts";
import { type Allowed, type GuessStep, guessStep } from "./guess-steps.ts";

/**
 * Which guesses matter most for an answer: each is moved by one plausible step by itself, down and up, everything is solved again from
 * nothing, and what gives first is read again. One at a time: guesses that only act together are not seen.
 */

/** What gives first with a guess at another value. */
export interface GuessOutcome {
  value: unknown;
  /** null: so the car does not stand */
  gives: LimitName | null;
  utilization: number | null;
  /** where what gives first is told by a distance, mm */
  distanceMm: number | null;
}

export interface GuessEffect {
  path: string;
  step: Pick<GuessStep, "amount" | "why">;
  outcomes: GuessOutcome[];
  /** largest change of the load of what gives first over what it can take, either way; null: with one of its steps the car does not stand */
  change: number | null;
}

export interface GuessesReport {
  /** guesses that the answer rests on */
  count: number;
  /** null: the car does not stand as it is, and nothing can be told */
  base: { gives: LimitName; utilization: number; distanceMm: number | null } | null;
  /** those that were moved, what matters most first */
  effects: GuessEffect[];
  /** those without a plausible step: kinds, shapes, none of something, and what cannot be otherwise beside the other values */
  unmoved: string[];
}

/** values that ask instead of telling: nobody's car hangs on them */
const ASKED = /^(loadCases|tracks)\[/;

/** The guesses that an answer rests on: not what is asked of it, and no shared value that both sides have of their own. */
export function restsOn(s: Scenario): string[] {
  return guesses(s).filter((path) => {
    if (ASKED.test(path)) return false;
    if (!path.startsWith("corner.")) return true;
    return SIDES.some((side) => homeOf(s, side, path.slice("corner.".length)) === path);
  });
}

/** The scenario with another value at the path of a guess. */
const withGuess = (s: Scenario, path: string, value: unknown): Scenario => withValueAt(s, splitPath(path), value);

export interface GuessesOptions {
  /** curve whose speed goes with the cornering, m */
  radiusM?: number;
  allowed: Allowed;
}

/** what is not asked of a guess: what the lean is made of, and how sharp it is */
const BARE = { bands: false, stiffer: false, byPart: false } as const;

function outcomeOf(s: Scenario, value: unknown, load: Load, radiusM?: number): GuessOutcome {
  const answer: Analysis | null = cannotStand(s) === null ? analyze(s, load, { ...BARE, ...(radiusM === undefined ? {} : { radiusM }) }) : null;
  if (!answer?.ok) return { value, gives: null, utilization: null, distanceMm: null };
  const { name, utilization, place } = answer.report.firstToGive;
  return { value, gives: name, utilization, distanceMm: place?.distanceMm ?? null };
}

/** Weighs every guess by solving again; yields the share that is done. Two solutions for each guess. */
export function* weighGuesses(s: Scenario, load: Load, options: GuessesOptions): Generator<number, GuessesReport> {
  const paths = restsOn(s);
  const none: GuessesReport = { count: paths.length, base: null, effects: [], unmoved: [] };
  if (paths.length === 0) return none;
  const now = outcomeOf(s, null, load, options.radiusM);
  if (now.gives === null || now.utilization === null) return none;
  const effects: GuessEffect[] = [];
  const unmoved: string[] = [];
  for (const [i, path] of paths.entries()) {
    yield i / paths.length;
    const step = guessStep(s, path, options.allowed);
    const tries = (step?.values ?? []).map((value) => ({ value, scenario: withGuess(s, path, value) })).filter((t) => checkScenario(t.scenario).length === 0);
    if (!step || tries.length === 0) {
      unmoved.push(path);
      continue;
    }
    const outcomes = tries.map((t) => outcomeOf(t.scenario, t.value, load, options.radiusM));
    effects.push({ path, step: { amount: step.amount, why: step.why }, outcomes, change: changeOf(outcomes, now.utilization) });
  }
  effects.sort((a, b) => size(b) - size(a));
  return { count: paths.length, base: { gives: now.gives, utilization: now.utilization, distanceMm: now.distanceMm }, effects, unmoved };
}

/** for the order: a car that does not stand comes before any change */
const size = ({ change }: GuessEffect): number => change ?? Number.MAX_VALUE;

function changeOf(outcomes: readonly GuessOutcome[], base: number): number | null {
  if (outcomes.some((o) => o.utilization === null)) return null;
  return Math.max(...outcomes.map((o) => Math.abs((o.utilization as number) - base)));
}
