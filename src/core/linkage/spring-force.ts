import type { Spring } from "../design/types.ts";

/**
 * Force (N, pushing) and tangent rate (N/mm) of a corner's spring at `lengthMm` between its eyes. The springs
 * only push: nothing beyond free length + preload. The bump stop pushes below its length, the droop stop pulls
 * above its own; one stop of each kind per corner, whatever the number of springs (an assumption).
 */
export function springForceAt(spring: Spring, lengthMm: number): { forceN: number; rateNPerMm: number } {
  const squeeze = spring.freeLengthMm + spring.preloadMm - lengthMm;
  let forceN = 0;
  let rateNPerMm = 0;
  if (squeeze > 0) {
    rateNPerMm += spring.rateNPerMm * spring.count;
    forceN += spring.rateNPerMm * spring.count * squeeze;
  }
  const intoBump = spring.bumpStop.lengthMm - lengthMm;
  if (intoBump > 0) {
    rateNPerMm += spring.bumpStop.rateNPerMm;
    forceN += spring.bumpStop.rateNPerMm * intoBump;
  }
  const intoDroop = spring.droopStop === null ? 0 : lengthMm - spring.droopStop.lengthMm;
  if (spring.droopStop !== null && intoDroop > 0) {
    rateNPerMm += spring.droopStop.rateNPerMm;
    forceN -= spring.droopStop.rateNPerMm * intoDroop;
  }
  return { forceN, rateNPerMm };
}
