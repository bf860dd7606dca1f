import { buildBench, limitContext, solveLoad } from "../core/analyze.ts";
import type { Arm3d } from "../core/arm/arm-frame.ts";
import { ballJointStiffness, mainStiffnesses, type RosePoint, stiffnessRose } from "../core/arm/stiffness.ts";
import { armStress } from "../core/arm/stress.ts";
import { curveRadiusM, speedInCurve } from "../core/cornering.ts";
import { ARM_NAMES, type ArmName, type Scenario, type Section, SIDES, type Side } from "../core/design/types.ts";
import type { AxleModel } from "../core/equilibrium/model.ts";
import { armBuckling, BUCKLING_WORDS } from "../core/limits/arms.ts";
import type { LimitContext } from "../core/limits/context.ts";
import { armLoads } from "../core/limits/push.ts";
import { radToDeg } from "../core/units.ts";
import { ARM_WORDS } from "../view/words.ts";
import type { Answer, Command } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { chooseLoad, loadWords, noSteadyPosition } from "./load.ts";
import { block, figures, num, signed, table } from "./table.ts";

export const armCommand: Command = {
  name: "arm",
  about: "each arm by itself: length, stiffness in every direction, stress and buckling under the first load case",
  files: 1,
  numbers: [],
  help: "Stiffness is that at the ball joint with the inner pivots and the spring seat held.",
  run: ([loaded]) => runArm(loaded!),
};

/** Directions of a rose. */
const ROSE_POINTS = 72;

function runArm({ file, scenario }: LoadedScenario): Answer {
  const chosen = chooseLoad(scenario, {});
  const bench = buildBench(scenario);
  const solved = solveLoad(bench, chosen.load);
  if (!solved.ok) throw noSteadyPosition(file, solved.reason);
  const context = limitContext(bench, solved.state, speedInCurve(chosen.load.lateralG, curveRadiusM(scenario)))!;
  const arms = SIDES.flatMap((side) => ARM_NAMES.map((name) => armAnswer(scenario, bench.model, context, side, name)));
  return {
    json: { command: "arm", file, scenario: scenario.name, holePitchMm: scenario.holePitchMm, loadCase: chosen.caseName, load: chosen.load, arms },
    text: () => [`${scenario.name}\n${loadWords(chosen)}\n`, block("The arms", armTable(arms)), NOTES].join("\n"),
  };
}

const NOTES = [
  "Stiffness: force at the ball joint over its movement, spring seat held; sideways is along the arm. 0: the arm simply swings; endless: the seat is at the ball joint.",
  "Buckling: by how much all the arm's loads together may grow until it buckles in any direction. Pushed along itself it steps\n" +
    "aside like a strut; pulled, but bent up or down, it may still twist over (lateral-torsional buckling).\n",
].join("\n");

type ArmAnswer = ReturnType<typeof armAnswer>;

const rose = (points: RosePoint[]) => points.map((p) => ({ angleDeg: radToDeg(p.angleRad), nPerMm: p.nPerMm }));

function armAnswer(scenario: Scenario, model: AxleModel, context: LimitContext, side: Side, name: ArmName) {
  const arm3d: Arm3d = context.arms3d[side][name];
  const planar = model.corners[side === "left" ? 0 : 1].arms[name];
  const { arm, material } = arm3d;
  const carried = armLoads(context, side, name);
  const { loads, upright, along } = carried;
  const stress = armStress(arm3d, loads, upright, along);
  const state = context.state[side].arms[name];
  const buckling = armBuckling(arm3d, carried, state);
  return {
    side,
    arm: name,
    lengthMm: arm3d.lengthMm,
    lengthHoles: arm3d.lengthMm / scenario.holePitchMm,
    layout: arm.layout,
    spreadMm: arm.layout === "straight" ? 0 : arm.spreadMm,
    stemShare: arm.layout === "split" ? arm.stemShare : 0,
    section: arm.section,
    stemSection: arm.layout === "split" ? (arm.stemSection ?? arm.section) : null,
    material: { name: material.name, youngMPa: material.youngMPa, yieldMPa: material.yieldMPa, source: material.source },
    /** fraction of the length; null: the spring does not stand on this arm */
    springSeatFraction: arm3d.seatFraction,
    stiffnessNPerMm: mainStiffnesses(arm3d),
    /** rows and columns: forward, along the arm outwards, up */
    stiffnessMatrixNPerMm: ballJointStiffness(arm3d),
    rose: { fromAbove: rose(stiffnessRose(arm3d, "fromAbove", ROSE_POINTS)), fromBehind: rose(stiffnessRose(arm3d, "fromBehind", ROSE_POINTS)) },
    /** what the front view calculates with, inner pivot to ball joint; ga null: it does not flex in shear */
    planarSegments: planar.segments,
    underLoad: {
      ballJointForceN: { along: loads.ballJoint[1], up: loads.ballJoint[2] },
      seatForceN: loads.seat ? { along: loads.seat[1], up: loads.seat[2] } : null,
      antiRollBarForceN: loads.bar ? { along: loads.bar[1], up: loads.bar[2] } : null,
      /** at the outer end, tension positive */
      axialForceN: state.axialN[state.axialN.length - 1]!,
      bowMm: state.bowMm,
      /** of the bent arm, fractions of its length; positive: it sags */
      bendingMoments: Array.from(upright.fractions, (fraction, i) => ({ fraction, momentNmm: upright.momentNmm[i]! })),
      stress: { worst: stress.worst, perMember: stress.perMember, shareOfYield: stress.worst.vonMisesMPa / material.yieldMPa },
      /** null: these loads never make it buckle */
      bucklingFactor: buckling.factor,
      /** what grows by that factor: the push along the arm, N, or, where it is pulled all along, its bending, N·mm */
      buckling: { by: buckling.by, now: buckling.demand, unit: buckling.unit },
    },
  };
}

