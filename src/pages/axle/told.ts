import type { AxleReport } from "../../core/analysis.ts";
import type { Scenario } from "../../core/design/types.ts";
import { cornersOf, type Depth } from "../../state/answers.ts";
import type { State } from "../../state/store.ts";
import { type LimitWhy, limitWhy, worstOf } from "../../view/load-path.ts";
import { stairByPart } from "../../view/reading.ts";
import type { MomentAnswers } from "./answers-beside.ts";

/** What a frame takes out of the view and of an answer. */

/** The hand sees the lean by part and the tightest place only where they are drawn. */
export const handDepth = (s: State): Depth => (s.view.show.leanByPart || s.view.show.fit ? "live" : "hand");

export const reportOf = (shown: MomentAnswers | null): AxleReport | null => (shown?.a.ok ? shown.a.report : null);

export function whyOf(report: AxleReport, name: string | null, scenario: Scenario): LimitWhy | null {
  const l = worstOf(report.limits, name);
  return l ? limitWhy(l, cornersOf(scenario)[l.wheel === "left" ? "left" : "right"]) : null;
}

export function leanSteps(report: AxleReport, side: "left" | "right"): { key: string; deg: number }[] {
  return stairByPart(report, side).steps.map((s) => ({ key: s.key, deg: s.deg }));
}
