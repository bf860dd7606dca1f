import { alike } from "../../core/design/alike.ts";
import { guesses } from "../../core/design/origins.ts";
import { cornerOf } from "../../core/design/sides.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import { type GuessesReport, restsOn } from "../../core/studies/guesses.ts";
import { carId } from "../../state/car-id.ts";
import type { Store } from "../../state/store.ts";
import { guessesTold } from "../../view/guess-words.ts";
import type { PartName } from "../../view/pick.ts";
import { connectGuesses } from "../../worker/guesses-client.ts";
import { createKnownPanel } from "./panels/known-panel.ts";
import { whenQuiet } from "./when-quiet.ts";

export interface KnownHooks {
  store: Store;
  /** the column that it stands in */
  reading: HTMLElement;
  radiusM(): number;
  /** whether the axle's sheet is seen */
  seen(): boolean;
  /** shows where it is told how a value is known */
  open(path: string, part: PartName): void;
}

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 400;

interface Question {
  scenario: Scenario;
  load: Load;
  radiusM: number;
}

/** The same car, its values known alike, under the same load: the same guesses matter. */
const same = (a: Question, b: Question): boolean =>
  a.radiusM === b.radiusM && alike(a.load, b.load) && carId(a.scenario) === carId(b.scenario) && alike(a.scenario.origins, b.scenario.origins);

/** On how many guesses the answer rests, and which of them matter; those are weighed beside the page when the hand rests. */
export function createKnown(hooks: KnownHooks): void {
  const { store } = hooks;
  const panel = createKnownPanel(hooks.reading, hooks.open);
  let asked: Question | null = null;
  let answered: { of: Question; report: GuessesReport } | null = null;
  let count = 0;
  const client = connectGuesses((key, report) => {
    if (key !== String(count) || !asked) return;
    answered = { of: asked, report };
    write();
  });
  client.watch(panel.stopped);

  const now = (): Question => {
    const { doc } = store.get();
    return { scenario: doc.a, load: doc.load, radiusM: hooks.radiusM() };
  };
  const write = (): void => {
    const q = now();
    const told = answered && same(answered.of, q) ? guessesTold(answered.report, cornerOf(q.scenario, "right")) : null;
    panel.update({
      guesses: restsOn(q.scenario).length,
      measured: Object.keys(q.scenario.origins).length - guesses(q.scenario).length,
      told,
    });
  };
  const ask = (): void => {
    if (store.get().dragging || !hooks.seen()) return;
    const q = now();
    if (restsOn(q.scenario).length === 0) {
      client.stop();
      asked = null;
    } else if (!(asked && same(asked, q))) {
      asked = q;
      client.ask(String(++count), q);
    }
    write();
  };
  whenQuiet(store, QUIET_MS, write, ask);
}
