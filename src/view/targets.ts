import type { V2 } from "../core/vec.ts";
import type { Handle } from "./handles.ts";

/** Where a control is pressed, and how wide and high that place is, px. */
export interface Target {
  at: V2;
  size: V2;
}

/** smallest place to press (WCAG 2.2, 2.5.8 target size minimum), px */
const LEAST_PX = 24;
/** so far apart, places for a finger leave 24 px free even between two others: twice this less their width, px */
const FINGER_APART_PX = 34;
/** place for a finger, px */
const FINGER_PX = 44;
/** places for a mouse by the kind of handle, px; others have `FINE_PX` */
const MOUSE_PX: Record<string, V2> = { cornering: [40, 40], road: [44, 24], gravity: [32, 32], fit: [24, 24] };
const FINE_PX = 28;
/** the road is taken from below, where the tyre is not */
const ROAD_DOWN_PX = 6;
/** a crowd that is not apart after so many rounds stays as close as it is */
const ROUNDS = 40;

/**
 * Where each handle is pressed, in the order of the handles. For a finger they are as wide as it asks and may lie over each other by their edges, where
 * the nearest is meant; for a mouse each has its own.
 */
export function handleTargets(handles: readonly Handle[], finger: boolean): Target[] {
  return spreadTargets(
    handles.map((g): Target => {
      const kind = g.id.split(".")[0] ?? "";
      const down = kind === "road" ? ROAD_DOWN_PX * (finger ? 2 : 1) : 0;
      const wide = finger && kind !== "fit";
      return { at: [g.at[0], g.at[1] + down], size: wide ? [FINGER_PX, FINGER_PX] : (MOUSE_PX[kind] ?? [FINE_PX, FINE_PX]) };
    }),
    !finger,
  );
}

/**
 * Places to press that do not lie over each other: each stays at its thing where there is room, shrinks down to 24 px where there is little, and moves
 * aside where there is less. `wanted` is given by centre and size; without `shrink` the sizes stay, and 24 px of each are free of the next.
 */
export function spreadTargets(wanted: readonly Target[], shrink = true): Target[] {
  const least = shrink ? LEAST_PX : FINGER_APART_PX;
  const at = wanted.map((t): [number, number] => [t.at[0], t.at[1]]);
  // apart by the least across or up and down, by the shorter way
  for (let round = 0; round < ROUNDS; round++) {
    let moved = false;
    for (let i = 0; i < at.length; i++)
      for (let j = i + 1; j < at.length; j++) {
        const [a, b] = [at[i]!, at[j]!];
        const way: V2 = [b[0] - a[0], b[1] - a[1]];
        const axis = Math.abs(way[0]) >= Math.abs(way[1]) ? 0 : 1;
        const lack = least + 0.5 - Math.abs(way[axis]);
        if (lack <= 0) continue;
        const push = (way[axis] < 0 ? -1 : 1) * (lack / 2);
        a[axis] -= push;
        b[axis] += push;
        moved = true;
      }
    if (!moved) break;
  }
  if (!shrink) return at.map((place, i) => ({ at: place, size: wanted[i]!.size }));
  return at.map((place, i): Target => {
    const size: [number, number] = [wanted[i]!.size[0], wanted[i]!.size[1]];
    for (const [j, other] of at.entries()) {
      if (j === i) continue;
      const gap: V2 = [Math.abs(other[0] - place[0]), Math.abs(other[1] - place[1])];
      const theirs = wanted[j]!.size;
      const over: V2 = [(size[0] + theirs[0]) / 2 - gap[0], (size[1] + theirs[1]) / 2 - gap[1]];
      if (over[0] <= 0 || over[1] <= 0) continue;
      // both give way alike, along the way on which they are further apart
      const axis = gap[0] >= gap[1] ? 0 : 1;
      size[axis] = Math.max(LEAST_PX, Math.min(size[axis], gap[axis]));
    }
    return { at: place, size };
  });
}
