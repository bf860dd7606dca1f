import type { Fit, Outline, PointSZ } from "../../../core/design/types.ts";
import type { Doc } from "../../../state/document.ts";
import { freeName } from "../../../state/edit.ts";
import { type FitHandleId, fitPart } from "../../../view/parts/fit.ts";

type KeepOut = Fit["keepOut"][number];

const MOST_MM = 500;
/** a box is never thinner than this, mm */
const LEAST_BOX_MM = 1;
const STEP_MM = 1;
const FINE_MM = 0.1;

const clamp = (v: number, low: number, high: number): number => Math.max(low, Math.min(high, v));
const snap = (v: number, fine: boolean): number => {
  const step = fine ? FINE_MM : STEP_MM;
  return Math.round((Math.round(v / step) * step + Number.EPSILON) * 1000) / 1000;
};

const withFit = (doc: Doc, patch: Partial<Fit>): Doc => ({ ...doc, a: { ...doc.a, fit: { ...doc.a.fit, ...patch } } });
const withOutline = (doc: Doc, index: number, change: (o: Outline) => Outline): Doc =>
  withFit(doc, { outlines: doc.a.fit.outlines.map((o, i) => (i === index ? change(o) : o)) });
const withBox = (doc: Doc, index: number, change: (b: KeepOut) => KeepOut): Doc =>
  withFit(doc, { keepOut: doc.a.fit.keepOut.map((b, i) => (i === index ? change(b) : b)) });

/** A point of an outline or a corner of a box, moved from where it stood in `start`; a whole step of 1 mm unless `fine`. */
export function movedFit(start: Doc, id: FitHandleId, move: { right: number; up: number }, fine: boolean): Doc {
  const part = fitPart(id);
  if (part.kind === "outline") {
    const p = start.a.fit.outlines[part.index]?.points[part.point];
    if (!p) return start;
    const next: PointSZ = { sMm: clamp(snap(p.sMm + move.right, fine), -MOST_MM, MOST_MM), zMm: clamp(snap(p.zMm + move.up, fine), -MOST_MM, MOST_MM) };
    if (next.sMm === p.sMm && next.zMm === p.zMm) return start;
    return withOutline(start, part.index, (o) => ({ ...o, points: o.points.map((q, i) => (i === part.point ? next : q)) }));
  }
  const b = start.a.fit.keepOut[part.index];
  if (!b) return start;
  const inner = part.point === 0 || part.point === 3;
  const low = part.point < 2;
  const s = clamp(
    snap((inner ? b.fromSMm : b.toSMm) + move.right, fine),
    inner ? -MOST_MM : b.fromSMm + LEAST_BOX_MM,
    inner ? b.toSMm - LEAST_BOX_MM : MOST_MM,
  );
  const z = clamp(snap((low ? b.fromZMm : b.toZMm) + move.up, fine), low ? -MOST_MM : b.fromZMm + LEAST_BOX_MM, low ? b.toZMm - LEAST_BOX_MM : MOST_MM);
  const next: KeepOut = { ...b, [inner ? "fromSMm" : "toSMm"]: s, [low ? "fromZMm" : "toZMm"]: z };
  if (next.fromSMm === b.fromSMm && next.toSMm === b.toSMm && next.fromZMm === b.fromZMm && next.toZMm === b.toZMm) return start;
  return withBox(start, part.index, () => next);
}

export function fitMoveName(doc: Doc, id: FitHandleId): string {
  const part = fitPart(id);
  return part.kind === "outline"
    ? `${doc.a.fit.outlines[part.index]?.name ?? "outline"}, point ${part.point + 1}`
    : `${doc.a.fit.keepOut[part.index]?.name ?? "box"}, a corner`;
}

const names = (doc: Doc): string[] => [...doc.a.fit.outlines.map((o) => o.name), ...doc.a.fit.keepOut.map((b) => b.name)];

/** A new line above the right wheel, clear of it by what is wanted. */
export function addOutline(doc: Doc): Doc {
  const { wheelCentre, wheel } = doc.a.corner;
  const z = Math.round(wheelCentre.zMm + wheel.radiusMm + doc.a.fit.bumpTravelMm + doc.a.fit.clearanceMm + 12);
  const half = Math.round(wheel.treadWidthMm / 2 + 8);
  const s = Math.round(wheelCentre.sMm);
  const outline: Outline = {
    name: freeName("wheel arch", names(doc)),
    points: [
      { sMm: s - half, zMm: z },
      { sMm: s + half, zMm: z },
    ],
    closed: false,
    bothSides: true,
  };
  return withFit(doc, { outlines: [...doc.a.fit.outlines, outline] });
}

