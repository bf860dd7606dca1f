import type { Corner, JointName, PointSZ } from "../design/types.ts";
import { DEG } from "../units.ts";
import type { V2 } from "../vec.ts";
import { CLOSURE_SIZE, type ClosureNumbers, COUPLER_RATE, CRANK_RATE, closeChain, closureNumbers, POINT_RISE } from "./closure.ts";
import { HEIGHT_REL, IN_LINE_REL, NO_RISE_REL, SAME_POINT_MM } from "./tolerances.ts";
import { findTravelLimits, inLineAngles, type TravelLimits } from "./travel.ts";

/**
 * One corner as a rigid linkage in corner coordinates: s outboard, z up, mm, angles counter-clockwise. On the
 * right-hand side this is the picture seen from behind; the left side is its mirror image. Camber is positive
 * when the top leans away from the car, which in these coordinates is a *clockwise* turn of the wheel.
 */
export interface CornerLinkage {
  ok: true;
  corner: Corner;
  closure: ClosureNumbers;
  lowerArmMm: number;
  upperArmMm: number;
  hubMm: number;
  /** lower-arm angle as built, or the nearest one at which changed lengths still close */
  homeAngleRad: number;
  /** height of the wheel centre at travel 0: as built */
  zeroHeightMm: number;
  /** accepted error of the wheel centre's height in a position solve, mm */
  heightToleranceMm: number;
  /** from the lower outer joint, as built, fixed to the hub */
  local: { wheel: V2; contact: V2; seat: V2 | null };
  limits: TravelLimits;
}

/** Which pair of pivots cannot be joined, and by how many mm. */
export interface AssemblyError {
  ok: false;
  kind: "noLength" | "tooLong" | "tooFarApart" | "deadCentre" | "noRise";
  pair: [JointName, JointName];
  missMm: number;
  message: string;
}

export interface LinkLengths {
  lowerArmMm: number;
  upperArmMm: number;
  hubMm: number;
}

const point = (p: PointSZ): V2 => [p.sMm, p.zMm];
const minus = (a: V2, b: V2): V2 => [a[0] - b[0], a[1] - b[1]];
const length = (a: V2): number => Math.sqrt(a[0] * a[0] + a[1] * a[1]);
const cross = (a: V2, b: V2): number => a[0] * b[1] - a[1] * b[0];

/** Corners are never changed in place: one object is one linkage. */
const built = new WeakMap<Corner, CornerLinkage | AssemblyError>();

/** The corner with its as-built lengths. Never throws: what cannot be assembled is an error as data. */
export function buildCorner(corner: Corner): CornerLinkage | AssemblyError {
  const known = built.get(corner);
  if (known) return known;
  const linkage = assemble(corner, {});
  built.set(corner, linkage);
  return linkage;
}

/**
 * The corner with some lengths changed (mm), the hub lengthened along the line of its ball joints from the lower
 * one. Travel 0 stays the as-built height of the wheel centre; it may lie outside the travel limits.
 * @internal for the tests
 */
export function buildCornerWithLengths(corner: Corner, lengths: Partial<LinkLengths>): CornerLinkage | AssemblyError {
  return assemble(corner, lengths);
}

const PLAIN: Record<JointName, string> = {
  lowerInner: "lower inner pivot",
  lowerOuter: "lower ball joint",
  upperInner: "upper inner pivot",
  upperOuter: "upper ball joint",
};

function failure(kind: AssemblyError["kind"], pair: [JointName, JointName], missMm: number, what: string): AssemblyError {
  return { ok: false, kind, pair, missMm, message: `${PLAIN[pair[0]]} and ${PLAIN[pair[1]]}: ${what}` };
}

const LOWER: [JointName, JointName] = ["lowerInner", "lowerOuter"];
const UPPER: [JointName, JointName] = ["upperInner", "upperOuter"];
const HUB: [JointName, JointName] = ["lowerOuter", "upperOuter"];
const CHASSIS: [JointName, JointName] = ["lowerInner", "upperInner"];

function noLength(l: LinkLengths): AssemblyError | null {
  const parts: [number, [JointName, JointName]][] = [
    [l.lowerArmMm, LOWER],
    [l.upperArmMm, UPPER],
    [l.hubMm, HUB],
  ];
  const none = parts.find(([mm]) => !(mm >= SAME_POINT_MM));
  return none ? failure("noLength", none[1], SAME_POINT_MM - none[0], "they are one point, the part between them has no length") : null;
}

/** A chain closes when no side is longer than the other three together; otherwise names that side and the miss. */
function doesNotClose(l: LinkLengths, chassisMm: number): AssemblyError | null {
  const half = (l.lowerArmMm + l.upperArmMm + l.hubMm + chassisMm) / 2;
  const apart = 2 * (chassisMm - half);
  if (apart > 0) return failure("tooFarApart", CHASSIS, apart, `too far apart, arms and hub together are ${apart.toPrecision(4)} mm too short to join them`);
  const parts: [number, [JointName, JointName]][] = [
    [2 * (l.lowerArmMm - half), LOWER],
    [2 * (l.upperArmMm - half), UPPER],
    [2 * (l.hubMm - half), HUB],
  ];
  const long = parts.find(([miss]) => miss > 0);
  return long
    ? failure(
        "tooLong",
        long[1],
        long[0],
        `the part between them is ${long[0].toPrecision(4)} mm longer than the other three sides together, the chain does not close`,
      )
    : null;
}

