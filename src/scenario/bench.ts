import { z } from "zod";
import { LIMIT_NAMES } from "../core/analysis.ts";
import { BENCH_KINDS, HUB_FEELS } from "../core/design/tried.ts";
import { ARM_NAMES, JOINT_NAMES, SIDES } from "../core/design/types.ts";
import { CAPS } from "./caps.ts";
import { flag, num, text } from "./fields.ts";

/** What was tried on the bench and driven, as a scenario file keeps it. */

const day = text(10, "the day, as 2026-11-26; null = not told").nullable().default(null);
const note = text(CAPS.noteLetters, "what the builder noted").default("");

export const benchTestSchema = z.strictObject({
  kind: z.enum(BENCH_KINDS).meta({ description: "kind of bench test" }),
  date: day,
  note,
  side: z
    .enum([...SIDES, "both"])
    .meta({ description: "whose part was on the bench" })
    .default("both"),
  setUp: z
    .record(z.string().max(CAPS.wordLetters), z.union([num(-1e6, 1e6, "", "a number of the set-up"), text(CAPS.wordLetters, "a word of the set-up")]))
    .meta({ description: "how it was set up, by the names that the kind of test asks for" })
    .default({}),
  units: z.array(text(CAPS.cellLetters, "unit of a column")).max(CAPS.benchColumns).meta({ description: "units of the columns, in their order" }).default([]),
  rows: z
    .array(z.array(text(CAPS.cellLetters, "a cell as it was typed")).max(CAPS.benchColumns))
    .max(CAPS.benchRows)
    .meta({ description: "the table as it was typed" })
    .default([]),
});

const paceSchema = z.union([
  z.strictObject({ by: z.literal("speed"), kmh: num(0.1, 300, "km/h", "speed in the curve") }),
  z.strictObject({ by: z.literal("lap"), seconds: num(0.1, 3600, "s", "time for a whole circle") }),
  z.strictObject({ by: z.literal("g"), g: num(0, 5, "g", "cornering as a phone tells it") }),
]);

export const runSchema = z.strictObject({
  date: day,
  note,
  radiusM: num(0.1, 1000, "m", "radius of the curve"),
  hand: z.enum(SIDES).meta({ description: "way of the curve" }).default("left"),
  pace: paceSchema.meta({ description: "how fast, as it was told" }),
  grip: num(0.05, 3, "", "grip of its surface, lateral over vertical force; null = that of the design's tyres").nullable().default(null),
  bumpMm: num(0, 60, "mm", "height of the road's unevenness, rolled over by the outer wheel").default(0),
  minutes: num(0.02, 600, "min", "how long it went on like that; null = not told").nullable().default(null),
  gave: z
    .array(
      z.strictObject({
        limit: z.enum(LIMIT_NAMES).meta({ description: "what gave" }),
        side: z.enum(SIDES).nullable().meta({ description: "side it gave on; null = not told" }).default(null),
        at: z
          .enum([...JOINT_NAMES, ...ARM_NAMES])
          .nullable()
          .meta({ description: "joint or arm that gave; null = not told, or there is only one" })
          .default(null),
      }),
    )
    .max(20)
    .meta({ description: "what gave; none = all held" })
    .default([]),
  hub: z
    .union([
      z.strictObject({ felt: z.enum(HUB_FEELS).meta({ description: "the hub to the hand" }) }),
      z.strictObject({ celsius: num(-40, 300, "°C", "temperature of the hub") }),
    ])
    .meta({ description: "the hub after the run; null = nobody felt it" })
    .nullable()
    .default(null),
  airCelsius: num(-30, 60, "°C", "temperature of the air").default(20),
  taken: flag("what the runs told of the parts was taken into the design").default(false),
});
