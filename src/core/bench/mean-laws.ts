import { unsprungMassKg } from "../design/mass.ts";
import { JOINT_WORDS } from "../design/part-words.ts";
import { cornerOf } from "../design/sides.ts";
import { JOINT_NAMES, SIDES } from "../design/types.ts";
import { gearEfficiency, gearRatio } from "../drive/motors.ts";
import { retentionDemand } from "../limits/hub-retention.ts";
import { tyreHoldN } from "../limits/wheel.ts";
import { DEG, weightN } from "../units.ts";
import type { OnBench } from "./good-rows.ts";
import type { MeansProblem, ToldOfMeans } from "./means.ts";

/** Tests whose results follow from means of readings, or from parts that were broken. */

const first = (b: OnBench): { row: number; x: number; y: number }[] => b.good.map(({ row, values }, i) => ({ row, x: i + 1, y: values[0]! }));
const scaleN = (b: OnBench): number => weightN(b.number("scaleG") / 1000);

/** One column of readings of the same. */
function oneColumn(b: OnBench, d: { words: string; unit: string; step: number; told: ToldOfMeans[]; breaking?: boolean; notes?: string[] }): MeansProblem {
  const points = first(b);
  return {
    axes: { x: { words: d.breaking ? "part" : "reading", unit: "" }, y: { words: d.words, unit: d.unit } },
    groups: [{ words: d.words, readings: points.map((p) => p.y), step: d.step }],
    refused: [],
    told: d.told,
    breaking: d.breaking ?? false,
    pooled: false,
    points,
    fitted: ([mean]) => mean!,
    curves: ([mean]) => [
      {
        words: "mean",
        points: [
          { x: 0.5, y: mean! },
          { x: points.length + 0.5, y: mean! },
        ],
      },
    ],
    notes: d.notes ?? [],
  };
}

/** Play of a pin: what is wiggled from stop to stop is twice the radial clearance, times the lever of the reading. */
export function playLaw(b: OnBench): MeansProblem {
  const joint = JOINT_NAMES.find((n) => n === b.choice("joint")) ?? "lowerInner";
  const lever = b.number("lever");
  return oneColumn(b, {
    words: "from stop to stop",
    unit: "mm",
    step: b.number("rulerMm"),
    told: [
      {
        value: ([mean]) => mean! / (2 * lever),
        words: `${JOINT_WORDS[joint]}, play in its hole (radial clearance)`,
        unit: "mm",
        paths: b.paths(`joints.${joint}.clearanceMm`),
        was: b.corner.joints[joint].clearanceMm,
        least: 0,
      },
    ],
  });
}

const BROKEN =
  "The mean goes into the design: a limit is reached where such a part gives. Its ± is the scatter from part to part, which the part in the car has too.";

/** Wheels pulled off: the pull is what the retention's own law gives at when nothing pries. */
export function pullOffLaw(b: OnBench): MeansProblem {
  const { retention: r } = b.corner.hub;
  // a pin between two plates is cut in one place, by the whole pull
  const places = r.kind === "crossPin" && b.choice("cut") === "one" ? 2 : 1;
  const demand = (pullN: number): number => places * retentionDemand(r, pullN, 0).demandN;
  const capacityN = retentionDemand(r, 1, 0).capacityN;
  const lip = r.kind === "lip";
  const told: ToldOfMeans = {
    value: ([pull]) => (r.kind === "lip" ? demand(pull!) : (demand(pull!) / capacityN) * r.shearStrengthMPa),
    words: lip ? "wheel on its hub, straight pull that strips the lip" : `${r.kind === "crossPin" ? "cross-pin" : "screwed ring"}, shear strength`,
    unit: lip ? "N" : "MPa",
    paths: b.paths(lip ? "hub.retention.capacityN" : "hub.retention.shearStrengthMPa"),
    was: r.kind === "lip" ? r.capacityN : r.shearStrengthMPa,
    least: 0,
  };
  return oneColumn(b, { words: "came off at", unit: "N", step: scaleN(b), told: [told], breaking: true, notes: [BROKEN] });
}

/** Joints pulled apart. */
export function pullApartLaw(b: OnBench): MeansProblem {
  const one = JOINT_NAMES.find((n) => n === b.choice("joint"));
  const told: ToldOfMeans = {
    value: ([pull]) => pull!,
    words: `${one ? JOINT_WORDS[one] : "joints"}, pull at which ${one ? "it" : "one"} comes apart`,
    unit: "N",
    paths: (one ? [one] : JOINT_NAMES).flatMap((n) => b.paths(`joints.${n}.pullOutN`)),
    was: b.corner.joints[one ?? "lowerInner"].pullOutN,
    least: 0,
  };
  return oneColumn(b, { words: "came apart at", unit: "N", step: scaleN(b), told: [told], breaking: true, notes: [BROKEN] });
}

