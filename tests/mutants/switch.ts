/** More than a folder holds. */
const MOST = 2 ** 16;
/** 1 at the mistakes whose place was passed since it was last cleared. */
export const seen = new Uint8Array(MOST);

/** What the planted mistakes ask: which one is on, and whether the test has worked too long. One per worker. */
export const mutants = {
  /** number of the mistake that is on; -1: none */
  on: -1,
  /** how often instrumented code may still be passed through before `over` is called */
  left: Number.MAX_SAFE_INTEGER,
  /** called when nothing is left: ends the test */
  over: (): void => {},
};

/** A WeakMap that keeps nothing from one mistake, or from one test of the first run, to the next: stands for those of the code. */
export class Forgetful<K extends WeakKey, V> {
  private static round = 0;
  private kept = new WeakMap<K, V>();
  private at = 0;

  static forget(): void {
    Forgetful.round++;
  }

  private now(): WeakMap<K, V> {
    if (this.at !== Forgetful.round) {
      this.at = Forgetful.round;
      this.kept = new WeakMap();
    }
    return this.kept;
  }

  get(key: K): V | undefined {
    return this.now().get(key);
  }

  has(key: K): boolean {
    return this.now().has(key);
  }

  set(key: K, value: V): this {
    this.now().set(key, value);
    return this;
  }
}
