import { bearingTilt } from "../equilibrium/bearing.ts";
import { type TreadOut, tread, treadOut } from "../equilibrium/tread.ts";
import { DEG, perDegToPerRad, radToDeg, weightN } from "../units.ts";
import type { CurveProblem, Told } from "./curve.ts";
import { bothWays, COUNTS_BACK, type OnBench, stepSd, wayOf } from "./good-rows.ts";

/** Bearings and tyres on the bench, through the laws of the axle's equilibrium. */

const points = (b: OnBench): { row: number; x: number; y: number }[] => b.good.map(({ row, values: [x, y] }) => ({ row, x: x!, y: y! }));
const readings = (b: OnBench): number[] => b.good.map((g) => g.values[1]!);
const scaleSd = (b: OnBench): number => stepSd(weightN(b.number("scaleG") / 1000));
/** both parts of a reading's rounding, one brought over by the slope */
const both = (a: number, c: number): number => Math.sqrt(a * a + c * c);

/**
 * The bearing's tilt under a pull at a distance from the axle: moment = pull times distance about the bearing's middle, which lies on the
 * axle; the pull stays along the axle (its turning with the wheel, 1 - cos, is 0.4 % at 5°). What the hub gives between its ball joints
 * counts as the bearing's. tilt = zero ± play + moment / k.
 */
export function tiltLaw(b: OnBench): CurveProblem {
  const arm = b.number("pullAtMm");
  const read = points(b);
  const way = wayOf(read);
  const withPlay = bothWays(read.map((p) => p.x));
  const { hub } = b.corner;
  const byRuler = /mm|cm|hole/.test(b.test.units[1] ?? "");
  const stiff: Told = {
    unknown: 0,
    value: (give) => DEG / give,
    words: "bearing, stiffness against tilt",
    unit: "N·mm/°",
    paths: b.paths("hub.tiltStiffnessNmmPerDeg"),
    was: hub.tiltStiffnessNmmPerDeg,
  };
  const play: Told = {
    unknown: 2,
    value: (deg) => deg,
    words: "bearing, tilt play to either side",
    unit: "°",
    paths: b.paths("hub.tiltPlayDeg"),
    was: hub.tiltPlayDeg,
    least: 0,
  };
  const start = [1 / perDegToPerRad(hub.tiltStiffnessNmmPerDeg), read[0]?.y ?? 0, hub.tiltPlayDeg];
  return {
    axes: { x: { words: "pull", unit: "N" }, y: { words: "tilt", unit: "°" } },
    points: read.filter((p) => p.x !== 0),
    refused: read.filter((p) => p.x === 0).map(({ row }) => ({ row, reason: "without a pull the wheel stands anywhere in its play" })),
    start: withPlay ? start : start.slice(0, 2),
    law: ([give, zero, free], x) => zero! + way * (withPlay ? radToDeg(bearingTilt({ k: 1 / give!, play: free! * DEG }, x * arm)) : radToDeg(x * arm * give!)),
    linear: true,
    roundingSd: byRuler ? radToDeg(stepSd(b.number("rulerMm")) / b.number("readAtMm")) : stepSd(b.number("levelDeg")),
    told: withPlay ? [stiff, play] : [stiff],
    follows: (x) => way * Math.sign(x),
    loopWords: "between pulling and letting go (friction)",
    xWords: "pulls",
    notes: [
      ...(way < 0 ? [COUNTS_BACK] : []),
      ...(withPlay || read.length === 0
        ? []
        : ["Pulls the other way as well (with a minus) would also tell the play: from one side it cannot be told from the middle."]),
    ],
  };
}

/** The tread on a level ground under a load, the wheel leaned. */
interface Pressed {
  /** the tread's middle pressed in by, mm */
  sinkMm: number;
  /** place of the road's force sideways of the wheel's centre, mm, in the picture's frame */
  forceAtMm: number;
}

interface Bed {
  radiusMm: number;
  widthMm: number;
  nPerMm: number;
  crownRadiusMm: number | null;
}

const scratch: TreadOut = treadOut();
const MOST_STEPS = 60;

/** How a tread stands under a load, N, leaned by `turn`, rad counter-clockwise: the axle's own tread law, solved for its height. */
export function pressedTread(bed: Bed, loadN: number, turn: number): Pressed {
  const { radiusMm: radius, widthMm, crownRadiusMm } = bed;
  const model = {
    radius,
    halfWidth: widthMm / 2,
    rate: bed.nPerMm / widthMm,
    crown: crownRadiusMm === null ? 0 : 1 / (2 * crownRadiusMm),
    lateralK: Number.POSITIVE_INFINITY,
    friction: 1,
    exponent: 1,
    verticalFactor: 1,
    tiltFactor: 1,
  };
  const at = (sink: number): TreadOut => {
    tread(model, radius * Math.cos(turn) - sink, turn, 0, 0, scratch);
    return scratch;
  };
  // the force grows with the sink, from no contact on: bisection cannot fail, Newton makes it quick
  let low = -Math.abs(Math.sin(turn)) * model.halfWidth;
  let high = low + 1;
  while (at(high).force < loadN && high < 1e6) high = 2 * high - low;
  let sink = (low + high) / 2;
  for (let i = 0; i < MOST_STEPS; i++) {
    const t = at(sink);
    const over = t.force - loadN;
    if (Math.abs(over) <= 1e-12 * Math.max(1, loadN)) break;
    if (over > 0) high = sink;
    else low = sink;
    const next = sink - over / t.j[0]!;
    sink = next > low && next < high ? next : (low + high) / 2;
  }
  const t = at(sink);
  const moment = t.force * radius * Math.sin(turn) + t.moment * Math.cos(turn) - t.second * model.crown * Math.sin(turn);
  return { sinkMm: sink, forceAtMm: t.force > 0 ? moment / t.force : radius * Math.sin(turn) };
}

