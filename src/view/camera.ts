import { mat3, vec2 } from "gl-matrix";
import type { V2 } from "../core/vec.ts";

/** Where the drawing looks: the one place where z (up) becomes y (down). */
export interface Camera {
  widthPx: number;
  heightPx: number;
  /** CSS px per mm */
  scale: number;
  /** picture point in the middle of the drawing, mm */
  centre: V2;
}

export interface Bounds {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

/** Room kept free at the edges, CSS px. */
export interface Insets {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

type Nine = [number, number, number, number, number, number, number, number, number];

/** Column-major picture-to-screen matrix, in plain numbers (double precision). */
function matrixOf(camera: Camera): Nine {
  const m: Nine = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  mat3.translate(m, m, [camera.widthPx / 2, camera.heightPx / 2]);
  mat3.scale(m, m, [camera.scale, -camera.scale]);
  mat3.translate(m, m, [-camera.centre[0], -camera.centre[1]]);
  return m;
}

/** Picture mm to screen px, for many points of one frame. */
export function projector(camera: Camera): (p: V2) => V2 {
  const m = matrixOf(camera);
  return (p) => {
    const out: V2 = [0, 0];
    vec2.transformMat3(out, p, m);
    return out;
  };
}

/** Screen px to picture mm. */
export function unprojector(camera: Camera): (p: V2) => V2 {
  const inverse: Nine = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  mat3.invert(inverse, matrixOf(camera));
  return (p) => {
    const out: V2 = [0, 0];
    vec2.transformMat3(out, p, inverse);
    return out;
  };
}

export function fitBounds(bounds: Bounds, widthPx: number, heightPx: number, insets: Insets): Camera {
  const w = Math.max(1, widthPx - insets.left - insets.right);
  const h = Math.max(1, heightPx - insets.top - insets.bottom);
  const scale = Math.max(0.05, Math.min(w / Math.max(1, bounds.right - bounds.left), h / Math.max(1, bounds.top - bounds.bottom)));
  const cx = (bounds.left + bounds.right) / 2 - (insets.left - insets.right) / 2 / scale;
  const cy = (bounds.bottom + bounds.top) / 2 + (insets.top - insets.bottom) / 2 / scale;
  return { widthPx, heightPx, scale, centre: [cx, cy] };
}

export const panned = (camera: Camera, dxPx: number, dyPx: number): Camera => ({
  ...camera,
  centre: [camera.centre[0] - dxPx / camera.scale, camera.centre[1] + dyPx / camera.scale],
});

const SCALE_MIN = 0.3;
const SCALE_MAX = 60;

/** Zoomed by a factor, the picture point under `atPx` staying where it is. */
export function zoomed(camera: Camera, factor: number, atPx: V2): Camera {
  const scale = Math.max(SCALE_MIN, Math.min(SCALE_MAX, camera.scale * factor));
  const p = unprojector(camera)(atPx);
  const dx = (atPx[0] - camera.widthPx / 2) / scale;
  const dy = (atPx[1] - camera.heightPx / 2) / scale;
  return { ...camera, scale, centre: [p[0] - dx, p[1] + dy] };
}
