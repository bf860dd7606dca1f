import { MATERIAL_NAMES } from "../../../core/arm/materials.ts";
import { ownMaterial } from "../../../core/arm/own-material.ts";
import { axleMassKg, withAxleMass } from "../../../core/design/mass.ts";
import { JOINT_WORDS } from "../../../core/design/part-words.ts";
import { reshaped, SHAPE_WORDS } from "../../../core/design/section-shapes.ts";
import {
  ARM_LAYOUTS,
  type Arm,
  type Corner,
  JOINT_NAMES,
  type Retention,
  type Scenario,
  type Section,
  type Spring,
  type SpringSeat,
} from "../../../core/design/types.ts";
import type { PartName } from "../../../view/pick.ts";
import { carControls } from "../state/car-fields.ts";
import { type Control, choice, firstFew, flag, maybe, type NumberControl, n, place, text, under } from "../state/control.ts";
import { droopStopOf, retentionOf, seatOf } from "../state/kinds.ts";

export const PART_WORDS: Record<PartName, string> = {
  lowerArm: "Lower arm",
  upperArm: "Upper arm",
  spring: "Spring",
  hub: "Hub",
  wheel: "Wheel",
  tyre: "Tyre",
  pins: "Pins",
  body: "Body",
  car: "Whole car",
};

const SHAPES = Object.keys(SHAPE_WORDS);

/** The measures of a cross-section. */
function measures(at: string, section: Section, before: string): Control[] {
  const legs = { before };
  switch (section.shape) {
    case "round":
      return [n(`${at}.diameterMm`, 1, 12, 0.1, legs)];
    case "tube":
      return [n(`${at}.outerMm`, 2, 14, 0.1, legs), n(`${at}.innerMm`, 0.5, 12, 0.1, legs)];
    case "I":
      return [
        n(`${at}.heightMm`, 2, 16, 0.1, legs),
        n(`${at}.widthMm`, 2, 16, 0.1, legs),
        n(`${at}.webMm`, 0.4, 4, 0.1, legs),
        n(`${at}.flangeMm`, 0.4, 4, 0.1, legs),
      ];
    case "pinHoleBar":
      return [
        n(`${at}.heightMm`, 2, 16, 0.1, legs),
        n(`${at}.widthMm`, 2, 16, 0.1, legs),
        n(`${at}.holeMm`, 1, 6, 0.1, legs),
        n(`${at}.holePitchMm`, 2, 20, 0.1, legs),
        choice(`${at}.holesRun`, ["foreAft", "upDown"]),
      ];
    default:
      return [n(`${at}.heightMm`, 1, 14, 0.1, legs), n(`${at}.widthMm`, 1, 14, 0.1, legs)];
  }
}

function materialControls(path: string, now: Arm["material"]): Control[] {
  const kind = choice(path, MATERIAL_NAMES);
  const out: Control[] = [
    {
      ...kind,
      options: { ...kind.options, "own values": "own" },
      now: (raw) => (typeof raw === "string" ? raw : "own"),
      to: (key, raw) => (key === "own" ? ownMaterial(raw as Arm["material"]) : key),
    },
  ];
  if (typeof now === "string") return out;
  return [
    ...out,
    ...under(
      "own material",
      text(`${path}.name`, 60),
      n(`${path}.youngMPa`, 100, 100_000, 10),
      n(`${path}.yieldMPa`, 5, 500, 0.5),
      n(`${path}.poisson`, 0.2, 0.45, 0.01),
      n(`${path}.densityKgPerM3`, 800, 8000, 10),
      flag(`${path}.plastic`),
      n(`${path}.maxTempC`, 40, 300, 5),
      text(`${path}.source`, 300, { empty: true }),
    ),
  ];
}

function armControls(at: "upperArm" | "lowerArm", c: Corner): Control[] {
  const arm = c[at];
  const before = arm.layout === "straight" ? "" : "leg ";
  const shape = choice(`${at}.section`, SHAPES, {
    field: `${at}.section.shape`,
    now: (raw) => (raw as Section).shape,
    to: (key, raw, _c, s) => reshaped(raw as Section, key as Section["shape"], s.holePitchMm),
  });
  const [height, width, ...finer] = measures(`${at}.section`, arm.section, before);
  const out: Control[] = [choice(`${at}.layout`, ARM_LAYOUTS, { brief: true })];
  if (arm.layout === "split") out.push(n(`${at}.stemShare`, 0, 90, 1));
  out.push(...[height, width].filter((x) => x !== undefined), ...(arm.layout === "straight" ? [] : [n(`${at}.spreadMm`, 8, 80, 1)]));
  out.push({ ...shape, words: `${before}section` }, ...finer, ...materialControls(`${at}.material`, arm.material));
  out.push(...under("inner pivot", n(`${at}.pivotStiffnessNmmPerDeg`, 0, 500, 5), flag(`${at}.pivotFreeAboutArm`)));
  if (arm.layout !== "split") return firstFew(4, out);
  const stem: Control = {
    ...choice(`${at}.stemSection`, SHAPES, { field: `${at}.stemSection.shape` }),
    words: "stem section",
    options: { "as the legs": "legs", ...Object.fromEntries(Object.entries(SHAPE_WORDS).map(([key, words]) => [words, key])) },
    now: (raw) => (raw as Section | null)?.shape ?? "legs",
    to: (key, raw, corner, s) => (key === "legs" ? null : reshaped((raw as Section | null) ?? corner[at].section, key as Section["shape"], s.holePitchMm)),
  };
  out.push(...under("stem", stem, ...(arm.stemSection ? measures(`${at}.stemSection`, arm.stemSection, "stem ") : [])));
  return firstFew(4, out);
}

