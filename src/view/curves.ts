import { scaleLinear } from "d3-scale";
import type { CurvesAnswer, CurvesPoint } from "../core/studies/axle-curves.ts";
import { degrees, fixed } from "./format.ts";

export interface Series {
  key: string;
  design: "a" | "b";
  name: string;
  thin: boolean;
  points: [number, number][];
}

export interface ChartModel {
  key: string;
  title: string;
  term: string;
  xName: string;
  xUnit: string;
  yUnit: string;
  digits: number;
  x: { min: number; max: number; ticks: number[] };
  y: { min: number; max: number; ticks: number[] };
  series: Series[];
  rules: { y: number; words: string }[];
  /** present load on the horizontal axis; null: none */
  now: number | null;
  dots: { design: "a" | "b"; x: number; y: number; words: string }[];
}

/** Value of a curve at x, straight between its points; null outside. */
export function valueAt(points: readonly [number, number][], x: number): number | null {
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1] as [number, number];
    const [x1, y1] = points[i] as [number, number];
    if (x >= Math.min(x0, x1) && x <= Math.max(x0, x1)) return x1 === x0 ? y0 : y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
  }
  return null;
}

/** @param digits told behind the point: what differs by less is drawn as a level line */
function range(series: readonly Series[], rules: readonly { y: number }[], withZero: boolean, digits: number): { min: number; max: number; ticks: number[] } {
  const values = series.flatMap((s) => s.points.map((p) => p[1])).filter(Number.isFinite);
  for (const r of rules) values.push(r.y);
  if (withZero) values.push(0);
  let low = Math.min(...values);
  let high = Math.max(...values);
  const least = 4 * 10 ** -digits;
  if (high - low < least) [low, high] = [(low + high - least) / 2, (low + high + least) / 2];
  if (!Number.isFinite(low)) [low, high] = [0, 1];
  const roundTo = (count: number): { min: number; max: number; ticks: number[] } => {
    const step = tickStep(low, high, count);
    const from = Math.floor(low / step + 1e-9);
    const to = Math.ceil(high / step - 1e-9);
    const ticks = Array.from({ length: to - from + 1 }, (_, i) => Math.round((from + i) * step * 1e9) / 1e9);
    return { min: ticks[0] as number, max: ticks.at(-1) as number, ticks };
  };
  const three = roundTo(3);
  return three.ticks.length <= 4 ? three : roundTo(2);
}

const pick = (s: CurvesAnswer["sweep"], f: (p: CurvesPoint) => number): [number, number][] => s.points.map((p) => [p.g, f(p)]);

/** What pulls at the wheel that the hub's line stands for. */
const hubPull = (p: CurvesPoint, wheel: 0 | 1 | null): number => (wheel === null ? Math.max(...p.hubDemand) : p.hubDemand[wheel]);

/** Step of round ticks between two values, about `count` of them. */
function tickStep(low: number, high: number, count: number): number {
  const ticks = scaleLinear().domain([low, high]).ticks(count);
  return ticks.length > 1 ? (ticks[1] as number) - (ticks[0] as number) : high - low;
}

interface Sets {
  a: CurvesAnswer | null;
  b: CurvesAnswer | null;
}

function over(sets: Sets, f: (c: CurvesAnswer, design: "a" | "b") => Series[]): Series[] {
  return [...(sets.b ? f(sets.b, "b") : []), ...(sets.a ? f(sets.a, "a") : [])];
}

function finish(
  base: Omit<ChartModel, "y" | "dots" | "x">,
  x: ChartModel["x"],
  withZero: boolean,
  dotSeries: (s: Series) => boolean,
  words: (y: number) => string,
): ChartModel {
  const dots: ChartModel["dots"] = [];
  if (base.now !== null) {
    for (const s of base.series.filter(dotSeries)) {
      const y = valueAt(s.points, base.now);
      if (y !== null) dots.push({ design: s.design, x: base.now, y, words: words(y) });
    }
  }
  return { ...base, x, y: range(base.series, base.rules, withZero, base.digits), dots };
}

/** Points that were taken out of a set before: the curves of the design that is not dragged stay the same objects. */
const taken = new WeakMap<CurvesAnswer, Map<string, [number, number][]>>();

function points(c: CurvesAnswer, key: string, make: () => [number, number][]): [number, number][] {
  let known = taken.get(c);
  if (!known) {
    known = new Map();
    taken.set(c, known);
  }
  const found = known.get(key);
  if (found) return found;
  const made = make();
  known.set(key, made);
  return made;
}

