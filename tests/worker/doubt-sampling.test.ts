import { afterEach, describe, expect, it, vi } from "vitest";
import { sampleWorlds } from "../../src/core/doubt/sample.ts";
import { tellSamples } from "../../src/core/doubt/told.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { api } from "../../src/worker/api.ts";
import { connectDoubt } from "../../src/worker/doubt-client.ts";
import { createSampling, type SamplingQuestion } from "../../src/worker/doubt-sampling.ts";
import { closeWorkers, workerOf } from "../support/fake-worker.ts";
import { shipped } from "../support/shipped.ts";
import { until } from "../support/until.ts";

const question = (samples: number): SamplingQuestion => ({
  scenario: shipped("heavy-straight.json"),
  samples,
  seed: 1,
  curve: { radiusM: 6, overM: null, options: {} },
  at: null,
  chances: [0.25, 0.5],
  lines: [],
});

function sampler() {
  vi.stubGlobal(
    "Worker",
    class {
      constructor() {
        // biome-ignore lint/correctness/noConstructorReturn: stands for the worker that is made
        return workerOf(api) as unknown as object;
      }
    },
  );
  return createSampling(connectDoubt(), () => undefined);
}

afterEach(() => {
  vi.unstubAllGlobals();
  closeWorkers();
});

describe("the sampler of a page", () => {
  it("tells what the same cars tell anywhere, once for each question", async () => {
    const sampling = sampler();
    sampling.ask("one", question(8));
    expect(sampling.state()).toEqual({ kind: "running", worlds: 0, of: 8 });
    expect(sampling.of("one")).toBeNull();
    await until(() => sampling.state().kind === "done");
    const whole = toTheEnd(sampleWorlds(question(8), rangeOf));
    expect(sampling.of("one")?.told).toEqual(whole && tellSamples(whole, { lines: [] }));
    const [quarter, half] = sampling.of("one")?.atMost ?? [];
    expect(quarter?.chance).toBe(0.25);
    expect(quarter!.speedMps).toBeLessThanOrEqual(half!.speedMps);
    sampling.ask("one", question(8));
    expect(sampling.state().kind).toBe("done");
    expect(sampling.of("two")).toBeNull();
  });

  it("is stopped by hand and goes on by hand; a newer question ends it", async () => {
    const sampling = sampler();
    sampling.ask("long", question(4096));
    sampling.stop();
    expect(sampling.state().kind).toBe("stopped");
    // the same is not begun again by itself
    sampling.ask("long", question(4096));
    expect(sampling.state().kind).toBe("stopped");
    sampling.again();
    expect(sampling.state().kind).toBe("running");
    sampling.end();
    expect(sampling.state().kind).toBe("none");
    sampling.ask("short", question(4));
    await until(() => sampling.state().kind === "done");
    expect(sampling.of("short")?.told.worlds).toBe(4);
    expect(sampling.of("long")).toBeNull();
  });
});
