import type { FieldName } from "../../../core/design/field-names.ts";
import { fieldName } from "../../../core/design/field-words.ts";
import { axleMassKg, withAxleMass } from "../../../core/design/mass.ts";
import { ARM_LAYOUTS, type Arm, type Corner, type Scenario } from "../../../core/design/types.ts";
import type { PartName } from "../../../view/pick.ts";

/** One value of a part that a slider changes. Paths are below the corner, or from the root where `root`. */
export interface NumberControl {
  kind: "number";
  path: string;
  words: string;
  unit: string;
  min: number;
  max: number;
  step: number;
  root?: boolean;
  /** only whole numbers make sense */
  whole?: boolean;
  /** shown value per stored value (100 for a share in %) */
  times?: number;
  /** how it is found out, told where the hand rests on it */
  hint?: string;
  /** no field of its own: how it is read off the car and what of the car it sets */
  reading?: { of(s: Scenario): number; set(s: Scenario, value: number): Scenario; most(s: Scenario): number };
}

interface ChoiceControl {
  kind: "choice";
  path: string;
  words: string;
  options: Record<string, string>;
  root?: boolean;
}

export type Control = NumberControl | ChoiceControl;

export const PART_WORDS: Record<PartName, string> = {
  lowerArm: "Lower arm",
  upperArm: "Upper arm",
  spring: "Spring",
  hub: "Hub",
  wheel: "Wheel",
  tyre: "Tyre",
  pins: "Pins",
  body: "Body",
};

const field = (path: string, root: boolean): FieldName => {
  const found = fieldName(root ? path : `corner.${path}`);
  if (!found) throw new RangeError(`no name for ${path}`);
  return found;
};

/** A slider under the field's own short name; a share is set in per cent. `before` tells legs from a single bar. */
function n(path: string, min: number, max: number, step: number, more: { root?: boolean; before?: string; whole?: boolean } = {}): NumberControl {
  const { short, unit, percent } = field(path, more.root ?? false);
  const words = `${more.before ?? ""}${short}`;
  return {
    kind: "number",
    path,
    words,
    unit,
    min,
    max,
    step,
    ...(more.root ? { root: true } : {}),
    ...(percent ? { times: 100 } : {}),
    ...(more.whole ? { whole: true } : {}),
  };
}

/** What may be chosen, by its words; `brief`: what stands in brackets is left out beside the control. */
function choice(path: string, keys: readonly string[], brief = false): ChoiceControl {
  const { short, values = {} } = field(path, false);
  const words = (key: string): string => (brief ? (values[key] ?? key).replace(/ \(.*/, "") : (values[key] ?? key));
  return { kind: "choice", path, words: short, options: Object.fromEntries(keys.map((key) => [words(key), key])) };
}

function sectionControls(at: string, arm: Arm): Control[] {
  const legs = { before: arm.layout === "straight" ? "" : "leg " };
  switch (arm.section.shape) {
    case "round":
      return [n(`${at}.section.diameterMm`, 1, 12, 0.1, legs)];
    case "tube":
      return [n(`${at}.section.outerMm`, 2, 14, 0.1, legs), n(`${at}.section.innerMm`, 0.5, 12, 0.1, legs)];
    case "I":
      return [
        n(`${at}.section.heightMm`, 2, 16, 0.1, legs),
        n(`${at}.section.widthMm`, 2, 16, 0.1, legs),
        n(`${at}.section.webMm`, 0.4, 4, 0.1),
        n(`${at}.section.flangeMm`, 0.4, 4, 0.1),
      ];
    case "pinHoleBar":
      return [n(`${at}.section.heightMm`, 2, 16, 0.1, legs), n(`${at}.section.widthMm`, 2, 16, 0.1, legs), n(`${at}.section.holeMm`, 1, 6, 0.1)];
    default:
      return [n(`${at}.section.heightMm`, 1, 14, 0.1, legs), n(`${at}.section.widthMm`, 1, 14, 0.1, legs)];
  }
}

function armControls(at: "upperArm" | "lowerArm", c: Corner, materials: readonly string[]): Control[] {
  const arm = c[at];
  const out: Control[] = [choice(`${at}.layout`, ARM_LAYOUTS, true)];
  if (arm.layout === "split") out.push(n(`${at}.stemShare`, 0, 90, 1));
  out.push(...sectionControls(at, arm));
  if (arm.layout !== "straight") out.push(n(`${at}.spreadMm`, 8, 80, 1));
  if (typeof arm.material === "string") out.push(choice(`${at}.material`, materials));
  out.push(n(`${at}.pivotStiffnessNmmPerDeg`, 0, 500, 5));
  return out;
}

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

/** The controls of one part, as its present shape asks for. */
export function controlsOf(part: PartName, c: Corner, materials: readonly string[]): Control[] {
  switch (part) {
    case "lowerArm":
    case "upperArm":
      return armControls(part, c, materials);
    case "spring":
      return [
        n("spring.rateNPerMm", 0.5, 15, 0.1),
        n("spring.preloadMm", 0, 20, 0.5),
        n("spring.freeLengthMm", 20, 140, 0.2),
        n("spring.count", 1, 4, 1, { whole: true }),
        n("spring.bumpStop.lengthMm", 10, 120, 0.5),
        n("antiRollBar.rateNPerMm", 0, 10, 0.1, { root: true }),
      ];
    case "hub":
      return [
        n("hub.tiltStiffnessNmmPerDeg", 50, 6000, 10),
        n("hub.tiltPlayDeg", 0, 2, 0.05),
        n("hub.staticCamberDeg", -6, 6, 0.1),
        n("hub.bearingOffsetMm", -10, 20, 0.5),
        ...(c.hub.retention.kind === "lip" ? [n("hub.retention.radiusMm", 2, 20, 0.1), n("hub.retention.capacityN", 10, 600, 1)] : []),
        ...(c.hub.retention.kind === "crossPin" ? [n("hub.retention.pinDiameterMm", 0.5, 5, 0.1)] : []),
      ];
    case "wheel":
      return [n("wheel.radiusMm", 20, 90, 0.5), n("wheel.treadWidthMm", 8, 80, 0.5), n("wheel.unsprungMassKg", 0.02, 1.5, 0.01)];
    case "tyre":
      return [n("tyre.verticalNPerMm", 2, 60, 0.5), n("tyre.friction", 0.2, 2, 0.01)];
    case "pins":
      return [
        n("joints.upperInner.clearanceMm", 0, 0.6, 0.01),
        n("joints.upperOuter.clearanceMm", 0, 0.6, 0.01),
        n("joints.lowerInner.clearanceMm", 0, 0.6, 0.01),
        n("joints.lowerOuter.clearanceMm", 0, 0.6, 0.01),
      ];
    case "body":
      return [
        n("body.carMassKg", 0.5, 16, 0.05, { root: true }),
        n("body.axleShare", 30, 70, 0.5, { root: true }),
        SCALE,
        n("body.cgHeightMm", 10, 200, 1, { root: true }),
        n("body.otherRollStiffnessNmmPerDeg", 0, 4000, 50, { root: true }),
        n("limits.camberDeg", 0.5, 12, 0.5, { root: true }),
      ];
  }
}
