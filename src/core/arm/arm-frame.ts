import type { Arm, Material } from "../design/types.ts";
import { perDegToPerRad } from "../units.ts";
import type { V3 } from "../vec.ts";
import type { BeamProps } from "./element.ts";
import { type AssembledFrame, assembleFrame, type Frame, type FrameMember, type FrameNode, solveFrame } from "./frame.ts";
import { type ArmPlaces, keptPerArm } from "./kept.ts";
import { type ArmPlan, armPlan, type LegName } from "./layout.ts";
import { resolveMaterial, shearModulusMPa } from "./materials.ts";
import { type SectionProperties, sectionProperties } from "./sections.ts";

/** One straight piece of the arm between two nodes of its frame. */
export interface ArmPiece {
  /** index of the member in the frame */
  member: number;
  leg: LegName;
  /** 0 front leg or beam, 1 rear leg, 2 stem */
  legIndex: 0 | 1 | 2;
  section: SectionProperties;
  /** along the arm, fractions of its length */
  from: number;
  to: number;
}

/**
 * An arm as a spatial frame with its answers to unit forces.
 *
 * Frame of the arm: x forward, y from the inner pivots to the ball joint, z up; mm, N. Its inner pivots are held
 * against turning about x here. That loses nothing: with free or sprung pins the whole arm turns rigidly about
 * the line of the pivots besides (both pivots alike, since loads act on the centre line), so the member forces are
 * the same and the pin's stiffness k adds y_i y_j / k to the vertical flexibilities (see stiffness.ts).
 */
export interface Arm3d {
  arm: Arm;
  lengthMm: number;
  seatFraction: number | null;
  barFraction: number | null;
  plan: ArmPlan;
  material: Material;
  pieces: ArmPiece[];
  solved: AssembledFrame;
  ballNode: number;
  /** two nodes with a bridge on the legs (half the force each), one on a stem or beam, none without a seat */
  seatNodes: number[];
  /** the same for the anti-roll bar */
  barNodes: number[];
  /** flexibility with pins held, mm/N, 6x6 row-major: ball joint x, y, z, then seat x, y, z (zero without a seat) */
  flexibility: Float64Array;
  /** member end forces (12 per member) under a unit force in plan at: ball joint x, y, seat x, y, bar x, y (zero where there is none) */
  planForces: Float64Array[];
  /** rotational stiffness of all inner pivots together, N·mm/rad */
  pivotNmmPerRad: number;
}

/** nodes closer than this share of the arm are one: shorter members would spoil the solution by rounding */
const SNAP = 1e-3;

/** What a member of this section and material resists: stretch EA (N), twist GJ and bending EI about both axes (N·mm²). */
export function beamProps(s: SectionProperties, m: Material): BeamProps {
  const g = shearModulusMPa(m);
  return {
    ea: m.youngMPa * s.area,
    gj: g * s.torsion,
    eiY: m.youngMPa * s.iVertical,
    eiZ: m.youngMPa * s.iForeAft,
    gaY: g * s.shearAreaForeAft,
    gaZ: g * s.shearAreaVertical,
    polarRadiusSq: (s.iVertical + s.iForeAft) / s.area,
  };
}

/** Poisson ratio for shear factors, kept in the isotropic range. */
export const materialPoisson = (m: Material): number => Math.min(0.5, Math.max(0, m.poisson));

/**
 * Frame of an arm with its unit answers.
 * @param lengthMm inner pivots to ball joint
 * @param seat spring seat on the centre line, 0 inner pivot .. 1 ball joint; null: none
 * @param bar end of the anti-roll bar on the centre line, likewise
 * @throws RangeError for a length of zero, an unknown material, or a section without substance
 */
export function buildArm3d(arm: Arm, lengthMm: number, seat: number | null, bar: number | null = null): Arm3d {
  const plan = armPlan(arm, lengthMm);
  const material = resolveMaterial(arm.material);
  const sketch = sketchArm(arm, plan, lengthMm, { seat, bar }, material);
  const { frame, pieces, ballNode, seatNodes, barNodes } = sketch;
  const solved = assembleFrame(frame);
  const planForces: Float64Array[] = [];
  const flexibility = new Float64Array(36);
  const nodesOf = [[ballNode], seatNodes, barNodes];
  const loads = new Float64Array(frame.nodes.length * 6);
  nodesOf.forEach((at, point) => {
    for (let c = 0; c < 3; c++) {
      const inPlan = c < 2;
      if (!inPlan && point === 2) continue;
      loads.fill(0);
      for (const node of at) loads[node * 6 + c] = 1 / at.length;
      const s = solveFrame(solved, loads);
      if (inPlan) planForces.push(s.endForces);
      if (point === 2) continue;
      for (let p = 0; p < 2; p++) {
        for (let d = 0; d < 3; d++) {
          let u = 0;
          for (const node of nodesOf[p]!) u += s.displacements[node * 6 + d]! / nodesOf[p]!.length;
          flexibility[(p * 3 + d) * 6 + point * 3 + c] = u;
        }
      }
    }
  });
  const pivotNmmPerRad = perDegToPerRad(arm.pivotStiffnessNmmPerDeg);
  return {
    arm,
    lengthMm,
    seatFraction: seat,
    barFraction: bar,
    plan,
    material,
    pieces,
    solved,
    ballNode,
    seatNodes,
    barNodes,
    flexibility,
    planForces,
    pivotNmmPerRad,
  };
}

