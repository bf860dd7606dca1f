import type { AxleReport, LimitResult } from "../core/analysis.ts";
import { axleMassKg } from "../core/design/mass.ts";
import { type Corner, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { G } from "../core/units.ts";
import type { V2 } from "../core/vec.ts";
import { type Camera, projector } from "./camera.ts";
import { bandOf, type Doubts } from "./doubt-words.ts";
import { corneringScale, corneringTip, dragWords, type Handle, type HandleId, handlesOf } from "./handles.ts";
import { type Box, type LabelWish, type Measure, type PlacedLabel, placeLabels, type Spot } from "./labels.ts";
import { createMemo, type Mark } from "./marks.ts";
import { armMarks, bowMeasure, eyeRadii, jointMark } from "./parts/arm.ts";
import { plateMark, shellMark } from "./parts/body.ts";
import { construction } from "./parts/construction.ts";
import { fitHandles, outlinesMark, ringedPlaces, sweptMark } from "./parts/fit.ts";
import { forceMarks } from "./parts/force-plan.ts";
import { forceScale, gravityMark, gripRing, loadArrow, pullMarks } from "./parts/forces.ts";
import { ghostMarks } from "./parts/ghost.ts";
import { holdRing, hubMarks } from "./parts/hub.ts";
import { type LeanStep, leanMarks } from "./parts/lean.ts";
import { bumpOf, paperMark, roadMarks } from "./parts/paper.ts";
import { springMarks } from "./parts/spring.ts";
import { treadMarks, wheelMarks } from "./parts/wheel.ts";
import { zeroMark } from "./parts/zero.ts";
import { bendWish, constructionWishes, forceWishes, leanWish, liftedWish, limitWish, valueWish, wheelReachPx } from "./scene-labels.ts";

export interface ShowOptions {
  forces: boolean;
  armForces: boolean;
  rollCentre: boolean;
  leanByPart: boolean;
  designB: boolean;
  unloaded: boolean;
  /** outlines and boxes of the body to take in hand, the swept parts and the tightest place */
  fit?: boolean;
  bend: 1 | 3 | 10;
}

/** One solved design as the drawing takes it. */
export interface Drawn {
  scenario: Scenario;
  corners: Record<Side, Corner>;
  state: AxleState;
  report: AxleReport;
}

export interface SceneInput {
  a: Drawn;
  b: Drawn | null;
  /** A with no cornering and no bump */
  unloaded: Drawn | null;
  camera: Camera;
  show: ShowOptions;
  /** narrow sheet: lean, gripped force, wheel loads and the worst part only */
  spare: boolean;
  active: HandleId | null;
  hover: HandleId | null;
  /** quiet: labels may leave the place they held while things moved, for a better one */
  settled?: boolean;
  /** what happens where the load in hand stops; null: it goes on */
  endWords?: string | null;
  /** boxes on the sheet that labels must keep clear of, px */
  keepClear: readonly Box[];
  /** steps of the lean for each wheel, when it is shown by part */
  leanSteps: Record<Side, LeanStep[]> | null;
  /** how sure its numbers are; null: not known */
  doubts?: Doubts | null;
  /** places are asked for: where they are counted from is drawn */
  zero?: boolean;
  /** takes away labels and adds others before they are placed */
  wishes?: (list: readonly LabelWish[]) => readonly LabelWish[];
}

export interface Scene {
  marks: Mark[];
  labels: PlacedLabel[];
  handles: Handle[];
  /** of the cornering arrow */
  pxPerG: number;
}

/** Worst utilization of a side's limits that a test accepts. */
const worstOf = (report: AxleReport, side: Side, test: (l: LimitResult) => boolean): number =>
  report.limits.reduce((m, l) => (!l.caution && (l.wheel === side || l.wheel === "both") && test(l) && l.utilization > m ? l.utilization : m), 0);

const isArm =
  (arm: "upper" | "lower") =>
  (l: LimitResult): boolean =>
    l.name.startsWith("arm") && l.part.includes(arm);

/**
 * Turns solved axles into a keyed draw list. Marks whose causes did not change are the same objects as last
 * time, so that the drawing can leave them as they are.
 */
export function createScene(measure: Measure): (input: SceneInput) => Scene {
  const memo = createMemo();
  let spots = new Map<string, Spot>();

  return (input) => {
    const { a, b, camera, show } = input;
    const px = memo("px", [camera], () => projector(camera));
    const k = camera.scale;
    const marks: Mark[] = [];
    const put = (key: string, causes: readonly unknown[], build: () => Mark[]): void => {
      marks.push(...memo(key, causes, build));
    };
    put("paper", [camera, a.scenario.holePitchMm, a.scenario.halfPitchAllowed], () => [paperMark(a.scenario.holePitchMm, a.scenario.halfPitchAllowed, camera)]);
    put("road", [camera, a.state], () => roadMarks(a.state.load, a.state, camera));
    put("body", [camera, a.scenario, a.state], () => [shellMark(a.scenario, a.state, px), plateMark(a.scenario, a.corners, a.state, k, px)]);
    const labels: LabelWish[] = [];
    const obstacles: Box[] = [...input.keepClear];
    const weight = axleMassKg(a.scenario) * G;
    const pxPerN = forceScale(weight, input.spare ? 46 : Math.max(70, Math.min(100, camera.heightPx * 0.18)));

    for (const side of SIDES)
      put(`corner.${side}`, [camera, a.scenario, a.state, a.report, show.bend, input.hover], () => cornerMarks(a, side, show.bend, input.hover, camera, px));
    for (const side of SIDES) {
      const tread = memo(`tread.${side}`, [camera, a.state], () => treadMarks(a.state[side], bumpOf(a.state.load, side), px));
      marks.push(...tread.marks);
      const lifted = liftedWish(side, a.state, tread.liftedAt, labels);
      if (lifted && !input.spare) labels.push(lifted);
      const band = bandOf(input.doubts ?? null, `camberDeg.${side}`, a.report[side].camberDeg);
      const lean = memo(`lean.${side}`, [camera, a.state, a.report, input.leanSteps, band?.low, band?.high], () =>
        leanMarks(a.corners[side], a.state[side], a.report[side].camberBandDeg, band && [band.low, band.high], input.leanSteps?.[side] ?? null, k, px),
      );
      marks.push(...lean.marks);
      labels.push(leanWish(a, side, lean.label, input.spare));
      obstacles.push(...cornerObstacles(a, side, k, px));
    }

    if (show.designB && b) {
      const ghost = memo("ghost", [camera, b.scenario, b.state, show.bend], () =>
        ghostMarks("ghost", b.scenario, b.corners, b.state, show.bend, k, px, "design-b-line"),
      );
      marks.push(...ghost.marks);
      if (!input.spare)
        labels.push({
          key: "ghost.letter",
          at: ghost.letter,
          lines: [{ text: "B", size: 14, strong: true, tone: "design-b" }],
          priority: 6,
          spots: ["above", "right"],
          gap: 5,
        });
    }
    const still = input.unloaded;
    if (show.unloaded && still)
      put("still", [camera, still.state], () => ghostMarks("still", still.scenario, still.corners, still.state, show.bend, k, px, "ink-3").marks);

    if (show.rollCentre && !input.spare) {
      const built = memo("build", [camera, a.state], () => construction(a.state, camera, px));
      marks.push(...built.marks);
      labels.push(...constructionWishes(built));
    }
    const bend = worstBend(a);
    if (bend && show.bend > 1 && !input.spare) {
      const m = memo("bow", [camera, a.state, show.bend], () => bowMeasure(a.state[bend.side], bend.arm, show.bend, px));
      if (m) {
        marks.push(m.mark);
        labels.push(bendWish(bend.mm, show.bend, m.at));
      }
    }

    const cg = px(a.state.body.cg);
    const { lateralG } = a.state.load;
    const pxPerG = corneringScale(camera.widthPx);
    const tip = corneringTip(cg, lateralG, pxPerG);
    const grip: V2 = Math.abs(tip[0] - cg[0]) < 26 ? [cg[0] + (lateralG < 0 ? -26 : 26), cg[1]] : tip;
    marks.push(...memo("cg", [camera, a.state], () => [gravityMark(cg), gripRing("grip", grip, 16), loadArrow("cornering", cg, tip)]));
    if (input.active === "cornering") put("pullMarks", [camera, a.state], () => [pullMarks(cg, lateralG < 0 ? -1 : 1, pxPerG)]);
    obstacles.push({ x: Math.min(cg[0], grip[0]) - 10, y: cg[1] - 14, w: Math.abs(grip[0] - cg[0]) + 24, h: 28 });
    if (show.forces) {
      const plan = memo("forces", [camera, a.state, a.report, show.bend, show.armForces, input.spare], () =>
        forceMarks(a, show.bend, show.armForces, input.spare, pxPerN, px),
      );
      marks.push(...plan.marks);
      labels.push(...forceWishes(a, plan, cg, input.spare, input.doubts ?? null));
      obstacles.push(...plan.obstacles);
    }

    const first = a.report.firstToGive;
    const worst = limitWish(a, show.bend, px);
    if (worst && !input.spare) labels.push(worst);
    const ringed = first.name === "hubRetention" && first.utilization >= 1 && first.wheel !== "both" ? first.wheel : null;
    if (ringed) put("holdRing", [camera, a.state, ringed], () => [holdRing(a.corners[ringed], a.state[ringed], px)]);

    const handles = handlesOf(a.scenario, a.corners, a.state, show.bend, px, grip);
    if (show.fit) {
      put("fit", [camera, a.scenario, a.state], () => [sweptMark(a.scenario, a.state, px), outlinesMark(a.scenario, a.state, px)]);
      handles.push(...fitHandles(a.scenario, a.state, px));
    }
    if (input.zero) {
      const zero = memo("zero", [camera, a.scenario, a.state, input.spare], () => zeroMark(a.scenario, a.state, px, input.spare));
      marks.push(zero.mark);
      labels.push(zero.label);
    }
    for (const found of memo("fit.place", [camera, a.report, show.fit], () => ringedPlaces(a, show.fit === true, px))) {
      marks.push(found.mark);
      // where it is the first to give, its tag tells the same
      if (!(first.name === found.limit.name && first.utilization >= 1)) labels.push({ ...found.label, must: !input.spare });
    }
    if (input.active) {
      const held = handles.find((h) => h.id === input.active);
      if (held)
        labels.push(valueWish(held, input.endWords ? [held.value, input.endWords] : dragWords(held.id, a.scenario, a.corners, a.state.load), input.spare));
    }
    const sheet: Box = { x: 3, y: 3, w: camera.widthPx - 6, h: camera.heightPx - 6 };
    const placed = placeLabels(input.wishes?.(labels) ?? labels, obstacles, sheet, measure, input.settled ? new Map() : spots);
    spots = new Map(placed.map((l) => [l.key, l.spot]));
    return { marks, labels: placed, handles, pxPerG };
  };
}

function cornerMarks(a: Drawn, side: Side, bend: number, hover: HandleId | null, camera: Camera, px: (p: V2) => V2): Mark[] {
  const corner = a.corners[side];
  const solved = a.state[side];
  const k = camera.scale;
  const out: Mark[] = [...wheelMarks(corner, solved, bumpOf(a.state.load, side), px), ...springMarks(corner, solved, bend, k, px)];
  for (const arm of ["upper", "lower"] as const)
    out.push(...armMarks(arm, arm === "upper" ? corner.upperArm : corner.lowerArm, solved, bend, worstOf(a.report, side, isArm(arm)), k, px));
  out.push(
    ...hubMarks(
      corner,
      solved,
      worstOf(a.report, side, (l) => l.name === "hubRetention"),
      px,
    ),
  );
  for (const j of ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const)
    out.push(jointMark(j, side, solved.joints[j], corner.joints[j].clearanceMm, k, px, hover === `pin.${side}.${j}`));
  return out;
}

/** Boxes that labels stay off: the wheel's section and every joint. */
function cornerObstacles(a: Drawn, side: Side, k: number, px: (p: V2) => V2): Box[] {
  const s = a.state[side];
  const c = a.corners[side];
  const out: Box[] = [];
  const r = eyeRadii(k, 0).eye + 2;
  for (const j of ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const) {
    const p = px(s.joints[j].hole);
    out.push({ x: p[0] - r, y: p[1] - r, w: 2 * r, h: 2 * r });
  }
  const at = px(s.wheelCentre);
  const half = wheelReachPx(a, side, px) - 1;
  const high = c.wheel.radiusMm * k + 4;
  out.push({ x: at[0] - half, y: at[1] - high, w: 2 * half, h: 2 * high });
  return out;
}

/** The arm whose bow is largest; null when none is worth a word. */
export function worstBend(a: Drawn): { side: Side; arm: "upper" | "lower"; mm: number } | null {
  let best: { side: Side; arm: "upper" | "lower"; mm: number } | null = null;
  for (const side of SIDES) {
    for (const arm of ["upper", "lower"] as const) {
      const mm = Math.abs(a.state[side].arms[arm].bowMm);
      if (mm >= 0.05 && (!best || mm > best.mm)) best = { side, arm, mm };
    }
  }
  return best;
}
