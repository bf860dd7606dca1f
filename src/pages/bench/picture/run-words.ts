import type { Run } from "../../../core/design/tried.ts";
import { LIMIT_WORDS } from "../../../core/limit-words.ts";
import { mpsToKmh } from "../../../core/units.ts";
import { fixed } from "../../../view/format.ts";
import { runG, runSpeed } from "../state/run-edits.ts";

/** "28.0 km/h, 0.81 g" */
export const paceWords = (run: Run): string => `${fixed(mpsToKmh(runSpeed(run)), 1)}\u2009km/h, ${fixed(runG(run), 2)}\u2009g`;

export const dayWords = (date: string | null): string => date ?? "day not told";

const short = (v: number): string => fixed(v, 2).replace(/\.?0+$/, "");

/** "6 m to the left, 28.0 km/h, 0.81 g" */
export const runWords = (run: Run): string => `${short(run.radiusM)}\u2009m to the ${run.hand}, ${paceWords(run)}`;

export const gaveWords = (run: Run): string =>
  run.gave.map(({ limit, side }) => `${LIMIT_WORDS[limit].row.toLowerCase()}${side ? `, ${side}` : ""}`).join("; ");
