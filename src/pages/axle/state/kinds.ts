import { springSeatPoint } from "../../../core/design/corner-geometry.ts";
import type { Corner, Retention, Spring, SpringSeat } from "../../../core/design/types.ts";

/**
 * A kind with its fields is chosen as a whole: what its fields start from. Taken over from what stands there where the new kind knows it;
 * the rest are plain first guesses, common practice of invented cars, without a source.
 */

/** moulded plastic in shear, MPa: about 0.6 of a yield of 40 MPa */
const SHEAR_MPA = 24;
const LIP_N = 85;
const PIN_MM = 3;
const THREAD_SHARE_MM = 3;

/** the radius at which the present kind holds, mm */
const holdRadius = (r: Retention): number => (r.kind === "lip" ? r.radiusMm : r.kind === "crossPin" ? r.shearRadiusMm : r.threadRadiusMm);

export function retentionOf(now: Retention, kind: Retention["kind"]): Retention {
  if (now.kind === kind) return now;
  const at = holdRadius(now);
  const { journalShare } = now;
  const shear = now.kind === "lip" ? SHEAR_MPA : now.shearStrengthMPa;
  switch (kind) {
    case "lip":
      return { kind, radiusMm: at, capacityN: LIP_N, model: "ring", shoulderRadiusMm: Math.round(at * 1.4 * 10) / 10, journalShare };
    case "crossPin":
      return { kind, pinDiameterMm: PIN_MM, shearStrengthMPa: shear, shearRadiusMm: at, journalShare };
    case "screwedRing":
      return { kind, threadRadiusMm: at, engagedLengthMm: THREAD_SHARE_MM, shearStrengthMPa: shear, journalShare };
  }
}

/** The spring's lower end on another part, near where it stands now. */
export function seatOf(c: Corner, on: SpringSeat["on"]): SpringSeat {
  const now = c.spring.seat;
  if (now.on === on) return now;
  const at = springSeatPoint(c);
  if (on === "hub") {
    // an arm reaches as far as the hub begins
    const outer = now.on === "upperArm" ? c.upperOuter : c.lowerOuter;
    return { on, sMm: outer.sMm, zMm: Math.round((outer.zMm + 6) * 10) / 10 };
  }
  if (now.on !== "hub") return { on, fraction: now.fraction };
  const [inner, outer] = on === "upperArm" ? [c.upperInner, c.upperOuter] : [c.lowerInner, c.lowerOuter];
  const share = (at.sMm - inner.sMm) / (outer.sMm - inner.sMm || 1);
  return { on, fraction: Math.round(Math.max(0.3, Math.min(0.9, share)) * 100) / 100 };
}

/** A droop stop that pulls from where the spring has no force left. */
export function droopStopOf(s: Spring): NonNullable<Spring["droopStop"]> {
  const slack = s.freeLengthMm + s.preloadMm;
  return { lengthMm: Math.round(Math.max(slack, s.bumpStop.lengthMm + 5) * 10) / 10, rateNPerMm: 60 };
}
