import { leavesOf, type ShelfKind, type ShelfPart } from "./shelf-kinds.ts";

/**
 * The shelf of typical parts: sizes and values as builders of model cars meet them, under plain names of our own. Invented or typical
 * unless a source is named; each says where its values are from and how far parts of its kind scatter (one standard deviation).
 */

export interface TypicalPart extends ShelfPart {
  /** where its values are from */
  source: string;
}

/** how far single values scatter, in their own unit, by their path below the place */
type Scatter = Readonly<Record<string, number>>;

function typical(kind: ShelfKind, name: string, source: string, values: ShelfPart["values"], scatter: Scatter): TypicalPart {
  const leaves = Object.entries(values).flatMap(([field, value]) => leavesOf(field, value));
  const known = leaves.map((path) => {
    const plusMinus = scatter[path];
    return [path, { how: "guess" as const, ...(plusMinus === undefined ? {} : { plusMinus }), note: `shelf: ${name}` }] as const;
  });
  return { kind, name, source, values, known: Object.fromEntries(known) };
}

const PRACTICE = "common practice, no source";
const MEMORY = "from memory";

/** Rates by hand from wire, coil and number of coils that work: G d^4 / (8 D^3 n). */
const WIRE = (wire: string): string => `${wire}; rate G d⁴ / (8 D³ n), EN 13906-1, steel of EN 10270-1; the rest ${PRACTICE}`;

function spring(
  name: string,
  wire: string,
  rate: number,
  free: number,
  stops: readonly [bump: number, droop: number],
  damping: readonly [number, number],
): TypicalPart {
  return typical(
    "spring",
    name,
    WIRE(wire),
    {
      rateNPerMm: rate,
      freeLengthMm: free,
      "bumpStop.lengthMm": stops[0],
      "bumpStop.rateNPerMm": 40,
      droopStop: { lengthMm: stops[1], rateNPerMm: 60 },
      "damping.bumpNsPerM": damping[0],
      "damping.reboundNsPerM": damping[1],
    },
    {
      rateNPerMm: Math.round(rate * 7) / 100,
      freeLengthMm: 0.7,
      "bumpStop.lengthMm": 0.5,
      "bumpStop.rateNPerMm": 15,
      "droopStop.lengthMm": 0.5,
      "droopStop.rateNPerMm": 20,
      "damping.bumpNsPerM": Math.round(damping[0] * 0.25),
      "damping.reboundNsPerM": Math.round(damping[1] * 0.25),
    },
  );
}

const SPRINGS = [
  spring("soft spring, short", "wire 1 mm, coil 12 mm, 8 coils", 0.74, 54, [40, 53], [12, 22]),
  spring("medium spring, short", "wire 1.2 mm, coil 12 mm, 7 coils", 1.75, 51.5, [40, 52.5], [18, 32]),
  spring("medium spring, long", "wire 1.2 mm, coil 12 mm, 7 coils", 1.75, 67.5, [50, 67], [18, 32]),
  spring("firm spring, long", "wire 1.4 mm, coil 12 mm, 7 coils", 3.24, 64.5, [50, 66.5], [25, 45]),
  spring("hard spring, long", "wire 1.6 mm, coil 12 mm, 6 coils", 6.44, 62, [50, 66.5], [35, 60]),
  spring("very hard spring, long", "wire 1.8 mm, coil 13 mm, 6 coils", 8.11, 61.5, [50, 66.5], [40, 70]),
] as const;

const bar = (
  name: string,
  section: object,
  material: string,
  scatter: Scatter,
  source = `size typical, ${PRACTICE}; material: see its own source`,
): TypicalPart => typical("bar", name, source, { section, material }, scatter);
const widthAndHeight = (mm: number): Scatter => ({ "section.widthMm": mm, "section.heightMm": mm });

const BARS = [
  bar("square bar of plastic, 4 mm", { shape: "rectangle", widthMm: 4, heightMm: 4 }, "abs", widthAndHeight(0.05)),
  bar("bar with pin holes, moulded", { shape: "pinHoleBar", widthMm: 7.6, heightMm: 7.6, holeMm: 4.8, holePitchMm: 8, holesRun: "foreAft" }, "abs", {
    ...widthAndHeight(0.05),
    "section.holeMm": 0.05,
    "section.holePitchMm": 0.01,
  }),
  bar("flat bar of acetal, 6 by 8", { shape: "rectangle", widthMm: 6, heightMm: 8 }, "pom", widthAndHeight(0.05)),
  bar("printed bar, nylon 12, 6 by 8", { shape: "rectangle", widthMm: 6, heightMm: 8 }, "pa12Printed", widthAndHeight(0.15)),
  bar("printed bar, PLA, 6 by 8", { shape: "rectangle", widthMm: 6, heightMm: 8 }, "plaPrinted", widthAndHeight(0.15)),
  bar("I-bar of glass-filled nylon", { shape: "I", widthMm: 7, heightMm: 8, flangeMm: 1.6, webMm: 1.6 }, "pa6gf30", {
    ...widthAndHeight(0.08),
    "section.flangeMm": 0.08,
    "section.webMm": 0.08,
  }),
  bar("carbon rod, 4 mm", { shape: "round", diameterMm: 4 }, "carbonRod", { "section.diameterMm": 0.03 }),
  bar("aluminium tube, 5 mm outside", { shape: "tube", outerMm: 5, innerMm: 4 }, "aluminium", { "section.outerMm": 0.04, "section.innerMm": 0.04 }),
  bar("aluminium flat bar, 5 by 8", { shape: "rectangle", widthMm: 5, heightMm: 8 }, "aluminium", widthAndHeight(0.04)),
] as const;

