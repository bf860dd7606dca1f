import type { RosePoint } from "../../../core/arm/stiffness.ts";
import type { V2 } from "../../../core/vec.ts";

/** A rose on a log scale: stiffness by direction, with rings at the powers of ten. */
export interface RoseScale {
  /** power of ten of the innermost and of the outermost ring */
  low: number;
  high: number;
}

/** share of the radius that the innermost ring has */
const INNER = 0.09;
/** how far beyond the outermost ring a spike may reach */
const OVER = 1.12;

/** Rings that hold all the values: the softest direction lies outside of the innermost ring where it can. */
export function roseScale(values: readonly number[]): RoseScale {
  const real = values.filter((v) => v > 0 && Number.isFinite(v));
  if (real.length === 0) return { low: 0, high: 3 };
  const low = Math.max(-3, Math.min(0, Math.floor(Math.log10(Math.min(...real)))));
  const most = Math.log10(Math.max(...real));
  // a spike may stand a little beyond the last ring
  const high = Math.max(low + 2, most - Math.floor(most) < 0.3 && most > low + 2 ? Math.floor(most) : Math.ceil(most));
  return { low, high };
}

/** Radius of a stiffness, as a share of the outermost ring's: log beyond the innermost ring, straight to zero inside it. */
export function roseRadius(nPerMm: number, s: RoseScale): number {
  if (!(nPerMm > 0)) return 0;
  if (!Number.isFinite(nPerMm)) return OVER;
  const at = Math.log10(nPerMm) - s.low;
  if (at <= 0) return INNER * 10 ** at;
  return Math.min(OVER, INNER + ((1 - INNER) * at) / (s.high - s.low));
}

export const rings = (s: RoseScale): { value: number; radius: number; words: string }[] =>
  Array.from({ length: s.high - s.low + 1 }, (_, i) => {
    const value = 10 ** (s.low + i);
    return { value, radius: roseRadius(value, s), words: String(value) };
  });

/**
 * Outline of a rose in px about its middle. fromAbove (angle 0 forward, 90° outboard): forward is up and outboard to
 * the right; fromBehind (0 outboard, 90° up): as it stands.
 */
export function roseOutline(points: readonly RosePoint[], plane: "fromAbove" | "fromBehind", s: RoseScale, radiusPx: number): V2[] {
  return points.map((p) => {
    const r = roseRadius(p.nPerMm, s) * radiusPx;
    const c = Math.cos(p.angleRad) * r;
    const t = Math.sin(p.angleRad) * r;
    return plane === "fromAbove" ? [t, -c] : [c, -t];
  });
}
