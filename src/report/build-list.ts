import { resolveMaterial } from "../core/arm/materials.ts";
import { capital } from "../core/capital.ts";
import { armLengthMm, armOf, springSeatPoint } from "../core/design/corner-geometry.ts";
import { valueWords } from "../core/design/field-words.ts";
import { axleMassKg, sprungMassKg } from "../core/design/mass.ts";
import {
  ARM_NAMES,
  type Arm,
  type ArmName,
  type Corner,
  JOINT_NAMES,
  type PointSZ,
  type Retention,
  type Scenario,
  type Section,
  SIDES,
  type Side,
} from "../core/design/types.ts";
import type { CornerState } from "../core/equilibrium/state.ts";
import { stanceOf } from "../core/studies/ride-height.ts";
import { fixed, holes } from "../view/format.ts";
import { stanceWords } from "../view/stance.ts";
import { ARM_WORDS, JOINT_WORDS } from "../view/words.ts";

/** What a builder takes to the bench: where every hole is, how long every arm is, and what is mounted, both in mm and in holes. */

interface HoleRow {
  what: string;
  side: Side | "both";
  outMm: number;
  upMm: number;
  outHoles: number;
  upHoles: number;
  /** it lies on a hole of the grid, half holes where the design allows them */
  onGrid: boolean;
}

interface ArmRow {
  arm: ArmName;
  side: Side | "both";
  lengthMm: number;
  lengthHoles: number;
  layout: string;
  section: string;
  material: string;
  pivot: string;
}

interface PartRow {
  group: string;
  what: string;
  left: string;
  right: string;
}

export interface BuildList {
  pitchMm: number;
  /** one list for both sides where they are built alike */
  alike: boolean;
  holes: HoleRow[];
  arms: ArmRow[];
  parts: PartRow[];
}

const GRID_MM = 0.02;

/** A value without needless noughts: 3, 2.5, 0.08. */
export const plain = (v: number, digits = 2): string =>
  fixed(v, digits)
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");

export function sectionWords(s: Section): string {
  switch (s.shape) {
    case "rectangle":
      return `bar, ${plain(s.widthMm)} wide, ${plain(s.heightMm)} high`;
    case "round":
      return `round, ${plain(s.diameterMm)} across`;
    case "tube":
      return `tube, ${plain(s.outerMm)} outside, ${plain(s.innerMm)} inside`;
    case "I":
      return `I, ${plain(s.widthMm)} wide, ${plain(s.heightMm)} high, flange ${plain(s.flangeMm)}, web ${plain(s.webMm)}`;
    case "pinHoleBar":
      return `holed bar, ${plain(s.widthMm)} wide, ${plain(s.heightMm)} high, holes ${plain(s.holeMm)} every ${plain(s.holePitchMm)}, ${s.holesRun === "upDown" ? "up and down" : "fore and aft"}`;
  }
}

function layoutWords(a: Arm, lengthMm: number): string {
  switch (a.layout) {
    case "straight":
      return "one straight bar";
    case "twin":
      return `two bars side by side, ${plain(a.spreadMm)} apart`;
    case "A":
      return `two legs to one ball joint, inner pins ${plain(a.spreadMm)} apart`;
    case "split":
      return `stem ${plain(a.stemShare * lengthMm, 1)} long from the ball joint, then two legs, inner pins ${plain(a.spreadMm)} apart`;
  }
}

const materialName = (m: Arm["material"]): string => (typeof m === "string" ? m : m.name);

export function retentionWords(r: Retention): string {
  const share = r.journalShare > 0 ? `; a journal takes ${plain(100 * r.journalShare, 0)} % of the tilting` : "";
  switch (r.kind) {
    case "lip":
      return `lip on ${plain(r.radiusMm)} mm radius, strips at ${plain(r.capacityN, 1)} N straight pull${r.model === "shoulder" ? `, stiff shoulder on ${plain(r.shoulderRadiusMm)} mm` : ""}${share}`;
    case "crossPin":
      return `cross-pin ${plain(r.pinDiameterMm)} mm through wheel and hub, cut at ${plain(r.shearRadiusMm)} mm radius, ${plain(r.shearStrengthMPa)} MPa${share}`;
    case "screwedRing":
      return `screwed ring, thread radius ${plain(r.threadRadiusMm)} mm, ${plain(r.engagedLengthMm)} mm engaged, ${plain(r.shearStrengthMPa)} MPa${share}`;
  }
}

