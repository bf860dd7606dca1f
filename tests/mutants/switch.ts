/** The mistakes that lie in what runs while files are loaded. */
export const loading = new Set<number>();

/** What the planted mistakes ask: which one is on, and whether the test has worked too long. One per worker. */
export const mutants = {
  /** number of the mistake that is on; -1: none */
  on: -1,
  /** how often instrumented code may still be passed through before `over` is called */
  left: 0,
  /** called with the mistakes that lie there when nothing is left: notes them at first, ends the test later */
  over: (...ids: number[]): void => {
    mutants.left = 0;
    for (const id of ids) loading.add(id);
  },
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
