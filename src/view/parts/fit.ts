import type { LimitResult } from "../../core/analysis.ts";
import type { Scenario } from "../../core/design/types.ts";
import { SIDES } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import { fixedOutlines, sweptShapes } from "../../core/limits/fit.ts";
import type { V2 } from "../../core/vec.ts";
import { fixed } from "../format.ts";
import { dashes } from "../geometry.ts";
import type { Handle } from "../handles.ts";
import type { LabelWish } from "../labels.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { bodyPose } from "../poses.ts";
import type { Drawn } from "../scene.ts";
import { distanceWords } from "../words.ts";

/** `fit.o.INDEX.POINT`: a point of an outline; `fit.b.INDEX.CORNER`: a corner of a box, from inner low round to inner high. */
export type FitHandleId = `fit.${"o" | "b"}.${number}.${number}`;

export const isFitHandle = (id: string): id is FitHandleId => id.startsWith("fit.");

export function fitPart(id: FitHandleId): { kind: "outline" | "box"; index: number; point: number } {
  const [, kind, index, point] = id.split(".");
  return { kind: kind === "o" ? "outline" : "box", index: Number(index), point: Number(point) };
}

const REACH_PX = 12;
const CORNERS = ["inner lower", "outer lower", "outer upper", "inner upper"] as const;
const boxCorners = (b: Scenario["fit"]["keepOut"][number]): V2[] => [
  [b.fromSMm, b.fromZMm],
  [b.toSMm, b.fromZMm],
  [b.toSMm, b.toZMm],
  [b.fromSMm, b.toZMm],
];
const place = (p: V2): string => `${fixed(p[0], 1).replace(/\.0$/, "")}\u2009mm out, ${fixed(p[1], 1).replace(/\.0$/, "")}\u2009mm up`;

/** Points of outlines and corners of boxes that can be taken in hand: the right half, or the one there is. */
export function fitHandles(scenario: Scenario, state: AxleState, px: (p: V2) => V2): Handle[] {
  const pose = bodyPose(scenario, state);
  const out: Handle[] = [];
  scenario.fit.outlines.forEach((o, i) => {
    o.points.forEach((p, j) => {
      const at: V2 = [p.sMm, p.zMm];
      out.push({
        id: `fit.o.${i}.${j}`,
        at: px(pose(at)),
        reach: REACH_PX,
        name: `${o.name}, point ${j + 1} of ${o.points.length}`,
        value: place(at),
        axes: "both",
      });
    });
  });
  scenario.fit.keepOut.forEach((b, i) => {
    boxCorners(b).forEach((p, j) => {
      out.push({ id: `fit.b.${i}.${j}`, at: px(pose(p)), reach: REACH_PX, name: `${b.name}, ${CORNERS[j]} corner`, value: place(p), axes: "both" });
    });
  });
  return out;
}

/** What the value tag says while a point of the fit is dragged. */
export function fitWords(id: FitHandleId, scenario: Scenario): [string, string] {
  const part = fitPart(id);
  if (part.kind === "outline") {
    const o = scenario.fit.outlines[part.index];
    const p = o?.points[part.point];
    return [p ? place([p.sMm, p.zMm]) : "", o?.name ?? ""];
  }
  const b = scenario.fit.keepOut[part.index];
  if (!b) return ["", ""];
  return [place(boxCorners(b)[part.point] as V2), `${b.name}, ${fixed(b.toSMm - b.fromSMm, 1)} by ${fixed(b.toZMm - b.fromZMm, 1)}\u2009mm`];
}

const SWEPT_STEPS = 6;

/** Tyre and arms at wheel travels from droop to bump, as fine outlines. */
export function sweptMark(scenario: Scenario, state: AxleState, px: (p: V2) => V2): Mark {
  const pose = bodyPose(scenario, state);
  const prims: Prim[] = [];
  for (const side of SIDES)
    for (const at of sweptShapes(scenario, side, SWEPT_STEPS))
      for (const shape of at.shapes)
        prims.push({
          kind: "poly",
          points: shape.points.map((p) => px(pose(p))),
          closed: true,
          stroke: { tone: shape.part === "tyre" ? "tyre-line" : "arm-hi", width: 0.75, alpha: 0.7 },
        });
  return mark("fit.swept", "construction", prims);
}

