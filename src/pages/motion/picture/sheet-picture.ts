import type { AxleReport, LimitName } from "../../../core/analysis.ts";
import { type Scenario, SIDES, type Side } from "../../../core/design/types.ts";
import type { AxleState, CornerState } from "../../../core/equilibrium/state.ts";
import type { V2 } from "../../../core/vec.ts";
import { type Camera, fitBounds, panned, projector } from "../../../view/camera.ts";
import type { Handle, HandleId } from "../../../view/handles.ts";
import type { Box, LabelWish, PlacedLabel } from "../../../view/labels.ts";
import { type Mark, mark, type Prim } from "../../../view/marks.ts";
import { loadArrow } from "../../../view/parts/forces.ts";
import { sceneBounds } from "../../../view/parts/paper.ts";
import { wheelMarks } from "../../../view/parts/wheel.ts";
import { signOf } from "../../../view/poses.ts";
import type { Drawn, Scene, SceneInput, ShowOptions } from "../../../view/scene.ts";
import type { LoosePart, Tag } from "./losses.ts";
import type { Strip } from "./rolling-road.ts";

/** The moving axle as a picture: the scene of the axle at rest, with what only motion has. */

const LIMITS: Partial<Record<LimitName, { demand: string | null; use: string }>> = {
  hubRetention: { demand: "retentionN", use: "useHub" },
  tyreOffRim: { demand: null, use: "useTyre" },
  jointPullOut: { demand: "jointN", use: "useJoint" },
  armYield: { demand: null, use: "useArm" },
  armBuckling: { demand: null, use: "useBuckling" },
};
/** below 1, so that the tag of what gives is the run's own */
const JUST_HOLDS = 0.999;

/** The report at rest with lean and shares of the moment: what the scene colours and labels by. */
export function reportNow(rest: AxleReport, channel: (key: string) => number, camber: Record<Side, number>): AxleReport {
  const limits = rest.limits.flatMap((l) => {
    const from = LIMITS[l.name];
    if (!from || l.wheel === "both") return [];
    const utilization = Math.min(JUST_HOLDS, channel(`${l.wheel}.${from.use}`));
    return [{ ...l, utilization, demand: from.demand ? channel(`${l.wheel}.${from.demand}`) : utilization * l.capacity, caution: false }];
  });
  const first = limits.reduce((a, b) => (b.utilization > a.utilization ? b : a), limits[0] ?? { ...rest.firstToGive, utilization: 0 });
  return {
    ...rest,
    limits,
    firstToGive: first,
    left: { ...rest.left, camberDeg: camber.left, camberBandDeg: null },
    right: { ...rest.right, camberDeg: camber.right, camberBandDeg: null },
  };
}

const WIDE = { left: 110, right: 110, top: 44, bottom: 104 };
const NARROW = { left: 22, right: 22, top: 40, bottom: 66 };
export const WIDE_FROM_PX = 600;

/** Fits the car, and the height it rises to, with the road at the same place of the sheet in every run. */
export function motionCamera(scenario: Scenario, riseMm: number, widthPx: number, heightPx: number): Camera {
  const b = sceneBounds(scenario);
  const insets = widthPx >= WIDE_FROM_PX ? WIDE : NARROW;
  const camera = fitBounds({ ...b, top: b.top + Math.max(0, riseMm) }, widthPx, heightPx, insets);
  return panned(camera, 0, heightPx - insets.bottom - projector(camera)([0, 0])[1]);
}

export interface Kerb {
  side: Side;
  /** its face, mm in the picture */
  xMm: number;
  heightMm: number;
}

export interface MotionPicture {
  drawn: Drawn;
  rival: Drawn | null;
  camera: Camera;
  show: ShowOptions;
  spare: boolean;
  wheelOff: Record<Side, boolean>;
  tyreOff: Record<Side, boolean>;
  looseTyres: readonly LoosePart[];
  /** wheels and tyres that are just leaving, with their places in mm */
  leaving: readonly { side: Side; at: V2; reachMm: number }[];
  kerb: Kerb | null;
  strips: readonly Strip[];
  tags: readonly Tag[];
  keepClear: readonly Box[];
  /** points that the hand may take */
  grips: readonly HandleId[];
  active: HandleId | null;
}

export interface Painted {
  marks: Mark[];
  labels: PlacedLabel[];
  handles: Handle[];
}

const line = (text: string, tone: string, strong: boolean, size: number): LabelWish["lines"][number] => ({ text, tone, strong, size });
const ARROW_PX = 44;
/** labels of the resting picture that would only be noise in motion */
const UNSAID = new Set(["weight", "gravity", "bend", "limit"]);

const isTyre = (p: Prim): boolean => (p.kind === "poly" && p.fill === "tyre") || (p.kind === "segments" && p.stroke.tone === "tyre-line");

