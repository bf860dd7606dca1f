import { cornerOf } from "../../../core/design/sides.ts";
import { type Corner, JOINT_NAMES, type JointName, type Side } from "../../../core/design/types.ts";
import type { Doc } from "../../../state/document.ts";
import { withAt, withBump, withCorner } from "../../../state/edit.ts";
import { fixed, holes, signed } from "../../../view/format.ts";
import type { HandleId } from "../../../view/handles.ts";
import { isFitHandle } from "../../../view/parts/fit.ts";
import { JOINT_WORDS } from "../../../view/words.ts";
import { fitMoveName, movedFit } from "./fit-edits.ts";

/** A move since the start of the drag: mm to the right and up on the picture (of the body as built), or g for the arrow. */
export interface Move {
  right: number;
  up: number;
  g: number;
}

/** Grid that a dragged point keeps to, mm; null: free. */
export type Grid = number | null;

const LOAD_MOST = { g: 2, bumpMm: 25 } as const;
const G_STEP = 0.01;
const BUMP_STEP_MM = 0.5;
const GRAVITY_STEP_MM = 1;
/** points stay at least this high above the built ground, and this far from the centreline, mm */
const LEAST_Z_MM = 1;
const SEAT_LEAST = 0.05;
const SEAT_MOST = 0.95;

const clamp = (v: number, low: number, high: number): number => Math.max(low, Math.min(high, v));
const snap = (v: number, grid: Grid): number => (grid ? Math.round(v / grid) * grid : Math.round(v * 100) / 100);

const parts = (id: HandleId): { kind: string; side: Side; joint: JointName | null } => {
  const [kind, side, joint] = id.split(".");
  return { kind: kind as string, side: (side as Side | undefined) ?? "right", joint: JOINT_NAMES.find((j) => j === joint) ?? null };
};

const POINT_PATH = (kind: string, joint: JointName | null): string | null =>
  kind === "pin" ? joint : kind === "wheel" ? "wheelCentre" : kind === "springTop" ? "spring.top" : null;

/**
 * The document with one handle moved from where it stood in `start`. Always counted from the start of the
 * drag, so that going there and back again is exactly where it was.
 */
export function movedHandle(start: Doc, id: HandleId, move: Move, grid: Grid): Doc {
  if (isFitHandle(id)) return movedFit(start, id, move, grid === null);
  const { kind, side, joint } = parts(id);
  const sign = side === "right" ? 1 : -1;
  const corner = cornerOf(start.a, side);
  const path = POINT_PATH(kind, joint);
  if (path) {
    const p = pointOf(corner, path);
    const sMm = snap(p.sMm + sign * move.right, grid);
    const zMm = Math.max(LEAST_Z_MM, snap(p.zMm + move.up, grid));
    if (sMm === p.sMm && zMm === p.zMm) return start;
    let a = withCorner(start.a, side, `${path}.sMm`, sMm);
    a = withCorner(a, side, `${path}.zMm`, zMm);
    return { ...start, a };
  }
  if (kind === "seat") {
    const seat = corner.spring.seat;
    if (seat.on === "hub") return start;
    const [inner, outer] = seat.on === "lowerArm" ? [corner.lowerInner, corner.lowerOuter] : [corner.upperInner, corner.upperOuter];
    const along = [outer.sMm - inner.sMm, outer.zMm - inner.zMm] as const;
    const length = Math.sqrt(along[0] ** 2 + along[1] ** 2);
    const mm = seat.fraction * length + (sign * move.right * along[0] + move.up * along[1]) / length;
    const fraction = clamp(grid ? snap(mm, grid) / length : mm / length, SEAT_LEAST, SEAT_MOST);
    return fraction === seat.fraction
      ? start
      : { ...start, a: withCorner(start.a, side, "spring.seat", { ...seat, fraction: Math.round(fraction * 1e4) / 1e4 }) };
  }
  if (kind === "gravity")
    return { ...start, a: withAt(start.a, "body.cgHeightMm", Math.max(1, snap(start.a.body.cgHeightMm + move.up, grid ? GRAVITY_STEP_MM : null))) };
  if (kind === "road") {
    const old = side === "left" ? start.load.bumpLeftMm : start.load.bumpRightMm;
    return { ...start, load: withBump(start.load, side, clamp(snap(old + move.up, grid ? BUMP_STEP_MM : 0.1), -LOAD_MOST.bumpMm, LOAD_MOST.bumpMm)) };
  }
  const g = Math.round((start.load.lateralG + move.g) / G_STEP) * G_STEP;
  return { ...start, load: { ...start.load, lateralG: clamp(Math.round(g * 1e4) / 1e4, -LOAD_MOST.g, LOAD_MOST.g) } };
}

const pointOf = (c: Corner, path: string): { sMm: number; zMm: number } =>
  path === "wheelCentre" ? c.wheelCentre : path === "spring.top" ? c.spring.top : c[path as JointName];

export type Nudge = "hole" | "half" | "fine";

/** One press of an arrow key: a hole, half a hole or 0.1 mm; the arrow goes by 0.05, 0.02 or 0.01 g. */
export function nudgeOf(id: HandleId, key: string, size: Nudge, pitchMm: number): Move | null {
  const dir = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[key] as [number, number] | undefined;
  if (!dir) return null;
  const kind = id.split(".")[0];
  if (kind === "cornering") return { right: 0, up: 0, g: (dir[0] + dir[1]) * { hole: 0.05, half: 0.02, fine: 0.01 }[size] };
  const mm =
    kind === "road" || kind === "gravity" || kind === "fit" ? { hole: 1, half: 0.5, fine: 0.1 }[size] : { hole: pitchMm, half: pitchMm / 2, fine: 0.1 }[size];
  return { right: dir[0] * mm, up: dir[1] * mm, g: 0 };
}

/** Name of a finished move for undo: "upper inner pin 1 hole in". */
export function moveName(before: Doc, after: Doc, id: HandleId): string {
  if (isFitHandle(id)) return fitMoveName(after, id);
  const { kind, side, joint } = parts(id);
  const c0 = cornerOf(before.a, side);
  const c1 = cornerOf(after.a, side);
  const path = POINT_PATH(kind, joint);
  if (path) {
    const p0 = pointOf(c0, path);
    const p1 = pointOf(c1, path);
    const pitch = after.a.holePitchMm;
    const way = (mm: number, plus: string, minus: string): string => {
      const n = Math.abs(mm) / pitch;
      const onHole = Math.abs(n * 2 - Math.round(n * 2)) < 0.02;
      const many = onHole ? `${holes(Math.abs(mm), pitch)} ${n <= 1 ? "hole" : "holes"}` : `${fixed(Math.abs(mm), 1)} mm`;
      return `${many} ${mm > 0 ? plus : minus}`;
    };
    const ds = p1.sMm - p0.sMm;
    const dz = p1.zMm - p0.zMm;
    const what = kind === "pin" && joint ? JOINT_WORDS[joint] : kind === "wheel" ? "wheel centre" : "spring top";
    const ways = [Math.abs(ds) > 1e-6 ? way(ds, "out", "in") : "", Math.abs(dz) > 1e-6 ? way(dz, "up", "down") : ""].filter(Boolean);
    return `${what} ${ways.join(", ")}`;
  }
  if (kind === "seat") return "spring seat along its arm";
  if (kind === "gravity") return `centre of gravity ${signed(after.a.body.cgHeightMm - before.a.body.cgHeightMm, 1)} mm`;
  if (kind === "road") return `road under the ${side} wheel`;
  return `cornering to ${fixed(after.load.lateralG, 2)} g`;
}
