import type { LimitName, LimitResult } from "../analysis.ts";
import { ARM_NAMES, type Corner, type JointName } from "../design/types.ts";

/** Parts along which a load runs, for showing its path on the picture; all on the side of the limit's wheel except `body` and `otherTyre`. */
export type PathPart =
  | "tyre"
  | "rim"
  | "hubRetention"
  | "bearing"
  | "hub"
  | JointName
  | "upperArm"
  | "lowerArm"
  | "spring"
  | "antiRollBar"
  | "body"
  | "otherTyre"
  | "outline";

export interface LimitExplanation {
  name: LimitName;
  /** what gives, in a few plain words */
  title: string;
  /** the trade's or textbook's word for it */
  term: string;
  /** demand over capacity in plain words */
  plain: string;
  formula: string;
  /** fields of the scenario and solved values that go in */
  inputs: readonly string[];
  path: readonly PathPart[];
}

const ROAD_TO_HUB: readonly PathPart[] = ["tyre", "rim", "hubRetention", "bearing", "hub"];
const WHOLE_CORNER: readonly PathPart[] = [...ROAD_TO_HUB, "upperOuter", "lowerOuter", "upperArm", "lowerArm", "upperInner", "lowerInner", "spring", "body"];

/** One record per limit; for the hub and the tyre's seat the kind at hand changes the words (see `explainLimit`). */
export const EXPLANATIONS: Readonly<Record<LimitName, LimitExplanation>> = {
  hubRetention: {
    name: "hubRetention",
    title: "the wheel comes off its hub",
    term: "retention under axial pull and prying",
    plain:
      "The road's force acts at the bottom of the wheel, far from the hub. It tilts the wheel on its bearing and so pries one edge of the lip open, usually five to ten times harder than the straight pull does. The worst point is turned into the straight pull that would load the whole lip as hard, and set against the pull that strips it.",
    formula: "straight pull that would be as bad = F + 2 M / r; M tilting moment, F pull outwards (negative when pushed on), r radius of the lip",
    inputs: ["solved force and contact point of the tyre", "weight and inertia of the wheel", "hub.retention", "hub.bearingOffsetMm"],
    path: ROAD_TO_HUB,
  },
  armYield: {
    name: "armYield",
    title: "an arm bends for good or breaks",
    term: "yield (von Mises stress)",
    plain:
      "Pull or push, bending up and down, bending fore and aft and twist of each leg are added at the worst place and set against the stress at which the material stays bent. All are those of the solved bent arm: its own bow under push or pull, the anti-roll bar and the inner pivot's moment are in them, and what drive and brakes push along the road.",
    formula: "√((N/A + My/Wy + Mz/Wz)² + 3 (T/Wt)²) / yield stress; moments of the bent arm",
    inputs: [
      "solved forces at ball joint, spring seat and anti-roll bar",
      "solved bending along the arm",
      "arm layout, spread and section",
      "material's yield",
    ],
    path: ["tyre", "hub", "lowerOuter", "lowerArm", "spring", "lowerInner", "body"],
  },
  armSet: {
    name: "armSet",
    title: "a plastic arm stays a little bent with time",
    term: "creep, permanent set",
    plain: "A plastic that stands for long above half of its yield stress creeps and does not come all the way back. A caution, not a break.",
    formula: "von Mises stress / (yield stress / 2)",
    inputs: ["as for the arm's bending", "material.plastic"],
    path: ["tyre", "hub", "lowerOuter", "lowerArm", "spring", "lowerInner", "body"],
  },
  armBuckling: {
    name: "armBuckling",
    title: "an arm gives way sideways",
    term: "buckling: as a strut, or lateral-torsional",
    plain:
      "A slim arm under push does not break, it steps aside, often fore and aft where the front view cannot show it. A tall narrow one can twist over under its bending alone, even while it is pulled. The spatial frame is asked by how much all its loads may grow before that; told is the push along the arm, or, where nothing pushes it, its largest bending moment.",
    formula: "1 / load factor; smallest eigenvalue of stiffness against geometric stiffness",
    inputs: [
      "solved forces at ball joint, spring seat and anti-roll bar",
      "solved bending along the arm",
      "arm layout, spread and section",
      "material's stiffness",
      "pin stiffness",
    ],
    path: ["tyre", "hub", "upperOuter", "upperArm", "upperInner", "body"],
  },
  tyreOffRim: {
    name: "tyreOffRim",
    title: "the tyre is pushed off its rim",
    term: "unseating",
    plain: "The road pushes the tread sideways. Friction under the stretched band holds it, and a spinning band lifts and holds less the faster it turns.",
    formula: "side force / (2π · friction · (T − m′ v²) + what discs or glue hold)",
    inputs: ["solved side force", "tyre.seat", "speed"],
    path: ["tyre", "rim"],
  },
  jointPullOut: {
    name: "jointPullOut",
    title: "a joint pulls apart",
    term: "pull-out of a pin",
    plain: "The force in each pin is set against the pull at which that joint comes apart. The worst of the four counts.",
    formula: "force in the pin / pull-out force",
    inputs: ["solved joint forces", "joints.*.pullOutN"],
    path: WHOLE_CORNER.filter((p) => p !== "spring"),
  },
  camber: {
    name: "camber",
    title: "the wheel leans more than you accept",
    term: "camber",
    plain: "The lean of the loaded wheel against the largest lean that you set, to either side.",
    formula: "|lean| / lean you accept",
    inputs: ["solved lean", "limits.camberDeg"],
    path: WHOLE_CORNER,
  },
  springOnStop: {
    name: "springOnStop",
    title: "the spring sits on its stop",
    term: "bump stop",
    plain: "How much of the way from the free spring to the bump stop is used. Beyond 1 the stop carries too and the wheel rides hard. A caution.",
    formula: "(free length − length) / (free length − length at the stop)",
    inputs: ["solved spring length", "spring.bumpStop", "spring.freeLengthMm", "spring.preloadMm"],
    path: ["tyre", "hub", "lowerOuter", "lowerArm", "spring", "body"],
  },
  wheelLift: {
    name: "wheelLift",
    title: "the inner wheel lifts",
    term: "load transfer, tipping",
    plain: "How much of its weight at rest a wheel has lost. At 1 it is off the ground; when nothing else holds the body the car tips.",
    formula: "(load at rest − load now) / load at rest",
    inputs: ["solved wheel loads", "body.cgHeightMm", "wheel centres", "body.otherRollStiffnessNmmPerDeg"],
    path: ["tyre", "body", "otherTyre"],
  },
  sliding: {
    name: "sliding",
    title: "the tyres let go",
    term: "grip",
    plain:
      "Side force over wheel load against the tyre's grip; under throttle or brakes push and side force share that grip (friction circle), so that the tyre lets go earlier. Sliding is the mild end: nothing breaks. A wheel that only its push lets spin or lock is a caution, unless you say that none may.",
    formula: "(√(side force² + push²) / wheel load) / friction of the tyre",
    inputs: ["solved tyre forces", "throttle and brake", "tyre.friction", "tyre.loadExponent", "limits.spinMustHold"],
    path: ["tyre", "otherTyre"],
  },
  fit: {
    name: "fit",
    title: "tyre or arm comes too near to the body",
    term: "clearance",
    plain:
      "Tyre and arms, over their travel and at this load, against the outlines and boxes that must stay free. A caution: it leaves what gives first and the safe speed alone, unless you say (in the row of the body's outlines) that it must hold.",
    formula: "free distance − wanted distance, mm",
    inputs: ["fit.outlines", "fit.keepOut", "fit.clearanceMm", "fit.mustHold", "fit.bumpTravelMm", "fit.droopTravelMm", "solved positions"],
    path: ["tyre", "upperArm", "lowerArm", "outline"],
  },
  belowRoad: {
    name: "belowRoad",
    title: "a part reaches below the road",
    term: "ground clearance",
    plain:
      "Pins, arms and the body's outlines and boxes where they stand at this load, against a level road. What would be below it drags on the road, or its place was typed wrongly. A caution.",
    formula: "height of the lowest part above the road, mm",
    inputs: ["places of the pins", "arm heights", "fit.outlines", "fit.keepOut", "solved positions"],
    path: ["tyre", "body"],
  },
  hubHeat: {
    name: "hubHeat",
    title: "the hub runs hot",
    term: "friction heat, pressure times speed",
    plain:
      "Rubbing in the hub makes heat: friction times all that journal and lip carry (all round the lip, not just the straight pull) times how fast they rub. Still air takes it away. The steady temperature is set against what the material stands, and pressure times rubbing speed against its limit. A caution: it takes minutes.",
    formula: "(friction · load · rubbing speed / (cooling · area)) / (highest temperature − air), or p·v / its limit",
    inputs: ["hub.heat", "hub.retention", "solved bearing load and tilting moment", "speed"],
    path: ["tyre", "rim", "hubRetention", "bearing"],
  },
  wheelShift: {
    name: "wheelShift",
    title: "the wheel moves along the road more than you accept",
    term: "fore-aft compliance",
    plain:
      "Drive and brakes push the wheel along the road. The two ball joints share that push by its height between them; each arm bends along the road, each joint gives and uses up its play. The shift of the wheel's centre is set against the largest that you set. The steering rod and the inner pins are taken as rigid along the road.",
    formula: "|shift of the wheel's centre| / shift you accept",
    inputs: ["throttle and brake", "drive and brake", "arm layout, spread and section", "joints.*.clearanceMm", "solved wheel loads", "limits.wheelShiftMm"],
    path: [...ROAD_TO_HUB, "upperOuter", "lowerOuter", "upperArm", "lowerArm", "body"],
  },
  axisTilt: {
    name: "axisTilt",
    title: "the steering axis tilts more than you accept",
    term: "caster change under push",
    plain:
      "Where push or brake moves the lower ball joint farther than the upper one, the line through both tilts as seen from the side, and the steering feels it. Set against the largest tilt that you set.",
    formula: "|(shift of the lower joint − shift of the upper one) / their distance in height| / tilt you accept",
    inputs: ["throttle and brake", "drive and brake", "arm layout, spread and section", "joints.*.clearanceMm", "limits.axisTiltDeg"],
    path: [...ROAD_TO_HUB, "upperOuter", "lowerOuter", "upperArm", "lowerArm", "body"],
  },
};

