import { weightN } from "../units.ts";
import type { CurveProblem, Told } from "./curve.ts";
import { type OnBench, stepSd } from "./good-rows.ts";

/**
 * A spring on a scale, through the axle's spring law: length = free length + packing - load / (springs · rate), and where readings go on
 * beyond a kink the stop's as well: it begins at the kink's length and pushes beside the spring.
 */

type Point = { row: number; x: number; y: number };

const line = (p: readonly Point[]): { give: number; zero: number; squares: number } => {
  const mean = (f: (q: Point) => number): number => p.reduce((s, q) => s + f(q), 0) / p.length;
  const [mx, my] = [mean((q) => q.x), mean((q) => q.y)];
  const sxx = p.reduce((s, q) => s + (q.x - mx) ** 2, 0);
  const give = sxx > 0 ? p.reduce((s, q) => s + (q.x - mx) * (q.y - my), 0) / sxx : 0;
  const zero = my - give * mx;
  return { give, zero, squares: p.reduce((s, q) => s + (q.y - zero - give * q.x) ** 2, 0) };
};

/** Fewest readings on either side of a kink. */
const SIDE = 3;
/** A kink has to take this much of what a straight line leaves, and the spring beyond be this much stiffer. */
const BETTER = 0.25;
const STIFFER = 2;

/** Load at which the stop begins, by the best two lines; null where one line does. */
function kinkOf(p: readonly Point[], sd: number): { load: number; below: number } | null {
  const sorted = [...p].sort((a, b) => a.x - b.x);
  const one = line(sorted);
  let best: { load: number; below: number; squares: number } | null = null;
  for (let i = SIDE; i <= sorted.length - SIDE; i++) {
    const a = line(sorted.slice(0, i));
    const b = line(sorted.slice(i));
    const load = (b.zero - a.zero) / (a.give - b.give);
    const squares = a.squares + b.squares;
    const inside = load >= sorted[i - 1]!.x - spread(sorted) && load <= sorted[i]!.x + spread(sorted);
    if (inside && a.give < 0 && b.give <= 0 && Math.abs(a.give) > STIFFER * Math.abs(b.give) && (best === null || squares < best.squares))
      best = { load, below: -b.give, squares };
  }
  const noise = sd * sd * Math.max(1, sorted.length - 4);
  return best !== null && Math.max(best.squares, noise) < BETTER * one.squares ? best : null;
}

/** half of the mean distance of loads */
const spread = (sorted: readonly Point[]): number => (sorted.at(-1)!.x - sorted[0]!.x) / (2 * (sorted.length - 1));

/** The law of a spring, with its stop where the readings reach it. */
export function pressSpringLaw(b: OnBench): CurveProblem {
  const read = b.good.map(({ row, values: [x, y] }) => ({ row, x: x!, y: y! }));
  const { spring } = b.corner;
  const count = Math.round(b.number("count"));
  const packing = b.number("packingMm");
  const roundingSd = Math.sqrt(stepSd(b.number("rulerMm")) ** 2 + (stepSd(weightN(b.number("scaleG") / 1000)) / (count * spring.rateNPerMm)) ** 2);
  const kink = read.length >= 2 * SIDE ? kinkOf(read, roundingSd) : null;
  const told: Told[] = [
    {
      unknown: 0,
      value: (give) => 1 / (count * give),
      words: "spring, rate of one",
      unit: "N/mm",
      paths: b.paths("spring.rateNPerMm"),
      was: spring.rateNPerMm,
    },
    { unknown: 1, value: (mm) => mm, words: "spring, free length", unit: "mm", paths: b.paths("spring.freeLengthMm"), was: spring.freeLengthMm },
  ];
  const stop: Told = {
    unknown: 2,
    value: (mm) => mm,
    words: "spring, length at which the bump stop begins",
    unit: "mm",
    paths: b.paths("spring.bumpStop.lengthMm"),
    was: spring.bumpStop.lengthMm,
  };
  const before = kink === null ? read : read.filter((p) => p.x < kink.load);
  const first = before.length > 1 ? line(before) : { give: 0, zero: 0 };
  const give = first.give < 0 ? -first.give : 1 / (count * spring.rateNPerMm);
  const free = first.give < 0 ? first.zero - packing : spring.freeLengthMm;
  const start = [give, free];
  if (kink !== null) start.push(free + packing - give * kink.load, kink.below > 0 ? kink.below : give / 100);
  const rising = read.length > 1 && line(read).give > 0;
  return {
    axes: { x: { words: "load", unit: "N" }, y: { words: "length", unit: "mm" } },
    points: read,
    refused: [],
    start: rising ? start.slice(0, 2) : start,
    law: ([g, f, at, beyond], x) => lengthUnder({ give: g!, free: f! + packing, stopAt: at, beyond }, x),
    linear: kink === null || rising,
    roundingSd,
    told: kink === null || rising ? told : [...told, stop],
    follows: () => -1,
    loopWords: "between pressing and letting up (friction)",
    xWords: "loads",
    notes: rising ? ["The length grows with the load: type the length that is left, not how far the spring was pressed."] : [],
  };
}

/** Length, mm, under a load, N: gives of all springs together and beyond the stop, mm/N. */
function lengthUnder(s: { give: number; free: number; stopAt: number | undefined; beyond: number | undefined }, load: number): number {
  const plain = s.free - load * s.give;
  if (s.stopAt === undefined || plain >= s.stopAt) return plain;
  return s.stopAt - (load - (s.free - s.stopAt) / s.give) * s.beyond!;
}
