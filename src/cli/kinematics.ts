import { cornerOf } from "../core/design/sides.ts";
import { type Scenario, SIDES, type Side } from "../core/design/types.ts";
import { kinematicsAxle, type RollCentre } from "../core/linkage/axle.ts";
import { buildCorner, type CornerLinkage } from "../core/linkage/corner.ts";
import { kinematicsCurve } from "../core/linkage/curve.ts";
import type { CornerKinematics, PointOrFar } from "../core/linkage/outputs.ts";
import { lockSentence } from "../core/linkage/travel.ts";
import type { Answer, Command } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { Refusal } from "./refusal.ts";
import { block, num, signed, table } from "./table.ts";

export const kinematicsCommand: Command = {
  name: "kinematics",
  about: "how the wheels move on stiff arms over their travel, and where the linkage locks",
  files: 1,
  numbers: [],
  help: "The travel is that of the file's fit section (bumpTravelMm, droopTravelMm). Nothing bends here.",
  run: ([loaded]) => runKinematics(loaded!),
};

/** Travel either way when the file asks for no sweep at all, mm. */
const DEFAULT_TRAVEL_MM = 10;
/** About a row per mm, within these numbers of steps each way. */
const STEPS = { least: 4, most: 12 };
const ROLL_DEG = [-3, -2, -1, 0, 1, 2, 3];

interface CornerAnswer {
  travelLimits: { bumpMm: number; droopMm: number; bumpReason: string; droopReason: string };
  /** the swept range was cut by a lock */
  cut: { bump: string | null; droop: string | null };
  rows: KinematicsRow[];
}

type KinematicsRow = ReturnType<typeof rowOf>;

/** A point that may lie at infinity, where only its direction is left (unit vector). */
const pointJson = (p: PointOrFar): { at: { sMm: number; zMm: number } | null; direction: { s: number; z: number } | null } =>
  p.kind === "point" ? { at: { sMm: p.at[0], zMm: p.at[1] }, direction: null } : { at: null, direction: { s: p.direction[0], z: p.direction[1] } };

function rowOf(k: CornerKinematics) {
  return {
    travelMm: k.travelMm,
    camberDeg: k.camberDeg,
    camberGainDegPerMm: k.camberGainDegPerMm,
    halfTrackChangeMm: k.contactShiftMm,
    halfTrackChangePerMm: k.contactShiftPerMm,
    contact: { sMm: k.pose.contact[0], zMm: k.pose.contact[1] },
    instantCentre: pointJson(k.instantCentre),
    swingArmMm: k.swingArmMm,
    rollCentreHeightMm: k.rollCentreHeightMm,
    kingpinInclinationDeg: k.kingpinInclinationDeg,
    scrubRadiusMm: k.scrubRadiusMm,
    springLengthMm: k.springLengthMm,
    springForceN: k.springForceN,
    motionRatio: k.motionRatio,
    motionRatioAtContact: k.motionRatioAtContact,
    wheelRateAtCentreNPerMm: k.wheelRateNPerMm,
    wheelRateAtContactNPerMm: k.wheelRateAtContactNPerMm,
  };
}

function linkageOf({ file, scenario }: LoadedScenario, side: Side): CornerLinkage {
  const linkage = buildCorner(cornerOf(scenario, side));
  if (!linkage.ok) throw new Refusal(`${file}: ${side} side: ${linkage.message}.`);
  return linkage;
}

function cornerAnswer(scenario: Scenario, side: Side, linkage: CornerLinkage): CornerAnswer {
  const { bumpTravelMm, droopTravelMm } = scenario.fit;
  const some = bumpTravelMm > 0 || droopTravelMm > 0;
  const sweep = (mm: number) => {
    const steps = Math.min(STEPS.most, Math.max(STEPS.least, Math.ceil(Math.abs(mm))));
    const r = kinematicsCurve(cornerOf(scenario, side), Math.min(mm, 0), Math.max(mm, 0), steps + 1);
    if (!r.ok) throw new Refusal(r.message);
    return r;
  };
  const up = some ? bumpTravelMm : DEFAULT_TRAVEL_MM;
  const down = some ? droopTravelMm : DEFAULT_TRAVEL_MM;
  const below = down > 0 ? sweep(-down) : null;
  const above = up > 0 ? sweep(up) : null;
  // as built stands in both halves
  const rows = [...(below?.rows ?? []), ...(above ? above.rows.slice(below ? 1 : 0) : [])];
  const { bumpMm, droopMm, bumpReason, droopReason } = linkage.limits;
  return {
    travelLimits: { bumpMm, droopMm, bumpReason: lockSentence(bumpReason), droopReason: lockSentence(droopReason) },
    cut: { bump: above?.cutInBump?.message ?? null, droop: below?.cutInDroop?.message ?? null },
    rows: rows.map(rowOf),
  };
}

interface RollRow {
  rollDeg: number;
  leftCamberDeg: number;
  rightCamberDeg: number;
  leftTravelMm: number;
  rightTravelMm: number;
  trackMm: number;
  /** x to the right of the as-built centreline as seen from behind, z above the road; null: at infinity, or anywhere on a line */
  rollCentre: { xMm: number; zMm: number } | null;
}

