import { legLines } from "../../../core/arm/layout.ts";
import { sectionSize } from "../../../core/design/section-shapes.ts";
import type { Arm, Section } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";
import { normalOf, sub, unit } from "../../../view/geometry.ts";

/** An arm seen from above, in mm: [forward, outboard along the arm]. */
export interface PlanShape {
  pieces: V2[][];
  /** round ends and elbows */
  rounds: { at: V2; radius: number }[];
  pivots: V2[];
  ballJoint: V2;
  /** where the legs meet; null when there is nothing to fork */
  fork: V2 | null;
  /** pin holes that run up-down */
  holes: { at: V2; radius: number }[];
  /** from the centre line to the outermost edge */
  halfSpan: number;
}

/** half the length of a pivot's block and of a ball joint's eye, mm */
export const BLOCK_MM = 3.6;
const EYE_MM = 3.8;

const band = (from: V2, to: V2, width: number): V2[] => {
  const n = normalOf(unit(sub(to, from)));
  const h = width / 2;
  return [
    [from[0] + n[0] * h, from[1] + n[1] * h],
    [to[0] + n[0] * h, to[1] + n[1] * h],
    [to[0] - n[0] * h, to[1] - n[1] * h],
    [from[0] - n[0] * h, from[1] - n[1] * h],
  ];
};

function holesAlong(s: Section, from: V2, to: V2): PlanShape["holes"] {
  if (s.shape !== "pinHoleBar" || s.holesRun !== "upDown") return [];
  const d = unit(sub(to, from));
  const long = Math.sqrt((to[0] - from[0]) ** 2 + (to[1] - from[1]) ** 2);
  const out: PlanShape["holes"] = [];
  for (let at = s.holePitchMm; at < long - s.holePitchMm / 2; at += s.holePitchMm)
    out.push({ at: [from[0] + d[0] * at, from[1] + d[1] * at], radius: s.holeMm / 2 });
  return out;
}

/** @param lengthMm inner pivots to ball joint */
export function planShape(arm: Arm, lengthMm: number): PlanShape {
  const { lines, innerPivots, ballJoint, crossPiece } = legLines(arm, lengthMm);
  const pieces = lines.map((l) => band(l.from, l.to, l.widthMm));
  const width = sectionSize(arm.section).widthMm;
  if (crossPiece) pieces.push(band([crossPiece[0][0] + width / 2, crossPiece[0][1]], [crossPiece[1][0] - width / 2, crossPiece[1][1]], width));
  const stem = lines.find((l) => l.leg === "stem");
  const rounds = [{ at: ballJoint, radius: Math.max(EYE_MM, (stem ?? lines[0])!.widthMm / 2) }];
  if (stem) rounds.push({ at: stem.from, radius: Math.max(stem.widthMm, width) / 2 });
  if (lines[0]!.leg === "beam") rounds.push({ at: [0, 0], radius: Math.max(EYE_MM, width / 2) });
  const edge = Math.max(...innerPivots.map((p) => Math.abs(p[0]))) + Math.max(width / 2, BLOCK_MM);
  return {
    pieces,
    rounds,
    pivots: innerPivots,
    ballJoint,
    fork: arm.layout === "split" ? (stem?.from ?? ballJoint) : null,
    holes: lines.flatMap((l) => holesAlong(l.leg === "stem" ? (arm.stemSection ?? arm.section) : arm.section, l.from, l.to)),
    halfSpan: Math.max(edge, rounds[0]!.radius),
  };
}

/** Where the two arms stand on the sheet: px per mm, the line of the inner pivots, and each arm's centre line. */
export interface PlanView {
  widthPx: number;
  heightPx: number;
  scale: number;
  x0: number;
  aY: number;
  bY: number;
}

export interface PlanRoom {
  left: number;
  right: number;
  top: number;
  between: number;
  bottom: number;
  /** below the middle of the rival, for the cut through its legs */
  cut: number;
}

const SCALE_MOST = 8;

/** Both arms one below the other at one scale, as large as the room allows. */
export function planView(
  widthPx: number,
  heightPx: number,
  room: PlanRoom,
  a: { halfSpan: number; lengthMm: number },
  b: { halfSpan: number; lengthMm: number } | null,
): PlanView {
  const long = Math.max(a.lengthMm, b?.lengthMm ?? 0) + EYE_MM;
  const tall = 2 * (a.halfSpan + (b?.halfSpan ?? 0));
  const gap = b ? room.between : 0;
  const bySpans = (heightPx - room.top - room.bottom - gap) / tall;
  const byCut = b ? (heightPx - room.top - room.cut - gap) / (2 * a.halfSpan + b.halfSpan) : bySpans;
  const scale = Math.max(0.5, Math.min(SCALE_MOST, (widthPx - room.left - room.right) / long, bySpans, byCut));
  const spare = Math.max(0, heightPx - room.top - room.bottom - gap - tall * scale);
  const aMost = b ? heightPx - room.cut - gap - b.halfSpan * scale - a.halfSpan * scale : Number.POSITIVE_INFINITY;
  const aY = Math.min(aMost, room.top + spare * 0.3 + a.halfSpan * scale);
  const bY = b ? Math.min(aY + a.halfSpan * scale + gap + spare * 0.4 + b.halfSpan * scale, heightPx - room.cut) : aY;
  const slack = Math.max(0, widthPx - room.left - room.right - long * scale);
  return { widthPx, heightPx, scale, x0: room.left + slack / 3, aY, bY };
}

/** mm of the plan to px: forward is up, the wheel is on the right. */
export const planPx = (v: PlanView, which: "a" | "b"): ((p: V2) => V2) => {
  const y = which === "a" ? v.aY : v.bY;
  return (p) => [v.x0 + p[1] * v.scale, y - p[0] * v.scale];
};
