import type { Corner, Side } from "../../../core/design/types.ts";
import { heldWords } from "../../../core/limits/held-words.ts";
import { degToRad } from "../../../core/units.ts";
import type { V2 } from "../../../core/vec.ts";
import type { MotionEvent } from "../../../motion/session.ts";
import { type Camera, projector } from "../../../view/camera.ts";
import { figures, fixed, withUnit } from "../../../view/format.ts";
import { signOf, wheelPose } from "../../../view/poses.ts";
import type { Drawn } from "../../../view/scene.ts";
import { limitPlace } from "../../../view/scene-labels.ts";

/** What comes off or apart: which, by which numbers, when, and where on the picture it is. */

/** A part that leaves is followed by its arrow for so long, s. */
const LEAVING_S = 0.6;

const isLoss = (e: MotionEvent): boolean => e.kind === "comesOff" || e.kind === "comesApart";
export const lossesOf = (events: readonly MotionEvent[]): MotionEvent[] => events.filter(isLoss);

export type LooseKind = "wheel" | "tyre";
export const looseKind = (e: MotionEvent): LooseKind | null =>
  e.kind !== "comesOff" ? null : e.limit === "hubRetention" ? "wheel" : e.limit === "tyreOffRim" ? "tyre" : null;

/** When a side's wheel or tyre came off; null when it did not. */
export const lostAt = (events: readonly MotionEvent[], side: Side, kind: LooseKind): number | null =>
  events.find((e) => e.side === side && looseKind(e) === kind)?.timeS ?? null;

const VERBS: Partial<Record<MotionEvent["limit"], string>> = { armYield: "broke", armBuckling: "buckled" };

/** The light parts found no place any more, though nothing was past its own limit. */
const gaveWay = (e: MotionEvent): boolean => e.kind === "comesApart" && e.demand < e.capacity;

/** What happened, without its numbers. */
function whatWords(e: MotionEvent, part: string): string {
  const kind = looseKind(e);
  if (gaveWay(e)) return `${e.side} suspension gave way`;
  return kind ? `${e.side} ${kind} came off${kind === "tyre" ? " its rim" : ""}` : `${e.side} ${part} ${VERBS[e.limit] ?? "came apart"}`;
}

/** Asked for, and what holds. */
function ofWords(e: MotionEvent): string {
  // a spinning band that has lifted off its rim holds nothing at all
  if (e.limit === "tyreOffRim" && !(e.capacity > 0)) return "its band holds nothing at this speed";
  return heldWords(null, figures(e.demand), figures(e.capacity), e.unit);
}

/** One happening in a few words, for a list. */
export function eventWords(e: MotionEvent): string {
  switch (e.kind) {
    case "comesOff":
      return looseKind(e) === "wheel" ? `${whatWords(e, e.part)}: ${e.part}, ${ofWords(e)}` : `${whatWords(e, e.part)}, ${ofWords(e)}`;
    case "comesApart":
      return gaveWay(e) ? `${whatWords(e, e.part)}: ${e.part}, ${ofWords(e)}` : `${whatWords(e, e.part)}, ${ofWords(e)}`;
    case "exceeds":
      return `${e.side} ${e.part} past its limit, ${ofWords(e)}`;
    case "lifts":
      return `${e.side} wheel leaves the road`;
    case "slides":
      return `${e.side} tyre slides`;
    case "spins":
      return `${e.side} wheel spins or locks`;
    case "touchesStop":
      return `${e.side} spring touches its stop`;
  }
}

/** The happening as it is said, in a whole sentence. */
export function lossSentence(e: MotionEvent): string {
  if (looseKind(e) !== "tyre" || e.capacity > 0) return e.message;
  return `The ${e.side} tyre came off its rim at ${fixed(e.timeS, 2)} s: ${ofWords(e)}.`;
}

/** Two or three words for the line through the curves. */
export function postWords(e: MotionEvent): string {
  const kind = looseKind(e);
  if (kind) return `${e.side} ${kind} off`;
  const what = gaveWay(e) ? "side gives way" : e.limit === "armYield" ? "arm breaks" : e.limit === "armBuckling" ? "arm buckles" : "joint parts";
  return `${e.side} ${what}`;
}

/** losses closer together than this are one on the curves, s */
const AT_ONCE_S = 0.005;

/** The losses as lines through the curves; what both sides lose at once is told once. */
export function lossPosts(events: readonly MotionEvent[]): { t: number; words: string }[] {
  const out: { t: number; words: string; kind: LooseKind | null }[] = [];
  for (const e of lossesOf(events)) {
    const kind = looseKind(e);
    const twin = kind && out.find((p) => p.kind === kind && e.timeS - p.t < AT_ONCE_S);
    if (twin) twin.words = `both ${kind}s off`;
    else out.push({ t: e.timeS, words: postWords(e), kind });
  }
  return out.map(({ t, words }) => ({ t, words }));
}

