import { cornerArms3d } from "../arm/corner-arms.ts";
import { JOINT_NAMES, type Scenario, SIDES, type Side } from "../design/types.ts";
import { type ThrustTest, thrustTest } from "../drive/thrust-on-arms.ts";
import { type AxleModel, buildAxle } from "../equilibrium/model.ts";
import { createSolver } from "../equilibrium/newton.ts";
import { REST, solveCold } from "../equilibrium/solve.ts";
import type { NoEquilibrium } from "../equilibrium/state.ts";
import { BODY_TURN, HEAVE } from "../equilibrium/unknowns.ts";
import { degToRad, radToDeg } from "../units.ts";
import { type Clamped, type RigInput, type RigPath, type RigPoint, type RigReading, readRig, slopesAtZero, solveClamped } from "./clamped.ts";

/**
 * Rig mode: the measurements of a kinematics-and-compliance rig. The body is clamped where the car stands at rest, a pad that
 * floats sideways stands under each wheel; weights stay. Every curve starts from that rest, whose values are in its row at 0.
 */

interface RigRow extends RigPoint {
  /** the test's own input: mm, degrees or N */
  at: number;
}

export interface RigCurve {
  /** what is moved, in plain words */
  moves: string;
  unit: "mm" | "°" | "N";
  /** ascending, 0 among them */
  rows: RigRow[];
  /** change of each reading per unit of the input, at 0: exact, not fitted */
  slopes: { left: RigReading; right: RigReading; clampMomentNmm: number };
  /** why the curve ends before the wished input; null: it does not */
  endsBelow: string | null;
  endsAbove: string | null;
}

interface BumpSlopes {
  /** change of camber per mm that the wheel centre rises against the body, °/mm */
  camberDegPerMm: number;
  /** outward shift of the tread's middle per mm of wheel travel (half-track change) */
  contactOutPerMm: number;
  /** force on the pad per mm that the wheel centre rises, N/mm */
  wheelRateAtCentreNPerMm: number;
  /** force on the pad per mm that the unpressed tread would rise, N/mm */
  wheelRateAtContactNPerMm: number;
  /** force on the pad per mm of pad travel: suspension and tyre in series, N/mm */
  padRateNPerMm: number;
  /** spring shortening per mm of wheel travel */
  motionRatio: number;
}

interface LateralSlopes {
  /** positive: a force that pulls the wheel outwards leans its top outwards, °/N */
  camberDegPerN: number;
  /** outward give of the tread on the pad, and of the wheel centre, mm/N */
  contactMmPerN: number;
  wheelCentreMmPerN: number;
}

/** What play leaves open in the push-pull test. */
interface PlayBand {
  /** spread of camber, °, and of the tread's place, mm */
  camberDeg: number;
  contactMm: number;
}

export interface RigReport {
  /** where the body is clamped: rise of its centre of gravity and roll (positive: left side up) at rest */
  held: { heaveMm: number; rollDeg: number };
  /** both pads up and down together, mm */
  bump: RigCurve & { perWheel: Record<Side, BumpSlopes> };
  /** body turned about its centre of gravity, left side up positive, pads level and at rest height, ° */
  roll: RigCurve & {
    /** change of camber against the road per degree of roll */
    camberDegPerDeg: Record<Side, number>;
    /** moment of the axle against the clamp per degree, N·mm/°, anti-roll bar included, rest of the car left out */
    stiffnessNmmPerDeg: number;
  };
  /** both wheels pulled outwards (negative: pushed inwards) on their pads, pads at rest height, N on each */
  lateral: RigCurve & {
    perWheel: Record<Side, LateralSlopes>;
    /**
     * Hysteresis band: the curve set against the same test with every clearance and play closed; spread of the difference. Pins
     * without friction trace no loop; a rig, whose pins have some, traces one of this width. null: no clearance or play (or the
     * car without them finds no rest).
     */
    band: Record<Side, PlayBand | null>;
  };
  /** force forwards on one wheel, from the arms' spatial stiffness */
  thrust: Record<Side, ThrustTest>;
}

export type Rig = { ok: true; report: RigReport } | { ok: false; reason: NoEquilibrium };

