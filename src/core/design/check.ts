import { distanceMm, springSeatPoint } from "./corner-geometry.ts";
import { axleMassKg, sprungMassKg, unsprungMassKg } from "./mass.ts";
import { JOINT_WORDS } from "./part-words.ts";
import { cornerOf } from "./sides.ts";
import { ARM_NAMES, type Corner, type Scenario, type Section, SIDES, type Side } from "./types.ts";

/** Something that no single range can tell: two values that do not go together. */
export interface DesignProblem {
  /** where, such as "right.lowerOuter" or "corner.spring.bumpStop.lengthMm" */
  path: string;
  value: number | string;
  unit: string;
  /** what would be allowed, in words that follow "allowed" */
  allowed: string;
}

/** Shorter arms and hubs leave no room for the pins of any parts system, and make the linkage ill-conditioned. */
const MIN_LINK_MM = 4;
/** A spring without length has no direction. */
const MIN_SPRING_MM = 2;
/** How far the as-built tyre may stand off the ground, or reach below it: wheels hang free, and a scenario may be drawn at ride height. */
const MAX_GROUND_GAP_MM = 30;
/** Inner pins nearer to each other than this are one pin, and an arm that is free about itself spins on it: nothing holds its legs. */
const MIN_FREE_SPREAD_MM = 1;

/** A problem of a corner: the fields that it is about, the blamed one first. */
interface CornerProblem extends Omit<DesignProblem, "path"> {
  fields: [string, ...string[]];
}

/**
 * Problems of a scenario whose single values are already in range; an empty list when there are none.
 * Both sides are checked as they stand after their overrides; a path starts with the side when the
 * override is to blame.
 */
export function checkScenario(s: Scenario): DesignProblem[] {
  const problems: DesignProblem[] = [];
  const seen = new Set<string>();
  for (const side of SIDES)
    for (const { fields, ...rest } of checkCorner(cornerOf(s, side))) {
      const path = blamed(s, side, fields);
      const key = `${path} ${rest.allowed}`;
      if (!seen.has(key)) problems.push({ path, ...rest });
      seen.add(key);
    }
  problems.push(...masses(s), ...carriers(s));
  s.fit.keepOut.forEach((b, i) => {
    if (b.fromSMm >= b.toSMm) problems.push({ path: `fit.keepOut[${i}].toSMm`, value: b.toSMm, unit: "mm", allowed: `above the inner edge, ${b.fromSMm} mm` });
    if (b.fromZMm >= b.toZMm) problems.push({ path: `fit.keepOut[${i}].toZMm`, value: b.toZMm, unit: "mm", allowed: `above the lower edge, ${b.fromZMm} mm` });
  });
  return problems;
}

/** A straight arm on a pin that lets it spin about itself cannot take the couple of a motor or brake. */
function carriers(s: Scenario): DesignProblem[] {
  return (["drive", "brake"] as const).flatMap((what): DesignProblem[] => {
    const { carriedBy } = s[what];
    if (carriedBy !== "upperArm" && carriedBy !== "lowerArm") return [];
    const spins = SIDES.map((side) => cornerOf(s, side)[carriedBy]).some((a) => a.layout === "straight" && a.pivotFreeAboutArm);
    return spins
      ? [
          {
            path: `${what}.carriedBy`,
            value: carriedBy,
            unit: "",
            allowed: "body, hub, or an arm that cannot spin about itself: this one is straight and its pin is free about it",
          },
        ]
      : [];
  });
}

/** The most that may stand on an axle's springs, kg. */
const MAX_SPRUNG_KG = 30;

function masses(s: Scenario): DesignProblem[] {
  const { carMassKg, axleShare } = s.body;
  const below = unsprungMassKg(s);
  const sprung = sprungMassKg(s);
  if (axleMassKg(s) === 0) return [{ path: "body.axleShare", value: axleShare, unit: "", allowed: "above 0, since some of the car stands on this axle" }];
  const carries = `the wheels and hubs of this axle weigh ${round(below)} kg themselves`;
  if (below > carMassKg) return [{ path: "body.carMassKg", value: carMassKg, unit: "kg", allowed: `at least ${round(below)} kg, since ${carries}` }];
  const least = below / carMassKg;
  const up = (v: number): number => Math.ceil(v * 1000) / 1000;
  if (sprung < 0)
    return [{ path: "body.axleShare", value: round(axleShare), unit: "", allowed: `at least ${up(least)} (${round(100 * up(least))} %), since ${carries}` }];
  if (sprung > MAX_SPRUNG_KG)
    return [
      {
        path: "body.carMassKg",
        value: carMassKg,
        unit: "kg",
        allowed: `up to ${Math.floor((1000 * (MAX_SPRUNG_KG + below)) / axleShare) / 1000} kg, so that no more than ${MAX_SPRUNG_KG} kg stand on the springs of this axle`,
      },
    ];
  return [];
}

/** Problems of one corner; field paths start below the corner. */
function checkCorner(c: Corner): CornerProblem[] {
  return [...geometry(c), ...arms(c), ...spring(c), ...wheel(c)];
}

/** The path of the first field that the side overrides, else that of the first field in the common corner. */
function blamed(s: Scenario, side: Side, fields: readonly string[]): string {
  const overridden = fields.find((f) => f.split(".").reduce<unknown>((v, k) => (v as Record<string, unknown> | undefined)?.[k], s[side]) !== undefined);
  return overridden === undefined ? `corner.${fields[0]}` : `${side}.${overridden}`;
}