const pin = (name: string, play: [number, number], pinN: number, holeN: number, pull: number, source: string): TypicalPart =>
  typical(
    "pin",
    name,
    source,
    { clearanceMm: play[0], pinNPerMm: pinN, holeNPerMm: holeN, pullOutN: pull },
    { clearanceMm: play[1], pinNPerMm: pinN * 0.3, holeNPerMm: holeN * 0.3, pullOutN: pull * 0.25 },
  );

const PINS = [
  pin("plastic pin in a moulded hole", [0.08, 0.03], 2000, 1200, 60, `${MEMORY}, for a pin of 5 mm in a wall of 8 mm`),
  pin("plastic pin, worn", [0.25, 0.1], 1800, 900, 45, MEMORY),
  pin("steel pin in plastic, 2 mm", [0.05, 0.02], 12_000, 1600, 120, `${MEMORY}; the hole decides`),
  pin("steel pin in a metal bush", [0.02, 0.01], 16_000, 8000, 250, PRACTICE),
  pin("steel ball in a plastic cup", [0.04, 0.02], 10_000, 1500, 90, PRACTICE),
] as const;

const hub = (
  name: string,
  tilt: number,
  play: [number, number],
  friction: [number, number],
  journal: [r: number, l: number],
  material: string,
  source: string,
): TypicalPart =>
  typical(
    "hub",
    name,
    source,
    {
      tiltStiffnessNmmPerDeg: tilt,
      tiltPlayDeg: play[0],
      "heat.friction": friction[0],
      "heat.journalRadiusMm": journal[0],
      "heat.journalLengthMm": journal[1],
      "heat.coolingAreaMm2": 4000,
      "heat.material": material,
    },
    {
      tiltStiffnessNmmPerDeg: tilt * 0.3,
      tiltPlayDeg: play[1],
      "heat.friction": friction[1],
      "heat.journalRadiusMm": 0.05,
      "heat.journalLengthMm": 0.5,
      "heat.coolingAreaMm2": 800,
    },
  );

const HUBS = [
  hub("moulded plastic journal", 260, [0.5, 0.15], [0.2, 0.05], [2.4, 18], "abs", `${MEMORY}; friction of plastic on plastic, dry`),
  hub("acetal bush on a steel axle", 1200, [0.3, 0.1], [0.15, 0.04], [2, 14], "pom", MEMORY),
  hub("bronze bush on a steel axle", 2500, [0.2, 0.08], [0.12, 0.03], [2, 12], "aluminium", `${MEMORY}; friction with a little oil`),
  hub("two small ball bearings", 4000, [0.1, 0.04], [0.005, 0.002], [4, 8], "aluminium", `${MEMORY}; friction as bearing tables give it for light load`),
] as const;

const hold = (name: string, retention: object, scatter: Scatter, source: string): TypicalPart =>
  typical("hold", name, source, { retention }, Object.fromEntries(Object.entries(scatter).map(([key, v]) => [`retention.${key}`, v])));

const HOLDS = [
  hold(
    "snap lip, moulded",
    { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 },
    { radiusMm: 0.1, capacityN: 20, shoulderRadiusMm: 0.3, journalShare: 0.1 },
    `invented, of a usual size; test it on the bench`,
  ),
  hold(
    "snap lip on a stiff shoulder",
    { kind: "lip", radiusMm: 9, capacityN: 160, model: "shoulder", shoulderRadiusMm: 11, journalShare: 0.2 },
    { radiusMm: 0.1, capacityN: 40, shoulderRadiusMm: 0.2, journalShare: 0.1 },
    `invented, of a usual size; test it on the bench`,
  ),
  hold(
    "cross-pin of plastic, 3 mm",
    { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0.3 },
    { pinDiameterMm: 0.05, shearStrengthMPa: 7, shearRadiusMm: 0.2, journalShare: 0.1 },
    `shear strength about 0.6 of the tensile one of acetal, ${PRACTICE}`,
  ),
  hold(
    "cross-pin of steel, 2 mm",
    { kind: "crossPin", pinDiameterMm: 2, shearStrengthMPa: 350, shearRadiusMm: 7, journalShare: 0.3 },
    { pinDiameterMm: 0.01, shearStrengthMPa: 50, shearRadiusMm: 0.2, journalShare: 0.1 },
    `shear strength about 0.6 of the tensile one of drawn steel, ${PRACTICE}`,
  ),
  hold(
    "screwed ring of plastic",
    { kind: "screwedRing", threadRadiusMm: 9, engagedLengthMm: 3, shearStrengthMPa: 20, journalShare: 0.4 },
    { threadRadiusMm: 0.1, engagedLengthMm: 0.3, shearStrengthMPa: 5, journalShare: 0.1 },
    MEMORY,
  ),
  hold(
    "screwed ring of aluminium",
    { kind: "screwedRing", threadRadiusMm: 9, engagedLengthMm: 3, shearStrengthMPa: 160, journalShare: 0.4 },
    { threadRadiusMm: 0.05, engagedLengthMm: 0.3, shearStrengthMPa: 25, journalShare: 0.1 },
    `about 0.58 of a yield of 276 MPa (6061-T6, MMPDS), ${PRACTICE}`,
  ),
] as const;

