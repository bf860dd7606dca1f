import { MATERIAL_NAMES } from "../../core/arm/materials.ts";
import { stiffnessRose } from "../../core/arm/stiffness.ts";
import { armOf } from "../../core/design/corner-geometry.ts";
import { materialWords } from "../../core/design/field-names.ts";
import { homeOf } from "../../core/design/origins.ts";
import { sectionSize } from "../../core/design/section-shapes.ts";
import { cornerOf } from "../../core/design/sides.ts";
import type { ArmName, Scenario, Side } from "../../core/design/types.ts";
import { heldWords } from "../../core/limits/held-words.ts";
import { restsOn } from "../../core/studies/guesses.ts";
import type { V2 } from "../../core/vec.ts";
import type { Answer } from "../../state/answers.ts";
import type { State } from "../../state/store.ts";
import { figures, fixed } from "../../view/format.ts";
import { createMemo } from "../../view/marks.ts";
import { leastKnown } from "../../view/origin-words.ts";
import { type BehindArm, type BehindModel, behindRows } from "./panels/behind.ts";
import type { RoseModel } from "./panels/rose.ts";
import type { ArmSheetModel } from "./panels/sheet.ts";
import { type ArmFacts, bowLine, closeness } from "./picture/facts.ts";
import { type PlanRoom, type PlanView, planShape, planView } from "./picture/plan.ts";
import { pressedUp, pushedAlong } from "./picture/press.ts";
import { roseScale } from "./picture/rose.ts";
import { armHero, armSentences, directionRows, LAYOUT_WORDS, leanShare, stiffnessWords, way } from "./picture/words.ts";
import { sidesDiffer } from "./state/edits.ts";
import { armSlice } from "./state/slice.ts";

/** px of the hand's arrow per newton, and the most it pushes */
export const PX_PER_N = 6;
export const HAND_MOST_N = 10;
const ROSE_POINTS = 144;
/** the drawn way of a pushed ball joint stays under this, px */
const TIP_MOST_PX = 70;

const WIDE: PlanRoom = { left: 100, right: 176, top: 84, between: 62, bottom: 78, cut: 136 };
const NARROW: PlanRoom = { left: 62, right: 112, top: 78, between: 44, bottom: 92, cut: 138 };

const MATERIALS = MATERIAL_NAMES.map((key) => ({ key, words: materialWords(key) }));

export interface ModelInput {
  state: State;
  a: Answer;
  b: Answer;
  factsA: ArmFacts;
  factsB: ArmFacts;
  /** the side that is shown */
  side: Side;
  size: { plan: V2; behind: V2; narrow: boolean };
  /** the plan stands still while something on it is dragged */
  heldView: PlanView | null;
}

type Shown = Omit<ArmSheetModel, "lesson" | "tag" | "column" | "notice"> & { column: Omit<ArmSheetModel["column"], "takes" | "compared"> };

/** What the arm sheet shows of a document and its answers; rebuilt where its causes changed. */
export function createArmModel(): (input: ModelInput) => Shown {
  const memo = createMemo();
  return (x) => {
    const { state, factsA, factsB, side, size } = x;
    const { show } = state.view;
    const look = armSlice.of(state.view);
    const { narrow } = size;
    const planArm = (f: ArmFacts) => ({ arm: f.arm, lengthMm: f.lengthMm, shape: planShape(f.arm, f.lengthMm), seatFraction: f.arm3d.seatFraction });
    const a = memo("plan.a", [factsA.arm3d], () => planArm(factsA));
    const b = memo("plan.b", [factsB.arm3d], () => planArm(factsB));
    const view =
      x.heldView ??
      planView(
        size.plan[0],
        size.plan[1],
        narrow ? NARROW : WIDE,
        { halfSpan: a.shape.halfSpan, lengthMm: a.lengthMm },
        { halfSpan: b.shape.halfSpan, lengthMm: b.lengthMm },
      );
    const pushing = look.lesson.step === "push";
    const factor = show.bend;
    const push = pushing
      ? pushModel(
          factsA,
          look.pushN,
          largest(factor, (k) => Math.abs(look.pushN / factsA.stiffness.foreAft) * k * view.scale, TIP_MOST_PX),
          view,
        )
      : null;
    const behind = behindModel(x, view, look.lesson.step === "press");
    return {
      name: look.name,
      side: look.side,
      sidesDiffer: memo("differ", [state.doc.a, look.name], () => sidesDiffer(state.doc.a, look.name)),
      layout: factsA.arm.layout,
      shape: factsA.arm.section.shape,
      material: typeof factsA.arm.material === "string" ? factsA.arm.material : null,
      materialName: typeof factsA.arm.material === "string" ? "" : factsA.arm.material.name,
      materials: MATERIALS,
      known: memo("known", [state.doc.a, look.name, side], () => knownOf(state.doc.a, side, look.name)),
      plan: { view, narrow, pitchMm: state.doc.a.holePitchMm, a, b, push, shifts: pushing ? null : shiftsModel(factsA, factsB, show.bend, view) },
      ...behind,
      bend: show.bend,
      lateralG: state.doc.load.lateralG,
      roses: memo("roses", [factsA.arm3d, factsB.arm3d], () => roses(factsA, factsB)),
      column: {
        ...memo("told", [factsA, factsB, x.a], () => {
          const share = x.a.analysis.ok ? leanShare(x.a.analysis.report, side, look.name) : null;
          return {
            hero: armHero(factsA, factsB),
            sentences: armSentences(factsA, factsB, share),
            rows: directionRows(factsA, factsB),
            close: closeness(factsA),
          };
        }),
        guesses: memo("guesses", [state.doc.a], () => restsOn(state.doc.a).length),
        closeWhere: factsA.under ? `${side} wheel` : "no answer at this load",
        bName: bWords(look.name, state, factsB),
      },
    };
  };
}

