import type { Trace } from "../../motion/trace.ts";
import type { Store } from "../../state/store.ts";
import { createMemo } from "../../view/marks.ts";
import type { MotionClient } from "../../worker/motion-client.ts";
import { numbersOf, runOf } from "./run-fields.ts";
import { motionSlice } from "./state/slice.ts";
import type { Recorded } from "./story.ts";

export interface RequestsHooks {
  /** a run of A has come in; `fresh`: of another kind than the one before */
  arrived(fresh: boolean): void;
  /** progress, or the run of B */
  changed(): void;
}

/** The runs at hand, and which are asked for. */
export interface Requests {
  recorded: Recorded | null;
  /** design B through the same run */
  rival: Trace | null;
  /** why there is no run */
  fault: string | null;
  /** share of A's run that is worked out; null: nothing is under way */
  work: number | null;
  /** asks for what design, run and numbers call for now, if it is not at hand */
  ask(): void;
  forget(): void;
}

export function createRequests(store: Store, client: MotionClient, hooks: RequestsHooks): Requests {
  const memo = createMemo();
  let count = 0;
  let askedA = 0;
  let askedB = 0;
  const requests: Requests = {
    recorded: null,
    rival: null,
    fault: null,
    work: null,
    forget() {
      askedA = 0;
      askedB = 0;
    },
    ask() {
      const { doc, view } = store.get();
      const run = runOf(motionSlice.of(view).run);
      const numbers = numbersOf(motionSlice.of(view), run);
      const letters = JSON.stringify(numbers);
      const keyA = memo("a", [doc.a, run, letters], () => ++count);
      if (askedA !== keyA) {
        askedA = keyA;
        requests.work = 0;
        client.run(
          "a",
          { scenario: doc.a, name: run, numbers },
          (p) => {
            requests.work = Math.min(1, p.timeS / p.durationS);
            hooks.changed();
          },
          (answer) => {
            const fresh = requests.recorded?.run !== run;
            requests.work = null;
            requests.fault = answer.ok ? null : answer.words;
            requests.recorded = answer.ok ? { run, trace: answer.trace, held: answer.held } : null;
            hooks.arrived(fresh);
          },
        );
      }
      const wanted = view.show.designB;
      const keyB = memo("b", [doc.b, run, letters, wanted], () => ++count);
      if (askedB === keyB) return;
      askedB = keyB;
      requests.rival = null;
      if (!wanted) return;
      client.run(
        "b",
        { scenario: doc.b, name: run, numbers },
        () => {},
        (answer) => {
          requests.rival = answer.ok ? answer.trace : null;
          hooks.changed();
        },
      );
    },
  };
  return requests;
}