function springControls(c: Corner): Control[] {
  const { seat, droopStop } = c.spring;
  const droop: Control = {
    kind: "choice",
    path: "spring.droopStop",
    words: "droop stop",
    options: { none: "none", "there is one": "own" },
    now: (raw) => (raw === null ? "none" : "own"),
    to: (key, raw, corner) => (key === "none" ? null : ((raw as Spring["droopStop"]) ?? droopStopOf(corner.spring))),
  };
  const on = choice("spring.seat", ["lowerArm", "upperArm", "hub"], {
    field: "spring.seat.on",
    now: (raw) => (raw as SpringSeat).on,
    to: (key, _raw, corner) => seatOf(corner, key as SpringSeat["on"]),
  });
  return firstFew(4, [
    n("spring.rateNPerMm", 0.5, 15, 0.1),
    n("spring.preloadMm", 0, 20, 0.5),
    n("spring.freeLengthMm", 20, 140, 0.2),
    n("spring.count", 1, 4, 1, { whole: true }),
    ...under(
      "stops",
      n("spring.bumpStop.lengthMm", 10, 120, 0.5),
      n("spring.bumpStop.rateNPerMm", 1, 200, 1),
      droop,
      ...(droopStop
        ? [
            n("spring.droopStop.lengthMm", 20, 140, 0.5, { words: "droop stop above" }),
            n("spring.droopStop.rateNPerMm", 1, 200, 1, { words: "droop stop stiffness" }),
          ]
        : []),
    ),
    ...under("damper", n("spring.damping.bumpNsPerM", 0, 200, 1), n("spring.damping.reboundNsPerM", 0, 200, 1)),
    ...place("spring.top", "upper end"),
    ...under("lower end", on, ...(seat.on === "hub" ? place("spring.seat", "lower end") : [n("spring.seat.fraction", 5, 95, 1)])),
    ...under("anti-roll bar", n("antiRollBar.rateNPerMm", 0, 10, 0.1, { root: true }), n("antiRollBar.atFraction", 0, 100, 1, { root: true })),
  ]);
}

function holdControls(r: Retention): Control[] {
  const at = "hub.retention";
  switch (r.kind) {
    case "lip":
      return [
        n(`${at}.capacityN`, 10, 600, 1),
        n(`${at}.radiusMm`, 2, 20, 0.1),
        choice(`${at}.model`, ["ring", "shoulder"]),
        n(`${at}.shoulderRadiusMm`, 2, 30, 0.1),
        n(`${at}.journalShare`, 0, 100, 1),
      ];
    case "crossPin":
      return [
        n(`${at}.pinDiameterMm`, 0.5, 5, 0.1),
        n(`${at}.shearStrengthMPa`, 5, 400, 1),
        n(`${at}.shearRadiusMm`, 2, 20, 0.1),
        n(`${at}.journalShare`, 0, 100, 1),
      ];
    case "screwedRing":
      return [
        n(`${at}.threadRadiusMm`, 2, 20, 0.1),
        n(`${at}.engagedLengthMm`, 0.5, 15, 0.1),
        n(`${at}.shearStrengthMPa`, 5, 400, 1),
        n(`${at}.journalShare`, 0, 100, 1),
      ];
  }
}