function assemble(corner: Corner, changed: Partial<LinkLengths>): CornerLinkage | AssemblyError {
  const lowerInner = point(corner.lowerInner);
  const upperInner = point(corner.upperInner);
  const crank = minus(point(corner.lowerOuter), lowerInner);
  const hub = minus(point(corner.upperOuter), point(corner.lowerOuter));
  const rocker = minus(point(corner.upperOuter), upperInner);
  const built: LinkLengths = { lowerArmMm: length(crank), upperArmMm: length(rocker), hubMm: length(hub) };
  const noPart = noLength(built);
  if (noPart !== null) return noPart;
  const l: LinkLengths = { ...built, ...changed };
  const asBuilt = Object.keys(changed).length === 0;
  const open = asBuilt ? null : (noLength(l) ?? doesNotClose(l, length(minus(upperInner, lowerInner))));
  if (open !== null) return open;

  const across = cross(minus(upperInner, point(corner.lowerOuter)), hub);
  if (Math.abs(cross(hub, rocker)) <= IN_LINE_REL * built.hubMm * built.upperArmMm)
    return failure("deadCentre", UPPER, 0, "the upper arm and the hub stand in one line (dead centre), it is open which way the hub turns");
  if (Math.abs(cross(crank, hub)) <= IN_LINE_REL * built.hubMm * built.lowerArmMm)
    return failure("deadCentre", LOWER, 0, "the lower arm and the hub stand in one line (dead centre), it is open which way the hub turns");

  const wheel = minus(point(corner.wheelCentre), point(corner.lowerOuter));
  const stretch = l.hubMm / built.hubMm;
  const closure = closureNumbers(lowerInner, upperInner, l.lowerArmMm, l.hubMm, l.upperArmMm, across > 0 ? 1 : -1, [hub[0] * stretch, hub[1] * stretch], wheel);
  const builtAngle = Math.atan2(crank[1], crank[0]);
  const homeAngleRad = asBuilt ? builtAngle : nearestClosingAngle(closure, builtAngle);
  const out = new Float64Array(CLOSURE_SIZE);
  closeChain(closure, homeAngleRad, false, out);
  const size = l.lowerArmMm + l.upperArmMm + l.hubMm + length(wheel);
  if (Math.abs(out[POINT_RISE]!) <= NO_RISE_REL * size * Math.max(Math.abs(out[CRANK_RATE]!), Math.abs(out[COUPLER_RATE]!)))
    return failure(
      "noRise",
      LOWER,
      0,
      "the wheel centre stands at the end of its path and cannot move up and down (the instant centre is straight above or below it)",
    );

  const zeroHeightMm = corner.wheelCentre.zMm;
  const camber = corner.hub.staticCamberDeg * DEG;
  const radius = corner.wheel.radiusMm;
  const seat = corner.spring.seat;
  return {
    ok: true,
    corner,
    closure,
    ...l,
    homeAngleRad,
    zeroHeightMm,
    heightToleranceMm: HEIGHT_REL * (size + Math.abs(zeroHeightMm)),
    local: {
      wheel,
      contact: [wheel[0] - radius * Math.sin(camber), wheel[1] - radius * Math.cos(camber)],
      seat: seat.on === "hub" ? minus(point(seat), point(corner.lowerOuter)) : null,
    },
    limits: findTravelLimits(closure, homeAngleRad, zeroHeightMm),
  };
}

/** `angle` if the chain closes there, else a little inside the nearest range of angles at which it does. */
function nearestClosingAngle(g: ClosureNumbers, angle: number): number {
  const closes = (a: number): boolean => {
    const ns = g.rockerPivotS - g.crankPivotS - g.crankMm * Math.cos(a);
    const nz = g.rockerPivotZ - g.crankPivotZ - g.crankMm * Math.sin(a);
    const d = ns * ns + nz * nz;
    return d < g.reachSq && d > g.foldSq;
  };
  if (closes(angle)) return angle;
  let best = angle;
  let bestTurn = Number.POSITIVE_INFINITY;
  for (const { angleRad: edge } of inLineAngles(g)) {
    const turn = Math.abs(Math.atan2(Math.sin(edge - angle), Math.cos(edge - angle)));
    for (const dir of [1, -1]) {
      let step = 0.05;
      while (step > 1e-6 && !closes(edge + dir * step)) step /= 4;
      if (step > 1e-6 && turn < bestTurn) {
        bestTurn = turn;
        best = edge + dir * step;
      }
    }
  }
  return best;
}