/** Tyres pushed off standing still: the seat's own law, solved for the band's tension, or for what discs or glue hold besides. */
export function pushOffLaw(b: OnBench): MeansProblem {
  const { seat } = b.corner.tyre;
  const band = seat.kind === "stretchedBand";
  const byTension = tyreHoldN({ ...seat, kind: "stretchedBand", bandTensionN: 1 }, 0);
  const bandHolds = tyreHoldN({ ...seat, kind: "stretchedBand" }, 0);
  const told: ToldOfMeans = {
    value: ([hold]) => (band ? hold! / byTension : hold! - bandHolds),
    words: band ? "tyre on its rim, tension of the band as mounted" : "tyre on its rim, sideways hold of discs or glue",
    unit: "N",
    paths: b.paths(band ? "tyre.seat.bandTensionN" : "tyre.seat.extraHoldN"),
    was: band ? seat.bandTensionN : seat.extraHoldN,
    least: 0,
  };
  const friction = Number(seat.friction.toPrecision(3));
  const notes = band
    ? [
        byTension > 0
          ? `The friction of band on rim is taken as the design has it, ${friction}.`
          : "A band without friction on its rim holds nothing: tell its friction in the design first.",
      ]
    : [`Of it the band holds ${Number(bandHolds.toPrecision(3))} N by the design; the rest is told.`];
  return oneColumn(b, { words: "left the rim at", unit: "N", step: scaleN(b), told: [told], breaking: true, notes: [BROKEN, ...notes] });
}

/** Wheels on scales: the car is the sum, this axle's share its part of the sum. */
export function weightsLaw(b: OnBench): MeansProblem {
  const column = (i: number): number[] => b.good.map((g) => g.values[i]!).filter((v) => !Number.isNaN(v));
  const [left, right, otherLeft, otherRight] = [0, 1, 2, 3].map(column) as [number[], number[], number[], number[]];
  const others = otherLeft.length + otherRight.length > 0;
  const { carMassKg, axleShare } = b.s.body;
  const part = (v: number | undefined): number => (v === undefined || Number.isNaN(v) ? 0 : v);
  const rest = ([, , l, r]: readonly number[]): number => part(l) + part(r);
  const axle = ([l, r]: readonly number[]): number => l! + r!;
  const onAxle = b.good.reduce((sum, g) => sum + g.values[0]! + g.values[1]!, 0) / Math.max(1, b.good.length);
  const tooHeavy = !others && onAxle > carMassKg;
  const share: ToldOfMeans = {
    // no share of a car that weighs less than its part
    value: (m) => (tooHeavy ? Number.NaN : axle(m) / (others ? axle(m) + rest(m) : carMassKg)),
    words: "share of the weight on this axle",
    unit: "",
    paths: ["body.axleShare"],
    was: axleShare,
    least: 0,
    most: 1,
  };
  const car: ToldOfMeans = { value: (m) => axle(m) + rest(m), words: "weight of the whole car", unit: "kg", paths: ["body.carMassKg"], was: carMassKg };
  const apart: ToldOfMeans = { value: ([l, r]) => l! - r!, words: "the left wheel carries more than the right by", unit: "kg", paths: [], was: null };
  const points = b.good.map(({ row, values: [l, r] }, i) => ({ row, x: i + 1, y: l! + r! }));
  return {
    axes: { x: { words: "weighing", unit: "" }, y: { words: "both wheels of this axle", unit: "kg" } },
    groups: [left, right, otherLeft, otherRight].map((readings, i) => ({ words: `scale ${i + 1}`, readings, step: b.number("scaleG") / 1000 })),
    refused: [],
    told: others ? [car, share, apart] : [share, apart],
    breaking: false,
    pooled: true,
    points,
    fitted: axle,
    curves: (m) => [
      {
        words: "mean",
        points: [
          { x: 0.5, y: axle(m) },
          { x: points.length + 0.5, y: axle(m) },
        ],
      },
    ],
    notes: tooHeavy
      ? [
          `This axle's wheels carry ${Number(onAxle.toPrecision(4))} kg, more than the whole car in the design, ${Number(carMassKg.toPrecision(4))} kg: weigh the other wheels too, or put the car's weight right first.`,
        ]
      : others
        ? []
        : [`Nothing was weighed under the other wheels: the whole car is taken as the design has it, ${Number(carMassKg.toPrecision(4))} kg.`],
  };
}

/** What a tipped car tips over: half the tracks, by each axle's share of the weight. */
interface Tipping {
  halfMm: number;
  carN: number;
  /** tyres of both lower wheels together, N/mm */
  tyresNPerMm: number;
}

/**
 * Height of the whole car's centre of gravity from the angle at which the upper wheels carry nothing: its line of weight then goes
 * through the middle of the lower treads, tan = half track over height, the limit of wheel lift in a car with blocked springs. The lower
 * tyres, which carry all, sink, the upper ones come up, and the car leans over by the difference over the track besides.
 */