const place = (r: RollCentre): RollRow["rollCentre"] => (r.kind === "point" ? { xMm: r.at[0], zMm: r.at[1] } : null);

/** The rolled body on a level road, turned about the as-built ground on its centreline; a roll at which a wheel cannot stand has no row. */
function rollRows(left: CornerLinkage, right: CornerLinkage): RollRow[] {
  return ROLL_DEG.flatMap((rollDeg): RollRow[] => {
    const a = kinematicsAxle(left, right, { heaveMm: 0, rollDeg });
    if (!a.ok) return [];
    return [
      {
        rollDeg,
        leftCamberDeg: a.left.camberDeg,
        rightCamberDeg: a.right.camberDeg,
        leftTravelMm: a.left.travelMm,
        rightTravelMm: a.right.travelMm,
        trackMm: a.trackMm,
        rollCentre: place(a.rollCentre),
      },
    ];
  });
}

function runKinematics(loaded: LoadedScenario): Answer {
  const { file, scenario } = loaded;
  const linkages = { left: linkageOf(loaded, "left"), right: linkageOf(loaded, "right") };
  const left = cornerAnswer(scenario, "left", linkages.left);
  const right = cornerAnswer(scenario, "right", linkages.right);
  const roll = rollRows(linkages.left, linkages.right);
  return {
    json: { command: "kinematics", file, scenario: scenario.name, left, right, roll },
    text: () => {
      const alike = JSON.stringify(left) === JSON.stringify(right);
      const parts = alike ? [cornerText("both wheels", left)] : SIDES.map((s) => cornerText(`${s} wheel`, s === "left" ? left : right));
      return [
        `${scenario.name}\nThe linkage on stiff arms; travel is that of the wheel centre against the body, + = up (bump)\n`,
        ...parts,
        rollText(roll),
      ].join("\n");
    },
  };
}

const centre = (r: KinematicsRow): string => (r.instantCentre.at ? `${num(r.instantCentre.at.sMm, 0)}, ${num(r.instantCentre.at.zMm, 0)}` : "endless");

function cornerText(title: string, c: CornerAnswer): string {
  const geometry = table(
    ["travel mm", "lean °", "lean per mm", "half track mm", "instant centre s, z", "swing arm mm", "roll centre mm", "kingpin °", "scrub mm"],
    c.rows.map((r) => [
      signed(r.travelMm, 1),
      signed(r.camberDeg, 3),
      signed(r.camberGainDegPerMm, 4),
      signed(r.halfTrackChangeMm, 3),
      centre(r),
      num(r.swingArmMm, 0),
      num(r.rollCentreHeightMm, 2),
      num(r.kingpinInclinationDeg, 2),
      num(r.scrubRadiusMm, 2),
    ]),
  );
  const spring = table(
    ["travel mm", "spring length mm", "spring force N", "motion ratio", "wheel rate at centre N/mm", "at the contact N/mm"],
    c.rows.map((r) => [
      signed(r.travelMm, 1),
      num(r.springLengthMm, 2),
      num(r.springForceN, 1),
      num(r.motionRatio, 4),
      num(r.wheelRateAtCentreNPerMm, 4),
      num(r.wheelRateAtContactNPerMm, 4),
    ]),
  );
  const { travelLimits: t, cut } = c;
  const locks = `Locks at ${signed(t.bumpMm, 1)} mm (${t.bumpReason}) and at ${signed(t.droopMm, 1)} mm (${t.droopReason}).`;
  const cuts = [cut.bump, cut.droop].filter((m) => m !== null).map((m) => `The asked travel is cut: ${m}.`);
  return [
    block(`${title}: geometry`, geometry),
    "lean (camber): + = top outwards; half track: the contact point moves outwards; s is outboard, z above the ground; swing arm: + = its centre lies inboard;",
    "roll centre: height above the road with both wheels alike; kingpin: + = top inboard; scrub: + = the steering axis meets the road inboard of the tyre\n",
    block(`${title}: spring`, spring),
    "motion ratio: spring shortening per mm of wheel travel\n",
    [locks, ...cuts, ""].join("\n"),
  ].join("\n");
}

function rollText(rows: readonly RollRow[]): string {
  const body = table(
    ["roll °, + = left side up", "left lean °", "right lean °", "left travel mm", "right travel mm", "track mm", "roll centre x, z mm"],
    rows.map((r) => [
      signed(r.rollDeg, 0),
      signed(r.leftCamberDeg, 3),
      signed(r.rightCamberDeg, 3),
      signed(r.leftTravelMm, 2),
      signed(r.rightTravelMm, 2),
      num(r.trackMm, 2),
      r.rollCentre ? `${num(r.rollCentre.xMm, 1)}, ${num(r.rollCentre.zMm, 1)}` : "endless",
    ]),
  );
  return block("The rolled body on a level road (lean against the road)", body);
}