function holeRows(s: Scenario, c: Corner, side: Side | "both"): HoleRow[] {
  const step = s.holePitchMm * (s.halfPitchAllowed ? 0.5 : 1);
  const onStep = (v: number): boolean => Math.abs(v - Math.round(v / step) * step) < GRID_MM;
  const row = (what: string, p: PointSZ): HoleRow => ({
    what,
    side,
    outMm: p.sMm,
    upMm: p.zMm,
    outHoles: p.sMm / s.holePitchMm,
    upHoles: p.zMm / s.holePitchMm,
    onGrid: onStep(p.sMm) && onStep(p.zMm),
  });
  return [
    ...JOINT_NAMES.map((n) => row(JOINT_WORDS[n], c[n])),
    row("spring top", c.spring.top),
    row("spring seat", springSeatPoint(c)),
    row("wheel centre", c.wheelCentre),
  ];
}

function armRows(s: Scenario, c: Corner, side: Side | "both"): ArmRow[] {
  return ARM_NAMES.map((arm) => {
    const a = armOf(c, arm);
    const lengthMm = armLengthMm(c, arm);
    const stem = a.layout === "split" && a.stemSection ? `; stem: ${sectionWords(a.stemSection)}` : "";
    return {
      arm,
      side,
      lengthMm,
      lengthHoles: lengthMm / s.holePitchMm,
      layout: layoutWords(a, lengthMm),
      section: `${sectionWords(a.section)}${stem}`,
      material: materialName(a.material),
      pivot: a.pivotStiffnessNmmPerDeg === 0 ? "turns freely" : `${plain(a.pivotStiffnessNmmPerDeg, 1)} N·mm/°`,
    };
  });
}

const seatWords = (c: Corner, pitchMm: number): string => {
  const { seat } = c.spring;
  if (seat.on === "hub") return "on the hub";
  const arm: ArmName = seat.on === "upperArm" ? "upper" : "lower";
  const mm = seat.fraction * armLengthMm(c, arm);
  return `on the ${ARM_WORDS[arm]}, ${plain(mm, 1)} mm (${holes(mm, pitchMm)} holes) from its inner pin`;
};

type JointValue = "clearanceMm" | "pullOutN";

/** Rows of all that is mounted; `load` is the corner under the report's load. One row for four joints where they are all alike. */
function partCells(s: Scenario, c: Corner, load: CornerState, alikeJoints: Readonly<Record<JointValue, boolean>>): [string, string, string][] {
  const { spring, hub, wheel, tyre } = c;
  const jointWords = (key: JointValue, unit: string): [string, string, string][] => {
    const values = JOINT_NAMES.map((n) => c.joints[n][key]);
    const words = key === "clearanceMm" ? "play of the pins (radial clearance)" : "pull at which a joint comes apart";
    if (alikeJoints[key]) return [["Joints", words, `${plain(values[0]!, 3)} ${unit}, all four`]];
    return JOINT_NAMES.map((n) => ["Joints", `${words}, ${JOINT_WORDS[n]}`, `${plain(c.joints[n][key], 3)} ${unit}`]);
  };
  const stop = (x: { lengthMm: number; rateNPerMm: number } | null): string => (x ? `at ${plain(x.lengthMm)} mm length, ${plain(x.rateNPerMm)} N/mm` : "none");
  return [
    ["Spring", "springs at this wheel", `${spring.count}`],
    ["Spring", "rate of one", `${plain(spring.rateNPerMm, 3)} N/mm`],
    ["Spring", "free length, eye to eye", `${plain(spring.freeLengthMm)} mm`],
    ["Spring", "packing under it (preload)", `${plain(spring.preloadMm)} mm`],
    ["Spring", "stands", seatWords(c, s.holePitchMm)],
    ["Spring", "length and force under this load", `${fixed(load.spring.lengthMm, 1)} mm, ${fixed(load.spring.totalN, 1)} N`],
    ["Spring", "bump stop", stop(spring.bumpStop)],
    ["Spring", "droop stop", stop(spring.droopStop)],
    ["Spring", "damping, bump and rebound", `${plain(spring.damping.bumpNsPerM)} and ${plain(spring.damping.reboundNsPerM)} N·s/m`],
    ...jointWords("clearanceMm", "mm"),
    ...jointWords("pullOutN", "N"),
    ["Hub", "what holds the wheel (retention)", retentionWords(hub.retention)],
    ["Hub", "lean built in (static camber)", `${plain(hub.staticCamberDeg)}°`],
    ["Hub", "bearing: tilt stiffness, tilt play", `${plain(hub.tiltStiffnessNmmPerDeg, 0)} N·mm/°, ${plain(hub.tiltPlayDeg)}°`],
    ["Hub", "bearing inboard of the wheel's middle", `${plain(hub.bearingOffsetMm)} mm`],
    ["Wheel", "radius, tread width", `${plain(wheel.radiusMm)} mm, ${plain(wheel.treadWidthMm)} mm`],
    ["Wheel", "mass on the bearing, all unsprung", `${plain(1000 * wheel.massKg, 0)} g, ${plain(1000 * wheel.unsprungMassKg, 0)} g`],
    ["Tyre", "stiffness, grip", `${plain(tyre.verticalNPerMm)} N/mm, ${plain(tyre.friction)}`],
    ["Tyre", "held on the rim by", tyreWords(c)],
  ];
}

