import type { Better, PairedTold } from "../core/doubt/paired.ts";
import { mpsToKmh } from "../core/units.ts";
import { chanceWords, sampledChanceWords } from "./doubt-words.ts";
import { signed } from "./format.ts";

/** Which of two designs is better, with the doubts that both share. */

export interface BetterLine {
  key: "safe" | "at" | "parts";
  /** one word: "surely B", "likely A", "not known"; empty where none is due */
  verdict: string;
  words: string;
}

/** from this chance on a thing is sure, or likely */
const SURE = 0.95;
const LIKELY = 0.75;

/** "surely B": by the chance of either to be better. */
export function verdictOf({ better, alike }: Better): string {
  const b = better.chance;
  const a = 1 - b - alike.chance;
  if (alike.chance >= SURE) return "alike";
  if (b >= SURE || a >= SURE) return `surely ${b >= a ? "B" : "A"}`;
  return b >= LIKELY || a >= LIKELY ? `likely ${b >= a ? "B" : "A"}` : "not known";
}

const alikeWords = ({ alike }: Better): string => (alike.chance > 0 ? `, alike in ${chanceWords(alike.chance)}` : "");

export function betterLines(t: PairedTold): BetterLine[] {
  const out: BetterLine[] = [];
  if (t.safe) {
    const [low, high] = [t.safe.differenceMps.low, t.safe.differenceMps.high].map((v) => signed(mpsToKmh(v), 1));
    out.push({
      key: "safe",
      verdict: verdictOf(t.safe),
      words: `B is safe at more speed with a chance of ${sampledChanceWords(t.safe.better)}${alikeWords(t.safe)}; 90 % range of what it changes ${low} to ${high} km/h.`,
    });
  }
  if (t.at)
    out.push({
      key: "at",
      verdict: verdictOf(t.at),
      words: `Under this load B's worst limit is used less with a chance of ${sampledChanceWords(t.at.better)}${alikeWords(t.at)}.`,
    });
  out.push({
    key: "parts",
    verdict: "",
    words: `${t.worlds} times both with the same parts where they have the same: ${t.shared} numbers are the same part in both, ${t.ownA} are A's alone, ${t.ownB} B's.`,
  });
  return out;
}
