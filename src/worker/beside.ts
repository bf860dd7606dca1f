import type { Analysis, AxleReport } from "../core/analysis.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import type { NoEquilibrium } from "../core/equilibrium/state.ts";
import { createAnswers } from "../state/answers.ts";
import { type Delta, withDelta } from "../state/delta.ts";

/** Both designs as what changed since the request before, the load, and whether B is asked for too. */
export interface BesideRequest {
  a: Delta | null;
  b: Delta | null;
  load: Load;
  /** curve whose speed goes with the cornering, m */
  radiusM: number;
  withB: boolean;
}

/** A without its pose, which the page has worked out by itself; B whole, or null where it was not asked for. */
export interface BesideAnswer {
  a: { ok: true; report: AxleReport } | { ok: false; reason: NoEquilibrium };
  b: Analysis | null;
}

let radiusM = 0;
const answers = { a: createAnswers(false, () => radiusM), b: createAnswers(true, () => radiusM) };
const held: Record<"a" | "b", Scenario | null> = { a: null, b: null };

function taken(which: "a" | "b", delta: Delta | null): Scenario {
  // a fresh worker holds nothing that a change could be put on
  if (held[which] === null && !(delta && "is" in delta)) throw new Error(`design ${which} was never told`);
  const scenario = withDelta(held[which], delta) as Scenario;
  held[which] = scenario;
  return scenario;
}

/** What is told beside the drawing while a hand drags, both designs under one load. Throws when a change comes before its design. */
export function besideOf(r: BesideRequest): BesideAnswer {
  radiusM = r.radiusM;
  const [a, b] = [taken("a", r.a), taken("b", r.b)];
  const { analysis } = answers.a.at(a, r.load, "live");
  return {
    a: analysis.ok ? { ok: true, report: analysis.report } : analysis,
    b: r.withB ? answers.b.at(b, r.load, "live").analysis : null,
  };
}
