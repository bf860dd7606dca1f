import type { LimitName } from "../core/analysis.ts";
import { capital } from "../core/capital.ts";
import { benchTest, LIMIT_BENCH_KIND } from "../core/limits/bench-tests.ts";
import { LIMITS } from "../core/limits/records.ts";
import { safeSpeedAt } from "../core/studies/map-levels.ts";
import { worsening } from "../core/studies/rank-changes.ts";
import { mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { degrees, fixed, withUnit } from "../view/format.ts";
import { guessesTold, restsWords } from "../view/guess-words.ts";
import { mapWords } from "../view/map/names.ts";
import { measureTold } from "../view/measure-words.ts";
import { distanceWords, SIDE_WORDS } from "../view/words.ts";
import { plain } from "./build-list.ts";
import type { ReportData } from "./data.ts";
import { atMostLine } from "./sure.ts";
import { curveWords } from "./words.ts";

/** What one needs to know before the next drive and the next rebuild, as sentences. */
export interface Summary {
  /** what gives first, and at which speed */
  gives: string;
  /** the highest speed at which nothing gives, on the tracks of the file */
  safe: string;
  /** the one change that is worth the rebuild */
  change: string;
  /** the bench test to do next */
  bench: string;
  /** the guesses that it rests on, and those that matter most, in one line; none where it rests on none */
  known: readonly string[];
  /** what this car's own answers warn of, and last, in one line, what holds for all */
  cautions: readonly string[];
}

/** tracks that one line tells */
const TRACKS_MOST = 4;
/** A gain in speed below this is not worth a rebuild, km/h. */
const WORTH_KMH = 0.5;

export function summaryOf(d: ReportData): Summary {
  const limit = givesFirst(d);
  return {
    gives: givesWords(d),
    safe: safeWords(d),
    change: changeWords(d),
    bench: benchWords(d, limit),
    known: knownWords(d),
    cautions: [...ownCautions(d), CAUTIONS.join(" ")],
  };
}

/** The test that narrows the safe speed most; where none does, the one of what gives first. */
function benchWords({ next, a }: ReportData, limit: LimitName | null): string {
  const first = next && measureTold(next).lines[0];
  const usual = benchTest(limit, a.corners.right);
  if (!first) return usual;
  const lead = limit && LIMIT_BENCH_KIND[limit] === first.test ? usual : `The bench leads through it: “${first.name}” (${first.inputs}).`;
  return `${lead} It takes ${first.minutes}; the safe speed's ${first.narrower}.`;
}

/** On the chosen curve; where no speed can be told, under the report's load. */
const givesFirst = (d: ReportData): LimitName | null => (d.changes ? d.changes.base.gives : d.a.report.firstToGive.name);

function knownWords({ guesses, a }: ReportData): string[] {
  if (!guesses || guesses.count === 0) return [];
  const told = guessesTold(guesses, a.corners.right);
  const head = `It ${restsWords(guesses.count)}`;
  if (told.rows.length === 0) return [`${head}. ${told.rest}`];
  return [`${head}; these matter most for ${told.now}: ${told.rows.map((r) => `${r.name} (${r.step}): ${r.effect}`).join("; ")}.`];
}

const hand = (d: ReportData): string => `in a ${d.hand}-hand curve of ${curveWords(d)}`;

function whatGives(d: ReportData, name: LimitName | null): string {
  if (name === null) return "the car finds no steady position";
  const w = mapWords(name, d.a.corners.right);
  return `${w.the} ${w.does}`;
}

function givesWords(d: ReportData): string {
  const base = d.changes?.base;
  if (!base) return "The car finds no steady position at rest, so no speed can be told.";
  const kmh = mpsToKmh(base.safeSpeedMps);
  const what = whatGives(d, base.gives);
  if (!(base.safeSpeedMps > 0)) return `${capital(what)} already at a walk, ${hand(d)}.`;
  const at = `${withUnit(kmh, 1, "km/h")} (${fixed(base.safeLateralG, 2)} g) ${hand(d)}`;
  if (base.safeSpeedMps >= base.reachableMps && base.reachableMps > 0)
    return `The drive runs out at ${withUnit(mpsToKmh(base.reachableMps), 1, "km/h")}, before anything gives: from ${at}, ${what}.`;
  return `${capital(what)} first, from ${at}.`;
}

function safeWords(d: ReportData): string {
  const { tracks } = d.request.scenario;
  if (tracks.length === 0) return "The file names no tracks; the table of the speed map has the usual curves.";
  const at = (radiusM: number): number =>
    mpsToKmh(Math.min(safeSpeedAt(d.map, radiusM).speedMps, d.otherMap ? safeSpeedAt(d.otherMap, radiusM).speedMps : Number.POSITIVE_INFINITY));
  const told = tracks.slice(0, TRACKS_MOST).map((t) => `${t.name} (${plain(t.radiusM, 2)} m) ${withUnit(at(t.radiusM), 1, "km/h")}`);
  const more = tracks.length - told.length;
  const sure = atMostLine(d);
  return `Nothing gives below: ${told.join("; ")}${more > 0 ? `; ${more} more in the table of the speed map` : ""}.${d.otherMap ? " The slower hand is told." : ""}${sure && ` ${sure}`}`;
}

function changeWords(d: ReportData): string {
  const { changes } = d;
  if (!changes) return "No change can be judged before the car stands.";
  const { base } = changes;
  if (base.reachableMps > 0 && base.safeSpeedMps >= base.reachableMps) return `None: the drive runs out first ${hand(d)}.`;
  const best = changes.results.find((r) => worsening(r, base) === null);
  if (!best || mpsToKmh(best.buys.speedMps) < WORTH_KMH) return `None: no single change raises the safe speed ${hand(d)} by ${WORTH_KMH} km/h.`;
  const { outcome, change } = best;
  const [was, then] = [base.leanDeg, outcome.leanDeg].map((v) => (v === null ? "" : degrees(v)));
  const lean = was === then || !was || !then ? "" : `, lean at this load ${was} → ${then}`;
  const cost = change.cost === change.costKind ? change.cost : `${change.costKind}, ${change.cost}`;
  return `${capital(change.title)} (${cost}): safe speed ${fixed(mpsToKmh(base.safeSpeedMps), 1)} → ${withUnit(mpsToKmh(outcome.safeSpeedMps), 1, "km/h")} ${hand(d)}${lean}; then ${whatGives(d, outcome.gives)} first.`;
}

/** Cautions of this car that are past their mark at the load, each once, the worst wheel named. */
function ownCautions(d: ReportData): string[] {
  const told = new Set<string>();
  return d.a.report.limits
    .filter((l) => l.caution && l.utilization >= 1)
    .sort((a, b) => b.utilization - a.utilization)
    .flatMap((l) => {
      if (told.has(l.name)) return [];
      told.add(l.name);
      return [
        `${LIMITS[l.name].words.row} under this load: ${distanceWords(l)?.replace("touches, ", "") ?? `${fixed(100 * Math.min(l.utilization, 99), 0)} % of its mark`} (${SIDE_WORDS[l.wheel]}, ${l.part}).`,
      ];
    });
}
