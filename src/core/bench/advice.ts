import { capital } from "../capital.ts";

/** What more readings would bring. */

/** How sure readings are, by what they scatter and by what the instruments show. */
export interface Precision {
  readings: number;
  unknowns: number;
  /** readings above unknowns */
  dof: number;
  scatterSd: number;
  roundingSd: number;
}

/** A 95 % range of this share of the value either way is good enough for a builder; what is wider is worth more readings. */
const GOOD_SHARE = 0.1;
const MORE = [2, 4, 8, 16] as const;
/** Advice that narrows the range by less than this is none. */
const WORTH = 0.85;

/** A load that was used, with the derivatives of the law by each unknown there. */
interface Place {
  x: number;
  row: readonly number[];
}

interface Wanted {
  words: string;
  value: number;
  /** place of the unknown that it goes with, and what the law's rows make of the doubt now: inverse of the square of the rows */
  unknown: number;
  inverse: readonly (readonly number[])[];
  /** half of the 95 % range over the root of the inverse's diagonal, with so many more readings */
  factor(more: number): number;
}

const times = (m: readonly (readonly number[])[], v: readonly number[]): number[] => m.map((row) => row.reduce((sum, c, j) => sum + c * v[j]!, 0));
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, v, i) => sum + v * b[i]!, 0);

/** The inverse with one more row (Sherman and Morrison). */
function withRow(inverse: readonly (readonly number[])[], row: readonly number[]): number[][] {
  const u = times(inverse, row);
  const size = 1 + dot(row, u);
  return inverse.map((line, i) => line.map((v, j) => v - (u[i]! * u[j]!) / size));
}

/** How much one more row takes off the doubt of an unknown. */
function gain(inverse: readonly (readonly number[])[], unknown: number, row: readonly number[]): number {
  const u = times(inverse, row);
  return u[unknown]! ** 2 / (1 + dot(row, u));
}

/**
 * How many more readings would do how much good, at the loads among those that were used where they do most; null where the result is sure
 * enough. The readings so far are taken to scatter on as they do.
 */
export function adviceOf(wanted: Wanted, places: readonly Place[], placeWords: (x: number) => string): string | null {
  const { unknown } = wanted;
  let inverse = wanted.inverse;
  const share = (more: number): number => (Math.sqrt(inverse[unknown]![unknown]!) * wanted.factor(more)) / Math.abs(wanted.value);
  const now = share(0);
  if (!(now > GOOD_SHARE) || places.length === 0) return null;
  const chosen: number[] = [];
  for (const count of MORE) {
    while (chosen.length < count) {
      const gains = places.map((p) => gain(inverse, unknown, p.row));
      const best = places[gains.indexOf(Math.max(...gains))] ?? places[0]!;
      chosen.push(best.x);
      inverse = withRow(inverse, best.row);
    }
    const then = share(count);
    const last = count === MORE.at(-1);
    if (then <= GOOD_SHARE || (last && then < WORTH * now) || (count >= 4 && then < now / 2)) {
      const at = [...new Set(chosen)].sort((a, b) => a - b);
      return `${capital(wanted.words)} is known to ± ${percent(now)} (95 %). ${count} more readings at ${at.map(placeWords).join(" and ")} would bring it to about ± ${percent(then)}.`;
    }
  }
  return `${capital(wanted.words)} is known to ± ${percent(now)} (95 %); more readings like these would hardly help: look for larger loads or a finer instrument.`;
}

/** "4 %", "120 %" */
const percent = (share: number): string =>
  share > MOST_SHARE ? `more than ${Math.round(100 * MOST_SHARE)} %` : `${share < 0.1 ? Number((100 * share).toPrecision(2)) : Math.round(100 * share)} %`;
/** Beyond this nobody cares how little is known. */
const MOST_SHARE = 10;

/** The same for a mean of readings: how many more of them. @param half of its 95 % range with so many more */
export function adviceOnMean(words: string, value: number, half: (more: number) => number): string | null {
  const share = (n: number): number => half(n) / Math.abs(value);
  const now = share(0);
  if (!(now > GOOD_SHARE)) return null;
  const count = MORE.find((n) => share(n) <= GOOD_SHARE || share(n) < now / 2) ?? MORE.at(-1)!;
  const then = share(count);
  if (!(then < WORTH * now)) return null;
  return `${capital(words)} is known to ± ${percent(now)} (95 %). ${count} more readings would bring it to about ± ${percent(then)}.`;
}