type Words = Partial<Pick<LimitExplanation, "title" | "term" | "plain" | "formula">>;

const RETENTION_WORDS: Record<"ring" | "shoulder" | "crossPin" | "screwedRing", Words> = {
  ring: {},
  shoulder: {
    plain:
      "The lip only pulls; the wheel pivots on a stiff shoulder outside it. While the pull is larger than the prying the lip is loaded all round; beyond that it tips about the shoulder's edge.",
    formula: "F + 2 M / r while M ≤ F r² / (2 R); beyond it 2ρ(1+ρ)/(1+2ρ²) · (F + M / R), ρ = R / r; R radius of the shoulder",
  },
  crossPin: {
    title: "the cross-pin shears",
    term: "double shear",
    plain: "A pin through wheel and hub is cut at two places. Each takes half of the pull, and the tilting moment as a pair of forces.",
    formula: "(|F| / 2 + M / (2 r)) / (π/4 d² · shear strength)",
  },
  screwedRing: {
    title: "the screwed ring's thread strips",
    term: "thread shear",
    plain: "The thread is loaded like a lip on its radius, and strips over about half of the engaged length.",
    formula: "(F + 2 M / r) / (π r L · shear strength)",
  },
};

const SEAT_WORDS: Record<Corner["tyre"]["seat"]["kind"], Words> = {
  stretchedBand: {},
  sideDiscs: { title: "the tyre squeezes out between its discs" },
  glue: { title: "the glued tyre comes loose" },
};

