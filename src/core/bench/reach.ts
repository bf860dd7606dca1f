import { axleMassKg } from "../design/mass.ts";
import type { BenchKind, BenchTest } from "../design/tried.ts";
import type { Scenario, Side } from "../design/types.ts";
import { weightN } from "../units.ts";
import { expectedSd } from "./curve.ts";
import { BENCH_TESTS, newBenchTest } from "./definitions.ts";
import { type OnBench, onBench } from "./good-rows.ts";
import { CURVE_LAWS, isCurve, MEAN_LAWS } from "./laws.ts";
import { fitMeans } from "./means.ts";

/**
 * The ± (one standard deviation) that a careful test reaches with what a workshop has, for what the design is now: a usual table of loads
 * goes through the test's own fit, its readings scattered by what hand and eye make of them. The scatter is common practice, no source.
 */

/** Hand and eye scatter a reading by this much of what the instrument's steps leave. */
const HAND = 1.5;
/** Of parts of one kind that are broken, share of their mean. */
const PARTS = 0.1;
const BROKEN_PARTS = 5;

type Plan = (b: OnBench) => [x: number, y: number][];

/** Loads up and down again. */
const upAndDown = (most: number, steps: number): number[] => {
  const up = Array.from({ length: steps }, (_, i) => (most * (i + 1)) / steps);
  return [...up, ...up.slice(0, -1).reverse()];
};
const rising = (loads: readonly number[]): [number, number][] => loads.map((v) => [v, v]);

const wheelN = ({ s }: OnBench): number => weightN(axleMassKg(s)) / 2;

/** An arm bends by this share of its length at the last load. */
const BEND = 0.06;

/** load that bends the arm on the bench so far, N */
function armLoad(b: OnBench, kind: "armHang" | "armAlongRoad"): number {
  const law = CURVE_LAWS[kind]({ ...b, good: [] });
  const perN = law.law([law.start[0]!, 0], 1);
  return (BEND * b.number("lengthMm")) / Math.max(perN, 1e-9);
}

const PLANS: Readonly<Record<keyof typeof CURVE_LAWS, Plan>> = {
  armHang: (b) => rising(upAndDown(armLoad(b, "armHang"), 5)),
  armAlongRoad: (b) => rising(upAndDown(armLoad(b, "armAlongRoad"), 5)),
  wheelTilt: (b) => {
    const most = Math.min((2 * b.corner.hub.tiltStiffnessNmmPerDeg) / b.number("pullAtMm"), 2 * wheelN(b));
    const loads = upAndDown(most, 3);
    return rising([...loads, ...loads.map((v) => -v)]);
  },
  springPress: ({ corner: { spring }, number }) => {
    const free = spring.freeLengthMm + number("packingMm");
    const travel = Math.max(0.7 * (free - spring.bumpStop.lengthMm), 0.1 * free);
    return upAndDown(travel * spring.rateNPerMm, 6).map((n) => [n, free - n / spring.rateNPerMm]);
  },
  tyrePress: (b) => rising(upAndDown(2 * wheelN(b), 6)),
  tyreTilt: () => rising([-10, -7.5, -5, -2.5, 0, 2.5, 5, 7.5, 10, 7.5, 5, 2.5, 0, -2.5, -5, -7.5, -10]),
  tyreSideways: (b) => rising(upAndDown(0.7 * wheelN(b), 5)),
};

/** Readings that are scattered evenly about a mean so that their standard deviation is `sd`. */
function scattered(mean: number, sd: number, count: number): number[] {
  const steps = Array.from({ length: count }, (_, i) => i - (count - 1) / 2);
  const own = Math.sqrt(steps.reduce((sum, v) => sum + v * v, 0) / (count - 1));
  return steps.map((v) => mean + (sd * v) / own);
}