interface TyreValues {
  vertical: number;
  lateral: number | null;
  crown: number | null;
  friction: number;
  seat: { kind: "stretchedBand" | "sideDiscs" | "glue"; bandTensionN: number; extraHoldN: number };
}
const tyre = (name: string, t: TyreValues, source: string): TypicalPart =>
  typical(
    "tyre",
    name,
    source,
    {
      verticalNPerMm: t.vertical,
      effectiveWidthMm: null,
      crownRadiusMm: t.crown,
      lateralNPerMm: t.lateral,
      friction: t.friction,
      seat: { kind: t.seat.kind, bandTensionN: t.seat.bandTensionN, bandMassGPerMm: 0.15, friction: 0.6, extraHoldN: t.seat.extraHoldN },
    },
    {
      verticalNPerMm: t.vertical * 0.2,
      friction: t.friction * 0.15,
      ...(t.lateral === null ? {} : { lateralNPerMm: t.lateral * 0.3 }),
      ...(t.crown === null ? {} : { crownRadiusMm: t.crown * 0.2 }),
      "seat.bandTensionN": t.seat.bandTensionN * 0.2,
      "seat.bandMassGPerMm": 0.02,
      "seat.friction": 0.1,
      "seat.extraHoldN": t.seat.extraHoldN * 0.3,
    },
  );

const TYRES = [
  tyre(
    "rubber band stretched on a rim",
    { vertical: 14, lateral: null, crown: null, friction: 1.05, seat: { kind: "stretchedBand", bandTensionN: 30, extraHoldN: 0 } },
    `invented, of a usual size; ${PRACTICE}`,
  ),
  tyre(
    "rubber between side discs",
    { vertical: 14, lateral: 25, crown: 160, friction: 1, seat: { kind: "sideDiscs", bandTensionN: 30, extraHoldN: 25 } },
    PRACTICE,
  ),
  tyre(
    "hollow rubber on a foam ring, glued",
    { vertical: 8, lateral: 12, crown: 120, friction: 0.95, seat: { kind: "glue", bandTensionN: 5, extraHoldN: 60 } },
    MEMORY,
  ),
  tyre("foam rubber, glued", { vertical: 6, lateral: 10, crown: null, friction: 1.15, seat: { kind: "glue", bandTensionN: 0, extraHoldN: 60 } }, MEMORY),
  tyre(
    "hard plastic",
    { vertical: 60, lateral: null, crown: null, friction: 0.4, seat: { kind: "sideDiscs", bandTensionN: 0, extraHoldN: 40 } },
    `${MEMORY}; friction of hard plastic on asphalt`,
  ),
] as const;

const motor = (name: string, stallTorqueNmm: number, noLoadRpm: number): TypicalPart =>
  typical(
    "motor",
    name,
    `invented, of a usual size; scatter ${MEMORY}`,
    { stallTorqueNmm, noLoadRpm },
    { stallTorqueNmm: stallTorqueNmm * 0.15, noLoadRpm: noLoadRpm * 0.1 },
  );

const MOTORS = [
  motor("small motor with brushes", 60, 6000),
  motor("medium motor with brushes", 120, 4800),
  motor("large motor with brushes", 350, 9000),
  motor("motor with a gearbox built on", 900, 350),
] as const;

/** The built-in materials that suit arms; each has its own source in src/core/arm/materials.ts, and its scatter in what a guess of it is tried by. */
const material = (name: string, key: string): TypicalPart =>
  typical(
    "material",
    name,
    "the built-in material of that name, with its own source; stiffness scatters by some 15 %, strength by 20 %, from memory",
    { material: key },
    {},
  );

const MATERIALS = [
  material("ABS, moulded", "abs"),
  material("acetal, moulded or milled", "pom"),
  material("nylon 12, printed", "pa12Printed"),
  material("PLA, printed", "plaPrinted"),
  material("PETG, printed", "petgPrinted"),
  material("nylon with 30 % glass", "pa6gf30"),
  material("aluminium", "aluminium"),
  material("carbon rod", "carbonRod"),
] as const;

/** Every typical part, by kind in the order of how stiff or strong it is. */
export const TYPICAL_PARTS: readonly TypicalPart[] = [...SPRINGS, ...BARS, ...PINS, ...HUBS, ...HOLDS, ...TYRES, ...MOTORS, ...MATERIALS];