/** The record of a limit in the words of the corner at hand. */
export function explainLimit(name: LimitName, corner: Corner): LimitExplanation {
  const base = EXPLANATIONS[name];
  if (name === "hubRetention") {
    const r = corner.hub.retention;
    return { ...base, ...RETENTION_WORDS[r.kind === "lip" ? r.model : r.kind] };
  }
  if (name === "tyreOffRim") return { ...base, ...SEAT_WORDS[corner.tyre.seat.kind] };
  return base;
}

const JOINT_PARTS: Readonly<Record<string, JointName>> = {
  "upper inner pin": "upperInner",
  "upper outer joint": "upperOuter",
  "lower inner pin": "lowerInner",
  "lower outer joint": "lowerOuter",
};

/** The path of one solved limit: for arms and joints the one that is meant. */
export function loadPathOf(r: LimitResult): PathPart[] {
  const arm = ARM_NAMES.find((n) => r.part.startsWith(`${n} arm`));
  if (r.name === "fit") return r.part.startsWith("tyre") ? ["tyre", "outline"] : [arm === "upper" ? "upperArm" : "lowerArm", "outline"];
  if (arm) {
    const all = EXPLANATIONS.armYield.path.filter((p) => arm === "lower" || p !== "spring");
    return all.map((p): PathPart => (p === "lowerOuter" ? `${arm}Outer` : p === "lowerInner" ? `${arm}Inner` : p === "lowerArm" ? `${arm}Arm` : p));
  }
  const joint = JOINT_PARTS[r.part];
  if (joint) {
    const own = joint.startsWith("upper") ? "upper" : "lower";
    const path: PathPart[] = ["tyre", "hub", `${own}Outer`, `${own}Arm`, `${own}Inner`, "body"];
    return joint.endsWith("Outer") ? path.slice(0, 3) : path;
  }
  return [...EXPLANATIONS[r.name].path];
}
