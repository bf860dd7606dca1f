import { armEnds, armLengthMm, springSeatPoint } from "../design/corner-geometry.ts";
import { editCorners } from "../design/edit-corners.ts";
import { ARM_WORDS, JOINT_WORDS } from "../design/part-words.ts";
import type { ArmName, Corner, JointName, PointSZ, Scenario } from "../design/types.ts";
import type { CostKind } from "./change-list.ts";

/** A pivot moved by whole holes. All moves of one kind stand on the list as one: by as many holes as buy most. */
export interface HoleMove {
  /** pivot and way: "upperInner down" */
  kind: string;
  /** holes up, down, in and out together */
  holes: number;
  /** the moves of its kind that are a hole shorter, by id: where one of those goes too far, this one does */
  past: readonly string[];
}

export interface MovedDesign {
  id: string;
  title: string;
  costKind: CostKind;
  cost: string;
  trim: true;
  move: HoleMove;
  scenario: Scenario;
}

/** so many holes are tried each way */
const MOST_HOLES = 4;

const round = (v: number): number => Math.round(v * 1000) / 1000 + 0;
const tenth = (mm: number): string => `${Math.round(mm * 10) / 10}`;
const count = (n: number): string => `${n} ${n === 1 ? "hole" : "holes"}`;

/** The corner with pivots moved; a spring seat on an arm stays where it is. */
function movePivots(c: Corner, names: readonly (JointName | "wheelCentre")[], ds: number, dz: number): Corner {
  const shift = (p: PointSZ): PointSZ => ({ sMm: round(p.sMm + ds), zMm: round(p.zMm + dz) });
  const out = { ...c };
  for (const n of names) out[n] = shift(c[n]);
  const seat = c.spring.seat;
  if (seat.on === "hub") return names.includes("wheelCentre") ? { ...out, spring: { ...c.spring, seat: { on: "hub", ...shift(seat) } } } : out;
  const [inner, outer] = armEnds(out, seat.on === "lowerArm" ? "lower" : "upper");
  const at = springSeatPoint(c).sMm;
  const span = outer.sMm - inner.sMm;
  const fraction = Math.abs(span) > 1 ? round(Math.min(1, Math.max(0, (at - inner.sMm) / span))) : seat.fraction;
  return { ...out, spring: { ...c.spring, seat: { ...seat, fraction } } };
}

function armWords(before: Corner, after: Corner, n: ArmName): string {
  const [a, b] = [tenth(armLengthMm(before, n)), tenth(armLengthMm(after, n))];
  return a === b ? `${ARM_WORDS[n]} as long as before` : `${ARM_WORDS[n]} ${b} mm long instead of ${a}`;
}

/** "4 holes down, 2 out" */
function wayWords(out: number, up: number): string {
  const upWords = up === 0 ? "" : `${count(Math.abs(up))} ${up > 0 ? "up" : "down"}`;
  const outWords = out === 0 ? "" : `${up === 0 ? count(Math.abs(out)) : Math.abs(out)} ${out > 0 ? "out" : "in"}`;
  return [upWords, outWords].filter(Boolean).join(", ");
}

function mmWords(out: number, up: number, pitchMm: number): string {
  const upWords = up === 0 ? "" : `${tenth(Math.abs(up) * pitchMm)} mm ${up > 0 ? "higher" : "lower"}`;
  const outWords = out === 0 ? "" : `${tenth(Math.abs(out) * pitchMm)} mm further ${out > 0 ? "out" : "in"}`;
  return [upWords, outWords].filter(Boolean).join(" and ");
}

/** The same way, a hole shorter up or down, or a hole shorter sideways. */
function shorter(side: number, up: number): [side: number, up: number][] {
  const out: [number, number][] = [];
  if (Math.abs(up) > Math.max(1, Math.abs(side))) out.push([side, up - Math.sign(up)]);
  if (side !== 0 && (up !== 0 || Math.abs(side) > 1)) out.push([side - Math.sign(side), up]);
  return out;
}

/**
 * Every pin moved by up to four holes: an inner pin to any hole of the chassis around it, an upper outer joint up and down in another hub,
 * the whole wheel outwards on longer arms. Up and down with up to as many holes sideways are one kind, in and out alone are two more.
 */
export function holeMoves(s: Scenario): MovedDesign[] {
  const p = s.holePitchMm;
  const move = (names: readonly (JointName | "wheelCentre")[], ds: number, dz: number): Scenario => editCorners(s, (c) => movePivots(c, names, ds, dz));
  const counts = Array.from({ length: MOST_HOLES }, (_, i) => i + 1);
  // from the nearest hole outwards
  const steps = [0, ...counts.flatMap((n) => [-n, n])];
  const out: MovedDesign[] = [];
  for (const n of ["upperInner", "lowerInner", "upperOuter"] as const)
    for (const up of steps)
      for (const side of n === "upperOuter" ? [0] : steps) {
        if ((up === 0 && side === 0) || (up !== 0 && Math.abs(side) > Math.abs(up))) continue;
        const scenario = move([n], side * p, up * p);
        const kind = up > 0 ? "up" : up < 0 ? "down" : side > 0 ? "out" : "in";
        const place = n === "upperOuter" ? "another hub, the joint" : "other holes in the chassis,";
        out.push({
          id: `${n} ${wayWords(side, up)}`,
          title: `${JOINT_WORDS[n]} ${wayWords(side, up)}`,
          costKind: n === "upperOuter" ? "new print" : "re-drilling holes",
          cost: `${place} ${mmWords(side, up, p)}; ${armWords(s.corner, scenario.corner, n.startsWith("upper") ? "upper" : "lower")}`,
          trim: true,
          move: { kind: `${n} ${kind}`, holes: Math.abs(up) + Math.abs(side), past: shorter(side, up).map(([x, z]) => `${n} ${wayWords(x, z)}`) },
          scenario,
        });
      }
  for (const side of counts)
    out.push({
      id: `wider track ${side}`,
      title: `track wider by ${count(side)} on each side`,
      costKind: "part swap",
      cost: `longer arms, ${tenth(side * p)} mm each`,
      trim: true,
      move: { kind: "wider track", holes: side, past: side > 1 ? [`wider track ${side - 1}`] : [] },
      scenario: move(["upperOuter", "lowerOuter", "wheelCentre"], side * p, 0),
    });
  return out;
}