const round = (v: number): number => Math.round(v * 1000) / 1000;

function geometry(c: Corner): CornerProblem[] {
  const pairs = [
    ["upperOuter", "upperInner"],
    ["lowerOuter", "lowerInner"],
    ["upperOuter", "lowerOuter"],
  ] as const;
  return pairs.flatMap(([a, b]): CornerProblem[] => {
    const d = distanceMm(c[a], c[b]);
    return d >= MIN_LINK_MM ? [] : [{ fields: [a, b], value: round(d), unit: `mm from the ${JOINT_WORDS[b]}`, allowed: `at least ${MIN_LINK_MM} mm` }];
  });
}

function arms(c: Corner): CornerProblem[] {
  return ARM_NAMES.flatMap((arm): CornerProblem[] => {
    const key = `${arm}Arm` as const;
    const a = c[key];
    const stem = a.layout === "split" && a.stemSection ? section(a.stemSection, `${key}.stemSection`) : [];
    // a straight arm's one pin may be free: its ball joint keeps it from spinning
    const spins = a.layout !== "straight" && a.pivotFreeAboutArm && a.spreadMm < MIN_FREE_SPREAD_MM;
    const hold: CornerProblem[] = spins
      ? [
          {
            fields: [`${key}.spreadMm`, `${key}.pivotFreeAboutArm`, `${key}.layout`],
            value: a.spreadMm,
            unit: "mm",
            allowed: `at least ${MIN_FREE_SPREAD_MM} mm where the inner pins are free about the arm: on pins this close it spins about itself`,
          },
        ]
      : [];
    return [...hold, ...section(a.section, `${key}.section`), ...stem];
  });
}

function section(s: Section, at: string): CornerProblem[] {
  const below = (field: string, value: number, limit: number, than: string): CornerProblem[] =>
    value < limit ? [] : [{ fields: [`${at}.${field}`], value, unit: "mm", allowed: `below ${than}, ${round(limit)} mm` }];
  switch (s.shape) {
    case "tube":
      return below("innerMm", s.innerMm, s.outerMm, "the outer diameter");
    case "I":
      return [...below("flangeMm", s.flangeMm, s.heightMm / 2, "half of the height"), ...below("webMm", s.webMm, s.widthMm, "the width")];
    case "pinHoleBar":
      return [
        ...(s.holesRun === "foreAft" ? below("holeMm", s.holeMm, s.heightMm, "the height") : below("holeMm", s.holeMm, s.widthMm, "the width")),
        ...below("holeMm", s.holeMm, s.holePitchMm, "the hole pitch"),
      ];
    default:
      return [];
  }
}

function spring(c: Corner): CornerProblem[] {
  const { bumpStop, droopStop, top } = c.spring;
  const problems: CornerProblem[] = [];
  const length = distanceMm(top, springSeatPoint(c));
  if (length < MIN_SPRING_MM)
    problems.push({ fields: ["spring.top", "spring.seat"], value: round(length), unit: "mm from the spring's seat", allowed: `at least ${MIN_SPRING_MM} mm` });
  if (droopStop && bumpStop.lengthMm >= droopStop.lengthMm)
    problems.push({
      fields: ["spring.bumpStop.lengthMm", "spring.droopStop.lengthMm"],
      value: bumpStop.lengthMm,
      unit: "mm",
      allowed: `below the droop stop's length, ${droopStop.lengthMm} mm`,
    });
  return problems;
}

function wheel(c: Corner): CornerProblem[] {
  const { wheel: w, tyre, wheelCentre } = c;
  const problems: CornerProblem[] = [];
  if (w.massKg > w.unsprungMassKg)
    problems.push({
      fields: ["wheel.massKg", "wheel.unsprungMassKg"],
      value: w.massKg,
      unit: "kg",
      allowed: `up to the unsprung mass, which includes it, ${w.unsprungMassKg} kg`,
    });
  const gap = wheelCentre.zMm - w.radiusMm;
  if (Math.abs(gap) > MAX_GROUND_GAP_MM)
    problems.push({
      fields: ["wheelCentre.zMm", "wheel.radiusMm"],
      value: wheelCentre.zMm,
      unit: "mm",
      allowed: `${round(w.radiusMm - MAX_GROUND_GAP_MM)} to ${round(w.radiusMm + MAX_GROUND_GAP_MM)} mm, so that the tyre is near the ground at height 0`,
    });
  if (wheelCentre.sMm <= w.treadWidthMm / 2)
    problems.push({
      fields: ["wheelCentre.sMm", "wheel.treadWidthMm"],
      value: wheelCentre.sMm,
      unit: "mm",
      allowed: `above half of the tread width, ${round(w.treadWidthMm / 2)} mm, so that the tyre stays on its side of the car`,
    });
  const carrying = tyre.effectiveWidthMm ?? w.treadWidthMm;
  if (carrying > w.treadWidthMm)
    problems.push({
      fields: ["tyre.effectiveWidthMm", "wheel.treadWidthMm"],
      value: carrying,
      unit: "mm",
      allowed: `up to the tread width, ${w.treadWidthMm} mm`,
    });
  if (tyre.crownRadiusMm !== null && tyre.crownRadiusMm < carrying / 2)
    problems.push({
      fields: ["tyre.crownRadiusMm", "tyre.effectiveWidthMm", "wheel.treadWidthMm"],
      value: tyre.crownRadiusMm,
      unit: "mm",
      allowed: `at least half of the width that carries, ${round(carrying / 2)} mm`,
    });
  return problems;
}
