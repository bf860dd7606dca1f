import type { LimitResult } from "../core/analysis.ts";
import { sprungMassKg } from "../core/design/mass.ts";
import type { ArmName, JointName, Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { heldWords } from "../core/limits/held-words.ts";
import { LIMITS } from "../core/limits/records.ts";
import { G } from "../core/units.ts";
import type { V2 } from "../core/vec.ts";
import { bandOf, type Doubts, sdWords } from "./doubt-words.ts";
import { degrees, figures, fixed, newtons } from "./format.ts";
import type { Handle } from "./handles.ts";
import type { LabelLine, LabelWish } from "./labels.ts";
import type { Construction } from "./parts/construction.ts";
import type { ForcePlan } from "./parts/force-plan.ts";
import { holdPoint } from "./parts/hub.ts";
import { springMiddle } from "./parts/spring.ts";
import { bentNodes, outerSide } from "./poses.ts";
import type { Drawn } from "./scene.ts";
import { distanceWords, leanWords } from "./words.ts";

const line = (text: string, tone = "ink-2", strong = false, size = 14): LabelLine => ({ text, size, strong, tone });

export const demandOf = (l: LimitResult): string =>
  distanceWords(l) ??
  (l.unit === "°"
    ? heldWords(l.name, fixed(l.demand, 1), fixed(l.capacity, 1), "°")
    : heldWords(
        l.name,
        figures(l.demand),
        fixed(l.capacity, Number.isInteger(l.capacity) || Math.abs(l.capacity) >= 30 ? 0 : Math.abs(l.capacity) >= 2 ? 1 : 2),
        l.unit,
      ));

/** The lean beside its plumb line, outboard if there is room. */
export function leanWish(a: Drawn, side: Side, at: V2, spare: boolean): LabelWish {
  const deg = a.report[side].camberDeg;
  const outer = outerSide(a.state.load.lateralG) === side;
  const words = `${a.state.load.lateralG === 0 ? side : outer ? "outer" : "inner"} wheel, ${leanWords(deg)}`;
  const lines = [line(degrees(deg), "ink", true, spare ? 20 : 28)];
  if (!spare) lines.push(line(words));
  return {
    key: `lean.${side}`,
    at: [at[0], at[1] + (spare ? -14 : 14)],
    lines,
    priority: 1,
    spots: side === "left" ? ["right", "left", "above"] : ["right", "left", "above"],
    gap: spare ? 4 : 14,
    must: true,
  };
}

/** Where on the picture a limit is, mm. */
export function limitPlace(a: Drawn, limit: Pick<LimitResult, "name" | "wheel" | "part" | "place">, bend: number, px: (p: V2) => V2): V2 {
  const side: Side = limit.wheel === "both" ? outerSide(a.state.load.lateralG) : limit.wheel;
  const s = a.state[side];
  const corner = a.corners[side];
  const { where } = LIMITS[limit.name];
  if (where === "hub") return px(holdPoint(corner, s));
  if (where === "arm") {
    const arm: ArmName = limit.part.includes("upper") ? "upper" : "lower";
    const nodes = bentNodes(s.arms[arm], bend);
    return px(nodes[Math.floor(nodes.length / 2)] as V2);
  }
  if (where === "joint") {
    const arm = limit.part.includes("upper") ? "upper" : "lower";
    const joint: JointName = `${arm}${limit.part.includes("outer") ? "Outer" : "Inner"}`;
    return px(s.joints[joint].hole);
  }
  if (where === "spring") return springMiddle(corner, s, bend, px);
  if (limit.place) return px(limit.place.at);
  if (limit.name === "camber") return px(s.wheelCentre);
  return px(s.tyre.contact);
}

/** From the wheel's middle to where its section surely ends, px. */
export function wheelReachPx(a: Drawn, side: Side, px: (p: V2) => V2): number {
  const k = px([1, 0])[0] - px([0, 0])[0];
  const wheel = a.corners[side].wheel;
  return (wheel.treadWidthMm / 2 + Math.abs(a.state[side].wheelAngleRad) * wheel.radiusMm) * k + 7;
}

/** Tag at the part that gives, once something does. */
export function limitWish(a: Drawn, bend: number, px: (p: V2) => V2): LabelWish | null {
  const limit = a.report.firstToGive;
  if (!(limit.utilization >= 1)) return null;
  const at = limitPlace(a, limit, bend, px);
  const right = (limit.wheel === "both" ? outerSide(a.state.load.lateralG) : limit.wheel) === "right";
  return {
    key: "limit",
    at,
    lines: [line(givesWords(limit), "u-3-line", true, 15), line(demandOf(limit), "u-3-line")],
    priority: 1.5,
    spots: right
      ? ["right", "upperLeft", "lowerLeft", "upperRight", "above", "below", "left"]
      : ["left", "upperRight", "lowerRight", "upperLeft", "above", "below", "right"],
    gap: Math.max(44, Math.abs(px(a.state[right ? "right" : "left"].wheelCentre)[0] - at[0]) + wheelReachPx(a, right ? "right" : "left", px)),
    look: "gives",
    leader: true,
    must: true,
  };
}

/** "hub lip gives", "lower arm yields", ... */
export function givesWords(l: LimitResult): string {
  switch (l.name) {
    case "hubRetention":
      return `${l.part} gives`;
    case "armYield":
      return `${l.part.split(",")[0]} yields`;
    case "armBuckling":
      return `${l.part.split(",")[0]} buckles`;
    case "armSet":
      return `${l.part.split(",")[0]} stays bent in time`;
    case "camber":
      return "lean past your limit";
    case "sliding":
      return l.part === "tyres let go" ? "wheels slide" : l.part;
    case "wheelShift":
      return l.part;
    case "belowRoad":
      return l.part;
    case "fit":
      return l.place && l.place.distanceMm >= 0 ? `too near: ${l.part}` : l.part;
    default:
      return LIMITS[l.name].words.row.toLowerCase();
  }
}

/** Value of the point in hand, on a lifted tag with a blue foot; above a finger on a narrow sheet. */
export const valueWish = (held: Handle, words: [string, string], spare: boolean): LabelWish => ({
  key: "value",
  at: held.at,
  lines: [line(words[0], "ink", true, 16), line(words[1], "ink-2", false, 13)],
  priority: 0,
  spots: ["above", "left", "right", "below"],
  gap: spare ? 56 : 30,
  look: "value",
  leader: true,
  must: true,
});

export function forceWishes(a: Drawn, plan: ForcePlan, cg: V2, spare: boolean, doubts: Doubts | null = null): LabelWish[] {
  const out: LabelWish[] = [];
  for (const side of ["left", "right"] as const) {
    const v = plan.vertical[side];
    const band = spare ? null : bandOf(doubts, `verticalLoadN.${side}`, v.newtons);
    const load = `${newtons(v.newtons)}${band ? ` ${sdWords(band.sd, Math.abs(v.newtons) >= 30 ? 0 : 1, "")}` : ""}`;
    out.push({ key: `v.${side}`, at: v.at, lines: [line(load, "react", true)], priority: 5, spots: ["right", "left"], gap: 8 });
    if (spare) continue;
    const l = plan.lateral[side];
    if (l.newtons > 0.05)
      out.push({
        key: `l.${side}`,
        at: l.at,
        lines: [line(newtons(l.newtons), "react", true)],
        priority: 5,
        spots: l.outward ? ["right", "below"] : ["left", "below"],
        gap: 7,
      });
    const s = plan.spring[side];
    out.push({
      key: `s.${side}`,
      at: s.at,
      lines: [line(newtons(s.newtons), "inside", true)],
      priority: 5,
      spots: side === "left" ? ["left", "right"] : ["right", "left"],
      gap: 9,
    });
  }
  for (const f of plan.arms)
    out.push({
      key: f.key,
      at: f.at,
      lines: [line(`${newtons(Math.abs(f.newtons))} ${f.newtons >= 0 ? "pulled" : "pressed"}`, "inside", true)],
      priority: 5,
      spots: ["above", "below"],
      gap: 9,
    });
  if (spare) return out;
  const g = a.state.load.lateralG;
  out.push({
    key: "cornering",
    at: [cg[0] + (g >= 0 ? 4 : -4), cg[1] + 10],
    lines: [line("cornering", "load", true), line(newtons(Math.abs(sprungMassKg(a.scenario) * G * g)), "load", true)],
    priority: 4,
    spots: g >= 0 ? ["lowerRight", "upperRight", "above"] : ["lowerLeft", "upperLeft", "above"],
    gap: 6,
  });
  out.push({
    key: "weight",
    at: [plan.weight.tip[0], plan.weight.tip[1] - 8],
    lines: [line(`weight ${newtons(plan.weight.newtons)}`, "load", true)],
    priority: 5,
    spots: ["left", "right"],
    gap: 9,
  });
  out.push({
    key: "gravity",
    at: cg,
    lines: [line("centre of gravity", "ink"), line(`${fixed(a.scenario.body.cgHeightMm, 0)} mm up`)],
    priority: 6,
    spots: ["left", "above"],
    gap: 15,
  });
  return out;
}

export function constructionWishes(built: Construction): LabelWish[] {
  const out: LabelWish[] = [];
  if (built.rollCentrePx && built.rollCentreMm) {
    const z = built.rollCentreMm[1];
    out.push({
      key: "rollCentre",
      at: built.rollCentrePx,
      lines: [line(`roll centre ${fixed(Math.abs(z), 0)} mm ${z >= 0 ? "up" : "below the road"}`)],
      priority: 6,
      spots: ["left", "right", "above"],
      gap: 13,
    });
  }
  for (const o of built.offSheet) {
    const left = o.at[0] < 200;
    out.push({
      key: `ic.${o.side}`,
      at: o.at,
      lines: [line(`instant centre, ${o.side} wheel`), line(`${fixed(o.pastMm, 0)} mm past the edge`)],
      priority: 7,
      spots: left ? ["right", "below", "above"] : ["left", "below", "above"],
      gap: 6,
    });
  }
  return out;
}

export const bendWish = (mm: number, factor: number, at: V2): LabelWish => ({
  key: "bend",
  at: [at[0], at[1] + 8],
  lines: [line(`bends ${fixed(mm, 1)} mm, drawn ×${factor}`, "ink", true)],
  priority: 4,
  spots: ["below", "left", "right"],
  gap: 4,
});

/** "this edge is off the road", once per drawing. */
export function liftedWish(side: Side, state: AxleState, at: V2 | null, before: readonly LabelWish[]): LabelWish | null {
  if (!at || before.some((w) => w.key.startsWith("lifted"))) return null;
  const off = state[side].tyre.verticalN <= 0;
  return {
    key: `lifted.${side}`,
    at: [at[0] - 4, at[1] + 10],
    lines: [line(off ? "this wheel is off the road" : "this edge is off the road")],
    priority: 6,
    spots: side === "right" ? ["left", "below"] : ["right", "below"],
    gap: 16,
    leader: true,
  };
}
