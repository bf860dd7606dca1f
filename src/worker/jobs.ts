/**
 * Long work in steps. A newer job of the same lane ends an older one at its next step; between steps the worker hears what is asked of it.
 */
const newest = new Map<string, number>();
const STOPPED = -1;
/** the worker looks up at least this often, ms */
const LOOK_UP_MS = 12;

const lookUp = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

export function stopJob(lane: string): void {
  newest.set(lane, STOPPED);
}

/** Runs to the end and gives its result; null when it was stopped or a newer job came. */
export async function runJob<T, R>(lane: string, job: number, run: Generator<T, R>, onStep: (step: T) => void): Promise<R | null> {
  newest.set(lane, job);
  let since = performance.now();
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
    onStep(step.value);
    if (performance.now() - since < LOOK_UP_MS) continue;
    await lookUp();
    since = performance.now();
    if (newest.get(lane) !== job) return null;
  }
}