const bedOf = ({ corner }: OnBench): Bed => ({
  radiusMm: corner.wheel.radiusMm,
  widthMm: corner.tyre.effectiveWidthMm ?? corner.wheel.treadWidthMm,
  nPerMm: corner.tyre.verticalNPerMm,
  crownRadiusMm: corner.tyre.crownRadiusMm,
});

/** A tyre pressed flat: reading = zero + sink of the tread under the load. */
export function pressLaw(b: OnBench): CurveProblem {
  const read = points(b);
  const way = wayOf(read);
  const bed = bedOf(b);
  // a flat tread sinks by load over stiffness; a crowned one by the tread's law, in which load and stiffness come as their quotient
  const sink = (share: number): number => (bed.crownRadiusMm === null ? share : share > 0 ? pressedTread({ ...bed, nPerMm: 1 }, share, 0).sinkMm : 0);
  const stiff: Told = {
    unknown: 0,
    value: (give) => 1 / give,
    words: "tyre, stiffness pressed flat",
    unit: "N/mm",
    paths: b.paths("tyre.verticalNPerMm"),
    was: bed.nPerMm,
  };
  return {
    axes: { x: { words: "load", unit: "N" }, y: { words: "sink", unit: "mm" } },
    points: read,
    refused: [],
    start: [1 / bed.nPerMm, read[0]?.y ?? 0],
    law: ([give, zero], x) => zero! + way * sink(x * give!),
    linear: bed.crownRadiusMm === null,
    roundingSd: both(stepSd(b.number("rulerMm")), scaleSd(b) / bed.nPerMm),
    told: [stiff],
    follows: () => way,
    loopWords: "between pressing and letting up (rubber)",
    xWords: "loads",
    notes: way < 0 ? [COUNTS_BACK] : [],
  };
}

/** Sideways stiffness that is taken where the design has none, to begin with, N/mm. */
const SIDEWAYS_GUESS = 25;

/** A tyre pulled sideways: reading = zero + pull / stiffness, as its carcass gives in the axle. */
export function sidewaysLaw(b: OnBench): CurveProblem {
  const read = points(b);
  const way = wayOf(read);
  const now = b.corner.tyre.lateralNPerMm;
  return {
    axes: { x: { words: "pull", unit: "N" }, y: { words: "shift", unit: "mm" } },
    points: read,
    refused: [],
    start: [1 / (now ?? SIDEWAYS_GUESS), read[0]?.y ?? 0],
    law: ([give, zero], x) => zero! + way * x * give!,
    linear: true,
    roundingSd: both(stepSd(b.number("rulerMm")), scaleSd(b) / (now ?? SIDEWAYS_GUESS)),
    told: [{ unknown: 0, value: (give) => 1 / give, words: "tyre, stiffness sideways", unit: "N/mm", paths: b.paths("tyre.lateralNPerMm"), was: now }],
    follows: (x) => way * Math.sign(x),
    loopWords: "between pulling and letting go (rubber)",
    xWords: "pulls",
    notes: way < 0 ? [COUNTS_BACK] : [],
  };
}

/** A lean at which the tread's edge surely tells, °, for the slope of the scale by the lean. */
const SLOPE_DEG = 1;

/**
 * A loaded wheel leaned on a board whose one end lies on a scale: the road's force wanders across the tread, and the scale shows its
 * shift times the load over the board's span. scale = zero + load · shift / span, the shift by the tread's law.
 */
export function leanLaw(b: OnBench): CurveProblem {
  const read = points(b);
  const bed = bedOf(b);
  const loadN = weightN(b.number("pressKg"));
  const span = b.number("spanMm");
  const aboutAxle = b.choice("about") === "axle";
  // counter-clockwise leans to the left, where the scale is taken to stand: there a place counts with a minus
  const shift = (widthMm: number, deg: number): number => {
    const turn = deg * DEG;
    const at = pressedTread({ ...bed, widthMm }, loadN, turn).forceAtMm;
    return -(aboutAxle ? at : at - bed.radiusMm * Math.sin(turn));
  };
  const expected = read.map((p) => ({ x: shift(bed.widthMm, p.x), y: p.y }));
  const way = wayOf(expected);
  const slope = ((shift(bed.widthMm, SLOPE_DEG) - shift(bed.widthMm, -SLOPE_DEG)) / (2 * SLOPE_DEG)) * (loadN / span);
  const treadMm = b.corner.wheel.treadWidthMm;
  return {
    axes: { x: { words: "lean", unit: "°" }, y: { words: "scale", unit: "N" } },
    points: read,
    refused: [],
    start: [bed.widthMm, readings(b).reduce((s, v) => s + v, 0) / Math.max(1, read.length)],
    law: ([width, zero], x) => (width! > 0 ? zero! + (way * loadN * shift(width!, x)) / span : Number.NaN),
    linear: false,
    roundingSd: both(scaleSd(b), slope * stepSd(b.number("levelDeg"))),
    told: [
      {
        unknown: 0,
        value: (width) => width,
        words: "tyre, width of the tread that carries",
        unit: "mm",
        paths: b.paths("tyre.effectiveWidthMm"),
        was: b.corner.tyre.effectiveWidthMm,
        most: treadMm,
      },
    ],
    follows: null,
    loopWords: "",
    xWords: "leans",
    notes: [
      ...(way < 0 ? ["The scale falls where it should rise: taken as leans away from it."] : []),
      `The tyre's stiffness pressed flat is taken as the design has it, ${Number(bed.nPerMm.toPrecision(4))} N/mm; the tread is ${treadMm} mm wide.`,
    ],
  };
}