function hubControls(c: Corner): Control[] {
  const held = choice("hub.retention", ["lip", "crossPin", "screwedRing"], {
    field: "hub.retention.kind",
    now: (raw) => (raw as Retention).kind,
    to: (key, raw) => retentionOf(raw as Retention, key as Retention["kind"]),
  });
  const [holds, ...finer] = holdControls(c.hub.retention);
  return firstFew(4, [
    { ...held, words: "wheel held by" },
    holds as Control,
    n("hub.tiltStiffnessNmmPerDeg", 50, 6000, 10),
    n("hub.tiltPlayDeg", 0, 2, 0.05),
    n("hub.staticCamberDeg", -6, 6, 0.1),
    n("hub.bearingOffsetMm", -10, 20, 0.5),
    ...under("what holds the wheel", ...finer),
    ...under(
      "running heat",
      n("hub.heat.friction", 0, 0.6, 0.01),
      n("hub.heat.journalRadiusMm", 0.5, 12, 0.1),
      n("hub.heat.journalLengthMm", 2, 40, 0.5),
      n("hub.heat.coolingAreaMm2", 200, 20_000, 100),
      n("hub.heat.coolingWPerM2K", 2, 60, 1),
      ...materialControls("hub.heat.material", c.hub.heat.material).map((m) =>
        m.kind === "choice" && m.path === "hub.heat.material" ? { ...m, words: "hub material" } : m,
      ),
    ),
  ]);
}

function tyreControls({ tyre }: Corner): Control[] {
  return firstFew(3, [
    n("tyre.verticalNPerMm", 2, 60, 0.5),
    n("tyre.friction", 0.2, 2, 0.01),
    { ...choice("tyre.seat.kind", ["stretchedBand", "sideDiscs", "glue"]), words: "tyre held by" },
    ...under(
      "tyre on its rim",
      n("tyre.seat.bandTensionN", 0, 200, 1),
      n("tyre.seat.bandMassGPerMm", 0, 1, 0.01),
      n("tyre.seat.friction", 0, 1.5, 0.05),
      n("tyre.seat.extraHoldN", 0, 300, 5),
    ),
    ...under(
      "tread",
      ...maybe(n("tyre.lateralNPerMm", 1, 100, 0.5), tyre.lateralNPerMm, (c) => 2 * c.tyre.verticalNPerMm),
      ...maybe(n("tyre.effectiveWidthMm", 2, 80, 0.5), tyre.effectiveWidthMm, (c) => c.wheel.treadWidthMm),
      ...maybe(n("tyre.crownRadiusMm", 10, 500, 5), tyre.crownRadiusMm, (c) => 4 * c.wheel.treadWidthMm),
      n("tyre.loadExponent", 0.5, 1, 0.01),
    ),
  ]);
}

const pinControls = (): Control[] => [
  ...JOINT_NAMES.flatMap((j) => [...place(j, JOINT_WORDS[j]), ...under(JOINT_WORDS[j], n(`joints.${j}.clearanceMm`, 0, 0.6, 0.01))]),
  ...firstFew(
    0,
    JOINT_NAMES.flatMap((j) =>
      under(
        `${JOINT_WORDS[j]}, strength`,
        n(`joints.${j}.pullOutN`, 10, 500, 1),
        n(`joints.${j}.pinNPerMm`, 100, 10_000, 50),
        n(`joints.${j}.holeNPerMm`, 100, 10_000, 50),
        n(`joints.${j}.mountNPerMm`, 100, 10_000, 50),
      ),
    ),
  ),
];

/** The same share, as the kitchen scale tells it. */
const SCALE: NumberControl = {
  kind: "number",
  path: "scale",
  words: "on this axle",
  hint: "what the scale shows under both wheels of this axle, the other axle on a block as high",
  unit: "kg",
  min: 0.2,
  max: 8,
  step: 0.01,
  root: true,
  reading: { of: axleMassKg, set: withAxleMass, most: (s) => s.body.carMassKg },
};

/** What the car weighs and how much of it stands on this axle. */
const weight = (): Control[] => [n("body.carMassKg", 0.5, 16, 0.05, { root: true }), n("body.axleShare", 30, 70, 0.5, { root: true }), SCALE];

/** The controls of one part, as its present shape asks for, those that matter first. */
export function controlsOf(part: PartName, c: Corner, s: Scenario): Control[] {
  switch (part) {
    case "lowerArm":
    case "upperArm":
      return armControls(part, c);
    case "spring":
      return springControls(c);
    case "hub":
      return hubControls(c);
    case "wheel":
      return firstFew(4, [
        n("wheel.radiusMm", 20, 90, 0.5),
        n("wheel.treadWidthMm", 8, 80, 0.5),
        n("wheel.unsprungMassKg", 0.02, 1.5, 0.01),
        n("wheel.massKg", 0.02, 1.5, 0.01),
        ...place("wheelCentre", "middle of the wheel"),
      ]);
    case "tyre":
      return tyreControls(c);
    case "pins":
      return pinControls();
    case "body":
      return [
        ...weight(),
        n("body.cgHeightMm", 10, 200, 1, { root: true }),
        n("body.otherRollStiffnessNmmPerDeg", 0, 4000, 50, { root: true }),
        n("limits.camberDeg", 0.5, 12, 0.5, { root: true }),
      ];
    case "car":
      return [...weight(), ...carControls(s)];
  }
}
