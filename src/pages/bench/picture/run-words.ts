import type { Run } from "../../../core/design/tried.ts";
import { drivenIn } from "../../../core/runs/pace.ts";
import { mpsToKmh } from "../../../core/units.ts";
import { fixed } from "../../../view/format.ts";

/** "24.0 km/h, 0.76 g" */
export function drivenWords(run: Run): string {
  const { speedMps, lateralG } = drivenIn(run);
  return `${fixed(mpsToKmh(speedMps), 1)}\u2009km/h, ${fixed(lateralG, 2)}\u2009g`;
}

export const dayWords = (date: string | null): string => date ?? "day not told";
