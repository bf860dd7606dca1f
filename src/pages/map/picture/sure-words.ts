import type { Corner } from "../../../core/design/types.ts";
import { type Band, bandAbout } from "../../../core/doubt/bands.ts";
import { type DriveAtMost, lineAt, type SafeLine, type SampleTold } from "../../../core/doubt/told.ts";
import { mpsToKmh } from "../../../core/units.ts";
import { atMostError, rangeWords, sampledChanceWords, sdWords } from "../../../view/doubt-words.ts";
import { fixed, withUnit } from "../../../view/format.ts";
import { mapWords } from "../../../view/map/names.ts";
import { radiusWords } from "../../../view/map/words.ts";
import { triedWords } from "../../../view/sampling-words.ts";

/** How sure the map is, in words and lines. */

/** What is known of it: of first order the safe speed's ± where the car stands; of sampled cars all else. */
export interface MapDoubts {
  /** of the safe speed, m/s, at this radius; null: not told */
  first: { speedMps: number; sdMps: number | null } | null;
  /** over the radius; null: not sampled yet */
  lines: readonly SafeLine[] | null;
  /** of just this place; null: not sampled yet */
  here: { told: SampleTold; atMost: readonly DriveAtMost[] } | null;
}

export interface MapSureWords {
  /** "± 0.2 km/h"; empty: not known */
  sure: string;
  range: string;
  /** "20.4 km/h", with its own error; empty: not known */
  atMost: string;
  atMostOff: string;
  /** chances at the place */
  place: string;
  chances: { key: string; words: string; chance: string; any: boolean }[];
  /** of how many cars, or why there is nothing yet */
  note: string;
}

/** a chance below this is told only where none is larger */
const TOLD_FROM = 0.001;

export function mapSureWords(d: MapDoubts, corner: Corner, chancePercent: number, place: { radiusM: number; kmh: number }): MapSureWords {
  const band = safeBand(d);
  const most = d.here?.atMost.find((m) => m.chance === chancePercent / 100);
  const at = d.here?.told.at;
  const passed = at?.passed.filter((p) => !p.caution).sort((x, y) => y.chance.chance - x.chance.chance) ?? [];
  const shown = passed.filter((p) => p.chance.chance >= TOLD_FROM);
  const others = passed.some((p) => p.chance.chance > 0 && p.chance.chance < TOLD_FROM) ? "hardly any of them" : "none of them";
  return {
    sure: band ? sdWords(band.sd, 1, "km/h") : "",
    range: band ? rangeWords(band, 1, "") : "",
    atMost: most ? withUnit(mpsToKmh(most.speedMps), 1, "km/h") : "",
    atMostOff: most ? atMostError({ low: mpsToKmh(most.lowMps), high: mpsToKmh(most.highMps) }) : "",
    place: `${radiusWords(place.radiusM)} m, ${fixed(place.kmh, 1)} km/h`,
    chances: at
      ? [
          { key: "any", words: "anything gives", chance: sampledChanceWords(at.any), any: true },
          ...shown.map((p) => ({ key: p.limit, words: limitWords(p.limit, corner), chance: sampledChanceWords(p.chance), any: false })),
          ...(at.noPosition.chance >= TOLD_FROM
            ? [{ key: "none", words: "the axle finds no hold", chance: sampledChanceWords(at.noPosition), any: false }]
            : []),
        ]
      : [],
    note: !d.here ? "" : `From ${triedWords(d.here.told.worlds)}${passed.length > shown.length ? `; every other limit in ${others}` : ""}.`,
  };
}

function limitWords(limit: Parameters<typeof mapWords>[0], corner: Corner): string {
  const w = mapWords(limit, corner);
  return `${w.part} ${w.does}`;
}

/** The safe speed's band at the place's radius, km/h; sampled where it can be. */
function safeBand(d: MapDoubts): Band | null {
  const sampled = d.here?.told.safe?.band;
  if (sampled) return { value: mpsToKmh(sampled.value), sd: mpsToKmh(sampled.sd), low: mpsToKmh(sampled.low), high: mpsToKmh(sampled.high) };
  const { first } = d;
  if (!first || first.sdMps === null) return null;
  const band = bandAbout(mpsToKmh(first.speedMps), mpsToKmh(first.sdMps));
  return { ...band, low: Math.max(0, band.low) };
}

/** Ends of the band over the radius, km/h; to first order in the same share of the safe speed everywhere. Null: not known. */
export function bandOver(d: MapDoubts, safeKmh: (radiusM: number) => number): { low(radiusM: number): number; high(radiusM: number): number } | null {
  const of = (chance: number): SafeLine | undefined => d.lines?.find((l) => l.chance === chance);
  const [low, high] = [of(0.05), of(0.95)];
  if (low && high) return { low: (r) => mpsToKmh(lineAt(low, r)), high: (r) => mpsToKmh(lineAt(high, r)) };
  const band = safeBand(d);
  if (!band || !(band.value > 0)) return null;
  return { low: (r) => (safeKmh(r) * band.low) / band.value, high: (r) => (safeKmh(r) * band.high) / band.value };
}