export interface RigOptions {
  /** pad travel up and down, mm; default: the scenario's travel for the fit */
  upMm?: number;
  downMm?: number;
  /** body roll either way, °; default: what moves the wheels by the smaller of the two */
  rollDeg?: number;
  /** side force either way, N; default: the lighter wheel's grip at rest */
  sideN?: number;
  /** steps from 0 to each end */
  steps?: number;
}

/** Least travel of the bump test: a scenario may ask for no sweep at all. */
const LEAST_TRAVEL_MM = 2;
const STEPS = 12;
/** A step that fails is halved this often before the curve ends. */
const HALVINGS = 5;
/** Below this share of its rest load a wheel has left its pad. */
const OFF_PAD_SHARE = 1e-3;

/** What a rig would measure on the axle, its body clamped as it stands at rest. */
export function rigTests(scenario: Scenario, options: RigOptions = {}): Rig {
  const model = buildAxle(scenario);
  const clamped = clampAtRest(model);
  if (!clamped.ok) return clamped;
  const { c, zero } = clamped;
  const rest = readRig(c, c.q, zero);
  const steps = options.steps ?? STEPS;
  const up = options.upMm ?? Math.max(LEAST_TRAVEL_MM, scenario.fit.bumpTravelMm);
  const down = options.downMm ?? Math.max(LEAST_TRAVEL_MM, scenario.fit.droopTravelMm);
  const halfTrack = Math.min(...model.corners.map((k) => Math.abs(k.centre[0])));
  const roll = options.rollDeg ?? radToDeg(Math.atan2(Math.min(up, down), halfTrack));
  const grip = options.sideN ?? Math.min(...model.corners.map((k) => k.tyre.friction * rest[k.side].verticalLoadN));

  const bumpPath: RigPath = (t) => ({ ...zero, padMm: { left: t, right: t } });
  const rollPath: RigPath = (t) => ({ ...zero, turnRad: zero.turnRad - degToRad(t) });
  const bump = runTest(c, bumpPath, "both pads rise together", "mm", down, up, steps, rest);
  const rolled = runTest(c, rollPath, "the body rolls, left side up", "°", roll, roll, steps, rest);
  const lateral = runTest(c, sidePath(zero), PULLED, "N", grip, grip, steps, rest);
  const bands = playBands(scenario, lateral, grip, steps);
  return {
    ok: true,
    report: {
      held: { heaveMm: zero.heaveMm, rollDeg: radToDeg(-zero.turnRad) + 0 },
      bump: { ...bump, perWheel: bySide((s) => bumpSlopes(bump.slopes[s])) },
      roll: { ...rolled, camberDegPerDeg: bySide((s) => rolled.slopes[s].camberDeg), stiffnessNmmPerDeg: -rolled.slopes.clampMomentNmm },
      lateral: {
        ...lateral,
        perWheel: bySide((s) => ({
          camberDegPerN: lateral.slopes[s].camberDeg,
          contactMmPerN: lateral.slopes[s].contactOutMm,
          wheelCentreMmPerN: lateral.slopes[s].wheelOutMm,
        })),
        band: bands,
      },
      thrust: bySide((s) => {
        const { corner } = model.corners[s === "left" ? 0 : 1];
        return thrustTest(corner, cornerArms3d(corner));
      }),
    },
  };
}

const bySide = <T>(f: (s: Side) => T): Record<Side, T> => ({ left: f("left"), right: f("right") });

const PULLED = "each wheel is pulled outwards";
const sidePath =
  (zero: RigInput): RigPath =>
  (t) => ({ ...zero, outwardN: { left: t, right: t } });

/** Clamps the body where the car comes to rest on a level road. */
function clampAtRest(model: AxleModel): { ok: true; c: Clamped; zero: RigInput } | { ok: false; reason: NoEquilibrium } {
  const solver = createSolver(model);
  const r = solveCold(model, REST, solver);
  if (!r.ok) return r;
  const zero: RigInput = { padMm: { left: 0, right: 0 }, outwardN: { left: 0, right: 0 }, heaveMm: r.q[HEAVE]!, turnRad: r.q[BODY_TURN]! };
  return { ok: true, c: { model, solver, q: r.q }, zero };
}

/** Ratio of two slopes; a wheel that hangs in the air moves nothing: 0. */
const per = (a: number, b: number): number => (a === 0 ? 0 : a / b);

