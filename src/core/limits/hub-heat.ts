import type { LimitResult } from "../analysis.ts";
import { resolveMaterial } from "../arm/materials.ts";
import type { Hub, Retention, Side } from "../design/types.ts";
import { cornerOfContext, type LimitContext, limitResult } from "./context.ts";
import { pvLimit, ROOM_C, specificHeat, strengthLeft } from "./derating.ts";
import { outwardPullN } from "./hub-retention.ts";

/**
 * Heat from rubbing in the hub: friction · force · rubbing speed, on the journal and where the lip or its shoulder rubs.
 * What counts at the lip is all it carries, the integral of |q| around it, and not the straight pull: a tilting moment presses one side
 * and pulls the other without any sum.
 *
 * Assumed: a wheel held by a lip turns on its hub, so lip, shoulder and journal rub, and the journal takes the radial force and its share
 * of the moment. A wheel held by a cross-pin or a screwed ring is fast on its axle; the axle turns in the journal, which takes the radial force and all of
 * the moment, and a collar of the journal's radius takes the axial force. The drive's thrust is left out (small beside the weight).
 */

/** ∫|q| around a ring with q = F/(2πr) + M cos a/(πr²), N: |F| while all of it pulls or all of it is pressed; 4M/(πr) for a pure moment. */
export function wholeRingLoad(pullN: number, momentNmm: number, radiusMm: number): number {
  const even = Math.abs(pullN);
  const swing = (2 * Math.abs(momentNmm)) / radiusMm;
  if (swing <= even) return even;
  const zero = Math.acos(-even / swing);
  return (2 * (even * zero + swing * Math.sin(zero))) / Math.PI - even;
}

/** ∫|w| along a journal of length L under a force across it and a moment about its middle (line load straight along it), N. */
export function wholeJournalLoad(forceN: number, momentNmm: number, lengthMm: number): number {
  const even = Math.abs(forceN);
  // slope · half length · length: what the moment adds at the ends, as if spread over the length
  const swing = (6 * Math.abs(momentNmm)) / lengthMm;
  if (swing <= even) return even;
  return (swing + (even * even) / swing) / 2;
}

/** What the lip carries in all, and what its stiff shoulder does (shoulder model), N. */
export function wholeLipLoad(r: Extract<Retention, { kind: "lip" }>, pullN: number, momentNmm: number): { lipN: number; shoulderN: number } {
  if (r.model === "ring") return { lipN: wholeRingLoad(pullN, momentNmm, r.radiusMm), shoulderN: 0 };
  const R = r.shoulderRadiusMm;
  if (momentNmm <= (pullN * r.radiusMm ** 2) / (2 * R)) return { lipN: pullN, shoulderN: 0 };
  const rho = R / r.radiusMm;
  // tipping about the shoulder's edge the lip's pull grows in a line with the distance from it; its moment about the edge balances F·R + M
  const lipN = Math.max(0, (2 * rho * (pullN * R + momentNmm)) / (r.radiusMm * (1 + 2 * rho * rho)));
  return { lipN, shoulderN: Math.abs(lipN - pullN) };
}

export interface HubFriction {
  /** all that the journal carries, N */
  journalN: number;
  /** all that lip and shoulder carry, or the collar of a wheel fast on its axle, N */
  lipN: number;
  /** friction torque, N·mm */
  torqueNmm: number;
  /** mean pressure on the journal, force across over length times diameter, MPa */
  pressureMPa: number;
}

/**
 * @param pullN axial pull on the wheel, outwards positive, N
 * @param acrossN force across the axle, N
 * @param momentNmm size of the tilting moment, N·mm
 */
export function hubFriction(hub: Hub, pullN: number, acrossN: number, momentNmm: number): HubFriction {
  const { retention: r, heat } = hub;
  const pressureMPa = acrossN / (2 * heat.journalRadiusMm * heat.journalLengthMm);
  const onJournal = r.kind === "lip" ? r.journalShare * momentNmm : momentNmm;
  const journalN = wholeJournalLoad(acrossN, onJournal, heat.journalLengthMm);
  const journalNmm = journalN * heat.journalRadiusMm;
  if (r.kind !== "lip") {
    const lipN = Math.abs(pullN);
    return { journalN, lipN, torqueNmm: heat.friction * (journalNmm + lipN * heat.journalRadiusMm), pressureMPa };
  }
  const { lipN, shoulderN } = wholeLipLoad(r, pullN, (1 - r.journalShare) * momentNmm);
  const torque = journalNmm + lipN * r.radiusMm + shoulderN * r.shoulderRadiusMm;
  return { journalN, lipN: lipN + shoulderN, torqueNmm: heat.friction * torque, pressureMPa };
}

