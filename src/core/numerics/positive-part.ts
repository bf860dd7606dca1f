/**
 * max(0, g) with its corner rounded over -w < g < w: value, slope. Zero for g <= -w, so that a pin in
 * the middle of its clearance feels nothing whenever w <= clearance. w = 0: the plain corner.
 */
export function positivePart(g: number, w: number): number {
  if (g >= w) return g;
  if (g <= -w) return 0;
  const s = g + w;
  return (s * s) / (4 * w);
}

/** Its derivative by g: 0, rising evenly within ±w, 1. */
export function positiveSlope(g: number, w: number): number {
  if (g >= w) return 1;
  if (g <= -w) return 0;
  return (g + w) / (2 * w);
}
