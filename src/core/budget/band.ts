import { JOINT_NAMES, type Load } from "../design/types.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import type { Solver } from "../equilibrium/newton.ts";
import { camberRad, readState } from "../equilibrium/readout.ts";
import { solveWarm } from "../equilibrium/solve.ts";
import { BAND_SHOWN_DEG, SCRUB_SHARE } from "../tolerances.ts";
import { radToDeg } from "../units.ts";

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
  const own = cambers(model, q);
  return { play: playBand(model, s, q, load, own), exponent: exponentBand(model, s, q, load, own) };
}

function hasPlay(model: AxleModel): boolean {
  return model.corners.some((c) => c.bearing.play > 0 || Object.values(c.joints).some((j) => j.clearance > 0));
}

type Pair = [number, number];

function playBand(model: AxleModel, s: Solver, q: Float64Array, load: Load, own: Pair): CamberBands["play"] {
  if (!hasPlay(model)) return [null, null];
  const state = readState(model, q, load);
  const push = SCRUB_SHARE * Math.min(state.left.tyre.verticalN, state.right.tyre.verticalN);
  if (push <= 0) return [null, null];
  const give = withoutPlay(model, () => {
    const closed = solveWarm(model, load, q, s);
    return closed.ok ? pushed(model, s, closed.q, load, push, cambers(model, closed.q)) : null;
  });
  if (!give) return [null, null];
  const band: [Pair, Pair] = [
    [own[0], own[0]],
    [own[1], own[1]],
  ];
  pushed(model, s, q, load, push, own).forEach((change, i) => {
    const elastic = give[i];
    if (!change || !elastic) return;
    for (const w of [0, 1] as const) {
      // only what goes beyond plain give, in the direction it went
      const play = Math.sign(change[w]) * Math.max(0, Math.abs(change[w]) - Math.abs(elastic[w]));
      band[w] = [Math.min(band[w][0], own[w] + play), Math.max(band[w][1], own[w] + play)];
    }
  });
  return band.map((b) => (b[1] - b[0] > BAND_SHOWN_DEG ? b : null)) as CamberBands["play"];
}

const cambers = (model: AxleModel, q: Float64Array): Pair => [0, 1].map((w) => radToDeg(camberRad(model, q, w as 0 | 1))) as Pair;

/** Change of both cambers, °, by a push on both tyres apart and together; null where there is no equilibrium. */
function pushed(model: AxleModel, s: Solver, q: Float64Array, load: Load, push: number, from: Pair): (Pair | null)[] {
  return [1, -1].map((direction) => {
    s.ws.scrub[0] = direction * push;
    s.ws.scrub[1] = -direction * push;
    const r = solveWarm(model, load, q, s);
    s.ws.scrub[0] = 0;
    s.ws.scrub[1] = 0;
    if (!r.ok) return null;
    const to = cambers(model, r.q);
    return [to[0] - from[0], to[1] - from[1]];
  });
}

/** What the same car does with every clearance closed; the model is as it was afterwards. */
function withoutPlay<T>(model: AxleModel, run: () => T): T {
  const kept = model.corners.map((c) => ({ tilt: c.bearing.play, joints: JOINT_NAMES.map((n) => c.joints[n].clearance) }));
  for (const c of model.corners) {
    c.bearing.play = 0;
    for (const n of JOINT_NAMES) c.joints[n].clearance = 0;
  }
  const out = run();
  model.corners.forEach((c, i) => {
    c.bearing.play = kept[i]!.tilt;
    JOINT_NAMES.forEach((n, k) => {
      c.joints[n].clearance = kept[i]!.joints[k]!;
    });
  });
  return out;
}

function exponentBand(model: AxleModel, s: Solver, q: Float64Array, load: Load, own: Pair): CamberBands["exponent"] {
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
