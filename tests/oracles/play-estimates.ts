import { DEG } from "../../src/core/units.ts";

/**
 * Estimates of what play and give of a support do to camber, as a rule of thumb beside the solved
 * band (common practice, no source). Lengths mm, N, N·mm.
 */

/** Lean from opposite clearances of two ball joints `spacingMm` apart, °. */
export const leanFromClearances = (upperMm: number, lowerMm: number, spacingMm: number): number => (upperMm + lowerMm) / spacingMm / DEG;

/** Lean from a bore's clearance over the distance of its two supports, °. */
export const leanFromBore = (clearanceMm: number, spacingMm: number): number => Math.atan(clearanceMm / spacingMm) / DEG;

/** Tilting stiffness of two equal radial springs (N/mm) a distance apart: each at half of it, k s²/2 in N·mm/rad. */
export const tiltStiffness = (rateNPerMm: number, spacingMm: number): number => (rateNPerMm * spacingMm * spacingMm) / 2;