function tyreWords(c: Corner): string {
  const { seat } = c.tyre;
  const band = `stretched band, ${plain(seat.bandTensionN, 1)} N tension`;
  return seat.kind === "stretchedBand" ? band : `${band}, ${seat.kind === "glue" ? "glued" : "side discs"}, ${plain(seat.extraHoldN, 1)} N more`;
}

/** @param state the corners under the report's load */
export function buildList(s: Scenario, corners: Readonly<Record<Side, Corner>>, state: Readonly<Record<Side, CornerState>>, alike: boolean): BuildList {
  const sides = alike ? (["both"] as const) : SIDES;
  const cornerAt = (side: Side | "both"): Corner => corners[side === "both" ? "right" : side];
  const one = (key: JointValue): boolean =>
    SIDES.every((side) => JOINT_NAMES.every((n) => corners[side].joints[n][key] === corners[side].joints.upperInner[key]));
  const uniform = { clearanceMm: one("clearanceMm"), pullOutN: one("pullOutN") };
  const left = partCells(s, corners.left, state.left, uniform);
  const right = partCells(s, corners.right, state.right, uniform);
  const ofRight = new Map(right.map(([group, what, value]) => [`${group} ${what}`, value]));
  const parts = left.map(([group, what, value]): PartRow => ({ group, what, left: value, right: ofRight.get(`${group} ${what}`) ?? "–" }));
  const seen = new Set(left.map(([group, what]) => `${group} ${what}`));
  for (const [group, what, value] of right) if (!seen.has(`${group} ${what}`)) parts.push({ group, what, left: "–", right: value });
  return {
    pitchMm: s.holePitchMm,
    alike,
    holes: sides.flatMap((side) => holeRows(s, cornerAt(side), side)),
    arms: sides.flatMap((side) => armRows(s, cornerAt(side), side)),
    parts,
  };
}

/** Materials of the design with what they are taken to be, each once. */
export function materialRows(corners: Readonly<Record<Side, Corner>>): { name: string; youngMPa: number; yieldMPa: number; source: string; used: string }[] {
  const used = new Map<string, { material: Arm["material"]; where: Set<string> }>();
  const see = (material: Arm["material"], where: string): void => {
    const name = materialName(material);
    const entry = used.get(name) ?? { material, where: new Set<string>() };
    entry.where.add(where);
    used.set(name, entry);
  };
  for (const side of SIDES) {
    for (const n of ARM_NAMES) see(armOf(corners[side], n).material, `${n} arms`);
    see(corners[side].hub.heat.material, "hubs");
  }
  return [...used].map(([name, u]) => {
    const m = resolveMaterial(u.material);
    return { name, youngMPa: m.youngMPa, yieldMPa: m.yieldMPa, source: m.source, used: [...u.where].join(", ") };
  });
}

/** What belongs to the car as a whole. */
export function carRows(s: Scenario, trackMm: number): [string, string][] {
  const { body, antiRollBar: bar, fit } = s;
  const stance = stanceOf(s);
  return [
    ["Car: weight of all of it, ready to run", `${plain(body.carMassKg, 3)} kg`],
    [
      "Car: of it on this axle, and on its springs",
      `${plain(axleMassKg(s), 3)} kg (${plain(100 * body.axleShare, 1)} %), ${plain(sprungMassKg(s), 3)} kg (sprung mass), its middle ${plain(body.cgHeightMm, 1)} mm up (centre of gravity)`,
    ],
    ...(stance
      ? ([
          [
            "Car: at rest on a level road",
            capital(
              stanceWords(s, stance)
                .sentence.replace(/^At rest it /, "")
                .replace(/\.$/, ""),
            ),
          ],
        ] as [string, string][])
      : []),
    ["Car: what carries the motor or the last gear stage", s.drive.onThisAxle ? valueWords("drive.carriedBy", s.drive.carriedBy) : "not on this axle"],
    ["Car: what carries the brake", s.brake.onThisAxle ? valueWords("brake.carriedBy", s.brake.carriedBy) : "not on this axle"],
    ["Car: wheels apart, middle to middle (track)", `${plain(trackMm, 1)} mm`],
    ["Car: anti-roll bar", bar.rateNPerMm > 0 ? `${plain(bar.rateNPerMm, 3)} N/mm at ${plain(100 * bar.atFraction, 0)} % of the lower arms` : "none"],
    [
      "Car: must stay free between moving parts and body",
      `${plain(fit.clearanceMm, 1)} mm, over ${plain(fit.bumpTravelMm, 1)} mm up and ${plain(fit.droopTravelMm, 1)} mm down${fit.mustHold ? "; it must hold" : ""}`,
    ],
  ];
}
