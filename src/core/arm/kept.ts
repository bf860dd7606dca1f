import type { Arm } from "../design/types.ts";

interface Kept<T> {
  lengthMm: number;
  seat: number | null;
  value: T;
}

/** lengths and seats of one arm whose answers are kept: both sides of the car, and the last ones of a drag */
const MOST = 4;

/**
 * Remembers what was made of an arm of some length and seat. Designs are never changed in place: the same object is the same arm. Both
 * sides of a car share one description, and a moved pivot changes one arm of two, so that most frames of a drag find theirs here.
 */
export function keptPerArm<T>(make: (arm: Arm, lengthMm: number, seat: number | null) => T): (arm: Arm, lengthMm: number, seat: number | null) => T {
  const known = new WeakMap<Arm, Kept<T>[]>();
  return (arm, lengthMm, seat) => {
    let list = known.get(arm);
    if (!list) {
      list = [];
      known.set(arm, list);
    }
    const found = list.find((k) => k.lengthMm === lengthMm && k.seat === seat);
    if (found) return found.value;
    const value = make(arm, lengthMm, seat);
    list.unshift({ lengthMm, seat, value });
    if (list.length > MOST) list.pop();
    return value;
  };
}
