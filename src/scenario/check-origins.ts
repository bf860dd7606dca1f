import { joinPath, splitPath } from "../core/design/field-path.ts";
import { fieldValue } from "../core/design/origins.ts";
import type { Scenario } from "../core/design/types.ts";
import { CAPS } from "./caps.ts";
import { keysAt } from "./lookup.ts";
import { rangeOf } from "./ranges.ts";
import { scenarioSchema } from "./schema.ts";
import { nearest, shownText, shownValue } from "./words.ts";

/** Something wrong with how a value is told to be known. */
export interface OriginProblem {
  path: string;
  value: unknown;
  allowed: string;
  /** the sentence without the file's name and the full stop */
  words: string;
}

/** A day of the calendar as it is written in a file. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return false;
  const at = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(at.getTime()) && at.toISOString().startsWith(text);
}

/**
 * What is wrong with the origins of a scenario whose fields are in range: paths of no value, a ± of what is no number or wider than its field, a day that is none.
 * @param paths those of the file
 */
export function checkOrigins(s: Scenario, paths: readonly string[]): OriginProblem[] {
  const entries = Object.entries(s.origins);
  // a name that every object has is no key of what was read
  const lost = paths.find((path) => !Object.hasOwn(s.origins, path));
  if (lost !== undefined) return [noField(s, lost)];
  if (entries.length > CAPS.origins) {
    const allowed = `up to ${CAPS.origins} values`;
    return [{ path: "origins", value: undefined, allowed, words: `origins tells of ${entries.length} values; allowed ${allowed}` }];
  }
  return entries.flatMap(([path, { plusMinus, date, together = {} }]) => {
    const value = fieldValue(s, path);
    if (value === undefined) return [noField(s, path)];
    const problems: OriginProblem[] = [];
    const others = Object.keys(together).length;
    if (others > CAPS.together) {
      const allowed = `up to ${CAPS.together} values`;
      problems.push({ path: `origins.${path}.together`, value: others, allowed, words: `${path} is correlated with ${others} values; allowed ${allowed}` });
    }
    if (plusMinus !== undefined) {
      const range = typeof value === "number" ? rangeOf(path, s) : undefined;
      const most = range ? range.max - range.min : 0;
      const unit = range?.unit ?? "";
      const allowed = range ? `0 to ${most}${unit === "" ? "" : ` ${unit}`}` : "none, since it is no number";
      if (!range || plusMinus > most)
        problems.push({
          path: `origins.${path}.plusMinus`,
          value: plusMinus,
          allowed,
          words: `the ± of ${path} is ${shownValue(plusMinus, unit)}; allowed ${allowed}`,
        });
    }
    if (date !== undefined && !isDay(date)) {
      const allowed = "a day as 2026-11-26";
      problems.push({ path: `origins.${path}.date`, value: date, allowed, words: `the date of ${path} is ${shownValue(date, "")}; allowed ${allowed}` });
    }
    return problems;
  });
}

/** The path is told as far as it leads, with the nearest field that stands there. */
function noField(s: Scenario, path: string): OriginProblem {
  const steps = splitPath(path);
  const last = String(steps.at(-1) ?? "");
  const keys = keysAt(scenarioSchema, steps.slice(0, -1), s).filter((key) => fieldValue(s, joinPath([...steps.slice(0, -1), key])) !== undefined);
  const near = nearest(last, keys);
  const allowed = near === undefined ? "the path of a value of this design" : joinPath([...steps.slice(0, -1), near]);
  const words = `origins tells of ${shownText(path)}, which is no value of this design${near === undefined ? "" : `; the nearest one is ${allowed}`}`;
  return { path: "origins", value: path, allowed, words };
}