function sectionWords(s: Section): string {
  const mm = (v: number): string => String(Math.round(v * 1000) / 1000);
  switch (s.shape) {
    case "rectangle":
      return `bar ${mm(s.widthMm)} x ${mm(s.heightMm)}`;
    case "round":
      return `round ${mm(s.diameterMm)}`;
    case "tube":
      return `tube ${mm(s.outerMm)} / ${mm(s.innerMm)}`;
    case "I":
      return `I ${mm(s.widthMm)} x ${mm(s.heightMm)}`;
    case "pinHoleBar":
      return `holed bar ${mm(s.widthMm)} x ${mm(s.heightMm)}`;
  }
}

/** Nothing buckles an arm whose factor is endless. */
function bucklingWords({ underLoad: { bucklingFactor, buckling } }: ArmAnswer): string {
  return Number.isFinite(bucklingFactor) ? `${BUCKLING_WORDS[buckling.by]}, ${figures(buckling.now)} ${buckling.unit}` : "nothing";
}

function armTable(arms: readonly ArmAnswer[]): string {
  const row = (words: string, f: (a: ArmAnswer) => string): string[] => [words, ...arms.map(f)];
  const seat = (a: ArmAnswer): string => (a.springSeatFraction === null ? "none" : `at ${num(100 * a.springSeatFraction, 0)} %`);
  return table(
    ["", ...arms.map((a) => `${a.side} ${ARM_WORDS[a.arm]}`)],
    [
      row("length, mm", (a) => num(a.lengthMm, 2)),
      row("length, holes", (a) => num(a.lengthHoles, 2)),
      row("layout seen from above", (a) => a.layout),
      row("inner pivots apart (spread), mm", (a) => num(a.spreadMm, 1)),
      row("section, width x height, mm", (a) => sectionWords(a.section)),
      row("section of the stem, mm", (a) => (a.stemSection ? sectionWords(a.stemSection) : "no stem")),
      row("material", (a) => a.material.name),
      row("spring seat, from the inner pivot", seat),
      row("stiffness fore-aft, N/mm", (a) => figures(a.stiffnessNPerMm.foreAft)),
      row("stiffness sideways (lateral), N/mm", (a) => figures(a.stiffnessNPerMm.lateral)),
      row("stiffness up-down (vertical), N/mm", (a) => figures(a.stiffnessNPerMm.vertical)),
      row("force along itself, + = pulled, N", (a) => signed(a.underLoad.axialForceN, 1)),
      row("bends up (+) or down by (bow), mm", (a) => signed(a.underLoad.bowMm, 3)),
      row("worst stress (von Mises), N/mm²", (a) => num(a.underLoad.stress.worst.vonMisesMPa, 1)),
      row("  of what the material stands (yield)", (a) => `${num(100 * a.underLoad.stress.shareOfYield, 0)} %`),
      row("  where", (a) => a.underLoad.stress.worst.at),
      row("loads may grow until it buckles (factor)", (a) => figures(a.underLoad.bucklingFactor)),
      row("  what buckles it", bucklingWords),
    ],
  );
}
