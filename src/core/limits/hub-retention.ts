import type { LimitResult } from "../analysis.ts";
import type { Retention, Side } from "../design/types.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";

/**
 * What holds the wheel on its hub: straight pull and tilting moment on a ring.
 *
 * Line load on a circle of radius r under axial pull F and moment M: q = F/(2πr) + M cos a/(πr²); the equivalent straight pull of
 * the worst point is 2πr·q = F + 2M/r. (Carvill, Mechanical Engineer's Data Handbook, 1993, p. 15 case 9.)
 */

/** Pull that strips, N, of a ring whose lip and shoulder are equally soft. */
export const ringPull = (pullN: number, momentNmm: number, radiusMm: number): number => pullN + (2 * momentNmm) / radiusMm;

/**
 * Equivalent straight pull of a lip that only pulls while the unit pivots on a stiff shoulder of radius R.
 * While the lip stays loaded all round, M <= F r²/(2R), it is F + 2M/r; beyond, the unit tips about the shoulder's edge:
 * 2ρ(1+ρ)/(1+2ρ²)·(F + M/R), ρ = R/r. At R = r: 4/3 (F + M/r). Both meet at the border.
 */
export function shoulderPull(pullN: number, momentNmm: number, radiusMm: number, shoulderMm: number): number {
  if (momentNmm <= (pullN * radiusMm * radiusMm) / (2 * shoulderMm)) return ringPull(pullN, momentNmm, radiusMm);
  const rho = shoulderMm / radiusMm;
  return ((2 * rho * (1 + rho)) / (1 + 2 * rho * rho)) * (pullN + momentNmm / shoulderMm);
}

/** Shear force on the worse plane of a pin through wheel and hub (two planes at ±r), the pin standing worst to the moment, N. */
export const pinShear = (pullN: number, momentNmm: number, radiusMm: number): number => Math.abs(pullN) / 2 + momentNmm / (2 * radiusMm);

export interface RetentionDemand {
  part: string;
  demandN: number;
  capacityN: number;
  /** the pull alone (negative: pushed on), and what the moment adds to it, N; they sum to the demand unless the push holds all on */
  pullN: number;
  pryN: number;
}

/**
 * @param pullN radially outward pull on the retention, N; negative: pushed on
 * @param momentNmm size of the tilting moment about the bearing, N·mm
 */
export function retentionDemand(r: Retention, pullN: number, momentNmm: number): RetentionDemand {
  const moment = (1 - r.journalShare) * momentNmm;
  switch (r.kind) {
    case "lip": {
      const demand = r.model === "ring" ? ringPull(pullN, moment, r.radiusMm) : shoulderPull(pullN, moment, r.radiusMm, r.shoulderRadiusMm);
      return { part: "hub lip", demandN: Math.max(0, demand), capacityN: r.capacityN, pullN, pryN: demand - pullN };
    }
    case "crossPin": {
      const demand = pinShear(pullN, moment, r.shearRadiusMm);
      return {
        part: "cross-pin",
        demandN: demand,
        capacityN: (Math.PI / 4) * r.pinDiameterMm ** 2 * r.shearStrengthMPa,
        pullN,
        pryN: demand - Math.abs(pullN) / 2,
      };
    }
    case "screwedRing": {
      // about half of the engaged length is thread (common practice, no source)
      const demand = ringPull(pullN, moment, r.threadRadiusMm);
      return {
        part: "screwed ring",
        demandN: Math.max(0, demand),
        capacityN: Math.PI * r.threadRadiusMm * r.engagedLengthMm * r.shearStrengthMPa,
        pullN,
        pryN: demand - pullN,
      };
    }
  }
}

/** Outward pull on the wheel along its axis, N: the tyre's forces, the wheel's weight and inertia. Negative: pushed on. */
export function outwardPullN(x: LimitContext, side: Side): number {
  const { c, s } = cornerOfContext(x, side);
  const ox = c.sign * Math.cos(s.wheelAngleRad);
  const oz = c.sign * Math.sin(s.wheelAngleRad);
  const fx = s.tyre.lateralN + c.wheelWeight * x.state.load.lateralG;
  const fz = s.tyre.verticalN - c.wheelWeight;
  return fx * ox + fz * oz;
}

/** What keeps the wheel on its hub against outward pull and tilting moment. */
export function hubRetention(x: LimitContext, side: Side): LimitResult {
  const { c, s } = cornerOfContext(x, side);
  const moment = Math.abs(s.bearing.momentNmm);
  const pull = outwardPullN(x, side);
  const d = retentionDemand(c.corner.hub.retention, pull, moment);
  return limitResult("hubRetention", side, {
    part: d.part,
    demand: d.demandN,
    capacity: d.capacityN,
    unit: "N",
    inputs: [
      { name: pull < 0 ? "pushed on by" : "pulled outwards by", value: Math.abs(pull), unit: "N" },
      { name: "tilting moment", value: moment, unit: "N·mm" },
      { name: "prying adds", value: d.pryN, unit: "N" },
    ],
  });
}
