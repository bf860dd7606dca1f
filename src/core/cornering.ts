import type { Scenario, Track } from "./design/types.ts";
import { G } from "./units.ts";

/** Speed, curve radius and cornering level: a = v²/R, the acceleration of a point on a circle. */

/** Cornering level that a speed asks for on a curve, g, never negative. @param speedMps m/s @param radiusM above 0, m */
export const lateralGAt = (speedMps: number, radiusM: number): number => (speedMps * speedMps) / (G * radiusM);

/** Its inverse: the speed at which a curve asks for a cornering level of either sign, m/s. @param lateralG g @param radiusM above 0, m */
export const speedInCurve = (lateralG: number, radiusM: number): number => Math.sqrt(Math.abs(lateralG) * G * radiusM);

/** The curve that stands in where a design names no track (a turn in a car park; common practice, no source). */
export const DEFAULT_CURVE: Readonly<Track> = { name: "curve", radiusM: 6 };

/** Curves that speeds are told for: the design's own tracks, at least one. */
export const tracksOf = (s: Pick<Scenario, "tracks">): readonly Readonly<Track>[] => (s.tracks.length > 0 ? s.tracks : [DEFAULT_CURVE]);

/** Radius of the curve that an answer is told for, m: the one asked for, else the design's first track. */
export const curveRadiusM = (s: Pick<Scenario, "tracks">, askedM?: number): number => askedM ?? tracksOf(s)[0]!.radiusM;
