import type { Load } from "./types.ts";

/** Throttle (0..1) and brake (g) of a load; neither where they are not told. */
export const pedals = (load: Load): { throttle: number; brakeG: number } => ({ throttle: load.throttle ?? 0, brakeG: load.brakeG ?? 0 });

/** Whether the load pushes or brakes at all. */
export const pushes = (load: Load): boolean => pedals(load).throttle !== 0 || pedals(load).brakeG !== 0;

/** The load of a load case, of a file or of a hand, in its one form: throttle and brake stand in it only where they do something. */
export function plainLoad(from: Load): Load {
  const { throttle, brakeG } = pedals(from);
  return {
    lateralG: from.lateralG,
    bumpLeftMm: from.bumpLeftMm,
    bumpRightMm: from.bumpRightMm,
    ...(throttle === 0 ? {} : { throttle }),
    ...(brakeG === 0 ? {} : { brakeG }),
  };
}