/** Rows of a careful test of the kinds that read the same again and again, by their columns. */
function meansPlan(b: OnBench, kind: keyof typeof MEAN_LAWS): number[][] {
  const { corner, s } = b;
  const rows = (...columns: number[][]): number[][] => columns[0]!.map((_, i) => columns.map((c) => c[i]!));
  switch (kind) {
    case "pinPlay":
      return rows(scattered(2 * corner.joints.lowerInner.clearanceMm * b.number("lever"), (HAND * b.number("rulerMm")) / Math.sqrt(12), 5));
    case "hubPullOff": {
      const { retention: r } = corner.hub;
      const capacity = r.kind === "lip" ? r.capacityN : r.shearStrengthMPa;
      const one = MEAN_LAWS.hubPullOff({ ...b, good: [] }).told[0]!.value([1]);
      return rows(scattered(capacity / one, (PARTS * capacity) / one, BROKEN_PARTS));
    }
    case "jointPullOut":
      return rows(scattered(corner.joints.lowerInner.pullOutN, PARTS * corner.joints.lowerInner.pullOutN, BROKEN_PARTS));
    case "tyrePushOff": {
      const { value } = MEAN_LAWS.tyrePushOff({ ...b, good: [] }).told[0]!;
      const { seat } = corner.tyre;
      const now = seat.kind === "stretchedBand" ? seat.bandTensionN : seat.extraHoldN;
      const slope = value([1]) - value([0]);
      const hold = (now - value([0])) / slope;
      return rows(scattered(hold, PARTS * hold, BROKEN_PARTS));
    }
    case "wheelWeights": {
      const axle = axleMassKg(s) / 2;
      const other = (s.body.carMassKg - axleMassKg(s)) / 2;
      return rows(...[axle, axle, other, other].map((kg) => scattered(kg, WEIGHING * kg, 3)));
    }
    case "heightByTilting":
      return rows(scattered(tippingAngle(b), TIPPING_DEG, 5));
    case "motor": {
      const law = MEAN_LAWS.motor({ ...b, good: [] });
      const force = s.drive.stallTorqueNmm / law.told[0]!.value([1, 1]);
      const speed = s.drive.noLoadRpm / law.told[1]!.value([1, 1]);
      return rows(scattered(force, STALL * force, 3), scattered(speed, FREE * speed, 3));
    }
  }
}

/** A wheel's weight after rolling off and on, share; the angle at which a hand sees the wheels come free, °; a motor held fast and running free, share. */
const WEIGHING = 0.005;
const TIPPING_DEG = 0.5;
const STALL = 0.03;
const FREE = 0.01;

/** Angle, °, at which the car of the design lifts its upper wheels. */
function tippingAngle(b: OnBench): number {
  const height = MEAN_LAWS.heightByTilting({ ...b, good: [] }).told[0]!.value;
  let [low, high] = [0.5, 85];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (height([middle]) > b.s.body.cgHeightMm) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** ± by path of a careful test, as it is usually set up; paths for which it tells nothing are left out. */
export function reachOf(s: Scenario, side: Side | "both", kind: BenchKind): Record<string, number> {
  const test: BenchTest = newBenchTest(s, kind, side);
  const b = onBench(s, test, []);
  const sds = isCurve(kind) ? curveReach(b, kind) : meansReach(b, kind);
  return Object.fromEntries(Object.entries(sds).filter(([, sd]) => Number.isFinite(sd) && sd > 0));
}

function curveReach(b: OnBench, kind: keyof typeof CURVE_LAWS): Record<string, number> {
  const rows = PLANS[kind](b);
  const law = CURVE_LAWS[kind]({ ...b, good: rows.map((values, row) => ({ row, values })) });
  const loads = law.points.map((p) => p.x);
  return expectedSd(law, loads, HAND * law.roundingSd);
}

function meansReach(b: OnBench, kind: keyof typeof MEAN_LAWS): Record<string, number> {
  const rows = meansPlan(b, kind);
  const law = MEAN_LAWS[kind]({ ...b, good: rows.map((values, row) => ({ row, values })) });
  const { results } = fitMeans(
    law,
    rows.map(() => ({ ok: null })),
    BENCH_TESTS[kind].leastRows,
  );
  return Object.fromEntries(results.flatMap((r) => (r.path === null ? [] : [[r.path, r.sd] as const])));
}