/** Friction in a solved hub. */
export function hubFrictionAt(x: LimitContext, side: Side): HubFriction {
  const { c, s } = cornerOfContext(x, side);
  const fx = s.tyre.lateralN + c.wheelWeight * x.state.load.lateralG;
  const fz = s.tyre.verticalN - c.wheelWeight;
  const across = Math.abs(fz * Math.cos(s.wheelAngleRad) - fx * Math.sin(s.wheelAngleRad));
  return hubFriction(c.corner.hub, outwardPullN(x, side), across, Math.abs(s.bearing.momentNmm));
}

export interface HubHeat {
  /** turning speed of the wheel, rad/s */
  radPerS: number;
  powerW: number;
  /** heat given off per kelvin, W/K */
  coolingWPerK: number;
  /** reached when it goes on for ever, °C */
  steadyC: number;
  maxTempC: number;
  /** time constant of warming, s */
  warmingS: number;
  /** until the highest use temperature, 0 where the air itself is warmer; null: it never gets there, s */
  tooHotAfterS: number | null;
  /** strength left at the steady temperature, 0..1 */
  strengthLeft: number;
  /** pressure times rubbing speed on the journal and what the material stands, MPa·m/s */
  pv: number;
  pvLimit: number | null;
}

/** Wall thickness that warms along with the cooling surface, mm (an assumption: printed and moulded hubs have 2 to 4). */
const WARM_WALL_MM = 3;

/** Heat stored per kelvin, J/K: the cooling surface times the assumed wall. */
function thermalMass(heat: Hub["heat"]): number {
  const m = resolveMaterial(heat.material);
  return heat.coolingAreaMm2 * WARM_WALL_MM * 1e-9 * m.densityKgPerM3 * specificHeat(m);
}

/** What of a hub its heat is worked out from, as plain numbers. */
export interface HeatNumbers {
  wheelRadiusMm: number;
  journalRadiusMm: number;
  coolingWPerK: number;
  /** from the air's to the highest use temperature, at least 1 K */
  allowedK: number;
  pvLimit: number | null;
}

/** What the hub's heat depends on besides load and speed. */
export function heatNumbers(heat: Hub["heat"], wheelRadiusMm: number): HeatNumbers {
  const m = resolveMaterial(heat.material);
  return {
    wheelRadiusMm,
    journalRadiusMm: heat.journalRadiusMm,
    coolingWPerK: heat.coolingWPerM2K * heat.coolingAreaMm2 * 1e-6,
    allowedK: Math.max(1, m.maxTempC - ROOM_C),
    pvLimit: pvLimit(m),
  };
}

/**
 * Rubbing at a speed: power = torque · turning speed, W; rise = power / cooling, K; pressure times rubbing speed on the journal, MPa·m/s.
 * @param torqueNmm friction torque, N·mm @param pressureMPa mean pressure on the journal, MPa
 */
export function rubbing(
  n: HeatNumbers,
  torqueNmm: number,
  pressureMPa: number,
  speedMps: number,
): { radPerS: number; powerW: number; riseK: number; pv: number } {
  const radPerS = (speedMps * 1000) / n.wheelRadiusMm;
  const powerW = (torqueNmm / 1000) * radPerS;
  return { radPerS, powerW, riseK: powerW / n.coolingWPerK, pv: (pressureMPa * radPerS * n.journalRadiusMm) / 1000 };
}

/** Share of what the hub stands, by its steady temperature and by pressure times speed. */
export const heatShares = (n: HeatNumbers, riseK: number, pv: number): { temperature: number; pv: number } => ({
  temperature: riseK / n.allowedK,
  pv: n.pvLimit === null ? 0 : pv / n.pvLimit,
});

