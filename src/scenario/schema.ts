import { z } from "zod";
import { CARRIERS, type Scenario } from "../core/design/types.ts";
import { benchTestSchema, runSchema } from "./bench.ts";
import { CAPS } from "./caps.ts";
import { about, flag, num, text, whole } from "./fields.ts";
import { deepPartial } from "./partial.ts";
import { armSchema, hubSchema, jointSchema, pointSchema, springSchema, tyreSchema, wheelSchema } from "./parts.ts";

/** The one definition of a scenario file: fields, ranges, units, descriptions and defaults. */

const cornerSchema = z.strictObject({
  upperInner: about(pointSchema, "upper arm's pivot on the body"),
  upperOuter: about(pointSchema, "upper arm's ball joint at the hub"),
  lowerInner: about(pointSchema, "lower arm's pivot on the body"),
  lowerOuter: about(pointSchema, "lower arm's ball joint at the hub"),
  wheelCentre: about(pointSchema, "centre of the wheel, in its mid-plane"),
  upperArm: about(armSchema, "upper arm"),
  lowerArm: about(armSchema, "lower arm"),
  joints: z
    .strictObject({
      upperInner: jointSchema.prefault({}),
      upperOuter: jointSchema.prefault({}),
      lowerInner: jointSchema.prefault({}),
      lowerOuter: jointSchema.prefault({}),
    })
    .prefault({}),
  spring: springSchema,
  hub: hubSchema,
  wheel: wheelSchema,
  tyre: tyreSchema,
});

const overrideSchema = deepPartial(cornerSchema);

const bodySchema = z.strictObject({
  carMassKg: num(0.05, 100, "kg", "the whole car, ready to run, as the kitchen scale shows it"),
  axleShare: num(0, 1, "", "share of the whole car's weight that stands on this axle's wheels: scale under this axle over whole car"),
  cgHeightMm: num(0, 500, "mm", "height of the centre of gravity of what is on the springs, as built"),
  otherRollStiffnessNmmPerDeg: num(0, 1e7, "N·mm/°", "roll stiffness lent by the other axle through the body; 0 = this axle alone").default(0),
});

const antiRollBarSchema = z.strictObject({
  rateNPerMm: num(0, 500, "N/mm", "force of the anti-roll bar per difference in height of its two ends; 0 = none").default(0),
  atFraction: num(0, 1, "", "where it pulls at the lower arms, fraction of their length from the inner pivot").default(0.7),
});

const limitsSchema = z.strictObject({
  camberDeg: num(0.1, 45, "°", "largest camber you accept, either way").default(4),
  wheelShiftMm: num(0.05, 50, "mm", "largest shift of a wheel along the road that you accept, either way").default(3),
  axisTiltDeg: num(0.05, 45, "°", "largest tilt of the steering axis seen from the side that you accept, either way").default(2),
  spinMustHold: flag("a wheel that spins or locks counts for what gives first and for the safe speed; otherwise it is only a caution").default(false),
});

const carriedBy = (what: string) =>
  z
    .enum(CARRIERS)
    .meta({
      description: `what carries ${what}: the push of the road acts at the wheel's centre (body), at the road (hub), or at the centre with a twist of that arm`,
    })
    .default("body");

const driveSchema = z.strictObject({
  drivenWheels: whole(1, 16, "number of driven wheels").default(4),
  onThisAxle: flag("the wheels of this axle are among the driven ones").default(true),
  carriedBy: carriedBy("the motor or the last gear stage that turns the wheel"),
  motorsPerWheel: num(0.05, 16, "", "motors per driven wheel").default(1),
  stallTorqueNmm: num(0.1, 1e6, "N·mm", "torque of one motor held fast").default(120),
  noLoadRpm: num(1, 2e5, "rpm", "speed of one motor without load").default(6000),
  stages: z
    .array(
      z.strictObject({
        drivingTeeth: whole(1, 1000, "teeth of the driving gear"),
        drivenTeeth: whole(1, 1000, "teeth of the driven gear"),
        efficiency: num(0.05, 1, "", "share of the power that gets through").default(0.9),
      }),
    )
    .max(10)
    .meta({ description: "gear stages from motor to wheel" })
    .default([{ drivingTeeth: 12, drivenTeeth: 40, efficiency: 0.9 }]),
  rollingResistance: num(0, 1, "", "rolling resistance over weight").default(0.03),
  dragNPerMps2: num(0, 10, "N/(m/s)²", "air and other drag").default(0.02),
  topSpeedDrivenKmh: num(0.5, 150, "km/h", "top speed that was really driven on a flat straight road; null = not driven yet").nullable().default(null),
});

const brakeSchema = z.strictObject({
  wheels: whole(1, 16, "number of wheels that brake").default(4),
  onThisAxle: flag("the wheels of this axle are among those that brake").default(true),
  carriedBy: carriedBy("the brake, or the motor that brakes"),
});

const outlineSchema = z.strictObject({
  name: text(80, "name of the outline"),
  points: z.array(pointSchema).min(2).max(500),
  closed: flag("the last point joins the first").default(false),
  bothSides: flag("the mirrored half is understood").default(true),
});

