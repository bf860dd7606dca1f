import { describe, expect, it } from "vitest";
import { runJob, stopJob } from "../../src/worker/jobs.ts";

/** Steps that each take long enough for the worker to look up. */
function* slow(steps: number): Generator<number, string> {
  for (let i = 1; i <= steps; i++) {
    const until = performance.now() + 15;
    while (performance.now() < until);
    yield i;
  }
  return "whole";
}

describe("long work", () => {
  it("tells every step and ends with its result", async () => {
    const told: number[] = [];
    expect(await runJob("one", 1, slow(3), (n) => told.push(n))).toBe("whole");
    expect(told).toEqual([1, 2, 3]);
  });

  it("ends at its next step when a newer job of its lane comes", async () => {
    const told: number[] = [];
    const old = runJob("two", 1, slow(50), (n) => told.push(n));
    const fresh = runJob("two", 2, slow(2), () => undefined);
    expect(await old).toBeNull();
    expect(await fresh).toBe("whole");
    expect(told.length).toBeLessThan(5);
  });

  it("goes on beside a job of another lane", async () => {
    const both = await Promise.all([runJob("three", 1, slow(3), () => undefined), runJob("four", 2, slow(3), () => undefined)]);
    expect(both).toEqual(["whole", "whole"]);
  });

  it("ends when it is stopped", async () => {
    const run = runJob("five", 1, slow(50), () => undefined);
    stopJob("five");
    expect(await run).toBeNull();
  });
});