function heightOf(t: Tipping, angleDeg: number): number {
  const angle = angleDeg * DEG;
  const sink = (t.carN * Math.cos(angle)) / t.tyresNPerMm;
  return t.halfMm / Math.tan(angle + sink / (2 * t.halfMm));
}

/** The car tipped on a board: what is on the springs has its centre where the whole car has it, less what is below. */
export function tippingLaw(b: OnBench): MeansProblem {
  const { body } = b.s;
  const share = body.axleShare;
  const halfMm = (share * b.number("trackMm") + (1 - share) * b.number("otherTrackMm")) / 2;
  const tyre = SIDES.reduce((sum, side) => sum + cornerOf(b.s, side).tyre.verticalNPerMm, 0) / 2;
  // the other axle's tyres are taken to sink as far as this one's
  const t: Tipping = { halfMm, carN: weightN(body.carMassKg), tyresNPerMm: tyre / Math.max(share, 1e-3) };
  const below = Math.min(b.number("unsprungKg"), 0.99 * body.carMassKg);
  const sprung = (whole: number): number => (body.carMassKg * whole - below * b.number("axleHeightMm")) / (body.carMassKg - below);
  return oneColumn(b, {
    words: "board's angle",
    unit: "°",
    step: b.number("levelDeg"),
    told: [
      {
        value: ([angle]) => sprung(heightOf(t, angle!)),
        words: "height of the centre of gravity of what is on the springs",
        unit: "mm",
        paths: ["body.cgHeightMm"],
        was: body.cgHeightMm,
      },
      { value: ([angle]) => heightOf(t, angle!), words: "height of the whole car's centre of gravity", unit: "mm", paths: [], was: null },
    ],
    notes: [
      `The whole car is taken as the design has it, ${Number(body.carMassKg.toPrecision(4))} kg, ${Number((100 * share).toPrecision(3))} % of it on this axle, whose wheels and hubs weigh ${Number(unsprungMassKg(b.s).toPrecision(3))} kg.`,
    ],
  });
}

/** A motor held fast by a lever on a scale, and running free. */
export function motorLaw(b: OnBench): MeansProblem {
  const { drive } = b.s;
  const atWheel = b.choice("at") === "wheel";
  const lever = b.number("leverMm");
  const ratio = atWheel ? gearRatio(drive) : 1;
  const through = atWheel ? ratio * gearEfficiency(drive) * drive.motorsPerWheel : 1;
  const forces = b.good.map((g) => g.values[0]!).filter((v) => !Number.isNaN(v));
  const speeds = b.good.map((g) => g.values[1]!).filter((v) => !Number.isNaN(v));
  const torque = (force: number): number => (force * lever) / through;
  const rpm = (speed: number): number => speed * ratio;
  return {
    axes: { x: { words: "speed of the motor", unit: "rpm" }, y: { words: "torque of the motor", unit: "N·mm" } },
    groups: [
      { words: "held fast", readings: forces, step: scaleN(b) },
      { words: "running free", readings: speeds, step: b.number("rpmStep") },
    ],
    refused: [],
    told: [
      { value: ([f]) => torque(f!), words: "one motor, held fast (stall torque)", unit: "N·mm", paths: ["drive.stallTorqueNmm"], was: drive.stallTorqueNmm },
      { value: ([, n]) => rpm(n!), words: "one motor, running free", unit: "rpm", paths: ["drive.noLoadRpm"], was: drive.noLoadRpm },
    ],
    breaking: false,
    pooled: false,
    // a reading held fast lies on the axis of torque, one running free on that of speed
    points: b.good.map(({ row, values: [f, n] }) => (Number.isNaN(f!) ? { row, x: rpm(n!), y: 0 } : { row, x: 0, y: torque(f!) })),
    fitted: ([f, n], { x, y }) => (x === 0 ? torque(f!) : Number.isNaN(f!) || Number.isNaN(n!) ? y : torque(f!) * (1 - x / rpm(n!))),
    curves: ([f, n]) =>
      Number.isNaN(f!) || Number.isNaN(n!)
        ? []
        : [
            {
              words: "torque over speed",
              points: [
                { x: 0, y: torque(f!) },
                { x: rpm(n!), y: 0 },
              ],
            },
          ],
    notes: [
      ...(atWheel
        ? [`Gears are reckoned out: ${Number(gearRatio(drive).toPrecision(4))} to 1, ${Number((100 * gearEfficiency(drive)).toPrecision(3))} % get through.`]
        : []),
      ...(forces.length === 0 ? ["No reading with the motor held fast: its torque is not told."] : []),
      ...(speeds.length === 0 ? ["No reading without a load: its speed is not told."] : []),
    ],
  };
}
