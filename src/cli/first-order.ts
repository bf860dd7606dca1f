import type { LimitName, LimitResult } from "../core/analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../core/analyze.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import { type Band, bandsOf } from "../core/doubt/bands.ts";
import { derivatives } from "../core/doubt/first-order.ts";
import { uncertainInputs } from "../core/doubt/inputs.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { toTheEnd } from "../core/steps.ts";
import { LIMIT_FAR } from "../core/tolerances.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { SIDE_WORDS } from "../view/words.ts";
import { limitWords } from "./limit-table.ts";
import { num, signed, table } from "./table.ts";

/** Limits that are not told one by one of every input: buckling where it is far, which costs more than all the rest. */
export function farLimits(bench: Bench, state: AxleState, speedMps: number): LimitName[] {
  const near = limitsAt(bench, state, speedMps).some((l) => l.name === "armBuckling" && l.utilization > LIMIT_FAR);
  return near ? [] : ["armBuckling"];
}

/** Bands of first order at a load; null where the car finds no steady position there. */
export function firstOrderBands(scenario: Scenario, load: Load, speedMps: number): Map<OutputKey, Band> | null {
  const bench = buildBench(scenario);
  const at = solveLoad(bench, load);
  if (!at.ok) return null;
  const inputs = uncertainInputs(scenario, rangeOf, { drive: (load.throttle ?? 0) > 0 });
  const run = derivatives({ bench, load, q: at.q, speedMps, shock: 1, leaveOut: farLimits(bench, at.state, speedMps) }, inputs);
  const d = toTheEnd(run);
  return d && bandsOf(inputs, d);
}

/** What carries a band in the tables of an answer. */
export const MEASURES = [
  ["camberDeg.left", "lean (camber) left, \u00b0", 2],
  ["camberDeg.right", "lean (camber) right, \u00b0", 2],
  ["verticalLoadN.left", "load on the road left, N", 1],
  ["verticalLoadN.right", "load on the road right, N", 1],
  ["rollDeg", "body leans (roll), \u00b0", 2],
  ["wheelShiftMm.left", "shift along the road left, mm", 2],
  ["wheelShiftMm.right", "shift along the road right, mm", 2],
] as const;

export function firstOrderTable(bands: ReadonlyMap<OutputKey, Band>, limits: readonly LimitResult[]): string {
  const rows = MEASURES.flatMap(([key, words, digits]) => {
    const band = bands.get(key);
    return band ? [[words, signed(band.value, digits), `\u00b1 ${num(band.sd, digits)}`, `${signed(band.low, digits)} to ${signed(band.high, digits)}`]] : [];
  });
  // a distance is told in mm, of which a share says nothing
  const used = limits.flatMap((l) => {
    const band = l.place ? undefined : bands.get(`limit.${l.name}.${l.wheel}.utilization`);
    const percent = (v: number): string => num(100 * Math.max(0, v), 0);
    return band && band.value > 0
      ? [
          [
            `${limitWords(l)}, ${SIDE_WORDS[l.wheel]}, % used`,
            percent(band.value),
            `\u00b1 ${percent(band.sd)}`,
            `${percent(band.low)} to ${percent(band.high)}`,
          ],
        ]
      : [];
  });
  return table(["", "as designed", "\u00b1", "90 %"], [...rows, ...used]);
}