interface Sketch {
  frame: Frame;
  pieces: ArmPiece[];
  ballNode: number;
  seatNodes: number[];
  barNodes: number[];
}

const UP: V3 = [0, 0, 1];

function sketchArm(arm: Arm, plan: ArmPlan, length: number, places: ArmPlaces, material: Material): Sketch {
  const poisson = materialPoisson(material);
  const section = sectionProperties(arm.section, poisson);
  const props = beamProps(section, material);
  const fork = plan.legEnd / length;
  // a place next to a node is taken at that node
  const marks = [0, fork, 1];
  const snapped = (f: number | null): number | null => {
    if (f === null) return null;
    for (const m of marks) if (Math.abs(m - f) < SNAP) return m;
    marks.push(f);
    return f;
  };
  const seat = snapped(places.seat);
  const bar = snapped(places.bar);
  const nodes: FrameNode[] = [];
  const members: FrameMember[] = [];
  const pieces: ArmPiece[] = [];
  const nodesAt = new Map<number, number[]>();
  const add = (f: number, xs: readonly number[], fixed?: boolean[]): number[] => {
    const made = xs.map((x) => nodes.push(fixed ? { at: [x, f * length, 0], fixed } : { at: [x, f * length, 0] }) - 1);
    nodesAt.set(f, made);
    return made;
  };
  const join = (a: number, b: number, p: BeamProps, s: SectionProperties, leg: LegName, legIndex: 0 | 1 | 2, from: number, to: number, offsetB?: V3) => {
    const member = members.push(offsetB ? { a, b, props: p, up: UP, offsetB } : { a, b, props: p, up: UP }) - 1;
    pieces.push({ member, leg, legIndex, section: s, from, to });
  };
  const between = (a: number, b: number) => [...new Set(marks)].filter((m) => m > a && m < b).sort((p, q) => p - q);

  const xs = plan.legs === 1 ? [0] : [plan.halfSpread, -plan.halfSpread];
  const alongLegs = (f: number) => xs.map((x) => (plan.parallel ? x : x * (1 - f / fork)));
  let last = add(0, xs, [true, true, true, true, !arm.pivotFreeAboutArm, true]);
  let from = 0;
  // a lone beam on a pin that lets it spin about itself would have no hold: its ball joint end is kept from spinning,
  // which takes no moment as long as no load twists it
  const spinHeld = plan.legs === 1 && arm.pivotFreeAboutArm ? [false, false, false, false, true, false] : undefined;
  for (const to of [...between(0, fork), fork]) {
    const next = to < fork ? add(to, alongLegs(to)) : add(fork, [0], fork < 1 ? undefined : spinHeld);
    xs.forEach((x, i) => {
      const leg: LegName = plan.legs === 1 ? "beam" : i === 0 ? "leg front" : "leg rear";
      const offset: V3 | undefined = to === fork && plan.parallel && plan.legs === 2 ? [x, 0, 0] : undefined;
      join(last[i]!, next[to < fork ? i : 0]!, props, section, leg, i as 0 | 1, from, to, offset);
    });
    last = next;
    from = to;
  }
  if (fork < 1) {
    const stemSection = arm.stemSection ? sectionProperties(arm.stemSection, poisson) : section;
    const stemProps = arm.stemSection ? beamProps(stemSection, material) : props;
    for (const to of [...between(fork, 1), 1]) {
      const next = add(to, [0]);
      join(last[0]!, next[0]!, stemProps, stemSection, "stem", 2, from, to);
      last = next;
      from = to;
    }
  }
  const at = (f: number | null) => (f === null ? [] : nodesAt.get(f)!);
  return { frame: { nodes, members }, pieces, ballNode: last[0]!, seatNodes: at(seat), barNodes: at(bar) };
}

/** The frame of an arm, built once for each length and seat. Read only. */
export const arm3dOf = keptPerArm(buildArm3d);