function bumpSlopes(s: RigReading): BumpSlopes {
  return {
    camberDegPerMm: per(s.camberDeg, s.wheelTravelMm),
    contactOutPerMm: per(s.contactOutMm, s.wheelTravelMm),
    wheelRateAtCentreNPerMm: per(s.verticalLoadN, s.wheelTravelMm),
    wheelRateAtContactNPerMm: per(s.verticalLoadN, s.contactRiseMm),
    padRateNPerMm: s.verticalLoadN,
    motionRatio: per(-s.springLengthMm, s.wheelTravelMm),
  };
}

/** Follows one test from 0 to both ends; the axle stands at 0 again afterwards. */
function runTest(c: Clamped, path: RigPath, moves: string, unit: RigCurve["unit"], below: number, above: number, steps: number, rest: RigPoint): RigCurve {
  const home = c.q;
  // once more at 0, so that the tangent is the one that belongs there
  solveClamped(c, path(0));
  const slopes = slopesAtZero(c, path);
  const way = (end: number): { rows: RigRow[]; ends: string | null } => {
    const rows: RigRow[] = [];
    c.q = home;
    for (let i = 1; i <= steps; i++) {
      const at = (end * i) / steps;
      const reached = follow(c, path, (end * (i - 1)) / steps, at);
      if (reached !== at) return { rows, ends: `no steady position beyond ${valueWords(reached, unit)}` };
      const row = { at, ...readRig(c, c.q, path(at)) };
      const off = SIDES.find((s) => row[s].verticalLoadN <= OFF_PAD_SHARE * rest[s].verticalLoadN);
      if (off) return { rows, ends: `the ${off} wheel leaves its pad before ${valueWords(at, unit)}` };
      rows.push(row);
    }
    return { rows, ends: null };
  };
  const low = below > 0 ? way(-below) : { rows: [], ends: null };
  const high = above > 0 ? way(above) : { rows: [], ends: null };
  c.q = home;
  return {
    moves,
    unit,
    rows: [...low.rows.reverse(), { at: 0, ...rest }, ...high.rows],
    slopes,
    endsBelow: low.ends,
    endsAbove: high.ends,
  };
}

const valueWords = (at: number, unit: string): string => `${at.toFixed(2)}${unit === "°" ? "" : " "}${unit}`;

/** Goes from `from` to `to` in steps as long as it can; returns how far it came. */
function follow(c: Clamped, path: RigPath, from: number, to: number): number {
  let at = from;
  let step = to - from;
  const least = Math.abs(step) / 2 ** HALVINGS;
  while (at !== to) {
    const next = Math.abs(to - at) <= Math.abs(step) ? to : at + step;
    if (solveClamped(c, path(next))) at = next;
    else {
      step /= 2;
      if (Math.abs(step) < least) return at;
    }
  }
  return at;
}

/** Closes every clearance and play of a model; false: there was none. */
function closePlay(model: AxleModel): boolean {
  let any = false;
  for (const k of model.corners) {
    for (const name of JOINT_NAMES) {
      const j = k.joints[name];
      any ||= j.clearance > 0;
      j.clearance = 0;
      j.kc = 0;
    }
    any ||= k.bearing.play > 0;
    k.bearing.play = 0;
    k.bearing.kc = 0;
  }
  return any;
}

/** Spread of the push-pull curve about the one with all play closed, each car clamped at its own rest. */
function playBands(scenario: Scenario, curve: RigCurve, end: number, steps: number): Record<Side, PlayBand | null> {
  const model = buildAxle(scenario);
  if (!closePlay(model)) return { left: null, right: null };
  const closed = clampAtRest(model);
  if (!closed.ok) return { left: null, right: null };
  const { c, zero } = closed;
  const firm = runTest(c, sidePath(zero), PULLED, "N", end, end, steps, readRig(c, c.q, zero));
  const spread = (f: (r: RigRow) => number): number => {
    const over = curve.rows.flatMap((r) => firm.rows.filter((s) => s.at === r.at).map((s) => f(r) - f(s)));
    return Math.max(...over) - Math.min(...over);
  };
  return bySide((s) => ({ camberDeg: spread((r) => r[s].camberDeg), contactMm: spread((r) => r[s].contactOutMm) }));
}
