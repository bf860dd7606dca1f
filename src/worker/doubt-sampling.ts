import type { SampleQuestion } from "../core/doubt/sample.ts";
import type { DoubtClient } from "./doubt-client.ts";
import type { SamplesTold, ToldRequest } from "./doubt-told.ts";
import { connectSamples } from "./samples-client.ts";
import type { Watched } from "./supervised.ts";

export type SamplingQuestion = SampleQuestion & Omit<ToldRequest, "samples">;

/** One sampler of a page: the newest question wins, what is asked again is not sampled again, and a hand may stop it. */
export interface Sampling extends Watched {
  /** the whole sample of a question; null: not yet */
  of(key: string): SamplesTold | null;
  state(): SamplingState;
  ask(key: string, question: SamplingQuestion): void;
  /** nobody waits for it any more; the same question may be asked anew */
  end(): void;
  /** by hand: the question stays without an answer until it is asked `again` */
  stop(): void;
  again(): void;
}

/** How far it is, in worlds that are worked out. */
export interface SamplingState {
  kind: "none" | "running" | "stopped" | "done";
  worlds: number;
  of: number;
}

export function createSampling(client: DoubtClient, onNew: () => void): Sampling {
  let asked: { key: string; question: SamplingQuestion } | null = null;
  let whole: { key: string; told: SamplesTold } | null = null;
  let state: SamplingState = { kind: "none", worlds: 0, of: 0 };
  const turn = (next: SamplingState): void => {
    state = next;
    onNew();
  };
  const samples = connectSamples({
    progress: (key, s) => {
      if (key === asked?.key) turn({ kind: "running", worlds: s.done.reduce((sum, d) => sum + d, 0), of: s.count });
    },
    ended: (key, s) => {
      if (key !== asked?.key) return;
      // a car that does not stand has nothing to tell
      if (!s) return turn({ ...state, kind: "done" });
      const { chances, lines } = asked.question;
      client.tell({ samples: s, chances, lines }, (told) => {
        whole = { key, told };
        if (key === asked?.key) turn({ kind: "done", worlds: s.count, of: s.count });
      });
    },
  });
  const run = (): void => {
    if (!asked) return;
    const { chances: _c, lines: _l, ...question } = asked.question;
    samples.ask(asked.key, question);
    turn({ kind: "running", worlds: 0, of: question.samples });
  };
  return {
    watch: samples.watch,
    of: (key) => (whole?.key === key ? whole.told : null),
    state: () => state,
    ask(key, question) {
      if (asked?.key === key) return;
      asked = { key, question };
      if (whole?.key === key) state = { kind: "done", worlds: question.samples, of: question.samples };
      else run();
    },
    end() {
      if (asked === null) return;
      if (state.kind === "running") samples.stop();
      asked = null;
      state = { ...state, kind: "none" };
    },
    stop() {
      samples.stop();
      turn({ ...state, kind: "stopped" });
    },
    again: run,
  };
}
