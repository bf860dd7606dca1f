import { afterEach, describe, expect, it, vi } from "vitest";
import { type SampleQuestion, type Samples, sampleWorlds } from "../../src/core/doubt/sample.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { api } from "../../src/worker/api.ts";
import { connectSamples, usefulWorkers } from "../../src/worker/samples-client.ts";
import type { WorkFault } from "../../src/worker/supervised.ts";
import { closeWorkers, type FakeWorker, workerOf } from "../support/fake-worker.ts";
import { shipped } from "../support/shipped.ts";
import { until } from "../support/until.ts";

const question = (samples: number): SampleQuestion => ({
  scenario: shipped("heavy-straight.json"),
  samples,
  seed: 2,
  curve: { radiusM: 6, overM: null, options: {} },
  at: null,
});

let made: FakeWorker[] = [];
function withWorkers(): void {
  made = [];
  vi.stubGlobal(
    "Worker",
    class {
      constructor() {
        made.push(workerOf(api));
        // biome-ignore lint/correctness/noConstructorReturn: stands for the worker that is made
        return made.at(-1) as unknown as object;
      }
    },
  );
}

afterEach(() => {
  vi.unstubAllGlobals();
  closeWorkers();
});

describe("samples beside the page", () => {
  it("are put together from the parts of two workers, as the whole is", async () => {
    withWorkers();
    const told: [string, Samples | null][] = [];
    const client = connectSamples({ progress: () => undefined, ended: (key, s) => told.push([key, s]) }, 2);
    client.ask("one", question(8));
    await until(() => told.length > 0);
    expect(made.length).toBe(2);
    const [key, samples] = told[0]!;
    expect(key).toBe("one");
    expect(samples).toEqual(toTheEnd(sampleWorlds(question(8), rangeOf)));
  });

  it("end for a newer question, and when they are stopped", async () => {
    withWorkers();
    const told: string[] = [];
    const client = connectSamples({ progress: () => undefined, ended: (key) => told.push(key) }, 2);
    client.ask("old", question(4096));
    client.ask("new", question(4));
    await until(() => told.length > 0);
    client.ask("stopped", question(4096));
    client.stop();
    await new Promise((next) => setTimeout(next, 100));
    expect(told).toEqual(["new"]);
  });

  it("tell a worker's fault once, and ask it again", async () => {
    withWorkers();
    const faults: (WorkFault | null)[] = [];
    const told: string[] = [];
    const client = connectSamples({ progress: () => undefined, ended: (key) => told.push(key) }, 2);
    client.watch((fault) => faults.push(fault));
    client.ask("one", question(4));
    made[1]!.fire("error");
    expect(faults.at(-1)?.words).toContain("The work beside the page stopped");
    faults.at(-1)!.again();
    await until(() => told.length > 0);
    expect(told).toEqual(["one"]);
    expect(faults.at(-1)).toBeNull();
  });

  it("take two workers at least, and leave one core to the page where there are more", () => {
    expect([1, 2, 3, 4, 8].map(usefulWorkers)).toEqual([2, 2, 2, 3, 4]);
  });
});
