import { type Scenario, SIDES } from "../../src/core/design/types.ts";
import type { Random } from "../../src/core/numerics/random.ts";
import { createDragging, type Dragging } from "../../src/pages/axle/dragging.ts";
import type { Shelf } from "../../src/state/persist.ts";
import type { Store } from "../../src/state/store.ts";
import { claim, pick } from "./fuzzer.ts";

/** What the hand works with: the page's own store and what its controls are joined to. */
export interface Desk {
  random: Random;
  store: Store;
  dragging: Dragging;
  shelf: Shelf;
  /** designs that may be opened */
  cars: readonly Scenario[];
  /** ms since the page began */
  clock: { now: number };
}

export type Edit = (desk: Desk) => void;

/** For edits that no design gives a reason to refuse. */
export const passes = (refusal: string | null): void => claim(refusal === null, `refused without need: ${refusal}`);

/** A browser's store of strings without the browser. */
export function memoryShelf(): Shelf {
  const texts = new Map<string, string>();
  return {
    getItem: (key) => texts.get(key) ?? null,
    setItem: (key, value) => void texts.set(key, value),
    removeItem: (key) => void texts.delete(key),
    key: (i) => [...texts.keys()][i] ?? null,
    get length() {
      return texts.size;
    },
  };
}

/** The axle's handles, by the page's own dragging; moves are worked out at once and not held back where the axle finds no hold. */
export const handOn = (store: Store): Dragging =>
  createDragging({
    store,
    drawn: () => null,
    pxPerMm: () => 3,
    pxPerG: () => 60,
    within: (_from, doc) => ({ doc, end: null }),
    ended: () => {},
    noAnswer: () => null,
    lean: () => "",
    active: () => {},
    refused: () => {},
    say: () => {},
    tap: () => {},
    request: () => {},
  });

/** A number as it is set: within what the control offers, at an end of what may be, beyond it, or none at all. */
export function numberFor(
  random: Random,
  offered: { min: number; max: number; step?: number },
  allowed: { min: number; max: number; whole?: boolean },
): number {
  const kind = random.next();
  if (kind < 0.5) {
    const v = random.between(offered.min, offered.max);
    const step = offered.step ?? 0;
    return step > 0 && random.next() < 0.8 ? Math.round(v / step) * step : v;
  }
  if (kind < 0.62) return pick(random, [allowed.min, allowed.max]);
  const inside = random.between(allowed.min, allowed.max);
  if (kind < 0.85) return allowed.whole ? Math.round(inside) : inside;
  const wide = allowed.max - allowed.min;
  return pick(random, [
    allowed.min - 1e-9,
    allowed.max + 1e-9 * Math.max(1, allowed.max),
    allowed.max + wide,
    allowed.min - wide,
    0,
    -0,
    1e-300,
    1e300,
    Number.NaN,
    Number.POSITIVE_INFINITY,
  ]);
}

export const someSide = (random: Random) => pick(random, SIDES);
