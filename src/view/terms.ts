import type { LimitName } from "../core/analysis.ts";
import { capital } from "../core/capital.ts";
import { KNOWN_TERMS } from "./known-terms.ts";

/** A term of the page, the one place for its words: the plain word, the trade's word, one sentence, and the unit it is told in. */
export interface Term {
  plain: string;
  /** the trade's word; empty where the plain one is it */
  trade: string;
  text: string;
  unit: string;
  /** fields of the file that it explains, without "corner." and with * for any name */
  fields?: readonly string[];
}

const t = (plain: string, trade: string, unit: string, text: string, ...fields: string[]): Term => ({
  plain,
  trade,
  text,
  unit,
  ...(fields.length > 0 ? { fields } : {}),
});

/** By what they are about, in the order of the help page. */
export const TERM_GROUPS = {
  "How the wheel stands": {
    camber: t(
      "lean",
      "camber",
      "°",
      "How far the wheel stands off upright, seen from behind; positive when the top leans away from the car.",
      "hub.staticCamberDeg",
      "limits.camberDeg",
    ),
    camberBudget: t(
      "why the wheel leans",
      "camber budget",
      "°",
      "The lean split by cause, by part or by motion; the steps add up to it, and what a part does through body roll counts for that part.",
    ),
    stiffer: t(
      "made 1 % stiffer",
      "sensitivity",
      "°",
      "How the lean would change if this part alone were a hundredth stiffer: the quickest way to see what is worth a change.",
    ),
    camberGain: t("lean over travel", "camber gain", "°/mm", "How much the wheel leans per mm that it moves up, from the places of the pins alone."),
    roll: t(
      "body roll",
      "roll",
      "°",
      "How far the body leans out of the curve and takes the arms and the wheels along; soft springs let it.",
      "body.otherRollStiffnessNmmPerDeg",
    ),
    travel: t("wheel travel", "bump and droop", "mm", "How far the wheel has gone up against the body; below zero it hangs down."),
    play: t(
      "play",
      "clearance",
      "mm or °",
      "How far parts move before they push; inside that range the wheel finds its own place.",
      "joints.*.clearanceMm",
      "hub.tiltPlayDeg",
    ),
  },
  "What the road does": {
    cornering: t(
      "cornering",
      "lateral acceleration",
      "g",
      "How hard the car is pushed sideways in a curve, as a share of its weight; positive in a left-hand curve, so that the right wheel is the outer one.",
      "loadCases[].lateralG",
    ),
    safe: t("safe speed", "", "km/h", "The speed on this radius at which the first limit is reached, from cornering alone on a flat road; a bump lowers it."),
    bump: t("bumps", "", "mm", "The road raised under one wheel, or sunk where it is below zero, with the car steady.", "loadCases[].bump*Mm"),
    wheelLoad: t("weight on a wheel", "wheel load", "N", "How hard the road pushes up on the tyre: in a curve the outer wheel gets more, the inner one less."),
    grip: t("grip", "friction coefficient", "", "Side force that the tyre can hold, over the weight on it; beyond it the wheels slide.", "tyre.friction"),
    throttle: t(
      "throttle",
      "drive force",
      "",
      "How much of what the drive can give at this speed it does give; from standing that is the most.",
      "loadCases[].throttle",
    ),
    braking: t(
      "braking",
      "deceleration",
      "g",
      "How hard the brakes slow the car down, as a share of its weight; shared alike by the wheels that brake.",
      "loadCases[].brakeG",
    ),
    frictionCircle: t(
      "push and side force share the grip",
      "friction circle",
      "",
      "What a tyre holds to the side it cannot give along the road as well: both together, taken square to each other, are at most its grip times the weight on it, and a wheel that is asked for more spins or locks.",
      "limits.spinMustHold",
    ),
    carriedBy: t(
      "what carries the motor",
      "torque reaction",
      "",
      "On the body a shaft turns the wheel, and the push acts on the hub at the wheel's centre; in the hub it acts down at the road and twists the hub; on an arm it acts at the centre and twists that arm.",
      "drive.carriedBy",
      "brake.carriedBy",
    ),
    gripLoad: t(
      "grip follows load",
      "load sensitivity",
      "",
      "At 1 a tyre with twice the weight on it holds twice the side force; below 1 it holds less than twice.",
      "tyre.loadExponent",
    ),
    treadPressure: t(
      "bars under the tread",
      "contact pressure",
      "N/mm",
      "How hard the road pushes on each strip of the tread: all alike upright, and on one edge where the wheel leans.",
    ),
    tipping: t("wheel lift", "tipping", "", "The inner wheel has no weight left on it, and from here on the car tips."),
    rollCentre: t(
      "height the body rolls about",
      "roll centre",
      "mm",
      "The point that the body turns about in a curve as long as nothing bends; higher means less roll and more lift.",
    ),
    instantCentre: t(
      "point the wheel swings about",
      "instant centre",
      "mm",
      "Where the lines of upper and lower arm meet: the wheel swings about this point just now.",
    ),
    jacking: t("lift in a curve", "jacking", "N", "Arms that stand steep turn side force into lift: the body is pushed up and the wheels tuck under."),
    scrubRadius: t("steering lever", "scrub radius", "mm", "On the road: how far the line through the two outer joints meets it from the middle of the tread."),
    kingpin: t("lean of the steering axis", "kingpin inclination", "°", "How far the line through the two outer joints leans inwards, seen from behind."),
  },
  "What fails, and when": {
    utilization: t("what gives first", "utilization", "", "The load on a part over what it can take: at 1, where the post stands, it gives."),
    retention: t(
      "what holds the wheel",
      "retention",
      "N",
      "A lip, a pin across or a screwed ring keeps the wheel on its hub against the side force that pries it off.",
      "hub.retention.kind",
    ),
    prying: t(
      "prying at the hub lip",
      "prying moment",
      "N",
      "The side force acts at the road, far below the hub, and levers the wheel off: mostly five to ten times worse than a straight pull.",
      "hub.retention.capacityN",
      "hub.retention.radiusMm",
      "hub.retention.model",
    ),
    journal: t(
      "journal",
      "journal",
      "%",
      "A plain bearing beside the hold: what share of the tilting it takes, the lip, pin or thread need not hold.",
      "hub.retention.journalShare",
    ),
    crossPin: t(
      "cross-pin",
      "",
      "mm",
      "A pin right through wheel and hub, which must be cut in two places before the wheel comes off.",
      "hub.retention.pinDiameterMm",
      "hub.retention.shearRadiusMm",
    ),
    shear: t("shear strength", "shear strength", "MPa", "The stress at which a pin or a thread is cut through.", "hub.retention.shearStrengthMPa"),
    yield: t(
      "bends for good",
      "yield",
      "N/mm²",
      "The stress from which the material stays bent or breaks: the force on each square millimetre.",
      "*.material.yieldMPa",
    ),
    set: t(
      "stays bent in time",
      "permanent set, creep",
      "N/mm²",
      "A plastic that carries more than about half of its yield stress for long stays a little bent; a caution, since it holds today.",
      "*.material.plastic",
    ),
    buckling: t("buckling", "", "N", "A slender arm that is pressed along its length jumps out sideways, long before its material is at its limit."),
    pullOut: t("joint comes apart", "pull-out", "N", "The force that draws the ball or pin out of its socket.", "joints.*.pullOutN"),
    unseating: t(
      "tyre leaves the rim",
      "unseating",
      "N",
      "Side force pulls the tyre off its rim; a stretched tyre also lifts as it spins, so that it holds less at speed.",
      "tyre.seat.kind",
      "tyre.seat.bandTensionN",
    ),
    heat: t("hub heat", "friction heat", "°C", "Rubbing faces warm the hub, and plastics lose strength as they warm.", "hub.heat.friction"),
    belowRoad: t(
      "below the road",
      "ground clearance",
      "mm",
      "A pin, an arm or the body reaches lower than the road where the car stands now: it would drag, or a height was typed wrongly.",
    ),
    fit: t(
      "room to move",
      "clearance to the body",
      "mm",
      "Tyre and arms through their travel, against the shell and what must stay free; a caution, unless you say that it must hold.",
    ),
  },
  "Along the road": {
    wheelShift: t(
      "the wheel shifts along the road",
      "fore-aft compliance",
      "mm",
      "How far the push of drive or brakes moves the wheel's centre forwards or backwards: the arms bend along the road, the outer joints give and use up their play.",
      "limits.wheelShiftMm",
    ),
    axisTilt: t(
      "the steering axis tilts",
      "caster change",
      "°",
      "Where the two ball joints of the hub shift unlike, the line through them tilts as seen from the side, and the car steers differently under power than when it coasts.",
      "limits.axisTiltDeg",
    ),
  },
  "Springs and dampers": {
    rate: t("spring rate", "rate", "N/mm", "The force that shortens one spring by 1 mm.", "spring.rateNPerMm"),
    motionRatio: t(
      "spring per wheel travel",
      "motion ratio",
      "",
      "How much the spring shortens per mm of wheel travel; the wheel feels the spring rate times this ratio squared.",
    ),
    preload: t("packing", "preload", "mm", "Rings under the spring: the car stands higher, and the spring does not become harder.", "spring.preloadMm"),
    stop: t(
      "bump stop",
      "",
      "mm",
      "A block that ends the spring's travel when the wheel goes up; on it the spring is many times stiffer.",
      "spring.bumpStop.lengthMm",
    ),
    droopStop: t(
      "droop stop",
      "",
      "mm",
      "What ends the spring's travel when the wheel hangs down; without one the spring can drop out of its seat.",
      "spring.droopStop",
      "spring.droopStop.lengthMm",
    ),
    damping: t(
      "damper",
      "damping",
      "N·s/m",
      "How hard it holds against moving, per speed; it does nothing while the car is steady.",
      "spring.damping.bumpNsPerM",
      "spring.damping.reboundNsPerM",
    ),
    antiRollBar: t(
      "anti-roll bar",
      "",
      "N/mm",
      "A bar that joins left and right arm and twists when one wheel goes up and the other down, so that the body stays level.",
      "antiRollBar.rateNPerMm",
    ),
    unsprungMass: t(
      "mass below the spring",
      "unsprung mass",
      "kg",
      "Wheel, hub and what moves with them: it follows the road, and its weight never goes through the spring.",
      "wheel.unsprungMassKg",
    ),
    sprungMass: t("mass on the springs", "sprung mass", "kg", "The share of the car that rests on this axle's springs.", "body.axleShare"),
  },
  "Arms, hubs and tyres": {
    arms: t(
      "arm shape",
      "control arm layout",
      "",
      "Seen from above: one straight bar, a stem that forks into two legs, two legs from the joint, or two bars side by side.",
      "*Arm.layout",
    ),
    fork: t(
      "fork point and spread",
      "",
      "mm",
      "Where one stem becomes two legs, and how far apart their pins are: wide legs hold well along the road.",
      "*Arm.stemShare",
      "*Arm.spreadMm",
    ),
    pivot: t(
      "stiff pivot",
      "bushing stiffness",
      "N·mm/°",
      "A pivot that springs back when it is turned, as a rubber bush does; 0 is a free pin.",
      "*Arm.pivotStiffnessNmmPerDeg",
    ),
    stiffness: t(
      "stiffness",
      "",
      "N/mm",
      "How many newtons push the ball joint 1 mm that way: twice the stiffness, half the bend.",
      "joints.*.*NPerMm",
      "*.material.youngMPa",
    ),
    poisson: t(
      "sideways shrinking",
      "Poisson's ratio",
      "",
      "How much thinner a bar becomes for how much longer it is pulled; plastics 0.35 to 0.4.",
      "*.material.poisson",
    ),
    rose: t("stiffness rose", "", "N/mm", "How hard the ball joint must be pushed for 1 mm, in every direction; each ring further out is ten times stiffer."),
    bearing: t(
      "wheel bearing",
      "tilt stiffness",
      "N·mm/°",
      "How hard the wheel must be levered to tilt on its hub by a degree, after its play is used up.",
      "hub.tiltStiffnessNmmPerDeg",
    ),
    bearingOffset: t(
      "bearing inboard",
      "bearing offset",
      "mm",
      "How far the middle of the bearing stands inboard of the middle of the wheel; the further, the longer the lever of the wheel's load.",
      "hub.bearingOffsetMm",
    ),
    pressed: t("pressed flat", "vertical stiffness", "N/mm", "The weight that presses the tyre 1 mm flatter.", "tyre.verticalNPerMm"),
    sideways: t("stiffness sideways", "carcass stiffness", "N/mm", "The side force that shifts the tread 1 mm against the rim.", "tyre.lateralNPerMm"),
    crown: t("crown radius", "", "mm", "How round the tread is across: a round one rolls over its edge softly, a flat one stands on it.", "tyre.crownRadiusMm"),
  },
  "The drive": {
    stall: t("one motor, held fast", "stall torque", "N·mm", "What one motor turns with when it is held fast.", "drive.stallTorqueNmm"),
    noLoad: t("one motor, running free", "no-load speed", "rpm", "How fast one motor turns with nothing on it.", "drive.noLoadRpm"),
    rolling: t("rolling resistance", "", "", "The push that keeps the car rolling slowly, over its weight.", "drive.rollingResistance"),
    drag: t("drag", "air resistance", "N/(m/s)²", "What the air holds back: four times as much at twice the speed.", "drive.dragNPerMps2"),
    thrust: t("push of the motors", "tractive force", "N", "How hard all driven wheels together push the car forward."),
  },
  "How a value is known, and how sure the answer is": KNOWN_TERMS,
} as const satisfies Readonly<Record<string, Readonly<Record<string, Term>>>>;

