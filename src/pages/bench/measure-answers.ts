import { alike } from "../../core/design/alike.ts";
import { pedals } from "../../core/design/load.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import { carId } from "../../state/car-id.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import { type MeasureTold, measureTold } from "../../view/measure-words.ts";
import { type BandsQuestion, connectDoubt, type DoubtClient } from "../../worker/doubt-client.ts";

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 500;

const same = (a: BandsQuestion, b: BandsQuestion): boolean =>
  a.radiusM === b.radiusM && alike(a.load, b.load) && carId(a.scenario) === carId(b.scenario) && alike(a.scenario.origins, b.scenario.origins);

export interface MeasureAnswers {
  /** what is worth measuring on a design, asked for when it is not known; `told` null with no `why`: being worked out */
  of(scenario: Scenario, load: Load, radiusM: number): { told: MeasureTold | null; why: string };
}

const NO_SLOPE = "At the safe speed of this car the axle finds no hold, or a part falls over in its play: no test can be told to make it narrower.";

/** What to measure next, worked out beside the page once the hand rests. */
export function createMeasureAnswers(changed: () => void, stopped: (model: StoppedModel | null) => void): MeasureAnswers {
  let client: DoubtClient | null = null;
  let asked: BandsQuestion | null = null;
  let waits: BandsQuestion | null = null;
  let answered: { of: BandsQuestion; told: MeasureTold | null } | null = null;
  let timer = 0;
  const ask = (): void => {
    if (!waits) return;
    if (!client) {
      client = connectDoubt((of, { next }) => {
        answered = { of, told: next && measureTold(next) };
        changed();
      });
      client.watch(stopped);
    }
    asked = waits;
    waits = null;
    client.bands(asked);
  };
  return {
    of(scenario, load, radiusM) {
      const { lateralG, bumpLeftMm, bumpRightMm } = load;
      const q: BandsQuestion = {
        scenario,
        load,
        radiusM,
        options: { hand: lateralG < 0 ? "right" : "left", bumpLeftMm, bumpRightMm, ...pedals(load) },
        inHand: null,
      };
      if (!(asked && same(asked, q)) && !(waits && same(waits, q))) {
        waits = q;
        window.clearTimeout(timer);
        timer = window.setTimeout(ask, QUIET_MS);
      }
      const known = answered && same(answered.of, q) ? answered : null;
      return { told: known?.told ?? null, why: known && !known.told ? NO_SLOPE : "" };
    },
  };
}
