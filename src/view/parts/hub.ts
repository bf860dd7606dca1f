import type { Corner } from "../../core/design/types.ts";
import type { CornerState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { barAlong, sub } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { hubPose, wheelPose } from "../poses.ts";
import { wheelSizes } from "./wheel.ts";

/** Colour step of a utilization: easy, working, close, gives. */
export const rampStep = (u: number): 0 | 1 | 2 | 3 => (u < 0.6 ? 0 : u < 0.85 ? 1 : u < 1 ? 2 : 3);

/** +1 when the road's force pulls the hub open at its top, -1 at its bottom (moment about the wheel centre). */
function pulledEnd(state: CornerState): 1 | -1 {
  const d = sub(state.tyre.contact, state.wheelCentre);
  const moment = d[0] * state.tyre.verticalN - d[1] * state.tyre.lateralN;
  return moment * (state.side === "right" ? 1 : -1) < 0 ? 1 : -1;
}

interface HubSizes {
  stub: number;
  cup: number;
  bearing: number;
  hold: number;
}

function sizes(corner: Corner): HubSizes {
  const r = corner.hub.retention;
  const hold = r.kind === "lip" ? r.radiusMm : r.kind === "crossPin" ? r.shearRadiusMm + 2 : r.threadRadiusMm;
  const most = corner.wheel.radiusMm * 0.42;
  const stub = Math.min(most * 0.55, Math.max(2.5, corner.hub.heat.journalRadiusMm));
  return { stub, cup: Math.min(most, Math.max(stub + 4.5, hold + 1.5)), bearing: 4.5, hold: Math.min(most, Math.max(stub + 2, hold)) };
}

/** Where the hub holds the wheel at its pulled end, in the picture, mm. */
export function holdPoint(corner: Corner, state: CornerState): V2 {
  const s = sizes(corner);
  return wheelPose(state)(-corner.hub.bearingOffsetMm - s.bearing * 0.9, pulledEnd(state) * s.hold);
}

/** Upright, stub, bearing and what holds the wheel on, in section. */
export function hubMarks(corner: Corner, state: CornerState, utilization: number, px: (p: V2) => V2): Mark[] {
  const side = state.side;
  const hub = hubPose(state);
  const wheel = wheelPose(state);
  const s = sizes(corner);
  const { rim } = wheelSizes(corner);
  const off = corner.hub.bearingOffsetMm;
  const toPx = (points: readonly V2[]): V2[] => points.map(px);
  const box = (pose: (e: number, v: number) => V2, e0: number, v0: number, e1: number, v1: number): V2[] =>
    toPx([pose(e0, v0), pose(e0, v1), pose(e1, v1), pose(e1, v0)]);
  const edge = { tone: "ink", width: 1 } as const;
  const web: Prim[] = [];
  const inner = -off - s.bearing;
  const outer = -off + s.bearing * 1.6;
  for (const up of [1, -1]) {
    // web from the rim down to the cup, then the cup over the bearing
    web.push({ kind: "poly", points: box(wheel, outer, up * s.cup, outer + 2.2, up * (rim - 1)), closed: true, fill: "body-wash", stroke: edge });
    web.push({ kind: "poly", points: box(wheel, inner, up * s.cup, outer + 2.2, up * (s.cup + 2)), closed: true, fill: "body-wash", stroke: edge });
  }
  web.push({ kind: "poly", points: box(wheel, outer, -s.cup, outer + 2.2, s.cup), closed: true, fill: "body-wash", stroke: edge });

  const wc = corner.wheelCentre;
  const at = (p: { sMm: number; zMm: number }): [number, number] => [p.sMm - wc.sMm, p.zMm - wc.zMm];
  const u = at(corner.upperOuter);
  const l = at(corner.lowerOuter);
  const waist = Math.min(-off - s.bearing - 3, Math.max(u[0], l[0]) + 6);
  const spine: V2[] = [
    hub(u[0], u[1]),
    hub((u[0] + waist) / 2, u[1] * 0.55),
    hub(waist, s.stub * 0.6),
    hub(waist, -s.stub * 0.6),
    hub((l[0] + waist) / 2, l[1] * 0.55),
    hub(l[0], l[1]),
  ];
  const upright: Prim[] = [{ kind: "poly", points: toPx(barAlong(spine, 6)), closed: true, fill: "hub", stroke: edge }];
  upright.push({ kind: "poly", points: box(hub, waist - 1, -s.stub, outer - 1, s.stub), closed: true, fill: "hub", stroke: edge });
  for (const up of [1, -1]) {
    const square = box(hub, -off - s.bearing * 0.75, up * s.stub, -off + s.bearing * 0.75, up * s.cup);
    upright.push({ kind: "poly", points: square, closed: true, fill: "sheet", stroke: edge });
    const [a, b, c, d] = square as [V2, V2, V2, V2];
    upright.push({ kind: "segments", pairs: [a, c, b, d], stroke: edge });
  }
  return [mark(`web.${side}`, "wheel", web), mark(`hub.${side}`, "hub", [...upright, ...retention(corner, wheel, hub, s, utilization, state, px)])];
}

function retention(
  corner: Corner,
  wheel: (e: number, v: number) => V2,
  hub: (e: number, v: number) => V2,
  s: HubSizes,
  utilization: number,
  state: CornerState,
  px: (p: V2) => V2,
): Prim[] {
  const step = rampStep(utilization);
  const fill = `u-${step}`;
  const line = { tone: step === 3 ? "ink" : `u-${step}-line`, width: 1 } as const;
  const off = corner.hub.bearingOffsetMm;
  const kind = corner.hub.retention.kind;
  const prims: Prim[] = [];
  const pulled = pulledEnd(state);
  if (kind === "lip") {
    for (const up of [1, -1]) {
      const e = -off - s.bearing;
      const hook = [
        wheel(e - 2.4, up * (s.hold - 1.6)),
        wheel(e - 2.4, up * (s.cup + 2)),
        wheel(e + 0.4, up * (s.cup + 2)),
        wheel(e + 0.4, up * s.hold),
        wheel(e - 0.6, up * (s.hold - 1.6)),
      ];
      const isPulled = up === pulled;
      prims.push({
        kind: "poly",
        points: hook.map(px),
        closed: true,
        fill: isPulled ? fill : "body-wash",
        stroke: isPulled ? line : { tone: "ink", width: 1 },
      });
    }
  } else if (kind === "crossPin") {
    const half = Math.max(0.8, (corner.hub.retention as { pinDiameterMm: number }).pinDiameterMm / 2);
    const e = -off + s.bearing * 1.15;
    prims.push({
      kind: "poly",
      points: [hub(e - half, -s.cup - 1), hub(e - half, s.cup + 1), hub(e + half, s.cup + 1), hub(e + half, -s.cup - 1)].map(px),
      closed: true,
      fill,
      stroke: line,
    });
  } else {
    for (const up of [1, -1]) {
      const e = -off - s.bearing;
      const ring = [wheel(e - 2.6, up * (s.hold - 2)), wheel(e - 2.6, up * (s.cup + 2)), wheel(e, up * (s.cup + 2)), wheel(e, up * (s.hold - 2))].map(px);
      prims.push({ kind: "poly", points: ring, closed: true, fill, stroke: line });
      const zig: V2[] = [];
      for (let i = 0; i <= 4; i++) zig.push(px(wheel(e - 2.6 + i * 0.65, up * (s.cup + (i % 2 ? 1.2 : 0)))));
      prims.push({ kind: "poly", points: zig, closed: false, stroke: line });
    }
  }
  return prims;
}

/** Ring round the place where the hub gives, shown when it is the first to give. */
export function holdRing(corner: Corner, state: CornerState, px: (p: V2) => V2): Mark {
  const at = px(holdPoint(corner, state));
  return mark(`holdRing.${state.side}`, "top", [{ kind: "circle", at, radius: 12, stroke: { tone: "u-3-text", width: 2 } }]);
}
