import { readFileSync } from "node:fs";
import { type AnswerKey, type Answers, isChoice } from "../../src/scenario/own-car/answers.ts";

/** Three made-up cars as a builder notes them on paper: words and a drawing, and below them what was measured, one answer a line. */
export type Sheet = "pins-and-weight" | "small-all-told" | "large-on-forks";

const sheetText = (name: Sheet): string => readFileSync(new URL(`../scenario/own-car/sheets/${name}.txt`, import.meta.url), "utf8");

export function answersOn(name: Sheet): Answers {
  const lines = [...sheetText(name).matchAll(/^([\w.]+) = (\S+)$/gm)];
  return Object.fromEntries(lines.map(([, key, value]) => [key, isChoice(key as AnswerKey) ? value : Number(value)])) as Answers;
}
