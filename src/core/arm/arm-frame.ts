import type { Arm, Material } from "../design/types.ts";
import { perDegToPerRad } from "../units.ts";
import type { V3 } from "../vec.ts";
import type { BeamProps } from "./element.ts";
import { type AssembledFrame, assembleFrame, type Frame, type FrameMember, type FrameNode, solveFrame } from "./frame.ts";
import { keptPerArm } from "./kept.ts";
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
  plan: ArmPlan;
  material: Material;
  pieces: ArmPiece[];
  solved: AssembledFrame;
  ballNode: number;
  /** two nodes with a bridge on the legs (half the force each), one on a stem or beam, none without a seat */
  seatNodes: number[];
  /** flexibility with pins held, mm/N, 6x6 row-major: ball joint x, y, z, then seat x, y, z (zero without a seat) */
  flexibility: Float64Array;
  /** member end forces (12 per member) under a unit force at: ball joint x, y, z, seat x, y, z */
  unitForces: Float64Array[];
  /** rotational stiffness of all inner pivots together, N·mm/rad */
  pivotNmmPerRad: number;
}

/** nodes closer than this share of the arm are one: shorter members would spoil the solution by rounding */
const SNAP = 1e-3;

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
 * @param seatFraction spring seat on the centre line, 0 inner pivot .. 1 ball joint; null: none
 * @throws RangeError for a length of zero, an unknown material, or a section without substance
 */
export function buildArm3d(arm: Arm, lengthMm: number, seatFraction: number | null): Arm3d {
  const plan = armPlan(arm, lengthMm);
  const material = resolveMaterial(arm.material);
  const sketch = sketchArm(arm, plan, lengthMm, seatFraction, material);
  const solved = assembleFrame(sketch.frame);
  const unitForces: Float64Array[] = [];
  const flexibility = new Float64Array(36);
  const nodesOf = [[sketch.ballNode], sketch.seatNodes];
  const loads = new Float64Array(sketch.frame.nodes.length * 6);
  for (let point = 0; point < 2; point++) {
    const at = nodesOf[point]!;
    for (let c = 0; c < 3; c++) {
      loads.fill(0);
      for (const node of at) loads[node * 6 + c] = 1 / at.length;
      const s = solveFrame(solved, loads);
      unitForces.push(s.endForces);
      for (let p = 0; p < 2; p++) {
        for (let d = 0; d < 3; d++) {
          let u = 0;
          for (const node of nodesOf[p]!) u += s.displacements[node * 6 + d]! / nodesOf[p]!.length;
          flexibility[(p * 3 + d) * 6 + point * 3 + c] = u;
        }
      }
    }
  }
  const { pieces, ballNode, seatNodes } = sketch;
  return {
    arm,
    lengthMm,
    seatFraction,
    plan,
    material,
    pieces,
    solved,
    ballNode,
    seatNodes,
    flexibility,
    unitForces,
    pivotNmmPerRad: perDegToPerRad(arm.pivotStiffnessNmmPerDeg),
  };
}

interface Sketch {
  frame: Frame;
  pieces: ArmPiece[];
  ballNode: number;
  seatNodes: number[];
}

const UP: V3 = [0, 0, 1];

function sketchArm(arm: Arm, plan: ArmPlan, length: number, seat: number | null, material: Material): Sketch {
  const poisson = materialPoisson(material);
  const section = sectionProperties(arm.section, poisson);
  const props = beamProps(section, material);
  const fork = plan.legEnd / length;
  const near = (a: number, b: number) => Math.abs(a - b) < SNAP;
  // a seat next to a node is taken at that node
  let f = seat;
  if (f !== null) {
    if (near(f, 0)) f = 0;
    else if (near(f, fork)) f = fork;
    else if (near(f, 1)) f = 1;
  }
  const nodes: FrameNode[] = [];
  const members: FrameMember[] = [];
  const pieces: ArmPiece[] = [];
  const add = (x: number, y: number, fixed?: boolean[]) => nodes.push(fixed ? { at: [x, y * length, 0], fixed } : { at: [x, y * length, 0] }) - 1;
  const join = (a: number, b: number, p: BeamProps, s: SectionProperties, leg: LegName, legIndex: 0 | 1 | 2, from: number, to: number, offsetB?: V3) => {
    const member = members.push(offsetB ? { a, b, props: p, up: UP, offsetB } : { a, b, props: p, up: UP }) - 1;
    pieces.push({ member, leg, legIndex, section: s, from, to });
  };

  const pivotHeld = [true, true, true, true, !arm.pivotFreeAboutArm, true];
  const xs = plan.legs === 1 ? [0] : [plan.halfSpread, -plan.halfSpread];
  const inner = xs.map((x) => add(x, 0, pivotHeld));
  const seatOnLegs = f !== null && f > 0 && f < fork;
  const alongLeg = (x: number, y: number) => (plan.parallel ? x : x * (1 - y / fork));
  let seatNodes = f === 0 ? inner : [];
  if (seatOnLegs) seatNodes = xs.map((x) => add(alongLeg(x, f!), f!));
  // a lone beam on a pin that lets it spin about itself would have no hold: its ball joint end is kept from spinning,
  // which takes no moment as long as no load twists it
  const spinHeld = plan.legs === 1 && arm.pivotFreeAboutArm ? [false, false, false, false, true, false] : undefined;
  const end = add(0, fork, fork < 1 ? undefined : spinHeld);
  xs.forEach((x, i) => {
    const leg: LegName = plan.legs === 1 ? "beam" : i === 0 ? "leg front" : "leg rear";
    const index = i as 0 | 1;
    const offset: V3 | undefined = plan.parallel && plan.legs === 2 ? [x, 0, 0] : undefined;
    if (seatOnLegs) {
      join(inner[i]!, seatNodes[i]!, props, section, leg, index, 0, f!);
      join(seatNodes[i]!, end, props, section, leg, index, f!, fork, offset);
    } else join(inner[i]!, end, props, section, leg, index, 0, fork, offset);
  });
  if (f === fork) seatNodes = [end];
  if (fork === 1) return { frame: { nodes, members }, pieces, ballNode: end, seatNodes };

  const stemSection = arm.stemSection ? sectionProperties(arm.stemSection, poisson) : section;
  const stemProps = arm.stemSection ? beamProps(stemSection, material) : props;
  let from = end;
  let at = fork;
  if (f !== null && f > fork && f < 1) {
    const node = add(0, f);
    join(from, node, stemProps, stemSection, "stem", 2, at, f);
    seatNodes = [node];
    from = node;
    at = f;
  }
  const ballNode = add(0, 1);
  join(from, ballNode, stemProps, stemSection, "stem", 2, at, 1);
  if (f === 1) seatNodes = [ballNode];
  return { frame: { nodes, members }, pieces, ballNode, seatNodes };
}

/** The frame of an arm, built once for each length and seat. Read only. */
export const arm3dOf = keptPerArm(buildArm3d);
