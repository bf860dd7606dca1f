import type { Arm, Corner } from "../core/design/types.ts";
import type { PartName } from "../view/pick.ts";

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
  /** shown value per stored value (100 for a share in %) */
  times?: number;
}

export interface ChoiceControl {
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

const n = (path: string, words: string, unit: string, min: number, max: number, step: number, more: Partial<NumberControl> = {}): NumberControl => ({
  kind: "number",
  path,
  words,
  unit,
  min,
  max,
  step,
  ...more,
});

function sectionControls(at: string, arm: Arm): Control[] {
  const leg = arm.layout === "straight" ? "" : "leg ";
  switch (arm.section.shape) {
    case "round":
      return [n(`${at}.section.diameterMm`, `${leg}diameter`, "mm", 1, 12, 0.1)];
    case "tube":
      return [n(`${at}.section.outerMm`, `${leg}outside`, "mm", 2, 14, 0.1), n(`${at}.section.innerMm`, `${leg}inside`, "mm", 0.5, 12, 0.1)];
    case "I":
      return [
        n(`${at}.section.heightMm`, `${leg}height`, "mm", 2, 16, 0.1),
        n(`${at}.section.widthMm`, `${leg}width`, "mm", 2, 16, 0.1),
        n(`${at}.section.webMm`, "web", "mm", 0.4, 4, 0.1),
        n(`${at}.section.flangeMm`, "flange", "mm", 0.4, 4, 0.1),
      ];
    case "pinHoleBar":
      return [
        n(`${at}.section.heightMm`, `${leg}height`, "mm", 2, 16, 0.1),
        n(`${at}.section.widthMm`, `${leg}width`, "mm", 2, 16, 0.1),
        n(`${at}.section.holeMm`, "hole", "mm", 1, 6, 0.1),
      ];
    default:
      return [n(`${at}.section.heightMm`, `${leg}height`, "mm", 1, 14, 0.1), n(`${at}.section.widthMm`, `${leg}width`, "mm", 1, 14, 0.1)];
  }
}

function armControls(at: "upperArm" | "lowerArm", c: Corner, materials: readonly string[]): Control[] {
  const arm = c[at];
  const out: Control[] = [{ kind: "choice", path: `${at}.layout`, words: "shape", options: { straight: "straight", fork: "split", A: "A", twin: "twin" } }];
  if (arm.layout === "split") out.push(n(`${at}.stemShare`, "stem", "%", 0, 90, 1, { times: 100 }));
  out.push(...sectionControls(at, arm));
  if (arm.layout !== "straight") out.push(n(`${at}.spreadMm`, "spread", "mm", 8, 80, 1));
  if (typeof arm.material === "string")
    out.push({ kind: "choice", path: `${at}.material`, words: "material", options: Object.fromEntries(materials.map((m) => [m, m])) });
  out.push(n(`${at}.pivotStiffnessNmmPerDeg`, "stiff pivot", "N·mm/°", 0, 500, 5));
  return out;
}

/** The controls of one part, as its present shape asks for. */
export function controlsOf(part: PartName, c: Corner, materials: readonly string[]): Control[] {
  switch (part) {
    case "lowerArm":
    case "upperArm":
      return armControls(part, c, materials);
    case "spring":
      return [
        n("spring.rateNPerMm", "rate", "N/mm", 0.5, 15, 0.1),
        n("spring.preloadMm", "packing", "mm", 0, 20, 0.5),
        n("spring.freeLengthMm", "free length", "mm", 20, 140, 0.2),
        n("spring.count", "side by side", "", 1, 4, 1),
        n("spring.bumpStop.lengthMm", "bump stop at", "mm", 10, 120, 0.5),
        n("antiRollBar.rateNPerMm", "anti-roll bar", "N/mm", 0, 10, 0.1, { root: true }),
      ];
    case "hub":
      return [
        n("hub.tiltStiffnessNmmPerDeg", "bearing", "N·mm/°", 50, 6000, 10),
        n("hub.tiltPlayDeg", "bearing play", "°", 0, 2, 0.05),
        n("hub.staticCamberDeg", "built-in lean", "°", -6, 6, 0.1),
        n("hub.bearingOffsetMm", "bearing inboard", "mm", -10, 20, 0.5),
        ...(c.hub.retention.kind === "lip"
          ? [n("hub.retention.radiusMm", "lip radius", "mm", 2, 20, 0.1), n("hub.retention.capacityN", "lip holds", "N", 10, 600, 1)]
          : []),
        ...(c.hub.retention.kind === "crossPin" ? [n("hub.retention.pinDiameterMm", "cross-pin", "mm", 0.5, 5, 0.1)] : []),
      ];
    case "wheel":
      return [
        n("wheel.radiusMm", "radius", "mm", 20, 90, 0.5),
        n("wheel.treadWidthMm", "tread width", "mm", 8, 80, 0.5),
        n("wheel.unsprungMassKg", "unsprung mass", "kg", 0.02, 1.5, 0.01),
      ];
    case "tyre":
      return [n("tyre.verticalNPerMm", "pressed flat", "N/mm", 2, 60, 0.5), n("tyre.friction", "grip", "", 0.2, 2, 0.01)];
    case "pins":
      return [
        n("joints.upperInner.clearanceMm", "upper inner", "mm", 0, 0.6, 0.01),
        n("joints.upperOuter.clearanceMm", "upper outer", "mm", 0, 0.6, 0.01),
        n("joints.lowerInner.clearanceMm", "lower inner", "mm", 0, 0.6, 0.01),
        n("joints.lowerOuter.clearanceMm", "lower outer", "mm", 0, 0.6, 0.01),
      ];
    case "body":
      return [
        n("body.sprungMassKg", "sprung mass", "kg", 0.2, 8, 0.05, { root: true }),
        n("body.cgHeightMm", "centre height", "mm", 10, 200, 1, { root: true }),
        n("body.otherRollStiffnessNmmPerDeg", "rest of car", "N·mm/°", 0, 4000, 50, { root: true }),
        n("limits.camberDeg", "lean limit", "°", 0.5, 12, 0.5, { root: true }),
      ];
  }
}
