import { springSeatPoint } from "../../../core/design/corner-geometry.ts";
import { cornerOf } from "../../../core/design/sides.ts";
import { JOINT_NAMES, type Scenario, SIDES } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";
import { isTold } from "../../../scenario/own-car/own-car.ts";
import { type Camera, projector } from "../../../view/camera.ts";
import { add, barAlong, length, mix, normalOf, scale, sub, unit } from "../../../view/geometry.ts";
import { plateOutline } from "../../../view/parts/body.ts";
import { paperMark } from "../../../view/parts/paper.ts";
import { armHeightAt, signOf } from "../../../view/poses.ts";

/** The car as it is told so far, unloaded: a guess is drawn dashed, so that it shows without its colour. */
export interface Shape {
  key: string;
  look: "dots" | "road" | "middle" | "plate" | "outline" | "wheel" | "spring" | "arm" | "hub" | "pin";
  guess: boolean;
  /** path of an SVG, px */
  d: string;
}

const at = ([x, y]: V2): string => `${x.toFixed(1)} ${y.toFixed(1)}`;
const line = (points: readonly V2[], closed = false): string => `${points.map((p, i) => `${i === 0 ? "M" : "L"}${at(p)}`).join("")}${closed ? "Z" : ""}`;
const ring = ([x, y]: V2, r: number): string => `M${(x - r).toFixed(1)} ${y.toFixed(1)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;

const COILS = 6;
const PIN_PX = 5;

/** A coil between two points, px. */
function coil(a: V2, b: V2, half: number): V2[] {
  const n = scale(normalOf(unit(sub(b, a))), half);
  const out: V2[] = [a];
  for (let i = 0; i < 2 * COILS; i++) out.push(add(mix(a, b, 0.12 + (0.76 * i) / (2 * COILS - 1)), i % 2 ? n : scale(n, -1)));
  return [...out, b];
}

export function builtShapes(s: Scenario, camera: Camera): Shape[] {
  const px = projector(camera);
  const out: Shape[] = [];
  const put = (key: string, look: Shape["look"], d: string, guess = false): void => void out.push({ key, look, guess, d });
  const dots = paperMark(s.holePitchMm, false, camera).prims[0];
  if (dots?.kind === "dots") put("dots", "dots", dots.at.map((p) => `M${at(p)}h0`).join(""));
  const road = px([0, 0])[1];
  put("road", "road", `M0 ${road.toFixed(1)}H${camera.widthPx}`);
  put("middle", "middle", `M${px([0, 0])[0].toFixed(1)} 0V${(road + 16).toFixed(1)}`);
  const corners = { left: cornerOf(s, "left"), right: cornerOf(s, "right") };
  put("plate", "plate", line(plateOutline(corners).map(px), true), !isTold(s, "lowerInner.out"));
  s.fit.outlines.forEach((o, i) => {
    for (const side of o.bothSides ? SIDES : (["right"] as const))
      put(
        `outline.${i}.${side}`,
        "outline",
        line(
          o.points.map((p) => px([signOf(side) * p.sMm, p.zMm])),
          o.closed,
        ),
      );
  });
  for (const side of SIDES) {
    const c = corners[side];
    const to = (p: { sMm: number; zMm: number }): V2 => px([signOf(side) * p.sMm, p.zMm]);
    const { wheelCentre: w, wheel } = c;
    const half = wheel.treadWidthMm / 2;
    const wheelTold = (["trackMm", "wheelDiameterMm", "tyreWidthMm"] as const).every((key) => isTold(s, key));
    const box = (
      [
        [-half, -1],
        [half, -1],
        [half, 1],
        [-half, 1],
      ] as V2[]
    ).map(([ds, up]) => to({ sMm: w.sMm + ds, zMm: w.zMm + up * wheel.radiusMm }));
    put(`wheel.${side}`, "wheel", line(box, true), !wheelTold);
    const springTold = isTold(s, "springTop.out") && isTold(s, "springRateNPerMm");
    const [top, seat] = [to(c.spring.top), to(springSeatPoint(c))];
    put(`spring.${side}`, "spring", line(coil(top, seat, Math.min(9, 0.16 * length(sub(seat, top))))), !springTold);
    for (const arm of ["lower", "upper"] as const) {
      const made = c[`${arm}Arm`];
      const bar = barAlong([to(c[`${arm}Inner`]), to(c[`${arm}Outer`])], Math.max(2, armHeightAt(made, 0.5) * camera.scale));
      put(`${arm}Arm.${side}`, "arm", line(bar, true), !isTold(s, `${arm}Arm.layout`) || !isTold(s, `${arm}Arm.heightMm`));
    }
    put(
      `hub.${side}`,
      "hub",
      `${line([to(c.upperOuter), to(c.lowerOuter)])}${line([mix(to(c.upperOuter), to(c.lowerOuter), 0.5), to(w)])}`,
      !isTold(s, "wheelHeldBy"),
    );
    for (const j of JOINT_NAMES) put(`pin.${j}.${side}`, "pin", ring(to(c[j]), PIN_PX), !isTold(s, `${j}.out`) || !isTold(s, `${j}.up`));
  }
  return out;
}
