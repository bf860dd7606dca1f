import type { DoubtClient } from "./doubt-client.ts";
import type { SamplesRequest, SamplesTold } from "./doubt-samples.ts";

/** One sampler of a page: the newest question wins, what is asked again is not sampled again, and a hand may stop it. */
export interface Sampling {
  /** the whole sample of a question; null: not yet */
  of(key: string): SamplesTold | null;
  /** the newest whole sample, of whatever question */
  last(): SamplesTold | null;
  state(): SamplingState;
  ask(key: string, request: SamplesRequest): void;
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
  let asked: { key: string; request: SamplesRequest } | null = null;
  let whole: { key: string; told: SamplesTold } | null = null;
  let state: SamplingState = { kind: "none", worlds: 0, of: 0 };
  const run = (): void => {
    if (!asked) return;
    const { key, request } = asked;
    let newest: SamplesTold | null = null;
    state = { kind: "running", worlds: 0, of: request.question.samples };
    client.sample(
      request,
      (told) => {
        newest = told;
        state = { kind: "running", worlds: told.told.worlds, of: told.told.of };
        onNew();
      },
      (complete) => {
        if (complete && newest) whole = { key, told: newest };
        state = { ...state, kind: complete && newest ? "done" : "none" };
        onNew();
      },
    );
  };
  return {
    of: (key) => (whole?.key === key ? whole.told : null),
    last: () => whole?.told ?? null,
    state: () => state,
    ask(key, request) {
      if (asked?.key === key) return;
      asked = { key, request };
      if (whole?.key === key) {
        state = { kind: "done", worlds: request.question.samples, of: request.question.samples };
        return;
      }
      run();
      onNew();
    },
    end() {
      if (state.kind === "none") return;
      if (state.kind === "running") client.endSample();
      asked = null;
      state = { ...state, kind: "none" };
    },
    stop() {
      client.endSample();
      state = { ...state, kind: "stopped" };
      onNew();
    },
    again() {
      run();
      onNew();
    },
  };
}
