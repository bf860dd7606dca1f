import { describe, expect, it } from "vitest";
import { createLatest } from "../../src/worker/latest.ts";

/** Answers that come when the test lets them. */
function byHand(): { run(q: string): Promise<string>; asked: string[]; answer(): Promise<void>; fail(): Promise<void> } {
  const asked: string[] = [];
  const open: { done(a: string): void; fail(e: Error): void }[] = [];
  const settled = (): Promise<void> => new Promise((later) => setTimeout(later, 0));
  return {
    asked,
    run: (q) =>
      new Promise((resolve, reject) => {
        asked.push(q);
        open.push({ done: () => resolve(`answer to ${q}`), fail: reject });
      }),
    answer: () => {
      open.shift()?.done("");
      return settled();
    },
    fail: () => {
      open.shift()?.fail(new Error("lost"));
      return settled();
    },
  };
}

describe("questions to a worker", () => {
  it("are asked one at a time, and of those that wait only the newest", async () => {
    const worker = byHand();
    const heard: [string, string][] = [];
    const latest = createLatest<string, string>(
      worker.run,
      (q, a) => heard.push([q, a]),
      () => undefined,
    );
    for (const q of ["first", "second", "third", "fourth"]) latest.ask(q);
    expect(worker.asked).toEqual(["first"]);
    await worker.answer();
    expect(worker.asked).toEqual(["first", "fourth"]);
    await worker.answer();
    expect(heard).toEqual([
      ["first", "answer to first"],
      ["fourth", "answer to fourth"],
    ]);
    latest.ask("fifth");
    expect(worker.asked).toEqual(["first", "fourth", "fifth"]);
  });

  it("go on after one that failed", async () => {
    const worker = byHand();
    const heard: string[] = [];
    const wrong: unknown[] = [];
    const latest = createLatest<string, string>(
      worker.run,
      (q) => heard.push(q),
      (e) => wrong.push(e),
    );
    latest.ask("first");
    latest.ask("second");
    await worker.fail();
    await worker.answer();
    expect(String(wrong[0])).toContain("lost");
    expect(heard).toEqual(["second"]);
  });
});
