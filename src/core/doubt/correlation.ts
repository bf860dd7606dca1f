import type { Scenario } from "../design/types.ts";

interface Pair {
  a: number;
  b: number;
  r: number;
}

/**
 * How the doubts of inputs hang together: values that one bench test gave at once are correlated, as the test told (`Origin.together`). It holds
 * only while both entries list each other with the same number. All else is independent. The coefficient
 * is taken as that of the scores; of log-normal values it is a little less, which is far within what a bench test tells of it.
 */
export interface Correlation {
  /** indices into the list of inputs, a below b, with the coefficient */
  pairs: readonly Pair[];
  /** scores of the inputs from independent ones: rows of the lower triangle of R = L Lᵀ where an input hangs together with one before it */
  rows: ReadonlyMap<number, ReadonlyMap<number, number>>;
}

/** Coefficients that contradict each other are all taken by this factor, again and again, until they can hold together. */
const EASE = 0.95;
/** What is left of a variance by rounding alone: values that go wholly together (one test for both sides) leave nothing. */
const NOTHING = 1e-9;

/** The correlations among these inputs, by their keys. */
export function correlationOf(s: Scenario, list: readonly { key: string }[]): Correlation {
  const indexOf = new Map(list.map((u, i) => [u.key, i]));
  const pairs: Pair[] = [];
  for (const [a, u] of list.entries())
    for (const [other, r] of Object.entries(s.origins[u.key]?.together ?? {})) {
      const b = indexOf.get(other);
      if (b === undefined || b <= a || s.origins[other]?.together?.[u.key] !== r) continue;
      pairs.push({ a, b, r });
    }
  return correlationOfPairs(pairs);
}

/** The same of coefficients that are told: indices a below b. */
export function correlationOfPairs(pairs: readonly Pair[]): Correlation {
  const each = groupsOf(pairs).map((group): Correlation => {
    for (let ease = 1; ; ease *= EASE) {
      const eased = group.map((p) => ({ ...p, r: ease * p.r }));
      const rows = factorOf(eased);
      if (rows) return { pairs: eased, rows };
    }
  });
  return { pairs: each.flatMap((g) => g.pairs), rows: new Map(each.flatMap((g) => [...g.rows])) };
}

/** Pairs that hang together with each other; what contradicts itself in one test leaves those of another alone. */
function groupsOf(pairs: readonly Pair[]): Pair[][] {
  let groups: Pair[][] = [];
  for (const pair of pairs) {
    const touches = (g: readonly Pair[]): boolean => g.some((p) => p.a === pair.a || p.a === pair.b || p.b === pair.a || p.b === pair.b);
    groups = [...groups.filter((g) => !touches(g)), [...groups.filter(touches).flat(), pair]];
  }
  return groups;
}

/** Cholesky's factor of the few rows that are not those of the identity; null where no such inputs can exist. */
function factorOf(pairs: readonly Pair[]): Map<number, Map<number, number>> | null {
  const joined = [...new Set(pairs.flatMap((p) => [p.a, p.b]))].sort((x, y) => x - y);
  const rOf = (i: number, j: number): number => pairs.find((p) => p.a === j && p.b === i)?.r ?? 0;
  const rows = new Map<number, Map<number, number>>();
  for (const i of joined) {
    const row = new Map<number, number>();
    let left = 1;
    for (const j of joined) {
      if (j >= i) break;
      let sum = rOf(i, j);
      const other = rows.get(j)!;
      for (const [k, v] of other) if (k < j) sum -= v * (row.get(k) ?? 0);
      const own = other.get(j)!;
      // one that hangs wholly on those before it has nothing of its own to share
      if (own === 0 && Math.abs(sum) > NOTHING) return null;
      const l = own === 0 ? 0 : sum / own;
      if (l !== 0) row.set(j, l);
      left -= l * l;
    }
    if (!(left > -NOTHING)) return null;
    row.set(i, left > NOTHING ? Math.sqrt(left) : 0);
    rows.set(i, row);
  }
  return rows;
}

/** Scores that hang together as the inputs do, from independent ones (left alone). */
export function correlated(c: Correlation, scores: ArrayLike<number>, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = scores[i]!;
  for (const [i, row] of c.rows) {
    let sum = 0;
    for (const [j, l] of row) sum += l * scores[j]!;
    out[i] = sum;
  }
}