const keepOutSchema = z.strictObject({
  name: text(80, "what sits in the box"),
  fromSMm: num(-500, 500, "mm", "inner edge of the box, outboard of the centreline"),
  toSMm: num(-500, 500, "mm", "outer edge of the box, outboard of the centreline"),
  fromZMm: num(-500, 500, "mm", "lower edge of the box, above the ground as built"),
  toZMm: num(-500, 500, "mm", "upper edge of the box, above the ground as built"),
  bothSides: flag("the mirrored box is understood").default(true),
});

const fitSchema = z.strictObject({
  clearanceMm: num(0, 100, "mm", "distance that must stay free between moving parts and the outlines").default(2),
  mustHold: flag("coming nearer counts for what gives first and for the safe speed; otherwise it is only a caution").default(false),
  outlines: z.array(outlineSchema).max(50).meta({ description: "wheel arch, floor, ... of a body that must not change" }).default([]),
  keepOut: z.array(keepOutSchema).max(50).meta({ description: "boxes that must stay free: motors, chassis beams" }).default([]),
  bumpTravelMm: num(0, 100, "mm", "wheel travel upwards over which the parts are swept").default(10),
  droopTravelMm: num(0, 100, "mm", "wheel travel downwards over which the parts are swept").default(10),
  alongRoadMm: num(0, 200, "mm", "free distance before and behind the tyre, as built; null = not measured").nullable().default(null),
});

const bump = (side: string) => num(-60, 60, "mm", `road height under the ${side} wheel, positive up`).default(0);

/** A load by itself, as a link holds it. */
export const loadSchema = z.strictObject({
  lateralG: num(-3, 3, "g", "lateral acceleration, positive to the left: the right wheel is the outer one").default(0),
  bumpLeftMm: bump("left"),
  bumpRightMm: bump("right"),
  throttle: num(0, 1, "", "share of what the drive gives at the speed at hand").default(0),
  brakeG: num(0, 3, "g", "slowing down by the brakes").default(0),
});

const loadCaseSchema = z.strictObject({ name: text(80, "name of the load case"), ...loadSchema.shape });

const trackSchema = z.strictObject({ name: text(80, "name of the track"), radiusM: num(0.1, 1000, "m", "radius of the curve") });

export const originSchema = z
  .strictObject({
    how: z.enum(["guess", "entered", "measured"]).meta({ description: "guess = of a typical part or by a rule; entered = told; measured = on the car" }),
    plusMinus: num(0, 1e6, "", "how far off it may be: one standard deviation, in the unit of the field").optional(),
    date: text(10, "day of the measurement, as 2026-11-26").optional(),
    note: text(CAPS.noteLetters, "how it was measured, or the part or rule that a guess comes from").optional(),
    together: z
      .record(z.string().max(CAPS.pathLetters), num(-1, 1, "", "correlation"))
      .meta({ description: "correlation with other values that the same bench test gave, by their paths; each lists the other" })
      .optional(),
  })
  .meta({ id: "origin" });

export const scenarioSchema = z.strictObject({
  $schema: text(500, "address of the schema, for editors; not used otherwise").optional(),
  format: z.literal("wheelstay-scenario"),
  version: z.literal(2),
  name: text(CAPS.nameLetters, "name of the scenario").min(1),
  teaches: text(CAPS.descriptionLetters, "one line: what this scenario teaches").default(""),
  holePitchMm: num(2, 20, "mm", "hole pitch of the parts system").default(8),
  halfPitchAllowed: flag("pivots may also sit at half the hole pitch").default(true),
  corner: cornerSchema,
  left: overrideSchema.meta({ description: "what differs on the left side" }).default({}),
  right: overrideSchema.meta({ description: "what differs on the right side" }).default({}),
  body: bodySchema,
  antiRollBar: antiRollBarSchema.prefault({}),
  limits: limitsSchema.prefault({}),
  drive: driveSchema.prefault({}),
  brake: brakeSchema.prefault({}),
  fit: fitSchema.prefault({}),
  loadCases: z.array(loadCaseSchema).max(100).meta({ description: "loads that the axle is looked at under; the first is shown first" }).default([]),
  tracks: z.array(trackSchema).max(100).meta({ description: "curves that the speeds are told for" }).default([]),
  origins: z
    .record(z.string().max(CAPS.pathLetters), originSchema)
    .meta({ description: "how values are known, by the path of their field, such as corner.spring.rateNPerMm; a value that is not listed is entered" })
    .default({}),
  bench: z.array(benchTestSchema).max(CAPS.benchTests).meta({ description: "what was tried on the bench, oldest first" }).default([]),
  runs: z.array(runSchema).max(CAPS.runs).meta({ description: "what was driven, oldest first" }).default([]),
});

type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;
type Flat<T> = { [K in keyof T]: T[K] };
type Assert<T extends true> = T;
/**
 * Fails to compile when the schema and the core's types part ways.
 * @public so that knip lets it stand: nobody needs its value
 */
export type SchemaGivesScenario = Assert<Same<Flat<Omit<z.output<typeof scenarioSchema>, "$schema">>, Flat<Scenario>>>;
