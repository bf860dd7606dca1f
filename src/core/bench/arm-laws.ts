import { type Arm3d, arm3dOf } from "../arm/arm-frame.ts";
import { solveFrame } from "../arm/frame.ts";
import { ownMaterial } from "../arm/own-material.ts";
import { armOf, jointNPerMm } from "../design/corner-geometry.ts";
import { ARM_WORDS, JOINT_WORDS } from "../design/part-words.ts";
import type { Arm, ArmName } from "../design/types.ts";
import { DEG, perDegToPerRad } from "../units.ts";
import type { CurveProblem, Told } from "./curve.ts";
import { bothWays, COUNTS_BACK, type OnBench, stepSd, wayOf } from "./good-rows.ts";
import { armOnBench } from "./settings.ts";

/**
 * Arms on the bench, through the spatial frame that the car's arms have. Its give grows with 1/E, Young's modulus, all else being the arm's
 * shape: reading = zero ± play + load · (give at E = 1) / E + load · (give of pins and pivots).
 */

const bars = new WeakMap<Arm, Arm>();

/** The arm of a material of its own, as the design will have it once the result is taken: rods that are given a shear modulus apart lose it. */
function ownArm(arm: Arm): Arm {
  if (typeof arm.material !== "string") return arm;
  let own = bars.get(arm);
  if (!own) {
    own = { ...arm, material: ownMaterial(arm.material) };
    bars.set(arm, own);
  }
  return own;
}

const X = 0;
const Z = 2;

/** Movement at one place under a unit force at another, inner pins held, mm/N; places from the inner pins, mm. */
function give(arm: Arm, lengthMm: number, loadAt: number, readAt: number, way: typeof X | typeof Z): number {
  const frame: Arm3d = arm3dOf(arm, lengthMm, Math.min(1, loadAt / lengthMm), Math.min(1, readAt / lengthMm));
  const loads = new Float64Array(frame.solved.frame.nodes.length * 6);
  for (const node of frame.seatNodes) loads[node * 6 + way] = 1 / frame.seatNodes.length;
  const { displacements } = solveFrame(frame.solved, loads);
  return frame.barNodes.reduce((sum, node) => sum + displacements[node * 6 + way]!, 0) / frame.barNodes.length;
}

interface ArmOnBench {
  name: ArmName;
  arm: Arm;
  lengthMm: number;
  loadAt: number;
  readAt: number;
  youngMPa: number;
}

function armOfTest({ test, corner, number }: OnBench): ArmOnBench {
  const name = armOnBench(test);
  const arm = ownArm(armOf(corner, name));
  const lengthMm = number("lengthMm");
  const within = (key: string): number => Math.min(lengthMm, number(key));
  return { name, arm, lengthMm, loadAt: within("loadAtMm"), readAt: within("readAtMm"), youngMPa: ownMaterial(arm.material).youngMPa };
}

const young = (b: OnBench, a: ArmOnBench, unknown: number): Told => ({
  unknown,
  value: (give1) => 1 / give1,
  words: `${ARM_WORDS[a.name]}, stiffness of its material (Young's modulus)`,
  unit: "MPa",
  paths: b.paths(`${a.name}Arm.material.youngMPa`),
  was: a.youngMPa,
});

const beyond = (b: OnBench, a: ArmOnBench): string[] =>
  ["loadAtMm", "readAtMm"].some((key) => b.number(key) > a.lengthMm + 1e-6)
    ? ["The load or the ruler stands beyond the ball joint: taken at the ball joint."]
    : [];

const shearLost = (b: OnBench, a: ArmOnBench): string[] =>
  armOf(b.corner, a.name).material === "carbonRod"
    ? [
        "A rod of fibres shears more easily than its stiffness says; as an own material it is reckoned like any other, so that a short rod reads softer than it is.",
      ]
    : [];

/** How the load moves the ruler: by the arm's own give over 1/E, by all else, and by the play of the pins. */
interface Gives {
  /** mm per N at an own give of `g`, 1/MPa, and a pivot's give of `c`, rad per N·mm */
  perN(g: number, c: number): number;
  /** mm that the ruler moves down while the pins go through their play, by mm of it, for a load downwards */
  perPlay: number;
}

function hangGives(b: OnBench, a: ArmOnBench, held: string): Gives {
  const f = (at: number, to: number): number => give(a.arm, a.lengthMm, at, to, Z) * a.youngMPa;
  const own = f(a.loadAt, a.readAt);
  if (held === "vice") return { perN: (g) => g * own, perPlay: 0 };
  const joint = 1 / jointNPerMm(b.corner.joints[`${a.name}Inner`]);
  if (held === "pins") return { perN: (g) => g * own + joint, perPlay: 1 };
  if (held === "springy") return { perN: (g, c) => g * own + joint + c * a.loadAt * a.readAt, perPlay: 1 };
  // propped up: the prop's force follows from its place staying where it is; 1/c is the pivot's stiffness, none for a free pin
  const at = Math.min(a.lengthMm, b.number("propAtMm"));
  const [loadProp, readProp, prop] = [f(a.loadAt, at), f(a.readAt, at), f(at, at)];
  const perN = (g: number, c: number): number => {
    // shares of the load on the prop and on the pins (downwards), and the turn of the arm about its pins, rad
    const free = !Number.isFinite(c);
    const onProp = free ? a.loadAt / at : (g * loadProp + joint + c * at * a.loadAt) / (g * prop + joint + c * at * at);
    const shift = (1 - onProp) * joint;
    const turn = (g * prop * onProp - g * loadProp - shift) / at;
    return g * (own - readProp * onProp) + shift + turn * a.readAt;
  };
  // a load beyond the prop lifts the pins
  return { perN, perPlay: (1 - a.readAt / at) * Math.sign(at - a.loadAt) };
}

