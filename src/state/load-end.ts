import { capital } from "../core/capital.ts";
import { alike } from "../core/design/alike.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import type { NoEquilibrium, NoEquilibriumKind } from "../core/equilibrium/state.ts";
import { type Answers, createAnswers } from "./answers.ts";
import type { Doc } from "./document.ts";
import type { Store } from "./store.ts";

/** Why a load has no answer; null: it has one. `beside`: it is only tried, and not what the page shows. */
export type WhyNot = (scenario: Scenario, load: Load, beside: boolean) => NoEquilibrium | null;

/** The last load that holds on the way to one that does not. */
export interface LoadEnd {
  scenario: Scenario;
  load: Load;
  /** what happens there, a few words: "the car slides here" */
  words: string;
  /** the same with its reason, a sentence */
  text: string;
}

export interface LoadStop {
  load: Load;
  /** set where the wanted load does not hold */
  end: LoadEnd | null;
}

const HAPPENS: Record<NoEquilibriumKind, string> = {
  slides: "the car slides here",
  tips: "the car tips here",
  buckles: "an arm buckles here",
  locks: "the arms lock here",
  springOutOfReach: "the spring is out of reach here",
  unstable: "the axle gives way here",
  laidOver: "a wheel lies over here",
  unsettled: "no answer is found past here",
  stopped: "no answer is found past here",
  cannotBeBuilt: "this cannot be built",
};

/** what can end the car's hold; a push along the road cannot */
type Part = "lateralG" | "bumpLeftMm" | "bumpRightMm";
const PARTS: readonly Part[] = ["lateralG", "bumpLeftMm", "bumpRightMm"];
/** grain of a load that stops at its end */
const PER_UNIT: Record<Part, number> = { lateralG: 100, bumpLeftMm: 2, bumpRightMm: 2 };

const lowered = (s: string): string => s.charAt(0).toLowerCase() + s.slice(1);

function endOf(scenario: Scenario, load: Load, reason: NoEquilibrium): LoadEnd {
  const words = HAPPENS[reason.kind];
  return { scenario, load, words, text: `${capital(words)}: ${lowered(reason.message.replace(/\.$/, ""))}.` };
}

/**
 * Loads that the hand asks for, stopped at the last one that holds. The end is found once on each way; what lies further that way ends
 * there too. A load is given back as it is where not even its rest holds: there is nothing to stop at.
 */
export function createLoadEnds(why: WhyNot): (scenario: Scenario, from: Load, wanted: Load) => LoadStop {
  let known: { part: Part; sign: number; beyond: number; end: LoadEnd } | null = null;

  return (scenario, from, wanted) => {
    const part = PARTS.find((p) => from[p] !== wanted[p]) ?? "lateralG";
    const sign = Math.sign(wanted[part]);
    const size = Math.abs(wanted[part]);
    if (known && known.end.scenario === scenario && known.part === part && known.sign === sign && alike({ ...known.end.load, [part]: wanted[part] }, wanted))
      if (size >= known.beyond) return { load: known.end.load, end: known.end };
    const reason = why(scenario, wanted, false);
    // what is still searched for may hold
    if (!reason || reason.kind === "stopped") return { load: wanted, end: null };

    const per = PER_UNIT[part];
    const at = (steps: number): Load => ({ ...wanted, [part]: (sign * steps) / per + 0 });
    const holds = (steps: number): boolean => why(scenario, at(steps), true) === null;
    // the search up the load tells nearly where it ends
    let steps = Math.min(Math.floor(Math.abs(reason.atLoad[part]) * per + 1e-6), Math.ceil(size * per) - 1);
    let back = 1;
    while (steps > 0 && !holds(steps)) {
      steps = Math.max(0, steps - back);
      back *= 2;
    }
    if (steps <= 0 && !holds(0)) return { load: wanted, end: null };
    const end = endOf(scenario, at(Math.max(0, steps)), reason);
    known = { part, sign, beyond: (Math.max(0, steps) + 1) / per, end };
    return { load: end.load, end };
  };
}

/** A document as far as its load holds, and what ends it there; what changes more than the load is given back as it is. */
export type WithinHold = (from: Doc, wanted: Doc) => { doc: Doc; end: LoadEnd | null };

/** @param answers the page's own, which have the wanted load ready when it holds */
export function createWithinHold(answers: Answers, radiusM: () => number): WithinHold {
  const tried = createAnswers(false, radiusM);
  const ends = createLoadEnds((scenario, load, beside) => {
    const { analysis } = (beside ? tried : answers).at(scenario, load, "hand");
    return analysis.ok ? null : analysis.reason;
  });
  return (from, wanted) => {
    if (wanted.a !== from.a || alike(wanted.load, from.load)) return { doc: wanted, end: null };
    const { load, end } = ends(wanted.a, from.load, wanted.load);
    return { doc: end ? { ...wanted, load } : wanted, end };
  };
}

/** A load is being pulled, let go, put back, or changed by a key. */
export type LoadPhase = "move" | "end" | "cancel" | "key";

export interface LoadPull {
  /** keys of one kind in quick succession make one entry of the history */
  kind: string;
  name(doc: Doc): string;
  change(doc: Doc): Doc;
  phase: LoadPhase;
}

/** Changes the load as far as it holds; gives back what ended it there, null: nothing did. */
export function pullLoad(store: Store, within: WithinHold, { kind, name, change, phase }: LoadPull): LoadEnd | null {
  if (phase === "cancel") {
    store.cancel();
    return null;
  }
  const from = store.settled();
  const { doc, end } = within(from, change(from));
  if (phase === "key") {
    if (!alike(doc, from)) store.actMerged(kind, name(doc), () => doc);
    return end;
  }
  store.preview(doc);
  if (phase === "end") store.commit(name(doc));
  return end;
}
