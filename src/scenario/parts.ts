import { z } from "zod";
import { MATERIAL_NAMES } from "../core/arm/materials.ts";
import { about, flag, num, text, whole } from "./fields.ts";

/** Parts of a corner: every number with its range, its unit and, where one is sensible, its default. */

const POSITION_MM = 500;

export const pointSchema = z
  .strictObject({
    sMm: num(-POSITION_MM, POSITION_MM, "mm", "outboard of the centreline"),
    zMm: num(-POSITION_MM, POSITION_MM, "mm", "height above the ground of the as-built, unloaded position"),
  })
  .meta({ id: "point" });

const width = num(0.2, 100, "mm", "fore-aft width of the section");
const height = num(0.2, 100, "mm", "height of the section, up-down");

const sectionSchema = z
  .discriminatedUnion("shape", [
    z.strictObject({ shape: z.literal("rectangle"), widthMm: width, heightMm: height }),
    z.strictObject({ shape: z.literal("round"), diameterMm: num(0.2, 100, "mm", "diameter of the round bar") }),
    z.strictObject({
      shape: z.literal("tube"),
      outerMm: num(0.2, 100, "mm", "outer diameter of the tube"),
      innerMm: num(0, 100, "mm", "inner diameter of the tube"),
    }),
    z.strictObject({
      shape: z.literal("I"),
      widthMm: width,
      heightMm: height,
      flangeMm: num(0.05, 50, "mm", "thickness of the top and of the bottom flange"),
      webMm: num(0.05, 100, "mm", "thickness of the upright web"),
    }),
    z.strictObject({
      shape: z.literal("pinHoleBar"),
      widthMm: width,
      heightMm: height,
      holeMm: num(0, 100, "mm", "diameter of the pin holes"),
      holePitchMm: num(0.5, 100, "mm", "distance of the pin holes along the bar"),
      holesRun: z.enum(["foreAft", "upDown"]).meta({ description: "direction in which the pin holes go through the bar" }),
    }),
  ])
  .meta({ id: "section", description: "cross-section of a beam: width is fore-aft, height is up-down" });

const materialSchema = z
  .union([
    z.enum(MATERIAL_NAMES as [string, ...string[]]).meta({ description: "name of a built-in material" }),
    z.strictObject({
      name: text(60, "name of your own material").min(1),
      youngMPa: num(1, 1e6, "MPa", "stiffness of the material (Young's modulus)"),
      poisson: num(0, 0.49, "", "sideways shrinking when pulled (Poisson's ratio)"),
      yieldMPa: num(0.1, 5000, "MPa", "stress at which it stays bent (yield) or breaks"),
      densityKgPerM3: num(1, 25_000, "kg/m³", "density"),
      plastic: flag("a plastic: creeps, so a lasting set is cautioned above half of yield"),
      maxTempC: num(20, 2000, "°C", "use it below this temperature only"),
      source: text(300, "where the values come from"),
    }),
  ])
  .meta({ id: "material", description: "name of a built-in material, or one of your own with its values" });

export const armSchema = z
  .strictObject({
    layout: z.enum(["straight", "split", "A", "twin"]).meta({
      description: "plan view: straight = one beam; split = a stem that forks into two legs; A = two legs from the outer joint; twin = two parallel beams",
    }),
    stemShare: num(0, 0.95, "", "split only: share of the arm's length that is stem, counted from the outer joint").default(0.35),
    spreadMm: num(0, 200, "mm", "split, A and twin: fore-aft distance of the two inner pivots").default(40),
    section: sectionSchema,
    stemSection: about(sectionSchema.nullable(), "split only: section of the stem; null = the same as the legs").default(null),
    material: materialSchema,
    pivotStiffnessNmmPerDeg: num(0, 1e7, "N·mm/°", "stiffness of the inner pivot against turning; 0 = free pin").default(0),
    pivotFreeAboutArm: flag("a loose inner pin: also free to turn about the arm's own axis").default(false),
  })
  .meta({ id: "arm" });

export const jointSchema = z
  .strictObject({
    clearanceMm: num(0, 2, "mm", "radial play of the pin in its hole: how far the centres move apart without force").default(0.05),
    pinNPerMm: num(1, 1e6, "N/mm", "stiffness of the pin").default(2000),
    holeNPerMm: num(1, 1e6, "N/mm", "stiffness of the hole's wall").default(1500),
    mountNPerMm: num(1, 1e6, "N/mm", "stiffness of what the joint is mounted on").default(1000),
    pullOutN: num(0.1, 1e5, "N", "radial pull at which the joint comes apart").default(150),
  })
  .meta({ id: "joint", description: "a pin in a hole; the stiffnesses of pin, hole and mount act in series" });

const stopRate = num(0.1, 1e5, "N/mm", "stiffness of the stop");