/** Steady temperature (°C) and warming of a rubbing hub that rolls at `speedMps` (m/s) for long, air at `airC`. */
export function hubHeat(f: HubFriction, heat: Hub["heat"], speedMps: number, wheelRadiusMm: number, airC = ROOM_C): HubHeat {
  const m = resolveMaterial(heat.material);
  const n = heatNumbers(heat, wheelRadiusMm);
  const { coolingWPerK } = n;
  const { radPerS, powerW, riseK: rise, pv } = rubbing(n, f.torqueNmm, f.pressureMPa, speedMps);
  const warmingS = thermalMass(heat) / coolingWPerK;
  const allowed = m.maxTempC - airC;
  return {
    radPerS,
    powerW,
    coolingWPerK,
    steadyC: airC + rise,
    maxTempC: m.maxTempC,
    warmingS,
    tooHotAfterS: rise <= allowed ? null : allowed <= 0 ? 0 : -warmingS * Math.log(1 - allowed / rise),
    strengthLeft: strengthLeft(m, airC + rise),
    pv,
    pvLimit: n.pvLimit,
  };
}

/** Temperature over a drive at even power, °C: it warms to the steady temperature with one time constant. */
export const temperatureAfter = (h: HubHeat, seconds: number, startC = ROOM_C): number => h.steadyC + (startC - h.steadyC) * Math.exp(-seconds / h.warmingS);

export interface HeatPoint {
  minutes: number;
  tempC: number;
  strengthLeft: number;
}

/**
 * Running estimate over a drive of some minutes that spends a share of its time in the curve (the wheel as `inCurve`) and the rest straight on.
 * The two powers are averaged: a lap is much shorter than the warming time.
 */
export function heatOverDrive(inCurve: HubHeat, straight: HubHeat, hub: Hub, curveShare: number, minutes: number, steps = 40, airC = ROOM_C): HeatPoint[] {
  const m = resolveMaterial(hub.heat.material);
  const powerW = curveShare * inCurve.powerW + (1 - curveShare) * straight.powerW;
  const mean: HubHeat = { ...inCurve, powerW, steadyC: airC + powerW / inCurve.coolingWPerK };
  return Array.from({ length: steps + 1 }, (_, i) => {
    const at = (minutes * i) / steps;
    const tempC = temperatureAfter(mean, 60 * at, airC);
    return { minutes: at, tempC, strengthLeft: strengthLeft(m, tempC) };
  });
}

/** Temperature of the hub if this curve went on for ever, and pressure times speed: the worse of the two. Only a caution: it takes minutes. */
export function hubHeatLimit(x: LimitContext, side: Side): LimitResult {
  const { c } = cornerOfContext(x, side);
  const f = hubFrictionAt(x, side);
  const h = hubHeat(f, c.corner.hub.heat, x.speedMps, c.corner.wheel.radiusMm);
  const n = heatNumbers(c.corner.hub.heat, c.corner.wheel.radiusMm);
  const shares = heatShares(n, h.steadyC - ROOM_C, h.pv);
  const byPv = shares.pv > shares.temperature;
  const inputs: LimitResult["inputs"] = [
    { name: "friction power", value: h.powerW, unit: "W" },
    { name: "carried by journal", value: f.journalN, unit: "N" },
    { name: "carried all round by lip, shoulder or collar", value: f.lipN, unit: "N" },
    { name: "temperature if it goes on for ever", value: h.steadyC, unit: "°C" },
    { name: "strength left at that temperature", value: 100 * h.strengthLeft, unit: "%" },
    { name: "pressure times rubbing speed", value: h.pv, unit: "MPa·m/s" },
  ];
  if (h.pvLimit !== null) inputs.push({ name: "the material stands", value: h.pvLimit, unit: "MPa·m/s" });
  if (h.tooHotAfterS !== null) inputs.push({ name: "too hot after", value: h.tooHotAfterS / 60, unit: "min" });
  return limitResult("hubHeat", side, {
    part: byPv ? "hub's journal, pressure times speed" : "hub, running temperature",
    demand: byPv ? h.pv : h.steadyC - ROOM_C,
    capacity: byPv ? h.pvLimit! : n.allowedK,
    unit: byPv ? "MPa·m/s" : "K above the air",
    inputs,
  });
}
