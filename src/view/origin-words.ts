import { fieldName, pathName, valueWords } from "../core/design/field-words.ts";
import type { Origin } from "../core/design/types.ts";

/** How a value is known, in words. */

export type How = Origin["how"];
export const HOWS: readonly How[] = ["guess", "entered", "measured"];
export const howOf = (o: Origin | undefined): How => o?.how ?? "entered";

/** How what a row of a panel sets is known. */
export interface Known {
  /** of the value in the file, or of the first of several that are set at once */
  path: string;
  how: How;
  origin: Origin | undefined;
  /** the sides' values are not known alike */
  differ: boolean;
  isNumber: boolean;
}

/** Shapes of the marks, so that none is told by its colour alone. */
export const MARK_SIGNS: Readonly<Record<How, string>> = { guess: "?", entered: "\u00b7", measured: "\u00b1" };

/** A \u00b1 as a list shows it, with its unit: "\u00b1 0.24 N/mm", shares in per cent. */
export function plusMinusWords(path: string, amount: number): string {
  const f = fieldName(path);
  const told = valueWords(path, amount);
  return `\u00b1 ${told}${f && f.unit !== "" ? ` ${f.unit}` : ""}`;
}

/** "guess, \u00b1 0.3 N/mm: spring, soft and long", "measured on 2026-11-20", "entered" */
export function originWords(path: string, o: Origin | undefined): string {
  if (!o) return "entered";
  const sure = o.plusMinus === undefined ? "" : `, ${plusMinusWords(path, o.plusMinus)}`;
  const day = o.date ? `${o.how === "measured" ? " on " : ", "}${o.date}` : "";
  return `${o.how}${day}${sure}${o.note ? `: ${o.note}` : ""}`;
}

const BECOMES: Readonly<Record<How, string>> = { guess: "is a guess", entered: "is entered", measured: "was measured" };

/** "spring, rate of one spring is a guess": a change's name for undo. */
export const knownName = (path: string, how: How): string => `${pathName(path)} ${BECOMES[how]}`;

/** The first of these values that is a guess, else the first that is known in some way. */
export function leastKnown(paths: readonly string[], origins: Readonly<Record<string, Origin>>): [path: string, origin: Origin | undefined] {
  const path = paths.find((p) => origins[p]?.how === "guess") ?? paths.find((p) => origins[p]) ?? paths[0]!;
  return [path, origins[path]];
}
