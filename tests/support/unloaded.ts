import { springSeatPoint } from "../../src/core/design/corner-geometry.ts";
import { cornerOf } from "../../src/core/design/sides.ts";
import { type Corner, type Scenario, SIDES } from "../../src/core/design/types.ts";

/** The corner as it stands when nothing pushes: spring just as long as its place, stops clear of it, tyre just touching the road. */
function relaxed(c: Corner, weight: number, noPlay: boolean): Corner {
  const seat = springSeatPoint(c);
  const length = Math.sqrt((c.spring.top.sMm - seat.sMm) ** 2 + (c.spring.top.zMm - seat.zMm) ** 2);
  const camber = Math.abs((c.hub.staticCamberDeg * Math.PI) / 180);
  const half = (c.tyre.effectiveWidthMm ?? c.wheel.treadWidthMm) / 2;
  const joints = { ...c.joints };
  if (noPlay) for (const k of Object.keys(joints) as (keyof typeof joints)[]) joints[k] = { ...joints[k], clearanceMm: 0 };
  return {
    ...c,
    joints,
    hub: { ...c.hub, tiltPlayDeg: noPlay ? 0 : c.hub.tiltPlayDeg, staticCamberDeg: noPlay ? 0 : c.hub.staticCamberDeg },
    spring: { ...c.spring, freeLengthMm: length, preloadMm: 0, bumpStop: { ...c.spring.bumpStop, lengthMm: length - 4 }, droopStop: null },
    wheel: {
      ...c.wheel,
      massKg: weight * c.wheel.massKg,
      unsprungMassKg: weight * c.wheel.unsprungMassKg,
      // the lowest edge of a tread that stands at its static camber
      radiusMm: noPlay ? c.wheelCentre.zMm : (c.wheelCentre.zMm - half * Math.sin(camber)) / Math.cos(camber),
    },
    tyre: noPlay ? { ...c.tyre, crownRadiusMm: null } : c.tyre,
  };
}

/** A scenario whose parts carry nothing as built, with a share of its weight; on request without clearance and play. */
export function unloaded(s: Scenario, weight: number, noPlay = false): Scenario {
  const [left, right] = SIDES.map((side) => relaxed(cornerOf(s, side), weight, noPlay)) as [Corner, Corner];
  // all of it weighs less, on the springs and below them
  return { ...s, corner: left, left: {}, right, body: { ...s.body, carMassKg: weight * s.body.carMassKg } };
}
