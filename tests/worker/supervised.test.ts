import * as Comlink from "comlink";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { supervise, type WorkFault } from "../../src/worker/supervised.ts";
import { closeWorkers, type FakeWorker, workerOf } from "../support/fake-worker.ts";

/** What the workers of these tests do; `hang` never comes back. */
const api = {
  alive: (): boolean => true,
  double: (n: number): number => {
    if (n < 0) throw new Error("no roots below zero");
    return 2 * n;
  },
  hang: (): Promise<number> => new Promise(() => {}),
  /** tells how far it is before its answer and, by a channel that is slower, once more behind it */
  late: async (tell: (share: number) => void): Promise<number> => {
    await tell(0.5);
    setTimeout(() => tell(0.9), 20);
    return 1;
  },
};
type Api = typeof api;

const fakeWorker = (deaf = false): FakeWorker => workerOf(deaf ? null : api);

let told: (WorkFault | null)[] = [];
let answers: number[] = [];
const last = (): WorkFault | null => told.at(-1) ?? null;
const wait = (ms = 30): Promise<void> => new Promise((done) => setTimeout(done, ms));
const double = (n: number): { ask: (r: Comlink.Remote<Api>) => Promise<number>; answered: (a: number) => void } => ({
  ask: (r) => r.double(n),
  answered: (a) => answers.push(a),
});
const hang = { ask: (r: Comlink.Remote<Api>): Promise<number> => r.hang(), answered: (a: number): void => void answers.push(a) };

beforeEach(() => {
  told = [];
  answers = [];
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval"] });
});
afterEach(() => {
  vi.useRealTimers();
  closeWorkers();
});

describe("a watched worker", () => {
  it("tells that it breaks off, and asks again what was still wanted and nothing else", async () => {
    const made: ReturnType<typeof fakeWorker>[] = [];
    const work = supervise<Api>(() => {
      made.push(fakeWorker());
      return made.at(-1)!;
    });
    work.watch((f) => told.push(f));
    work.ask("a", double(1));
    await wait();
    expect(answers).toEqual([2]);
    work.ask("a", hang);
    work.ask("b", hang);
    work.drop("b");
    made[0]!.fire("error");
    expect(last()?.words).toBe("The work beside the page stopped: its program could not be loaded, or broke off.");
    work.ask("a", double(4));
    await wait();
    // each move of a drag would start a worker that cannot start
    expect(made.length).toBe(1);
    last()?.again();
    await wait();
    expect(made.length).toBe(2);
    expect(answers).toEqual([2, 8]);
    expect(last()).toBe(null);
  });

  it("tells what a question ended with, and goes on with the next", async () => {
    const work = supervise<Api>(() => fakeWorker(), { restMs: 0 });
    work.watch((f) => told.push(f));
    work.ask("a", double(-1));
    await expect.poll(() => last()?.words).toBe("The work beside the page stopped: it ended with a fault (no roots below zero).");
    work.ask("a", double(3));
    await expect.poll(() => answers).toEqual([6]);
    expect(last()).toBe(null);
  });

  it("lets what comes behind the answer no longer count", async () => {
    const heard: string[] = [];
    const work = supervise<Api>(() => fakeWorker());
    work.ask("a", {
      ask: (r, _job, waits) => r.late(Comlink.proxy((share: number) => void heard.push(waits() ? `${share}` : `${share}, too late`))),
      answered: (a: number) => answers.push(a),
    });
    await expect.poll(() => heard).toEqual(["0.5", "0.9, too late"]);
    expect(answers).toEqual([1]);
  });

  it("tells of one that cannot be made", () => {
    const work = supervise<Api>(() => {
      throw new Error("refused");
    });
    work.watch((f) => told.push(f));
    work.ask("a", double(1));
    // node has no Worker of a page either
    expect(last()?.words).toBe("The work beside the page stopped: this browser lets nothing work beside a page (no Web Worker).");
  });

  it("ends at once what is at work, and starts anew for the next question", async () => {
    const made: ReturnType<typeof fakeWorker>[] = [];
    const work = supervise<Api>(() => {
      made.push(fakeWorker());
      return made.at(-1)!;
    });
    work.watch((f) => told.push(f));
    work.ask("a", hang);
    work.ask("a", double(1));
    work.halt();
    await wait();
    expect([answers, made.length]).toEqual([[], 1]);
    work.ask("a", double(7));
    await wait();
    expect([answers, made.length, last()]).toEqual([[14], 2, null]);
    // nothing at work, nothing to end
    work.halt();
    work.ask("a", double(8));
    await wait();
    expect([answers, made.length]).toEqual([[14, 16], 2]);
  });

  it("tells of one that is silent, but not of one that works for long", async () => {
    let deaf = true;
    const work = supervise<Api>(() => fakeWorker(deaf));
    work.watch((f) => told.push(f));
    work.ask("a", double(5));
    for (let i = 0; i < 9; i++) vi.advanceTimersByTime(2000);
    expect(last()).toBe(null);
    for (let i = 0; i < 3; i++) vi.advanceTimersByTime(2000);
    expect(last()?.words).toBe("The work beside the page stopped: no sign of life for 20 s.");
    deaf = false;
    last()?.again();
    await wait();
    expect([answers, last()]).toEqual([[10], null]);

    work.ask("a", hang);
    for (let i = 0; i < 30; i++) {
      vi.advanceTimersByTime(2000);
      await wait(5);
    }
    expect(last()).toBe(null);
  });

  it("asks one at a time where a rest is wanted, the newest of those that waited next", async () => {
    const work = supervise<Api>(() => fakeWorker(), { restMs: 5 });
    for (const n of [1, 2, 3, 4]) work.ask("a", double(n));
    await wait(60);
    expect(answers).toEqual([2, 8]);
  });

  it("gives the newest question's answer alone where a newer one displaces the older", async () => {
    const work = supervise<Api>(() => fakeWorker());
    for (const n of [1, 2, 3, 4]) work.ask("a", double(n));
    await wait(60);
    expect(answers).toEqual([8]);
  });
});
