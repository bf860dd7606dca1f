import type { Corner } from "../design/types.ts";
import { type AssemblyError, buildCorner } from "./corner.ts";
import { type CornerKinematics, kinematicsAt } from "./outputs.ts";
import { type Locked, lockedAt } from "./position.ts";

export interface KinematicsCurve {
  ok: true;
  rows: CornerKinematics[];
  /** where the wished travel was cut because the linkage locks before it; null: not cut */
  cutInBump: Locked | null;
  cutInDroop: Locked | null;
}

/**
 * `count` (at least 2) evenly spaced rows from `fromMm` to `toMm` of wheel-centre travel (mm against the chassis,
 * from < to), cut at the travel limits and saying why. A wish that lies wholly beyond a limit gives no rows.
 */
export function kinematicsCurve(corner: Corner, fromMm: number, toMm: number, count: number): KinematicsCurve | AssemblyError {
  const linkage = buildCorner(corner);
  if (!linkage.ok) return linkage;
  const { bumpMm, droopMm } = linkage.limits;
  const from = Math.max(fromMm, droopMm);
  const to = Math.min(toMm, bumpMm);
  const rows: CornerKinematics[] = [];
  for (let i = 0; from <= to && i < count; i++) {
    const row = kinematicsAt(linkage, i === count - 1 ? to : from + ((to - from) * i) / (count - 1));
    if (row.ok) rows.push(row);
  }
  return {
    ok: true,
    rows,
    cutInBump: toMm > bumpMm ? lockedAt(linkage, "bump") : null,
    cutInDroop: fromMm < droopMm ? lockedAt(linkage, "droop") : null,
  };
}
