import { plainLoad } from "../core/design/load.ts";
import type { Load, Side } from "../core/design/types.ts";
import { gripG } from "../core/equilibrium/solve.ts";
import { G } from "../core/units.ts";
import { longestWayMm, type Place } from "./along-road.ts";
import type { MotionModel } from "./model.ts";
import type { Kerb } from "./outside.ts";
import { bump, flat, type Profile, type RolledRoad, rollOver, rough, sumOf, washboard } from "./road.ts";

/** What the car is made to do: names, their numbers with ranges and defaults, and what each means for road and steering over time. */

export const MANOEUVRES = ["steeringStep", "slalom", "singleBump", "washboard", "landing", "kerbStrike", "constantLoad"] as const;
export type ManoeuvreName = (typeof MANOEUVRES)[number];

export interface ParamSpec {
  key: string;
  label: string;
  unit: string;
  min: number;
  max: number;
  byDefault: number;
}

/** A choice by number: 0, 1, 2 stand for these words. */
export const WHEELS = ["both", "left", "right"] as const;

const p = (key: string, label: string, unit: string, min: number, max: number, byDefault: number): ParamSpec => ({ key, label, unit, min, max, byDefault });
const LATERAL = p("lateralG", "cornering, positive to the left", "g", -2, 2, 0.6);
const STRAIGHT = { ...LATERAL, byDefault: 0 };
/** Pressed while the car straightens out for the manoeuvre; without both it keeps its speed. */
const PEDALS: readonly ParamSpec[] = [
  p("throttle", "throttle: share of what the drive gives at the speed", "", 0, 1, 0),
  p("brakeG", "slowing down by the brakes", "g", 0, 3, 0),
];
const WHEELS_SPEC = p("wheels", "wheels: 0 both, 1 left, 2 right", "", 0, 2, 2);

/** Numbers that every manoeuvre takes. */
export const COMMON: readonly ParamSpec[] = [
  p("speedMps", "speed", "m/s", 0, 40, 6),
  p("grip", "grip of the surface, over the tyres' own", "", 0.05, 2, 1),
  p("roughnessMm", "roughness of the surface (rms height)", "mm", 0, 10, 0),
];

export const MANOEUVRE_INFO: Record<ManoeuvreName, { title: string; teaches: string; params: readonly ParamSpec[] }> = {
  steeringStep: {
    title: "Steering step",
    teaches: "Into the curve at once: the body rolls over its final lean and swings back.",
    params: [LATERAL, p("riseS", "time from straight to full lock", "s", 0.02, 2, 0.15), p("holdS", "time in the curve", "s", 0.2, 10, 1.2), ...PEDALS],
  },
  slalom: {
    title: "Slalom",
    teaches: "Left and right in turn: near the body's own rhythm it leans more than in a steady curve.",
    params: [LATERAL, p("gateM", "distance between two gates", "m", 0.3, 50, 3), p("gates", "gates", "", 2, 20, 6), ...PEDALS],
  },
  singleBump: {
    title: "Single bump",
    teaches: "One bump under one wheel or both: what a pebble or a cable does to joints and hub.",
    params: [p("heightMm", "height", "mm", -20, 60, 6), p("lengthMm", "length", "mm", 10, 2000, 80), WHEELS_SPEC, STRAIGHT, ...PEDALS],
  },
  washboard: {
    title: "Washboard",
    teaches: "Waves in a row: at one speed wheel or body fall into step with them.",
    params: [
      p("heightMm", "height from trough to crest", "mm", 0, 40, 3),
      p("waveMm", "length of a wave", "mm", 20, 3000, 300),
      p("apart", "left behind right, in waves", "", 0, 1, 0),
      p("lastsS", "time on it", "s", 0.2, 10, 1.5),
      STRAIGHT,
      ...PEDALS,
    ],
  },
  landing: {
    title: "Landing from a drop",
    teaches: "Let go from a height with hanging wheels: stops, tyres and joints take the fall.",
    params: [p("dropMm", "height of the tyres above the road", "mm", 1, 600, 60)],
  },
  kerbStrike: {
    title: "Kerb strike",
    teaches: "The wheel runs into a kerb at an angle: the flank is hit sideways, low on the wheel.",
    params: [
      p("heightMm", "height of the kerb", "mm", 2, 100, 15),
      p("angleDeg", "angle between way and kerb", "°", 1, 45, 8),
      p("rightSide", "kerb on: 0 the left, 1 the right", "", 0, 1, 1),
      ...PEDALS,
    ],
  },
  constantLoad: {
    title: "Constant load",
    teaches: "Nothing changes any more: the moving axle settles to the answer at rest.",
    params: [
      STRAIGHT,
      p("bumpLeftMm", "road under the left wheel", "mm", -30, 30, 0),
      p("bumpRightMm", "road under the right wheel", "mm", -30, 30, 0),
      p("lastsS", "time", "s", 0.1, 20, 2.5),
      ...PEDALS,
    ],
  },
};

