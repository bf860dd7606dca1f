/**
 * Where to look next for a crossing of 0 between two places: on the straight line, nudged to either side in turn, since straight lines close in from
 * one side only; every third try halves, as does each where the upper value is none.
 * @param n tries so far
 * @param edge how near to an end a try may come; below a third of the width that is looked for
 */
export function tryBetween(n: number, lo: number, hi: number, fLo: number, fHi: number, edge: number): number {
  if (n % 3 === 2 || !Number.isFinite(fHi)) return (lo + hi) / 2;
  const straight = lo - (fLo * (hi - lo)) / (fHi - fLo);
  return Math.min(hi - edge, Math.max(lo + edge, straight + (n % 3 === 0 ? -edge : edge)));
}
