import type { Arm } from "../design/types.ts";

/** Places along an arm, as shares of its length, at which something acts on it; null: nothing does. */
export interface ArmPlaces {
  /** spring seat on the centre line, 0 inner pivot .. 1 ball joint */
  seat: number | null;
  /** end of the anti-roll bar on the centre line */
  bar: number | null;
}

interface Kept<T> extends ArmPlaces {
  lengthMm: number;
  value: T;
}

/** lengths and places of one arm whose answers are kept: both sides of the car, and the last ones of a drag */
const MOST = 4;

export type PerArm<T> = (arm: Arm, lengthMm: number, seat: number | null, bar?: number | null) => T;

/**
 * Remembers what was made of an arm of some length, seat and bar. Designs are never changed in place: the same object is the same arm. Both
 * sides of a car share one description, and a moved pivot changes one arm of two, so that most frames of a drag find theirs here.
 */
export function keptPerArm<T>(make: PerArm<T>): PerArm<T> {
  const known = new WeakMap<Arm, Kept<T>[]>();
  return (arm, lengthMm, seat, bar = null) => {
    let list = known.get(arm);
    if (!list) {
      list = [];
      known.set(arm, list);
    }
    const found = list.find((k) => k.lengthMm === lengthMm && k.seat === seat && k.bar === bar);
    if (found) return found.value;
    const value = make(arm, lengthMm, seat, bar);
    list.unshift({ lengthMm, seat, bar, value });
    if (list.length > MOST) list.pop();
    return value;
  };
}