export const springSchema = z.strictObject({
  top: about(pointSchema, "upper end of the spring, on the body"),
  seat: z
    .discriminatedUnion("on", [
      z.strictObject({
        on: z.enum(["lowerArm", "upperArm"]),
        fraction: num(0, 1, "", "place on the arm's centre line: 0 = inner pivot, 1 = outer joint"),
      }),
      z.strictObject({ on: z.literal("hub"), ...pointSchema.shape }),
    ])
    .meta({ id: "seat", description: "lower end of the spring: on an arm, or on the hub" }),
  rateNPerMm: num(0.05, 200, "N/mm", "rate of one spring"),
  freeLengthMm: num(2, 1000, "mm", "length of the spring from eye to eye with no force in it"),
  preloadMm: num(0, 200, "mm", "packing under the spring: adds to its free length").default(0),
  count: whole(1, 4, "springs side by side at this corner").default(1),
  bumpStop: z
    .strictObject({
      lengthMm: num(0, 1000, "mm", "below this spring length the bump stop pushes too").default(2),
      rateNPerMm: stopRate.default(50),
    })
    .prefault({}),
  droopStop: z
    .strictObject({ lengthMm: num(0, 1000, "mm", "above this spring length the droop stop pulls"), rateNPerMm: stopRate.default(50) })
    .nullable()
    .meta({ description: "droop stop; null = none, the spring can drop out" })
    .default(null),
  damping: z
    .strictObject({
      bumpNsPerM: num(0, 1e5, "N·s/m", "damping when the wheel moves up").default(20),
      reboundNsPerM: num(0, 1e5, "N·s/m", "damping when the wheel moves down").default(40),
    })
    .prefault({}),
});

const journalShare = num(0, 1, "", "share of the tilting moment that a journal takes").default(0);

const retentionSchema = z
  .discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("lip"),
      radiusMm: num(0.5, 100, "mm", "radius of the line on which the lip holds"),
      capacityN: num(0.1, 1e5, "N", "straight pull that strips the lip"),
      model: z.enum(["ring", "shoulder"]).meta({
        description: "ring = lip and shoulder equally soft; shoulder = the lip only pulls and the wheel pivots on a stiff shoulder",
      }),
      shoulderRadiusMm: num(0.5, 150, "mm", "shoulder model: radius of the stiff shoulder").default(10),
      journalShare,
    }),
    z.strictObject({
      kind: z.literal("crossPin"),
      pinDiameterMm: num(0.2, 20, "mm", "diameter of the pin"),
      shearStrengthMPa: num(0.1, 2000, "MPa", "shear strength of the pin"),
      shearRadiusMm: num(0.5, 100, "mm", "radius at which the pin passes from hub to wheel"),
      journalShare,
    }),
    z.strictObject({
      kind: z.literal("screwedRing"),
      threadRadiusMm: num(0.5, 100, "mm", "radius of the thread"),
      engagedLengthMm: num(0.1, 100, "mm", "length over which the threads engage"),
      shearStrengthMPa: num(0.1, 2000, "MPa", "shear strength of the thread"),
      journalShare,
    }),
  ])
  .meta({ id: "retention", description: "what holds the wheel on its hub" });

export const hubSchema = z.strictObject({
  tiltStiffnessNmmPerDeg: num(1, 1e8, "N·mm/°", "moment that tilts the wheel on its bearing by a degree once the play is used up"),
  tiltPlayDeg: num(0, 10, "°", "the wheel tilts freely this far to either side").default(0),
  staticCamberDeg: num(-20, 20, "°", "camber built in; positive = top outward").default(0),
  bearingOffsetMm: num(-100, 100, "mm", "bearing centre inboard of the wheel's mid-plane, along the wheel's own axis").default(0),
  retention: retentionSchema,
  heat: z
    .strictObject({
      friction: num(0, 2, "", "friction coefficient of the running faces").default(0.2),
      journalRadiusMm: num(0.2, 100, "mm", "mean radius of the rubbing journal").default(3),
      journalLengthMm: num(0.2, 100, "mm", "length of the rubbing journal").default(10),
      coolingAreaMm2: num(1, 1e6, "mm²", "outer surface that cools the hub").default(1500),
      coolingWPerM2K: num(0.5, 500, "W/m²K", "heat given off by still air and radiation").default(13),
      material: materialSchema.default("abs"),
    })
    .prefault({})
    .meta({ description: "running heat of the hub" }),
});

export const wheelSchema = z.strictObject({
  radiusMm: num(15, 150, "mm", "outer radius of the unloaded tyre"),
  treadWidthMm: num(2, 200, "mm", "width of the tread"),
  massKg: num(0, 30, "kg", "what hangs on the wheel side of the bearing: rim and tyre"),
  unsprungMassKg: num(0, 30, "kg", "all unsprung mass of this corner, wheel included"),
});

export const tyreSchema = z.strictObject({
  verticalNPerMm: num(1, 500, "N/mm", "stiffness of the tyre pressed flat on the road"),
  effectiveWidthMm: num(0.5, 200, "mm", "width of the tread that really carries; null = the tread width").nullable().default(null),
  crownRadiusMm: num(1, 1e5, "mm", "crown radius across the tread; null = flat").nullable().default(null),
  lateralNPerMm: num(0.5, 1e6, "N/mm", "sideways stiffness of the carcass; null = it does not flex").nullable().default(null),
  friction: num(0.05, 3, "", "grip: lateral over vertical force at which the tyre lets go").default(0.9),
  loadExponent: num(0.5, 1, "", "p in lateral force ~ (vertical force)^p; 1 = both tyres use the same share of their grip").default(1),
  seat: z
    .strictObject({
      kind: z.enum(["stretchedBand", "sideDiscs", "glue"]).default("stretchedBand"),
      bandTensionN: num(0, 1e4, "N", "tension of the stretched tread band as mounted").default(30),
      bandMassGPerMm: num(0, 50, "g/mm", "mass of the band per mounted length").default(0.15),
      friction: num(0, 3, "", "friction of the band on the rim").default(0.6),
      extraHoldN: num(0, 1e5, "N", "sideways hold of side discs or glue").default(0),
    })
    .prefault({})
    .meta({ description: "what holds the tyre on the rim" }),
});