/** Tag at the part that came off: what, by which numbers, when. */
export function tagLines(e: MotionEvent, kmh: number): [string, string, string] {
  return [
    whatWords(e, e.part.split(",")[0]!).replace(/ its rim$/, ""),
    `${e.part}, ${ofWords(e)}`,
    `${fixed(e.timeS, 2)}\u2009s, at ${withUnit(kmh, 1, "km/h")}`,
  ];
}

/** A wheel's own turn against its hub, rad: what a loose part's angle does not tell. */
export const builtTurn = (corner: Corner, side: Side): number => -signOf(side) * degToRad(corner.hub.staticCamberDeg);

/**
 * A loose part's place across the picture, mm. The picture stays with the body; one that slides on would run over the part it lost and hide
 * it, so from the loss on the part is seen from body or road, whichever leaves it further out. `slidMm`: the body's way since the loss.
 */
export const clearOfBody = (side: Side, xMm: number, slidMm: number): number => (side === "right" ? Math.max(xMm, xMm + slidMm) : Math.min(xMm, xMm + slidMm));

/** A wheel or tyre away from its place, in the picture. */
export interface LoosePart {
  kind: LooseKind;
  side: Side;
  pose: { x: number; z: number; angle: number };
}

export interface Tag {
  key: string;
  lines: readonly string[];
  side: Side;
  /** px */
  at: V2;
}

const onSheet = (p: V2, c: Camera): boolean => p[0] > 0 && p[0] < c.widthPx && p[1] > 0 && p[1] < c.heightPx;

/** Middle of a tyre's section over the wheel's radius. */
const SECTION_SHARE = 0.87;

/** Where the tag of a loss points, px: at the part that left, as long as it is on the sheet, else at the place it left. */
function tagPlace(e: MotionEvent, drawn: Drawn, loose: readonly LoosePart[], camera: Camera): V2 {
  const px = projector(camera);
  const kind = looseKind(e);
  const { radiusMm } = drawn.corners[e.side].wheel;
  const state = drawn.state[e.side];
  if (kind === null) return limitPlace(drawn, { name: e.limit, wheel: e.side, part: e.part }, 1, px);
  const tyre = kind === "tyre" ? loose.find((l) => l.kind === "tyre" && l.side === e.side) : undefined;
  const seen = (tyre ? sectionsOf(tyre, SECTION_SHARE * radiusMm) : [wheelPose(state)(0, radiusMm + 2)]).map(px).find((p) => onSheet(p, camera));
  return seen ?? px(kind === "tyre" ? state.wheelCentre : state.hub.at);
}

/** Both sections of a tyre that lies about, mm, the upper one first. */
function sectionsOf({ pose }: LoosePart, radiusMm: number): V2[] {
  const across = -Math.sin(pose.angle) * radiusMm;
  const up = Math.cos(pose.angle) * radiusMm;
  const ends: V2[] = [
    [pose.x + across, pose.z + up],
    [pose.x - across, pose.z - up],
  ];
  return ends.sort((a, b) => b[1] - a[1]);
}

/** One tag for each side that lost something by then, for its newest loss; in order of time. */
export function tagsAt(
  events: readonly MotionEvent[],
  timeS: number,
  kmhAt: ((timeS: number) => number) | null,
  drawn: Drawn,
  loose: readonly LoosePart[],
  camera: Camera,
): Tag[] {
  const newest = new Map<Side, MotionEvent>();
  for (const e of lossesOf(events)) {
    if (e.timeS > timeS) continue;
    // the newest of all comes last
    newest.delete(e.side);
    newest.set(e.side, e);
  }
  return [...newest.values()].map((e) => {
    const lines = tagLines(e, kmhAt?.(e.timeS) ?? 0);
    return { key: `off.${e.side}`, lines: kmhAt ? lines : lines.slice(0, 2), side: e.side, at: tagPlace(e, drawn, loose, camera) };
  });
}

/** Parts that are just leaving, with the place of each, mm. */
export function leavingAt(events: readonly MotionEvent[], timeS: number, drawn: Drawn, loose: readonly LoosePart[]): { side: Side; at: V2; reachMm: number }[] {
  return lossesOf(events).flatMap((e) => {
    const kind = looseKind(e);
    if (!kind || e.timeS > timeS || timeS - e.timeS > LEAVING_S) return [];
    const part = loose.find((l) => l.kind === kind && l.side === e.side);
    const at: V2 = part ? [part.pose.x, part.pose.z] : drawn.state[e.side].wheelCentre;
    const turn = Math.abs(part ? part.pose.angle : drawn.state[e.side].wheelAngleRad);
    const { wheel } = drawn.corners[e.side];
    return [{ side: e.side, at, reachMm: Math.cos(turn) * (wheel.treadWidthMm / 2) + Math.abs(Math.sin(turn)) * wheel.radiusMm }];
  });
}