type KeysOf<T> = T extends unknown ? keyof T : never;
export type TermKey = KeysOf<(typeof TERM_GROUPS)[keyof typeof TERM_GROUPS]>;

const ALL = new Map<string, Term>(Object.values(TERM_GROUPS).flatMap((g) => Object.entries(g as Readonly<Record<string, Term>>)));

export const TERMS: ReadonlyMap<string, Term> = ALL;

/** The term that explains what a limit is about. */
export const LIMIT_TERMS: Readonly<Record<LimitName, TermKey>> = {
  hubRetention: "retention",
  armYield: "yield",
  armSet: "set",
  armBuckling: "buckling",
  tyreOffRim: "unseating",
  jointPullOut: "pullOut",
  camber: "camber",
  springOnStop: "stop",
  wheelLift: "tipping",
  sliding: "grip",
  fit: "fit",
  belowRoad: "belowRoad",
  hubHeat: "heat",
  wheelShift: "wheelShift",
  axisTilt: "axisTilt",
};

const patterns = [...ALL].flatMap(([key, term]) =>
  (term.fields ?? []).map((f) => ({ key, test: new RegExp(`^${f.replace(/[.[\]]/g, "\\$&").replace(/\*/g, "[^.]*(?:\\.heat)?")}$`) })),
);

/** The term that explains a field, by its path as the file has it; null where its own words are enough. */
export function termOfField(path: string): string | null {
  const at = path.replace(/^corner\./, "").replace(/\[\d+\]/g, "[]");
  return patterns.find((p) => p.test.test(at))?.key ?? null;
}

/** "Lean (camber), °" */
export const termHead = ({ plain, trade, unit }: Term): string => {
  const head = capital(plain);
  return `${head}${trade && trade !== plain ? ` (${trade})` : ""}${unit ? `, ${unit}` : ""}`;
};
