import type { Scenario } from "../core/design/types.ts";
import { CAPS } from "./caps.ts";
import { isDay, type OriginProblem } from "./check-origins.ts";
import { shownValue } from "./words.ts";

/** What is wrong with the bench tests and runs of a scenario whose fields are in range: days that are none, more cells than a file holds. */
export function checkBench(s: Scenario): OriginProblem[] {
  const days = [...s.bench.map((t, i) => [`bench[${i}].date`, t.date] as const), ...s.runs.map((r, i) => [`runs[${i}].date`, r.date] as const)];
  const problems = days.flatMap(([path, date]): OriginProblem[] => {
    const allowed = "a day as 2026-11-26";
    return date === null || isDay(date) ? [] : [{ path, value: date, allowed, words: `${path} is ${shownValue(date, "")}; allowed ${allowed}` }];
  });
  const cells = s.bench.reduce((sum, t) => sum + t.rows.reduce((n, row) => n + Math.max(1, row.length), 0), 0);
  if (cells > CAPS.benchCells) {
    const allowed = `up to ${CAPS.benchCells} cells in all tables together`;
    problems.push({ path: "bench", value: cells, allowed, words: `bench holds ${cells} cells; allowed ${allowed}` });
  }
  s.bench.forEach((t, i) => {
    const names = Object.keys(t.setUp).length;
    if (names > CAPS.benchSettings) {
      const allowed = `up to ${CAPS.benchSettings} settings`;
      problems.push({ path: `bench[${i}].setUp`, value: names, allowed, words: `bench[${i}].setUp holds ${names} settings; allowed ${allowed}` });
    }
  });
  return problems;
}