export type Params = Readonly<Record<string, number>>;

/** Completes `given` with the defaults; throws a RangeError that names key, value and range. */
export function completeParams(name: ManoeuvreName, given: Params): Record<string, number> {
  const specs = [...COMMON, ...MANOEUVRE_INFO[name].params];
  for (const key of Object.keys(given))
    if (!specs.some((s) => s.key === key))
      throw new RangeError(`${MANOEUVRE_INFO[name].title} has no number "${key}"; it takes ${specs.map((s) => s.key).join(", ")}.`);
  const out: Record<string, number> = {};
  for (const s of specs) {
    const v = given[s.key] ?? s.byDefault;
    if (!(v >= s.min && v <= s.max))
      throw new RangeError(`${s.key} (${s.label}) is ${v}; it must lie between ${s.min} and ${s.max}${s.unit ? ` ${s.unit}` : ""}.`);
    out[s.key] = v;
  }
  return out;
}

/** What the outside world does at a time. */
export interface Scene {
  lateralG: number;
  road: [number, number];
  kerb: Kerb | null;
}

export interface Plan {
  durationS: number;
  /** the load whose answer at rest belongs to the manoeuvre */
  steady: Load;
  /** the axle falls from this height of its tyres above the road, mm; 0 = it stands on it */
  dropMm: number;
  /**
   * Fills `scene` for a time, s, of a car that keeps its speed. One that does not is told by its place: road and curves lie where they lie, and
   * a curve of the same radius asks for v²/R.
   */
  at(timeS: number, scene: Scene, place?: Place): void;
}

/** Straight and flat before anything happens, s. */
const LEAD_S = 0.1;
/** A constant load is laid on over this time, s. */
const SETTLE_IN_S = 0.3;
/** Time left for swinging out, s. */
const TAIL_S = 0.8;
/** A car that meets a kerb at an angle has turned along it after this time, s (assumption). */
const TURN_ALONG_S = 0.15;

/** Throttle and brake are pressed down over this time, s. */
const PRESS_S = LEAD_S;

const smooth = (t: number): number => (t <= 0 ? 0 : t >= 1 ? 1 : (1 - Math.cos(Math.PI * t)) / 2);

/** How far throttle and brake are pressed down after a time, s, 0..1. */
export const pressedAt = (timeS: number): number => smooth(timeS / PRESS_S);

const STRAIGHT_ON: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

/** The load that the axle stands under when a manoeuvre begins, and the one whose answer at rest belongs to it. */
export function loadsOf(name: ManoeuvreName, n: Record<string, number>, m: MotionModel): { start: Load; steady: Load } {
  // the tyres cannot hold on to more than their grip: at rest there is no answer beyond
  const held = 0.99 * n.grip! * gripG(m.axle);
  const curve: Load = { ...STRAIGHT_ON, lateralG: Math.max(-held, Math.min(held, n.lateralG ?? 0)) };
  const pushed = (load: Load): Load => plainLoad({ ...load, throttle: n.throttle ?? 0, brakeG: n.brakeG ?? 0 });
  switch (name) {
    case "steeringStep":
    case "slalom":
      return { start: STRAIGHT_ON, steady: pushed(curve) };
    case "singleBump":
    case "washboard":
      return { start: curve, steady: pushed(curve) };
    case "constantLoad":
      return { start: STRAIGHT_ON, steady: pushed({ ...curve, bumpLeftMm: n.bumpLeftMm!, bumpRightMm: n.bumpRightMm! }) };
    case "landing":
    case "kerbStrike":
      return { start: STRAIGHT_ON, steady: pushed(STRAIGHT_ON) };
  }
}

