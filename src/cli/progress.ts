/** A bar on stderr while something takes long; silent where nobody watches. */
export interface Progress {
  /** share of the work done, 0 to 1, and what is being done */
  at(share: number, words: string): void;
  /** takes the bar away again */
  end(): void;
}

export interface ProgressStream {
  isTTY?: boolean;
  columns?: number;
  write(text: string): unknown;
}

const BAR_LETTERS = 24;
const EVERY_MS = 80;
/** work that is over sooner shows no bar */
const FROM_MS = 250;
/** the time left is told once the whole work looks longer than this */
const TELL_LEFT_MS = 10_000;
const CLEAR = "\r\u001b[K";

/** Letters in a line; a terminal that tells no width or none at all gets the usual one. */
const wide = (columns: number | undefined): number => (columns !== undefined && columns > 0 ? columns : 80);

/** One line of the bar, no wider than the terminal. */
export function barLine(share: number, words: string, passedMs: number, columns: number): string {
  const s = Math.min(1, Math.max(0, share));
  const full = Math.round(BAR_LETTERS * s);
  const leftMs = s > 0 ? (passedMs * (1 - s)) / s : 0;
  const left = passedMs + leftMs > TELL_LEFT_MS && s > 0 ? `, ${Math.ceil(leftMs / 1000)} s left` : "";
  const line = `[${"#".repeat(full)}${".".repeat(BAR_LETTERS - full)}] ${Math.floor(100 * s)} % ${words}${left}`;
  return line.slice(0, Math.max(0, columns - 1));
}

export function createProgress(stream: ProgressStream, now: () => number = () => performance.now()): Progress {
  const start = now();
  let last = Number.NEGATIVE_INFINITY;
  let shown = false;
  return {
    at(share, words) {
      const at = now();
      if (!stream.isTTY || at - start < FROM_MS || at - last < EVERY_MS) return;
      last = at;
      shown = true;
      stream.write(CLEAR + barLine(share, words, at - start, wide(stream.columns)));
    },
    end() {
      if (shown) stream.write(CLEAR);
      shown = false;
    },
  };
}
