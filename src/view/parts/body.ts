import type { Corner, PointSZ, Scenario, Side } from "../../core/design/types.ts";
import type { AxleState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { inside, offsetLine } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { bodyPose } from "../poses.ts";

const SHELL_THICK_MM = 2.4;

/** Outline of the frame plate between the pins, as built: a drawn shape that carries the pins, no calculated part. */
export function plateOutline(corners: Record<Side, Corner>): V2[] {
  const half = (c: Corner): PointSZ[] => {
    const top = c.spring.top;
    const upper = c.upperInner;
    const lower = c.lowerInner;
    const floor = lower.zMm - 7;
    const saddle = upper.zMm + 5;
    const inner = Math.max(4, Math.min(top.sMm - 14, upper.sMm - 18));
    const points: PointSZ[] = [{ sMm: inner, zMm: saddle }];
    if (top.zMm > saddle)
      points.push(
        { sMm: Math.max(inner, top.sMm - 9), zMm: top.zMm + 5 },
        { sMm: top.sMm + 5, zMm: top.zMm + 5 },
        { sMm: top.sMm + 5, zMm: top.zMm - 5 },
        { sMm: Math.max(upper.sMm + 8, top.sMm - 9), zMm: Math.min(upper.zMm + 7, top.zMm - 8) },
      );
    points.push({ sMm: upper.sMm + 7, zMm: upper.zMm - 3 }, { sMm: lower.sMm + 7, zMm: lower.zMm + 3 }, { sMm: lower.sMm + 4, zMm: floor });
    return points;
  };
  const right = half(corners.right).map((p): V2 => [p.sMm, p.zMm]);
  const left = half(corners.left).map((p): V2 => [-p.sMm, p.zMm]);
  return [...right, ...left.reverse()];
}

/** room from a hole's middle to the plate's edge, mm */
const HOLE_ROOM_MM = 2.4;

/** Holes of the pitch grid that lie wholly on the plate, as built. */
function pitchHoles(outline: readonly V2[], pitch: number): V2[] {
  const xs = outline.map((p) => p[0]);
  const zs = outline.map((p) => p[1]);
  const r = HOLE_ROOM_MM;
  const out: V2[] = [];
  for (let x = Math.ceil(Math.min(...xs) / pitch) * pitch; x <= Math.max(...xs); x += pitch) {
    for (let z = Math.ceil(Math.min(...zs) / pitch) * pitch; z <= Math.max(...zs); z += pitch) {
      if (inside(outline, [x + r, z]) && inside(outline, [x - r, z]) && inside(outline, [x, z + r]) && inside(outline, [x, z - r])) out.push([x, z]);
    }
  }
  return out;
}

/** The frame as a filled plate with its pitch holes as open circles. */
export function plateMark(scenario: Scenario, corners: Record<Side, Corner>, state: AxleState, pxPerMm: number, px: (p: V2) => V2): Mark {
  const outline = plateOutline(corners);
  const pose = bodyPose(scenario, state);
  const points = outline.map((p) => px(pose(p)));
  const pitch = scenario.holePitchMm;
  const radius = Math.min(0.3 * pitch, 1.6) * pxPerMm;
  const prims: Prim[] = [{ kind: "poly", points, closed: true, fill: "chassis", stroke: { tone: "body-line", width: 1 } }];
  if (pitch * pxPerMm >= 14) {
    const at = pitchHoles(outline, pitch).map((p) => px(pose(p)));
    prims.push({ kind: "holes", at, radius, fill: "paper", fillAlpha: 0.35, stroke: { tone: "body-line", width: 0.75, alpha: 0.8 } });
  }
  return mark("plate", "chassis", prims);
}

/** Every outline of the body as picture polylines, both halves where they are mirrored. */
export function shellLines(scenario: Scenario): { name: string; points: V2[]; closed: boolean }[] {
  const out: { name: string; points: V2[]; closed: boolean }[] = [];
  for (const o of scenario.fit.outlines) {
    const right = o.points.map((p): V2 => [p.sMm, p.zMm]);
    const first = right[0];
    const last = right[right.length - 1];
    if (!first || !last) continue;
    if (!o.bothSides) {
      out.push({ name: o.name, points: right, closed: o.closed });
      continue;
    }
    const left = right.map((p): V2 => [-p[0], p[1]]);
    // a half that starts or ends on the centreline joins its mirror image to one line
    if (!o.closed && Math.abs(first[0]) < 0.5) out.push({ name: o.name, points: [...left.reverse(), ...right.slice(1)], closed: false });
    else if (!o.closed && Math.abs(last[0]) < 0.5) out.push({ name: o.name, points: [...right, ...left.reverse().slice(1)], closed: false });
    else out.push({ name: o.name, points: right, closed: o.closed }, { name: o.name, points: left, closed: o.closed });
  }
  return out;
}

/** The shell as a thin cut band, and the boxes that must stay free as fine dotted frames. */
export function shellMark(scenario: Scenario, state: AxleState, px: (p: V2) => V2): Mark {
  const pose = bodyPose(scenario, state);
  const prims: Prim[] = [];
  for (const line of shellLines(scenario)) {
    const points = line.points.map(pose);
    const band = line.closed ? points : [...offsetLine(points, SHELL_THICK_MM / 2), ...offsetLine(points, -SHELL_THICK_MM / 2).reverse()];
    prims.push({ kind: "poly", points: band.map(px), closed: true, fill: "body-wash", stroke: { tone: "body-line", width: 1 } });
  }
  for (const k of scenario.fit.keepOut) {
    const sides = k.bothSides ? [1, -1] : [1];
    for (const s of sides) {
      const box: V2[] = [
        [s * k.fromSMm, k.fromZMm],
        [s * k.toSMm, k.fromZMm],
        [s * k.toSMm, k.toZMm],
        [s * k.fromSMm, k.toZMm],
      ];
      prims.push({ kind: "poly", points: box.map((p) => px(pose(p))), closed: true, stroke: { tone: "body-line", width: 0.75, alpha: 0.7 } });
    }
  }
  return mark("shell", "shell", prims);
}