/** Draws one moment: calls the scene and takes away, changes and adds what motion needs. */
export function paintMotion(scene: (input: SceneInput) => Scene, p: MotionPicture): Painted {
  const px = projector(p.camera);
  const away = new Set<string>();
  const unsaid = new Set(UNSAID);
  for (const side of SIDES) {
    if (!p.wheelOff[side]) continue;
    for (const key of [`lean.${side}`, `tread.${side}`, `vertical.${side}`, `lateral.${side}`]) away.add(key);
    for (const key of [`lean.${side}`, `v.${side}`, `l.${side}`, `lifted.${side}`]) unsaid.add(key);
  }
  if (!p.grips.includes("cornering")) away.add("grip");
  if (p.spare || Math.abs(p.drawn.state.load.lateralG) < 0.005) unsaid.add("cornering");
  // the tag stands where the lean of its wheel would
  for (const t of p.tags) unsaid.add(`lean.${t.side}`);
  // a bare rim hops over the road many times a second
  for (const side of SIDES) if (p.tyreOff[side]) unsaid.add(`lifted.${side}`);
  const made = scene({
    a: p.drawn,
    b: p.rival,
    unloaded: null,
    camera: p.camera,
    show: { ...p.show, rollCentre: false, leanByPart: false, unloaded: false, armForces: false, designB: p.rival !== null },
    spare: p.spare,
    active: null,
    hover: p.active,
    settled: false,
    keepClear: p.keepClear,
    leanSteps: null,
    wishes: (list) => [...list.filter((w) => !unsaid.has(w.key)), ...wishesOf(p)],
  });
  const marks: Mark[] = [];
  for (const m of made.marks) {
    if (away.has(m.key)) continue;
    const bare = SIDES.find((side) => p.tyreOff[side] && (m.key === `wheel.${side}` || m.key === `wash.${side}`));
    if (!bare) marks.push(m);
    else if (m.key.startsWith("wheel.")) marks.push({ ...m, prims: m.prims.filter((q) => !isTyre(q)) });
  }
  for (const t of p.looseTyres) marks.push(looseTyre(p, t, px));
  if (p.kerb) marks.push(kerbMark(p.kerb, p.camera, px));
  for (const l of p.leaving) {
    const from = px(l.at);
    const out = signOf(l.side) * (l.reachMm * p.camera.scale + 6);
    marks.push(loadArrow(`leaving.${l.side}`, [from[0] + out, from[1] - 10], [from[0] + out + signOf(l.side) * ARROW_PX, from[1] - 16]));
  }
  for (const s of p.strips) marks.push(s.mark);
  return { marks, labels: made.labels, handles: made.handles.filter((h) => p.grips.includes(h.id)) };
}

function wishesOf(p: MotionPicture): LabelWish[] {
  const out: LabelWish[] = [];
  // a narrow sheet has room for the newest alone
  for (const t of p.spare ? p.tags.slice(-1) : p.tags) {
    const [what, ...more] = p.spare ? t.lines.slice(0, 2) : t.lines;
    out.push({
      key: t.key,
      at: t.at,
      lines: [line(what ?? "", "u-3-line", true, p.spare ? 14 : 17), ...more.map((text) => line(text, "u-3-line", false, 14))],
      priority: 0,
      spots: t.side === "right" ? ["above", "upperRight", "upperLeft"] : ["above", "upperLeft", "upperRight"],
      gap: p.spare ? 12 : 22,
      look: "gives",
      leader: true,
      must: true,
    });
  }
  if (!p.spare)
    p.strips.forEach((s, i) => {
      out.push({ key: `strip.${i}`, at: [s.words[0], s.words[1]], lines: [line(s.text, "ink-2", false, 13)], priority: 8, spots: ["right"], gap: 0 });
    });
  return out;
}

/** The tyre alone, in section, at its own place. */
function looseTyre(p: MotionPicture, { side, pose }: LoosePart, px: (p: V2) => V2): Mark {
  const state: CornerState = { ...p.drawn.state[side], wheelCentre: [pose.x, pose.z], wheelAngleRad: pose.angle };
  const prims = wheelMarks(p.drawn.corners[side], state, 0, px).flatMap((m) => m.prims.filter(isTyre));
  return mark(`looseTyre.${side}`, "wheel", prims);
}

function kerbMark(kerb: Kerb, camera: Camera, px: (p: V2) => V2): Mark {
  const face = px([kerb.xMm, kerb.heightMm]);
  const foot = px([kerb.xMm, 0]);
  const far = signOf(kerb.side) > 0 ? camera.widthPx + 10 : -10;
  return mark("kerb", "construction", [
    { kind: "poly", points: [foot, face, [far, face[1]], [far, foot[1]]], closed: true, fill: "chassis", stroke: { tone: "road", width: 2 } },
  ]);
}

/** A wheel's place once it is off, put in place of the one that moves with the hub. */
export function withWheelAt(state: AxleState, side: Side, at: V2, angleRad: number): AxleState {
  const c = state[side];
  return { ...state, [side]: { ...c, wheelCentre: at, wheelAngleRad: angleRad, tyre: { ...c.tyre, verticalN: 0, lateralN: 0, contact: [at[0], 0] } } };
}
