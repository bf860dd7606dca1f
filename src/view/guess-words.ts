import { pathName, valueWords } from "../core/design/field-words.ts";
import { isPlain } from "../core/design/plain.ts";
import type { Corner } from "../core/design/types.ts";
import type { GuessEffect, GuessesReport, GuessOutcome } from "../core/studies/guesses.ts";
import { fixed, roomWords } from "./format.ts";
import { mapWords } from "./map/names.ts";
import { plusMinusWords } from "./origin-words.ts";

/** Which guesses matter, in words: for the page, the terminal and the report. */

/** so many are named */
const GUESSES_NAMED = 3;
/** a change below this share of what a limit holds is none, for what is told in whole per cent */
const HARDLY = 0.005;

const guessesCount = (count: number): string => `${count} ${count === 1 ? "guess" : "guesses"}`;
export const restsWords = (count: number): string => (count === 0 ? "rests on no guess" : `rests on ${guessesCount(count)}`);

interface GuessRow {
  path: string;
  /** "spring, rate of one spring" */
  name: string;
  /** what was tried: "\u00b1 0.24 N/mm" */
  step: string;
  /** what it does: "88 to 97 %" */
  effect: string;
  /** why the step is so large */
  why: string;
}

export interface GuessesTold {
  /** what gives first as it stands: "the hub lip at 92 %"; null: nothing can be told */
  now: string | null;
  rows: GuessRow[];
  /** what is said of the others, or instead of rows */
  rest: string;
}

const percent = (u: number): string => fixed(100 * Math.min(u, 99), 0);
const stands = (o: GuessOutcome): o is GuessOutcome & { gives: NonNullable<GuessOutcome["gives"]>; utilization: number } => o.gives !== null;

function stepWords({ path, step, outcomes }: GuessEffect): string {
  if (step.amount !== null) return plusMinusWords(path, step.amount);
  if (outcomes.some((o) => isPlain(o.value))) return "stiffness and strength";
  return `or ${outcomes.map((o) => valueWords(path, o.value)).join(", ")}`;
}

function effectWords(e: GuessEffect, base: NonNullable<GuessesReport["base"]>, corner: Corner): string {
  if (e.change === null) return "with one of both the car does not stand";
  const told = e.outcomes.filter(stands);
  const others = [...new Set(told.filter((o) => o.gives !== base.gives).map((o) => mapWords(o.gives, corner)))].map((w) => `then ${w.the} ${w.does} first`);
  const far = [base, ...told].flatMap((o) => (o.distanceMm === null ? [] : [o.distanceMm]));
  if (far.length > 0) return [`${roomWords(Math.min(...far))} at worst`, ...others].join(", ");
  const all = told.map((o) => o.utilization);
  const [low, high] = [Math.min(base.utilization, ...all), Math.max(base.utilization, ...all)].map(percent) as [string, string];
  return [low === high ? `${low} %` : `${low} to ${high} %`, ...others].join(", ");
}

/** The guesses that matter most, and what is to be said of the others. */
export function guessesTold(r: GuessesReport, corner: Corner): GuessesTold {
  if (r.count === 0) return { now: null, rows: [], rest: "Every value is entered or measured." };
  if (!r.base) return { now: null, rows: [], rest: "The car does not stand under this load, so what a guess changes cannot be told." };
  const { base } = r;
  const w = mapWords(base.gives, corner);
  const now = `${w.the} ${base.distanceMm === null ? `at ${percent(base.utilization)} %` : roomWords(base.distanceMm)}`;
  const matter = r.effects.filter((e) => e.change === null || e.change >= HARDLY);
  const rows = matter.slice(0, GUESSES_NAMED).map((e) => ({
    path: e.path,
    name: pathName(e.path),
    step: stepWords(e),
    effect: effectWords(e, base, corner),
    why: e.step.why,
  }));
  return { now, rows, rest: othersWords(r, matter.length) };
}

function othersWords(r: GuessesReport, matter: number): string {
  const hardly = r.effects.length - matter;
  const out: string[] = [];
  if (matter === 0 && hardly > 0) out.push("None of them changes it by a plausible step.");
  else if (hardly > 0) out.push(`${hardly} of the others ${hardly === 1 ? "hardly matters" : "hardly matter"}.`);
  if (r.unmoved.length > 0)
    out.push(`${guessesCount(r.unmoved.length)} ${r.unmoved.length === 1 ? "was" : "were"} not tried otherwise: a shape, a kind, or nothing at all.`);
  return out.join(" ");
}

/** The same as lines of a text: a sentence, and one line for each guess that matters. */
export function guessLines(r: GuessesReport, corner: Corner): string[] {
  const told = guessesTold(r, corner);
  const head = `The answer ${restsWords(r.count)}.`;
  if (told.now === null || told.rows.length === 0) return [`${head} ${told.rest}`.trim()];
  return [
    `${head} First gives ${told.now}; what one plausible step of each makes of it, the largest first:`,
    ...told.rows.map((row) => `${row.name} (${row.step}): ${row.effect}`),
    ...(told.rest === "" ? [] : [told.rest]),
  ];
}