/** Outlines and boxes as firm lines with a knob on each point that can be moved. */
export function outlinesMark(scenario: Scenario, state: AxleState, px: (p: V2) => V2): Mark {
  const pose = bodyPose(scenario, state);
  const prims: Prim[] = [];
  for (const o of fixedOutlines(scenario)) {
    const points = o.points.map((p) => px(pose(p)));
    prims.push({ kind: "poly", points, closed: o.closed, stroke: { tone: "ink", width: 1.5 } });
  }
  for (const h of fitHandles(scenario, state, px))
    prims.push({
      kind: "poly",
      points: [
        [h.at[0] - 4, h.at[1] - 4],
        [h.at[0] + 4, h.at[1] - 4],
        [h.at[0] + 4, h.at[1] + 4],
        [h.at[0] - 4, h.at[1] + 4],
      ],
      closed: true,
      fill: "lift",
      stroke: { tone: "ink", width: 1.5 },
    });
  return mark("fit.outlines", "ghost", prims);
}

const RING_PX = 11;

/** "tyre to body shell" and "12.1 mm free, 2.0 wanted"; "tyre touches body shell" and "0.7 mm deep". */
export const tightestWords = (l: LimitResult): [string, string] => [
  l.part,
  (distanceWords(l) ?? "").replace("touches, ", "").replace(/ (below|above) the road$/, ""),
];

/** The result of the fit that is nearest to a touch; null where nothing is drawn that could be touched. */
export const tightestResult = (limits: readonly LimitResult[]): LimitResult | null =>
  limits.reduce<LimitResult | null>((best, l) => (l.name === "fit" && (!best || l.utilization > best.utilization) ? l : best), null);

/** What lies deepest below the road; null: nothing does. */
const lowestResult = (limits: readonly LimitResult[]): LimitResult | null =>
  limits.reduce<LimitResult | null>((low, l) => (l.name === "belowRoad" && l.capacity < (low?.capacity ?? 0) ? l : low), null);

/** The tightest place to the body, where it is looked at or touches, and what lies below the road: a ring and words for each. */
export const ringedPlaces = (a: Drawn, looked: boolean, px: (p: V2) => V2): { mark: Mark; label: LabelWish; limit: LimitResult }[] =>
  [tightestResult(a.report.limits), lowestResult(a.report.limits)].flatMap((limit) =>
    limit?.place && ((looked && limit.name === "fit") || limit.place.distanceMm < 0) ? [ringed(limit, limit.place, px)] : [],
  );

function ringed(limit: LimitResult, place: NonNullable<LimitResult["place"]>, px: (p: V2) => V2): { mark: Mark; label: LabelWish; limit: LimitResult } {
  const at = px(place.at);
  const gives = limit.utilization >= 1;
  const ring = Array.from({ length: 33 }, (_, i): V2 => {
    const t = (2 * Math.PI * i) / 32;
    return [at[0] + RING_PX * Math.cos(t), at[1] + RING_PX * Math.sin(t)];
  });
  const tone = gives ? "u-3-text" : "ink";
  const [first, second] = tightestWords(limit);
  const key = limit.name === "fit" ? "fit.place" : "road.place";
  return {
    limit,
    mark: mark(key, "top", [
      { kind: "segments", pairs: gives ? [] : dashes(ring, [3, 3], true), stroke: { tone, width: 2 } },
      ...(gives ? [{ kind: "poly", points: ring, closed: true, stroke: { tone, width: 2.5 } } as Prim] : []),
    ]),
    label: {
      key,
      at,
      lines: [
        { text: first, size: 14, strong: true, tone: gives ? "u-3-text" : "ink" },
        { text: second, size: 14, strong: false, tone: gives ? "u-3-text" : "ink-2" },
      ],
      priority: 1.2,
      spots: ["above", "upperRight", "upperLeft", "right", "left", "lowerRight", "lowerLeft", "below"],
      gap: 18,
      must: true,
      leader: true,
    },
  };
}