/** The charts of the drawer. `g` and `travelMm` are the present load and the outer wheel's travel. */
export function charts(sets: Sets, g: number, travelMm: number | null, gMost: number, limitDeg: number): ChartModel[] {
  const size = Math.abs(g);
  const outer = g >= 0 ? 1 : 0;
  const inner = 1 - outer;
  const gx = { min: 0, max: gMost, ticks: [0, gMost / 2, gMost] };
  const travel = [...(sets.a?.travel ?? []), ...(sets.b?.travel ?? [])].map((p) => p.mm);
  const tx = travel.length
    ? { min: Math.min(...travel), max: Math.max(...travel), ticks: [Math.min(...travel), 0, Math.max(...travel)] }
    : { min: -10, max: 10, ticks: [-10, 0, 10] };
  const one = (key: string, f: (c: CurvesAnswer) => [number, number][]): Series[] =>
    over(sets, (c, design) => [{ key: `${key}.${design}`, design, name: "", thin: false, points: points(c, `${key} ${outer}`, () => f(c)) }]);
  const hub = sets.a?.sweep ?? sets.b?.sweep;
  const unit = hub?.hubUnit ?? "N";
  return [
    finish(
      {
        key: "lean",
        title: "Lean of the outer wheel",
        term: "camber, °",
        xName: "cornering",
        xUnit: "g",
        yUnit: "°",
        digits: 1,
        series: one("lean", (c) => pick(c.sweep, (p) => p.camberDeg[outer] as number)),
        rules: [{ y: limitDeg, words: `limit ${fixed(limitDeg, 0)}` }],
        now: size,
      },
      gx,
      true,
      () => true,
      (y) => degrees(y),
    ),
    finish(
      {
        key: "weight",
        title: "Weight on each wheel",
        term: "wheel load, N",
        xName: "cornering",
        xUnit: "g",
        yUnit: "N",
        digits: 1,
        series: over(sets, (c, design) => [
          {
            key: `outer.${design}`,
            design,
            name: "outer",
            thin: false,
            points: points(c, `outer ${outer}`, () => pick(c.sweep, (p) => p.verticalN[outer] as number)),
          },
          {
            key: `inner.${design}`,
            design,
            name: "inner",
            thin: true,
            points: points(c, `inner ${outer}`, () => pick(c.sweep, (p) => p.verticalN[inner] as number)),
          },
        ]),
        rules: [],
        now: size,
      },
      gx,
      true,
      (s) => s.name === "outer",
      (y) => fixed(y, 1),
    ),
    finish(
      {
        key: "hub",
        title: "Pull on the hub",
        term: unit === "N" ? "as a straight pull, N" : `load of what holds it, ${unit}`,
        xName: "cornering",
        xUnit: "g",
        yUnit: unit,
        digits: 0,
        series: one("hub", (c) => pick(c.sweep, (p) => hubPull(p, c.sweep.hubWheel))),
        rules: hub ? [{ y: hub.hubCapacity, words: `gives ${fixed(hub.hubCapacity, 0)}` }] : [],
        now: size,
      },
      gx,
      true,
      (s) => s.design === "a",
      (y) => `${fixed(y, 0)} ${unit}`,
    ),
    finish(
      {
        key: "gain",
        title: "Lean over wheel travel",
        term: "camber gain, °",
        xName: "wheel travel",
        xUnit: "mm",
        yUnit: "°",
        digits: 1,
        series: one("gain", (c) => c.travel.map((p) => [p.mm, p.camberDeg])),
        rules: [],
        now: travelMm,
      },
      tx,
      true,
      () => true,
      (y) => degrees(y),
    ),
    finish(
      {
        key: "rollCentre",
        title: "Height of the body roll",
        term: "roll centre, mm",
        xName: "wheel travel",
        xUnit: "mm",
        yUnit: "mm",
        digits: 0,
        series: one("rollCentre", (c) => c.travel.map((p) => [p.mm, p.rollCentreMm])),
        rules: [],
        now: travelMm,
      },
      tx,
      true,
      () => true,
      (y) => fixed(y, 0),
    ),
    finish(
      {
        key: "ratio",
        title: "Spring per wheel travel",
        term: "motion ratio",
        xName: "wheel travel",
        xUnit: "mm",
        yUnit: "",
        digits: 2,
        series: one("ratio", (c) => c.travel.map((p) => [p.mm, p.motionRatio])),
        rules: [],
        now: travelMm,
      },
      tx,
      false,
      () => true,
      (y) => fixed(y, 2),
    ),
  ];
}