/** How the arm's values are known on the side that is shown; a section is as sure as its least known measure. */
function knownOf(s: Scenario, side: Side, name: ArmName): ArmSheetModel["known"] {
  const at = (field: string): string => homeOf(s, side, `${name}Arm.${field}`);
  const of = (...paths: string[]) => leastKnown(paths, s.origins);
  const { section, stemSection } = armOf(cornerOf(s, side), name);
  const measures = [...Object.keys(section).map((key) => at(`section.${key}`)), ...Object.keys(stemSection ?? {}).map((key) => at(`stemSection.${key}`))];
  return { layout: of(at("layout")), fork: of(at("stemShare")), section: of(...measures), material: of(at("material")) };
}

const bWords = (name: ArmName, state: State, b: ArmFacts): string => `${state.doc.b.name}: ${LAYOUT_WORDS[b.arm.layout]} ${name} arm`;

/** The largest of ×10, ×3, ×1 that is not over the chosen one and stays in its room. */
function largest(chosen: number, px: (factor: number) => number, room: number): number {
  return [10, 3, 1].find((k) => k <= chosen && px(k) <= room) ?? 1;
}

function pushModel(a: ArmFacts, newton: number, factor: number, view: PlanView): NonNullable<ArmSheetModel["plan"]["push"]> {
  const pressed = pushedAlong(a.arm3d, newton, factor);
  return {
    newton,
    tipAt: [view.x0 + a.lengthMm * view.scale, view.aY - newton * PX_PER_N],
    pressed,
    factor,
    words: newton === 0 ? "drag up or down" : `${way(pressed.tipMm)}, drawn ×${factor}`,
  };
}

/** Both arms from above as the push leaves them. */
function shiftsModel(a: ArmFacts, b: ArmFacts, chosen: number, view: PlanView): NonNullable<ArmSheetModel["plan"]["shifts"]> {
  const most = Math.max(a.drive.shiftMm, b.drive.shiftMm);
  const factor = largest(chosen, (k) => most * k * view.scale, TIP_MOST_PX);
  // backwards where the load brakes
  const sign = (f: ArmFacts): number => ((f.under?.push?.passedOnN ?? 1) < 0 ? -1 : 1);
  const drawn = (f: ArmFacts): V2[][] => pushedAlong(f.arm3d, sign(f) * f.drive.pushN, factor).lines;
  const of = (f: ArmFacts) => {
    const brief = `shifts ${way(f.drive.shiftMm)}`;
    return { lines: drawn(f), brief, words: `${brief} ${f.drive.own ? "under the push" : "at full push"}, drawn ×${factor}` };
  };
  return { a: of(a), b: of(b) };
}

function holesOf(f: ArmFacts): BehindArm["holes"] {
  const s = f.arm.section;
  return s.shape === "pinHoleBar" && s.holesRun === "foreAft" ? { pitchMm: s.holePitchMm, radiusMm: s.holeMm / 2 } : null;
}

const HAND_POINTS = 24;
/** A line of points told anew at even places along the arm. */
function evenly(points: readonly V2[], count: number): V2[] {
  const long = points[points.length - 1]![0];
  let i = 1;
  return Array.from({ length: count + 1 }, (_, n): V2 => {
    const at = (long * n) / count;
    while (i < points.length - 1 && points[i]![0] < at) i++;
    const p = points[i - 1]!;
    const q = points[i]!;
    return [at, q[0] > p[0] ? p[1] + ((q[1] - p[1]) * (at - p[0])) / (q[0] - p[0]) : q[1]];
  });
}

const FACTORS = [10, 3, 1] as const;

