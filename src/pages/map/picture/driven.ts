import { pedals } from "../../../core/design/load.ts";
import { DRIVINGS, type Driving, type DrivingSpeeds, drivenAlike, pedalsOf } from "../../../core/studies/driving.ts";
import { mpsToKmh } from "../../../core/units.ts";
import type { Doc } from "../../../state/document.ts";
import { fixed } from "../../../view/format.ts";
import { givesFirst } from "../../../view/map/names.ts";

/** A way of driving the curve, with the speed at which something gives. */
export interface DrivenRow {
  /** null: throttle and brake as they were set by hand */
  driving: Driving | null;
  words: string;
  chosen: boolean;
  kmh: string;
  gives: string;
}

const WORDS: Readonly<Record<Driving, string>> = { coasting: "coasting", fullThrottle: "full throttle", hardBraking: "hard braking" };
/** What the press is called among what can be undone. */
export const DRIVING_ACTS: Readonly<Record<Driving, string>> = { coasting: "coast", fullThrottle: "drive at full throttle", hardBraking: "brake hard" };

/** The three ways of driving the chosen curve, the load's own first where it is none of them; speeds follow when they are known. */
export function drivenRows(doc: Doc, speeds: DrivingSpeeds | null): DrivenRow[] {
  const { throttle, brakeG } = pedals(doc.load);
  const is = (d: Driving): boolean => {
    const own = pedalsOf(doc.a, d);
    return own.throttle === throttle && own.brakeG === brakeG;
  };
  const alike = speeds !== null && drivenAlike(speeds.each);
  const rows = DRIVINGS.map((driving): DrivenRow => {
    const at = speeds?.each[driving];
    const worst = speeds?.worst === driving && !alike ? ", worst" : "";
    return {
      driving,
      words: WORDS[driving],
      chosen: is(driving),
      kmh: at ? fixed(mpsToKmh(at.speedMps), 1) : "…",
      gives: at ? `${givesFirst(at.limit, doc.a.corner)}${worst}` : "",
    };
  });
  if (DRIVINGS.some(is)) return rows;
  const own = [throttle === 0 ? "" : `throttle ${fixed(100 * throttle, 0)} %`, brakeG === 0 ? "" : `braking ${fixed(brakeG, 2)} g`].filter(Boolean).join(", ");
  return [...rows, { driving: null, words: own, chosen: true, kmh: "", gives: "the map is drawn for this" }];
}