/** A new box on the centreline, between the lower pins. */
export function addBox(doc: Doc): Doc {
  const z = Math.round(doc.a.corner.lowerInner.zMm);
  const to = Math.max(10, Math.round(doc.a.corner.lowerInner.sMm - 12));
  const box: KeepOut = { name: freeName("box", names(doc)), fromSMm: 0, toSMm: to, fromZMm: z + 6, toZMm: z + 26, bothSides: true };
  return withFit(doc, { keepOut: [...doc.a.fit.keepOut, box] });
}

/** A point in the middle of the way to the next one; after the last one, as far on again. */
export function addPoint(doc: Doc, id: FitHandleId): Doc {
  const part = fitPart(id);
  const o = part.kind === "outline" ? doc.a.fit.outlines[part.index] : undefined;
  const p = o?.points[part.point];
  if (!o || !p) return doc;
  const next = o.points[part.point + 1] ?? (o.closed ? o.points[0] : undefined);
  const before = o.points[part.point - 1];
  const fresh: PointSZ = next
    ? { sMm: (p.sMm + next.sMm) / 2, zMm: (p.zMm + next.zMm) / 2 }
    : before
      ? { sMm: clamp(2 * p.sMm - before.sMm, -MOST_MM, MOST_MM), zMm: clamp(2 * p.zMm - before.zMm, -MOST_MM, MOST_MM) }
      : { sMm: p.sMm + 10, zMm: p.zMm };
  return withOutline(doc, part.index, (line) => ({ ...line, points: [...line.points.slice(0, part.point + 1), fresh, ...line.points.slice(part.point + 1)] }));
}

/** Without the point; an outline of two points goes as a whole, and so does a box. */
export function removePoint(doc: Doc, id: FitHandleId): Doc {
  const part = fitPart(id);
  const o = part.kind === "outline" ? doc.a.fit.outlines[part.index] : undefined;
  if (!o || o.points.length <= 2) return removeWhole(doc, id);
  return withOutline(doc, part.index, (line) => ({ ...line, points: line.points.filter((_, i) => i !== part.point) }));
}

export function removeWhole(doc: Doc, id: FitHandleId): Doc {
  const part = fitPart(id);
  if (part.kind === "outline") return withFit(doc, { outlines: doc.a.fit.outlines.filter((_, i) => i !== part.index) });
  return withFit(doc, { keepOut: doc.a.fit.keepOut.filter((_, i) => i !== part.index) });
}

/** Numbers of the fit that are asked for whether or not a point is chosen. */
export const FIT_NUMBERS = ["clearanceMm", "bumpTravelMm", "droopTravelMm"] as const satisfies readonly (keyof Fit)[];
export type FitNumber = (typeof FIT_NUMBERS)[number];
const FIT_WORDS: Readonly<Record<FitNumber, string>> = { clearanceMm: "keep free", bumpTravelMm: "travel up", droopTravelMm: "travel down" };
export const fitWordsOf = (key: FitNumber): string => FIT_WORDS[key];
export const setFit = (doc: Doc, key: FitNumber, mm: number): Doc => (doc.a.fit[key] === mm ? doc : withFit(doc, { [key]: mm }));

/** Edges of a box. */
export const BOX_EDGES = ["fromSMm", "toSMm", "fromZMm", "toZMm"] as const satisfies readonly (keyof KeepOut)[];
export type BoxEdge = (typeof BOX_EDGES)[number];
export const setEdge = (doc: Doc, index: number, edge: BoxEdge, mm: number): Doc => withBox(doc, index, (b) => ({ ...b, [edge]: mm }));

/** A coordinate of an outline's point. */
export const setPoint = (doc: Doc, id: FitHandleId, key: keyof PointSZ, mm: number): Doc => {
  const part = fitPart(id);
  return withOutline(doc, part.index, (o) => ({ ...o, points: o.points.map((p, i) => (i === part.point ? { ...p, [key]: mm } : p)) }));
};

/** The name of an outline or a box, and whether it stands on both sides. */
export function setWhole(doc: Doc, id: FitHandleId, patch: { name?: string; bothSides?: boolean; closed?: boolean }): Doc {
  const { kind, index } = fitPart(id);
  const { closed, ...rest } = patch;
  if (kind === "box") return withBox(doc, index, (b) => ({ ...b, ...rest }));
  return withOutline(doc, index, (o) => ({ ...o, ...rest, ...(closed === undefined ? {} : { closed }) }));
}
export const setMustHold = (doc: Doc, on: boolean): Doc => (doc.a.fit.mustHold === on ? doc : withFit(doc, { mustHold: on }));
export const mustHoldWords = (on: boolean): string => (on ? "the body must hold" : "the body is only a caution");
