import type { LimitName, LimitResult } from "../core/analysis.ts";
import { pathWords } from "../core/design/field-words.ts";
import type { Corner, Side } from "../core/design/types.ts";
import { explainLimit, loadPathOf, type PathPart } from "../core/limits/explain.ts";
import type { V2 } from "../core/vec.ts";
import { figures, withUnit } from "./format.ts";
import { type Mark, mark, type Prim } from "./marks.ts";
import { holdPoint } from "./parts/hub.ts";
import { bentNodes, bodyPose, drawnSeat, hubPose, outerSide, wheelPose } from "./poses.ts";
import type { Drawn } from "./scene.ts";
import { limitPlace } from "./scene-labels.ts";

/** A limit opened in the reading column: why it gives, and from what it is worked out. */
export interface LimitWhy {
  key: LimitName;
  title: string;
  term: string;
  plain: string;
  formula: string;
  numbers: { name: string; value: string }[];
  inputs: readonly string[];
}

export function limitWhy(l: LimitResult, corner: Corner): LimitWhy {
  const e = explainLimit(l.name, corner);
  return {
    key: l.name,
    title: e.title,
    term: e.term,
    plain: e.plain,
    formula: e.formula,
    numbers: l.inputs.map((i) => ({
      name: i.name,
      value: i.unit === "" || i.unit === "°" ? withUnit(i.value, Math.abs(i.value) >= 30 ? 0 : 2, i.unit) : `${figures(i.value)}\u2009${i.unit}`,
    })),
    inputs: e.inputs.map(plainInput),
  };
}

const FIELD = /^[a-z]\w*(?:\.[\w*]+)+$/i;
/** A field of the file in words; what is told in words already stays. */
const plainInput = (text: string): string => (FIELD.test(text) ? pathWords(text) : text);

/** The worst result of a limit in a report. */
export const worstOf = (limits: readonly LimitResult[], name: string | null): LimitResult | null =>
  limits.reduce<LimitResult | null>((best, l) => (l.name === name && (!best || l.utilization > best.utilization) ? l : best), null);

const sideOfLimit = (l: LimitResult, lateralG: number): Side => (l.wheel === "both" ? outerSide(lateralG) : l.wheel);

/** Keys of marks that draw a part of the path, on the limit's side. */
function keysOf(part: PathPart, side: Side, other: Side): string[] {
  switch (part) {
    case "tyre":
      return [`wheel.${side}`, `wash.${side}`, `tread.${side}`, `vertical.${side}`, `lateral.${side}`];
    case "otherTyre":
      return [`wheel.${other}`, `wash.${other}`, `tread.${other}`, `vertical.${other}`, `lateral.${other}`];
    case "rim":
      return [`wheel.${side}`, `web.${side}`];
    case "hubRetention":
    case "bearing":
      return [`hub.${side}`, `web.${side}`, `holdRing.${side}`];
    case "hub":
      return [`hub.${side}`];
    case "upperArm":
    case "lowerArm": {
      const arm = part === "upperArm" ? "upper" : "lower";
      return [`arm.${side}.${arm}`, `chord.${side}.${arm}`, `bow.${side}.${arm}`];
    }
    case "spring":
      return [`spring.${side}`];
    case "body":
    case "antiRollBar":
      return ["plate"];
    case "outline":
      return ["shell", "fit.outlines", "fit.place"];
    default:
      return [`joint.${side}.${part}`];
  }
}

const STAYS = /^(paper|road|centre|loadPath|refusal)/;

/** Which marks stand back while a limit is looked at. */
export function offPath(l: LimitResult, lateralG: number): (key: string) => boolean {
  const side = sideOfLimit(l, lateralG);
  const own = new Set(loadPathOf(l).flatMap((p) => keysOf(p, side, side === "left" ? "right" : "left")));
  return (key) => !own.has(key) && !STAYS.test(key);
}

/** Picture points of a part that a load passes, in its direction: from the road inwards. */
function pointsOf(a: Drawn, part: PathPart, side: Side, bend: number): V2[] {
  const s = a.state[side];
  const corner = a.corners[side];
  switch (part) {
    case "tyre":
      return [s.tyre.contact, wheelPose(s)(0, -corner.wheel.radiusMm * 0.72)];
    case "hubRetention":
      return [holdPoint(corner, s)];
    case "bearing":
      return [wheelPose(s)(-corner.hub.bearingOffsetMm, 0)];
    case "hub":
      return [hubPose(s)(-corner.hub.bearingOffsetMm - 8, 0)];
    case "upperArm":
    case "lowerArm":
      return [...bentNodes(s.arms[part === "upperArm" ? "upper" : "lower"], bend)].reverse();
    case "spring":
      return [drawnSeat(corner, s, bend), s.spring.top];
    case "otherTyre":
      return [a.state[side === "left" ? "right" : "left"].tyre.contact];
    case "body":
    case "antiRollBar":
    case "rim":
    case "outline":
      return [];
    default:
      return [s.joints[part].hole];
  }
}

const ARMS = ["upper", "lower"] as const;

/** The way of the load as thick pale lines along the parts: one trunk from the road to the hub, a branch along each arm, one up the spring. */
export function pathMark(a: Drawn, l: LimitResult, bend: number, px: (p: V2) => V2): Mark {
  const side = sideOfLimit(l, a.state.load.lateralG);
  const parts = loadPathOf(l);
  const has = (p: PathPart): boolean => parts.includes(p);
  const at = (p: PathPart): V2[] => (has(p) ? pointsOf(a, p, side, bend) : []);
  const trunk = (["tyre", "hubRetention", "bearing", "hub"] as const).flatMap(at);
  const lines: V2[][] = [trunk];
  for (const arm of ARMS) {
    const branch = [...at(`${arm}Outer`), ...at(`${arm}Arm`), ...at(`${arm}Inner`)];
    if (branch.length === 0) continue;
    const from = trunk.at(-1);
    lines.push(from && has(`${arm}Outer`) ? [from, ...branch] : branch);
  }
  lines.push(at("spring"));
  if (has("body") && (l.name === "wheelLift" || l.name === "sliding"))
    lines.push([a.state[side].tyre.contact, bodyPose(a.scenario, a.state)([0, a.scenario.body.cgHeightMm])]);
  if (has("otherTyre") && has("body")) lines.push([bodyPose(a.scenario, a.state)([0, a.scenario.body.cgHeightMm]), ...pointsOf(a, "otherTyre", side, bend)]);
  const prims: Prim[] = lines
    .filter((line) => line.length > 1)
    .map((line): Prim => ({ kind: "poly", points: line.map(px), closed: false, stroke: { tone: "inside", width: 7, alpha: 0.34, round: true } }));
  const spot = limitPlace(a, l, bend, px);
  prims.push({ kind: "circle", at: spot, radius: 13, stroke: { tone: l.utilization >= 1 ? "u-3-text" : "ink", width: 2 } });
  return mark("loadPath", "lean", prims);
}
