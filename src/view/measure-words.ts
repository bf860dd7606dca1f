import { BENCH_WORDS } from "../core/design/bench-words.ts";
import { fieldName } from "../core/design/field-words.ts";
import type { BenchKind } from "../core/design/tried.ts";
import type { Side } from "../core/design/types.ts";
import type { MeasureNext } from "../core/doubt/measure-next.ts";
import { mpsToKmh } from "../core/units.ts";
import { chanceWords, inputName } from "./doubt-words.ts";
import { fixed, withUnit } from "./format.ts";
import { SIDE_WORDS } from "./words.ts";

/** What is worth measuring next, in words. The answer is the safe speed. */

interface MeasureLine {
  key: string;
  test: BenchKind;
  side: Side | "both";
  /** "wheel tilted by a pull", with the side where it has values of its own */
  name: string;
  /** "10 min" */
  minutes: string;
  /** "± 0.4 becomes ± 0.2 km/h, 38 % narrower" */
  narrower: string;
  /** what it measures */
  inputs: string;
  share: number;
}

export interface MeasureTold {
  /** "± 0.4 km/h", to first order: a sample may tell another ± */
  now: string;
  lines: MeasureLine[];
  /** what no bench test takes away, and what a ruler does; empty: nothing much */
  beyond: string;
  /** what was measured has bought */
  bought: { key: string; words: string }[];
}

const LINES = 6;
const NAMED = 3;
const kmh = (mps: number): string => fixed(mpsToKmh(mps), 2);

const percent = (share: number): string => fixed(100 * share, 0);

/** What no bench test tells: a length is told by a ruler all the same. */
function beyondWords(beyond: MeasureNext["beyondTests"]): string {
  const isLength = (b: MeasureNext["beyondTests"][number]): boolean => fieldName(b.key)?.unit === "mm";
  const named = (of: MeasureNext["beyondTests"]): string => of.map((b) => `${inputName(b.key)} (${chanceWords(b.share)} of the doubt)`).join("; ");
  const [lengths, others] = [beyond.filter(isLength), beyond.filter((b) => !isLength(b))];
  return [
    lengths.length > 0 ? `No bench test, but a calliper or a ruler tells: ${named(lengths)}. Type it in on the axle's sheet.` : "",
    others.length > 0 ? `No bench test tells: ${named(others)}.` : "",
  ]
    .filter(Boolean)
    .join(" ");
}

export function measureTold(next: MeasureNext): MeasureTold {
  return {
    now: `± ${kmh(next.bandSd)}${"\u2009"}km/h`,
    lines: next.rows
      .filter((r) => percent(r.narrower) !== "0")
      .slice(0, LINES)
      .map((r) => ({
        key: `${r.test}.${r.side}.${r.inputs.map((u) => u.key).join()}`,
        test: r.test,
        side: r.side,
        name: `${BENCH_WORDS[r.test]}${r.side === "both" ? "" : `, ${SIDE_WORDS[r.side]}`}`,
        minutes: withUnit(r.minutes, 0, "min"),
        narrower: `± ${kmh(next.bandSd)} becomes ± ${kmh(r.bandSd)}${"\u2009"}km/h, ${percent(r.narrower)} % narrower`,
        inputs: r.inputs.map((u) => inputName(u.key)).join("; "),
        share: r.narrower,
      })),
    beyond: beyondWords(next.beyondTests.slice(0, NAMED)),
    // what changes nothing that is shown has bought nothing
    bought: next.bought
      .filter((b) => kmh(b.bandSdBefore) !== kmh(b.bandSdNow))
      .map((b) => ({
        key: b.key,
        words: `${inputName(b.key)}: measured, so that the safe speed is ± ${kmh(b.bandSdNow)} instead of ± ${kmh(b.bandSdBefore)}${"\u2009"}km/h`,
      })),
  };
}