const PIVOT_GUESS = 1000;

/** The law of an arm that is hung with weights. */
export function hangLaw(b: OnBench): CurveProblem {
  const a = armOfTest(b);
  const held = b.choice("held");
  const gives = hangGives(b, a, held);
  const pivot = b.choice("sought") === "pivot" && (held === "springy" || held === "propped");
  const perDeg = a.arm.pivotStiffnessNmmPerDeg;
  // a free pin gives without end: then the arm is held by its prop alone
  const pivotGive = perDeg > 0 ? 1 / perDegToPerRad(perDeg) : Number.POSITIVE_INFINITY;
  const name = `${a.name}Inner` as const;
  const notes = [...beyond(b, a), ...shearLost(b, a)];
  const swings = held === "springy" && !pivot && perDeg === 0;
  const stiff: Told = pivot
    ? {
        unknown: 0,
        value: (c) => DEG / c,
        words: `${ARM_WORDS[a.name]}, stiffness of the inner pivot against turning`,
        unit: "N·mm/°",
        paths: b.paths(`${a.name}Arm.pivotStiffnessNmmPerDeg`),
        was: perDeg,
      }
    : young(b, a, 0);
  const law = bendLaw(swings ? { ...b, good: [] } : b, {
    stiff,
    start: pivot ? 1 / perDegToPerRad(perDeg > 0 ? perDeg : PIVOT_GUESS) : 1 / a.youngMPa,
    perN: pivot ? (c) => gives.perN(1 / a.youngMPa, c) : (g) => gives.perN(g, pivotGive),
    perPlay: gives.perPlay,
    // a prop shares the load with springy pivots by how stiff each is
    linear: held !== "propped" || (!pivot && !Number.isFinite(pivotGive)),
    joint: name,
    notes,
    words: { x: "load", y: "sag" },
    playHint: "Loads upwards as well (with a minus) would also tell the play of the inner pins.",
  });
  const reason = "on free pins, as the design has them, the arm swings: tell how it was held, or seek the pivots' stiffness";
  return swings ? { ...law, refused: b.good.map(({ row }) => ({ row, reason })) } : law;
}

/** The law of an arm that is pulled along the road. */
export function alongRoadLaw(b: OnBench): CurveProblem {
  const a = armOfTest(b);
  const byJoint = b.choice("pulledBy") === "joint";
  const joint = `${a.name}Outer` as const;
  const own = give(a.arm, a.lengthMm, a.loadAt, a.readAt, X) * a.youngMPa;
  // as in the car the inner pins are held along the road, and the ball joint is in series
  const extra = byJoint ? 1 / jointNPerMm(b.corner.joints[joint]) : 0;
  return bendLaw(b, {
    stiff: young(b, a, 0),
    start: 1 / a.youngMPa,
    perN: (g) => g * own + extra,
    perPlay: byJoint ? 1 : 0,
    linear: true,
    joint,
    notes: [...beyond(b, a), ...shearLost(b, a)],
    words: { x: "pull", y: "shift" },
    playHint: "Pulls backwards as well (with a minus) would also tell the play of the joint.",
  });
}

interface Bend {
  stiff: Told;
  start: number;
  perN(unknown: number): number;
  perPlay: number;
  /** the give grows evenly with its unknown */
  linear: boolean;
  joint: "lowerInner" | "upperInner" | "lowerOuter" | "upperOuter";
  notes: string[];
  words: { x: string; y: string };
  playHint: string;
}

/** reading = zero ± play + load · give; with loads of one sign alone the play cannot be told from the zero. */
function bendLaw(b: OnBench, d: Bend): CurveProblem {
  const read = b.good.map(({ row, values: [x, y] }) => ({ row, x: x!, y: y! }));
  const loads = read.map((p) => p.x);
  const withPlay = d.perPlay !== 0 && bothWays(loads);
  const points = withPlay ? read.filter((p) => p.x !== 0) : read;
  const way = wayOf(read);
  const play: Told = {
    unknown: 2,
    value: (mm) => mm,
    words: `${JOINT_WORDS[d.joint]}, play in its hole (radial clearance)`,
    unit: "mm",
    paths: b.paths(`joints.${d.joint}.clearanceMm`),
    was: b.corner.joints[d.joint].clearanceMm,
    least: 0,
  };
  const first = points[0]?.y ?? 0;
  return {
    axes: { x: { words: d.words.x, unit: "N" }, y: { words: d.words.y, unit: "mm" } },
    points,
    refused: withPlay ? read.filter((p) => p.x === 0).map(({ row }) => ({ row, reason: "without a load the pin may lie anywhere in its play" })) : [],
    start: withPlay ? [d.start, first, b.corner.joints[d.joint].clearanceMm] : [d.start, first],
    law: ([give1, zero, clearance], x) => zero! + way * (x * d.perN(give1!) + (withPlay ? Math.sign(x) * d.perPlay * clearance! : 0)),
    linear: d.linear,
    roundingSd: stepSd(b.number("rulerMm")),
    told: withPlay ? [d.stiff, play] : [d.stiff],
    follows: (x) => way * Math.sign(x),
    loopWords: "between loading and unloading (friction, creep)",
    xWords: "loads",
    notes: [...d.notes, ...(way < 0 ? [COUNTS_BACK] : []), ...(d.perPlay !== 0 && !withPlay ? [d.playHint] : [])],
  };
}
