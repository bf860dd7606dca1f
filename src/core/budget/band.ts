import type { Load } from "../design/types.ts";
import { solveSystem } from "../equilibrium/condense.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import type { Solver } from "../equilibrium/newton.ts";
import { camberRad, readState } from "../equilibrium/readout.ts";
import { solveWarm } from "../equilibrium/solve.ts";
import { HUB_TURN, HUB_X, TREAD_SHIFT, WHEEL_TILT } from "../equilibrium/unknowns.ts";
import { BAND_SHOWN_DEG, SCRUB_SHARE } from "../tolerances.ts";
import { radToDeg } from "../units.ts";
import { elementSet, unitLoad } from "./elements.ts";

/**
 * Ranges around a solved camber.
 *
 * Play: a tyre that has not rolled can hold some force sideways; both wheels are pushed together and apart by a share of
 * the lighter wheel's load, and what the same push does with every clearance closed (plain give) is taken off. What is left
 * is play. A car whose joints all carry firmly, or that has no clearance, has none.
 */
export interface CamberBands {
  /** lowest and highest camber, °, or null without play worth telling; [left, right] */
  play: [[number, number] | null, [number, number] | null];
  /** over a load exponent of the tyres of 0.7 to 1 */
  exponent: [[number, number], [number, number]];
}

/** How far the camber (°, both wheels) may lie from the answer `q`: within the play of its parts, and by how the tyres share the side force. */
export function camberBands(model: AxleModel, s: Solver, q: Float64Array, load: Load): CamberBands {
  const own = [0, 1].map((w) => radToDeg(camberRad(model, q, w as 0 | 1))) as [number, number];
  return { play: playBand(model, s, q, load, own), exponent: exponentBand(model, s, q, load, own) };
}

function hasPlay(model: AxleModel): boolean {
  return model.corners.some((c) => c.bearing.play > 0 || Object.values(c.joints).some((j) => j.clearance > 0));
}

function playBand(model: AxleModel, s: Solver, q: Float64Array, load: Load, own: [number, number]): CamberBands["play"] {
  if (!hasPlay(model)) return [null, null];
  const state = readState(model, q, load);
  const push = SCRUB_SHARE * Math.min(state.left.tyre.verticalN, state.right.tyre.verticalN);
  if (push <= 0) return [null, null];
  const give = closedGive(model, q, load, push);
  const band: [[number, number], [number, number]] = [
    [own[0], own[0]],
    [own[1], own[1]],
  ];
  for (const direction of [1, -1]) {
    s.ws.scrub[0] = direction * push;
    s.ws.scrub[1] = -direction * push;
    const r = solveWarm(model, load, q, s);
    s.ws.scrub[0] = 0;
    s.ws.scrub[1] = 0;
    if (!r.ok) continue;
    for (const w of [0, 1] as const) {
      const change = radToDeg(camberRad(model, r.q, w)) - own[w];
      const elastic = direction * give[w];
      // only what goes beyond plain give, in the direction it went
      const play = Math.sign(change) * Math.max(0, Math.abs(change) - Math.abs(elastic));
      band[w] = [Math.min(band[w][0], own[w] + play), Math.max(band[w][1], own[w] + play)];
    }
  }
  return band.map((b) => (b[1] - b[0] > BAND_SHOWN_DEG ? b : null)) as CamberBands["play"];
}

/** Change of camber, °, by the push on both tyres with every clearance closed. */
function closedGive(model: AxleModel, q: Float64Array, load: Load, push: number): [number, number] {
  const set = elementSet(model);
  unitLoad(set, q, load);
  const x = new Float64Array(model.n);
  const state = readState(model, q, load);
  for (const [w, c] of model.corners.entries()) {
    const f = (w === 0 ? 1 : -1) * push;
    const at = state[c.side];
    const road = w === 0 ? load.bumpLeftMm : load.bumpRightMm;
    x[c.base + HUB_X] = f;
    x[c.base + HUB_TURN] = f * (at.hub.at[1] - road);
    x[c.base + WHEEL_TILT] = f * (at.bearing.at[1] - road);
    if (Number.isFinite(c.tyre.lateralK)) x[c.base + TREAD_SHIFT] = f * Math.cos(at.wheelAngleRad);
  }
  solveSystem(set.sys, x, x);
  return model.corners.map((c) => radToDeg(-c.sign * (x[c.base + HUB_TURN]! + x[c.base + WHEEL_TILT]!))) as [number, number];
}

function exponentBand(model: AxleModel, s: Solver, q: Float64Array, load: Load, own: [number, number]): CamberBands["exponent"] {
  const band: CamberBands["exponent"] = [
    [own[0], own[0]],
    [own[1], own[1]],
  ];
  if (load.lateralG === 0) return band;
  const old = model.corners.map((c) => c.tyre.exponent);
  for (const p of [0.7, 1]) {
    if (old.every((o) => o === p)) continue;
    for (const c of model.corners) c.tyre.exponent = p;
    const r = solveWarm(model, load, q, s);
    if (!r.ok) continue;
    for (const w of [0, 1] as const) {
      const v = radToDeg(camberRad(model, r.q, w));
      band[w] = [Math.min(band[w][0], v), Math.max(band[w][1], v)];
    }
  }
  model.corners.forEach((c, i) => {
    c.tyre.exponent = old[i]!;
  });
  return band;
}
