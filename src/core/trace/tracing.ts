import type { V2 } from "../vec.ts";
import { after, type FourPoints, type Homography, homographyOf, inverse, isConvex, mapped } from "./homography.ts";

/**
 * From a photo of an axle to mm. Places on the photo are px from its top left corner, x right, y down; places of the car are mm in the
 * picture frame, x right of the middle as seen from behind, z up from the road.
 */
export interface Tracing {
  /** two points a known distance apart, both as far from the camera as the axle; null: the rectangle's size tells the scale */
  distance: { a: V2; b: V2; mm: number } | null;
  /** two points that are equally high, one left and one right, and how high they are above the road, mm */
  level: { left: V2; right: V2; heightMm: number };
  /** a point on the car's middle line; null: halfway between the ends of the level line */
  middle: V2 | null;
  /** the corners of a rectangle in the plane of the axle, from its upper left one clockwise, and its size; null: the camera looked straight on */
  rectangle: { corners: FourPoints; widthMm: number; heightMm: number } | null;
}

export type PictureMap = { ok: true; toMm: Homography; toPx: Homography } | { ok: false; message: string };

const no = (message: string): PictureMap => ({ ok: false, message });

/** marks nearer to each other than this tell neither a direction nor a scale, px */
const LEAST_PX = 4;
const far = (a: V2, b: V2): number => Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);

/** a photo without a known rectangle is taken as it is, with y turned up */
const UP: Homography = [1, 0, 0, 0, -1, 0, 0, 0, 1];

/** The way from px to mm that the marks give, or why they give none, in one sentence. */
export function pictureMap(t: Tracing): PictureMap {
  const { level, distance, rectangle } = t;
  let flat: Homography = UP;
  if (rectangle) {
    const { widthMm: w, heightMm: h, corners } = rectangle;
    if (!isConvex(corners)) return no("The four corners do not go round a rectangle: put them from the upper left one clockwise.");
    const found = homographyOf(corners, [
      [0, h],
      [w, h],
      [w, 0],
      [0, 0],
    ]);
    if (!found) return no("The four corners do not go round a rectangle: put them from the upper left one clockwise.");
    flat = found;
  } else if (!distance) return no("The scale is missing: mark two points a known distance apart.");
  const at = (p: V2): V2 | null => mapped(flat, p);
  if (far(level.left, level.right) < LEAST_PX) return no("The two ends of the level line are one place: put one left and one right.");
  const middlePx: V2 = t.middle ?? level.left;
  const [left, right, middle] = [at(level.left), at(level.right), at(middlePx)];
  const [a, b] = distance ? [at(distance.a), at(distance.b)] : [null, null];
  if (!left || !right || !middle || (distance && (!a || !b))) return no("A mark lies beyond what the four corners can tell: put it nearer to them.");
  let mmPerUnit = 1;
  if (distance && a && b) {
    if (far(distance.a, distance.b) < LEAST_PX) return no("The two points of the known distance are one place: put them apart.");
    mmPerUnit = distance.mm / far(a, b);
  }
  const turn = Math.atan2(right[1] - left[1], right[0] - left[0]);
  const [c, s] = [mmPerUnit * Math.cos(turn), mmPerUnit * Math.sin(turn)];
  const across = (p: V2): number => c * p[0] + s * p[1];
  const x0 = t.middle ? across(middle) : (across(left) + across(right)) / 2;
  const z0 = -s * left[0] + c * left[1] - level.heightMm;
  const toMm = after([c, s, -x0, -s, c, -z0, 0, 0, 1], flat);
  return { ok: true, toMm, toPx: inverse(toMm) };
}

/** How many mm one px is at a place of the photo, the geometric mean over all directions; null beyond the horizon. */
export function mmPerPx(toMm: Homography, [x, y]: V2): number | null {
  const w = toMm[6] * x + toMm[7] * y + toMm[8];
  if (!(w > 0)) return null;
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = toMm;
  const det = h0 * (h4 * h8 - h5 * h7) - h1 * (h3 * h8 - h5 * h6) + h2 * (h3 * h7 - h4 * h6);
  // the area that a small square becomes: |det| over w cubed
  return Math.sqrt(Math.abs(det) / w ** 3);
}

/** A place read off the photo, mm, each with its standard deviation. */
export interface TracedPlace {
  xMm: number;
  zMm: number;
  xPlusMinus: number;
  zPlusMinus: number;
}

/** step of the differences, px: far above rounding, far below what bends the map */
const STEP_PX = 0.01;

/** A tracing and a place on it with one coordinate moved, for each coordinate there is. */
function* moved(t: Tracing, place: V2, by: number): Generator<[Tracing, V2]> {
  const both = (p: V2): [V2, V2] => [
    [p[0] + by, p[1]],
    [p[0], p[1] + by],
  ];
  for (const p of both(place)) yield [t, p];
  for (const left of both(t.level.left)) yield [{ ...t, level: { ...t.level, left } }, place];
  for (const right of both(t.level.right)) yield [{ ...t, level: { ...t.level, right } }, place];
  if (t.middle) for (const middle of both(t.middle)) yield [{ ...t, middle }, place];
  if (t.distance) {
    for (const a of both(t.distance.a)) yield [{ ...t, distance: { ...t.distance, a } }, place];
    for (const b of both(t.distance.b)) yield [{ ...t, distance: { ...t.distance, b } }, place];
  }
  if (t.rectangle)
    for (let i = 0; i < 4; i++)
      for (const p of both(t.rectangle.corners[i]!)) {
        const corners = t.rectangle.corners.map((c, k) => (k === i ? p : c)) as unknown as FourPoints;
        yield [{ ...t, rectangle: { ...t.rectangle, corners } }, place];
      }
}

/**
 * Where a place of the photo is on the car, and how sure that is: every mark and the place itself are taken to be put with the same
 * standard deviation in x and y, independent of each other, and their effects add as squares (first order, JCGM 100:2008, 5.1.2).
 * @param markPx standard deviation of one mark, px
 * @returns null where the marks give no map or the place lies beyond its horizon
 */
export function tracedPlace(t: Tracing, place: V2, markPx: number): TracedPlace | null {
  const at = (of: Tracing, p: V2): V2 | null => {
    const m = pictureMap(of);
    return m.ok ? mapped(m.toMm, p) : null;
  };
  const here = at(t, place);
  if (!here) return null;
  let [xx, zz] = [0, 0];
  const back = moved(t, place, -STEP_PX);
  for (const [of, p] of moved(t, place, STEP_PX)) {
    const [other, q] = back.next().value as [Tracing, V2];
    const [to, fro] = [at(of, p), at(other, q)];
    if (!to || !fro) return null;
    xx += ((to[0] - fro[0]) / (2 * STEP_PX)) ** 2;
    zz += ((to[1] - fro[1]) / (2 * STEP_PX)) ** 2;
  }
  return { xMm: here[0], zMm: here[1], xPlusMinus: markPx * Math.sqrt(xx), zPlusMinus: markPx * Math.sqrt(zz) };
}