/** The picture from behind with the bend drawn as large as was chosen, or as the room allows. */
function behindModel(x: ModelInput, view: PlanView, pressing: boolean): Pick<ArmSheetModel, "behind" | "behindTitle" | "behindSub"> {
  const chosen = FACTORS.filter((k) => k <= x.state.view.show.bend);
  const made = chosen.map((k) => behindAt(x, view, pressing, k));
  const fits = made.find((m) => behindRows(m).tall <= m.heightPx) ?? made[made.length - 1]!;
  const k = chosen[made.indexOf(fits)] ?? 1;
  const drawn = k === chosen[0] ? `bend drawn ×${k}` : `bend drawn ×${k}, no room for ×${chosen[0]}`;
  if (pressing) return { behind: fits, behindTitle: "The same arm from behind, under your hand", behindSub: `the spring seat is held; ${drawn}` };
  const u = x.factsA.under;
  const along = u ? `${fixed(Math.abs(u.alongN), 0)}\u2009N ${u.alongN < 0 ? "pressing" : "pulling"} along it` : "";
  const spring = u && x.factsA.arm3d.seatFraction !== null ? `${fixed(u.springN, 0)}\u2009N from the spring, ` : "";
  return {
    behind: fits,
    behindTitle: "The same arm from behind, under the load you set",
    behindSub: u ? `${spring}${along}; ${drawn}` : "the car finds no hold at this load",
  };
}

function behindAt(x: ModelInput, view: PlanView, pressing: boolean, k: number): BehindModel {
  const { factsA, factsB, side, size } = x;
  const { pressN } = armSlice.of(x.state.view);
  const base = { widthPx: size.behind[0], heightPx: size.behind[1], x0: view.x0, scale: view.scale, narrow: size.narrow };
  const arm = pressing ? (f: ArmFacts, letter: string) => handArm(f, letter, pressN, k) : (f: ArmFacts, letter: string) => loadedArm(f, letter, side, k);
  return { ...base, a: arm(factsA, "A"), b: arm(factsB, "B"), press: pressing ? { newton: pressN, alongMm: factsA.lengthMm, pxPerN: PX_PER_N } : null };
}

type PlainArm = Pick<BehindArm, "heightMm" | "lengthMm" | "holes">;
const plainArm = (f: ArmFacts): PlainArm => ({ heightMm: sectionSize(f.arm.section).heightMm, lengthMm: f.lengthMm, holes: holesOf(f) });
const straightLine = (f: ArmFacts): V2[] => [
  [0, 0],
  [f.lengthMm, 0],
];
const seatAt = (f: ArmFacts): number | null => (f.arm3d.seatFraction === null ? null : f.arm3d.seatFraction * f.lengthMm);

function handArm(f: ArmFacts, letter: string, newton: number, k: number): BehindArm {
  const pressed = pressedUp(f.arm3d, newton, k);
  const at = seatAt(f);
  const seat = at === null ? null : { atMm: at, downN: 0 };
  if (!pressed) return { ...plainArm(f), line: straightLine(f), seat, words: [`${letter} swings`, "no spring on this arm"] };
  const points = f.arm3d.pieces.filter((q) => q.legIndex !== 1).flatMap((q) => (pressed.lines[q.member] ?? []).map((p): V2 => [p[1], p[0]]));
  const line = evenly(points, HAND_POINTS);
  return { ...plainArm(f), line, seat, words: [`${letter} moves ${way(pressed.tipMm)}`, `${stiffnessWords(f.stiffness.vertical)}\u2009N/mm`] };
}

function loadedArm(f: ArmFacts, letter: string, side: Side, k: number): BehindArm {
  const u = f.under;
  if (!u) return { ...plainArm(f), line: straightLine(f), seat: null, words: [letter, "no answer at this load"] };
  const at = seatAt(f);
  return {
    ...plainArm(f),
    line: bowLine(u.state, side, k),
    seat: at === null ? null : { atMm: at, downN: -(u.loads.seat?.[2] ?? 0) },
    words: [`${letter} bends ${way(u.state.bowMm)}`, heldWords("armYield", figures(u.stress.vonMisesMPa), fixed(f.arm3d.material.yieldMPa, 0), "N/mm²")],
  };
}

function roses(a: ArmFacts, b: ArmFacts): [RoseModel, RoseModel] {
  const of = (f: ArmFacts, plane: RoseModel["plane"]) => stiffnessRose(f.arm3d, plane, ROSE_POINTS);
  const all = [a, b].flatMap((f) => Object.values(f.stiffness));
  const scale = roseScale(all);
  const level = { words: "sideways", a: stiffnessWords(a.stiffness.lateral), b: stiffnessWords(b.stiffness.lateral) };
  return [
    {
      plane: "fromAbove",
      scale,
      a: of(a, "fromAbove"),
      b: of(b, "fromAbove"),
      upright: { words: "along the road", a: stiffnessWords(a.stiffness.foreAft), b: stiffnessWords(b.stiffness.foreAft) },
      level,
    },
    {
      plane: "fromBehind",
      scale,
      a: of(a, "fromBehind"),
      b: of(b, "fromBehind"),
      upright: { words: "up and down", a: stiffnessWords(a.stiffness.vertical), b: stiffnessWords(b.stiffness.vertical) },
      level,
    },
  ];
}
