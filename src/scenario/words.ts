/** Small helpers for messages that a builder reads. */

/** Edits (insert, drop, change, swap of neighbours) that turn one word into the other; upper and lower case count alike. */
function edits(a: string, b: string): number {
  const x = a.toLowerCase();
  const y = b.toLowerCase();
  const d = Array.from({ length: x.length + 1 }, (_, i) => Array.from({ length: y.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)));
  for (let i = 1; i <= x.length; i++)
    for (let j = 1; j <= y.length; j++) {
      const same = x[i - 1] === y[j - 1] ? 0 : 1;
      let best = Math.min(d[i - 1]![j]! + 1, d[i]![j - 1]! + 1, d[i - 1]![j - 1]! + same);
      if (i > 1 && j > 1 && x[i - 1] === y[j - 2] && x[i - 2] === y[j - 1]) best = Math.min(best, d[i - 2]![j - 2]! + 1);
      d[i]![j] = best;
    }
  return d[x.length]![y.length]!;
}

/** The word of the list that is nearest to `word`; undefined for an empty list. */
export function nearest(word: string, list: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const w of list) {
    const n = edits(word, w);
    if (n < least) {
      least = n;
      best = w;
    }
  }
  return best;
}

/** A value as it stands in the file, shortened; lists and objects are only named. */
export function shownValue(value: unknown, unit: string): string {
  if (value === undefined) return "missing";
  if (typeof value === "number") return unit === "" ? String(value) : `${value} ${unit}`;
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object" && value !== null) return "an object";
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}..."` : text;
}
