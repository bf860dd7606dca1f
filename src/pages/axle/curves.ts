import { plainLoad } from "../../core/design/load.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import type { CurvesAnswer } from "../../core/studies/axle-curves.ts";
import { carId } from "../../state/car-id.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import { connectCurves } from "../../worker/client.ts";

const SWEEP_TO_G = 1.2;
const POINTS_LIVE = 13;
const POINTS_FULL = 37;

export interface Curves {
  /** newest curves of a design (they may be those of a moment ago), and asks for new ones when the cause changed */
  of(which: "a" | "b", scenario: Scenario, load: Load, radiusM: number, live: boolean): CurvesAnswer | null;
  /** whether the curves at hand are the answer to what was asked last */
  fresh(which: "a" | "b"): boolean;
}

interface Slot {
  asked: string;
  /** the question that the curves at hand answer */
  answered: string;
  set: CurvesAnswer | null;
}

/** Curves come from a worker; a drag asks for coarse ones first, then finer. */
export function createCurves(onNew: () => void, stopped: (model: StoppedModel | null) => void): Curves {
  const slots: Record<"a" | "b", Slot> = { a: { asked: "", answered: "", set: null }, b: { asked: "", answered: "", set: null } };
  const sent = new WeakMap<object, string>();
  const client = connectCurves((key, request, answer) => {
    const slot = slots[key as "a" | "b"];
    slot.set = answer;
    slot.answered = sent.get(request) ?? "";
    onNew();
  });
  client.watch(stopped);
  return {
    of(which, scenario, load, radiusM, live) {
      const slot = slots[which];
      const direction = load.lateralG < 0 ? -1 : 1;
      const key = [carId(scenario), load.bumpLeftMm, load.bumpRightMm, load.throttle, load.brakeG, direction, radiusM, live ? "coarse" : "fine"].join();
      const fine = key.replace("coarse", "fine");
      if (slot.asked !== key && slot.asked !== fine) {
        slot.asked = key;
        const request = {
          scenario,
          ...plainLoad(load),
          direction,
          toG: SWEEP_TO_G,
          count: live ? POINTS_LIVE : POINTS_FULL,
          radiusM,
        } as const;
        sent.set(request, fine);
        client.ask(which, request);
      }
      return slot.set;
    },
    fresh: (which) => slots[which].answered === slots[which].asked.replace("coarse", "fine"),
  };
}
