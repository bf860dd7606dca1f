import type { Chance, SampledBand } from "../core/doubt/chance.ts";
import { mergeSamples, type SampleQuestion, type Samples } from "../core/doubt/sample.ts";
import { ACCEPTED_CHANCE, type SafeTold } from "../core/doubt/told.ts";
import { USUAL_DRAW } from "../core/doubt/usual.ts";
import { mpsToKmh } from "../core/units.ts";
import type { FlagOption, NumberOption } from "./command.ts";
import { runTasks, sampleShares, usefulJobs } from "./tasks.ts";

/** What commands that tell how sure an answer is have in common. */

export const SAMPLES: NumberOption = {
  flag: "samples",
  valueName: "N",
  min: 8,
  max: 65_536,
  unit: "cars",
  about: "cars that are tried, their values drawn within what is known of them; a power of two fills it best; without it 512",
  whole: true,
};
export const SEED: NumberOption = {
  flag: "seed",
  valueName: "N",
  min: 0,
  max: 4_294_967_295,
  unit: "",
  about: "the same seed tries the same cars; without it 1",
  whole: true,
};
export const CHANCE: NumberOption = {
  flag: "chance",
  valueName: "PERCENT",
  min: 0.1,
  max: 50,
  unit: "%",
  about: "chance that something gives which you accept: the speed to drive at most is told for it; without it 5",
};
export const BANDS: FlagOption = { flag: "bands", about: "also how sure the answer is: cars tried, their values drawn within what is known of them" };

type Values = Readonly<Record<string, number>>;
export const drawn = (values: Values): Pick<SampleQuestion, "samples" | "seed"> => ({
  samples: values["samples"] ?? USUAL_DRAW.samples,
  seed: values["seed"] ?? USUAL_DRAW.seed,
});
export const acceptedChance = (values: Values): number => (values["chance"] === undefined ? ACCEPTED_CHANCE : values["chance"] / 100);

/** Draws and solves; null where the car as it is designed does not stand. */
export async function sampleCars(question: SampleQuestion, values: Values, onProgress: (share: number) => void): Promise<Samples | null> {
  const shares = sampleShares(usefulJobs(values["jobs"]));
  const parts = await runTasks(
    shares.map((share) => ({ kind: "sample" as const, question, share })),
    shares.length,
    onProgress,
  );
  const whole = parts.filter((p) => p !== null);
  return whole.length < parts.length ? null : mergeSamples(whole);
}

/** A band of speeds in km/h instead of m/s. */
export const kmhBand = (b: SampledBand): SampledBand => ({
  ...b,
  value: mpsToKmh(b.value),
  median: mpsToKmh(b.median),
  low: mpsToKmh(b.low),
  high: mpsToKmh(b.high),
  mean: mpsToKmh(b.mean),
  sd: mpsToKmh(b.sd),
});

/** The safe speed of a sample as JSON tells it, km/h. */
export const safeAnswer = (t: SafeTold) => ({
  radiusM: t.radiusM,
  speedKmh: mpsToKmh(t.speedMps),
  bandKmh: kmhBand(t.band),
  driveAtMost: { chance: t.atMost.chance, speedKmh: mpsToKmh(t.atMost.speedMps), lowKmh: mpsToKmh(t.atMost.lowMps), highKmh: mpsToKmh(t.atMost.highMps) },
  givesFirst: t.first.map(({ limit, chance }) => ({ limit, ...chance })),
});

/** Only the share and its own range. */
export const chanceAnswer = ({ chance, low, high }: Chance) => ({ chance, low, high });