/** What a manoeuvre with complete numbers means for this axle over time. `seed` picks the rough road. */
export function plan(name: ManoeuvreName, n: Record<string, number>, m: MotionModel, seed: number): Plan {
  const v = n.speedMps! * 1000;
  const { start, steady } = loadsOf(name, n, m);
  const radii = m.axle.corners.map((c) => c.corner.wheel.radiusMm) as [number, number];
  const roads = (left: Profile, right: Profile, durationS: number): [RolledRoad, RolledRoad] => {
    const throttle = n.throttle ?? 0;
    const length = Math.max(1, throttle > 0 ? longestWayMm(m.axle.scenario, n.speedMps!, throttle, durationS) : v * durationS);
    const start = v * LEAD_S;
    return [
      rollOver(sumOf(left, rough(n.roughnessMm!, seed, start)), radii[0], length),
      rollOver(sumOf(right, rough(n.roughnessMm!, seed + 1, start)), radii[1], length),
    ];
  };
  const make = (durationS: number, lateral: (t: number) => number, left: Profile = flat, right: Profile = flat): Plan => {
    const [l, r] = roads(left, right, durationS);
    return {
      durationS,
      steady,
      dropMm: 0,
      at: (time, scene, place) => {
        const t = place ? place.timeS : time;
        const way = place ? place.wayMm : v * t;
        scene.lateralG = place ? lateral(t) * place.faster * place.faster : lateral(t);
        scene.road[0] = l.heightAt(way);
        scene.road[1] = r.heightAt(way);
        scene.kerb = null;
      },
    };
  };
  const throughout = (): number => start.lateralG;
  switch (name) {
    case "steeringStep":
      return make(LEAD_S + n.riseS! + n.holdS!, (t) => n.lateralG! * smooth((t - LEAD_S) / n.riseS!));
    case "slalom": {
      const half = (n.gateM! * 1000) / Math.max(v, 1);
      const swing = (t: number): number => Math.sin((Math.PI * (t - LEAD_S)) / half) * smooth((t - LEAD_S) / half);
      return make(LEAD_S + n.gates! * half, (t) => (t < LEAD_S ? 0 : n.lateralG! * swing(t)));
    }
    case "singleBump": {
      const at = v * LEAD_S;
      const one = bump(n.heightMm!, n.lengthMm!, at);
      const wheels = WHEELS[Math.round(n.wheels!)];
      return make(LEAD_S + n.lengthMm! / Math.max(v, 1) + TAIL_S, throughout, wheels === "right" ? flat : one, wheels === "left" ? flat : one);
    }
    case "washboard": {
      const at = v * LEAD_S;
      return make(LEAD_S + n.lastsS!, throughout, washboard(n.heightMm!, n.waveMm!, at, n.apart!), washboard(n.heightMm!, n.waveMm!, at, 0));
    }
    case "landing":
      return { ...make(Math.sqrt((2 * n.dropMm!) / (G * 1000)) + TAIL_S, throughout), dropMm: n.dropMm! };
    case "constantLoad": {
      const base = make(n.lastsS!, (t) => steady.lateralG * smooth(t / SETTLE_IN_S));
      return {
        ...base,
        at: (t, scene, place) => {
          base.at(t, scene, place);
          scene.road[0] += n.bumpLeftMm! * smooth(t / SETTLE_IN_S);
          scene.road[1] += n.bumpRightMm! * smooth(t / SETTLE_IN_S);
        },
      };
    }
    case "kerbStrike": {
      const side: Side = n.rightSide! >= 0.5 ? "right" : "left";
      const c = m.axle.corners[side === "left" ? 0 : 1];
      const across = v * Math.sin((n.angleDeg! * Math.PI) / 180);
      // where the outer edge of the tread stands, give or take the static lean
      const edge = c.centre[0] + (c.sign * c.corner.wheel.treadWidthMm) / 2;
      const base = make(LEAD_S + 0.5, throughout);
      return {
        ...base,
        at: (t, scene, place) => {
          base.at(t, scene, place);
          const after = (place ? place.timeS : t) - LEAD_S;
          const turned = Math.min(1, Math.max(0, after / TURN_ALONG_S));
          // way of the kerb towards the car: steady until the hit, fading out as the car turns along it
          const way = after <= 0 ? after : TURN_ALONG_S * (turned - (turned * turned) / 2);
          scene.kerb = {
            side,
            xMm: edge - c.sign * across * way,
            speedMmps: -c.sign * across * (place?.faster ?? 1) * (after <= 0 ? 1 : 1 - turned),
            heightMm: n.heightMm!,
          };
        },
      };
    }
  }
}
