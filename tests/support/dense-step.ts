import { LuDecomposition, Matrix } from "ml-matrix";
import type { Load } from "../../src/core/design/types.ts";
import { assemble } from "../../src/core/equilibrium/assemble.ts";
import { axleSystem } from "../../src/core/equilibrium/condense.ts";
import type { AxleModel } from "../../src/core/equilibrium/model.ts";
import { FINAL_BLEND } from "../../src/core/equilibrium/newton.ts";
import { isTurn } from "../../src/core/equilibrium/unknowns.ts";
import { workspace } from "../../src/core/equilibrium/workspace.ts";
import { denseTangent } from "./dense-tangent.ts";

/** A turn counts over this length, mm (tolerances.ts). */
const ARM_MM = 50;

/**
 * The solution of (K + c·D) dq = -R over all unknowns by a general package (ml-matrix); D is 1 for lengths and 50² mm² for turns. The arms' inner nodes
 * have no resistance.
 */
export function denseStep(model: AxleModel, q: Float64Array, load: Load, resistance = 0): number[] {
  const sys = axleSystem(model);
  const r = new Float64Array(model.n);
  assemble(model, q, load, FINAL_BLEND, r, sys, workspace());
  const k = Matrix.from1DArray(model.n, model.n, Array.from(denseTangent(sys)));
  for (let i = 0; i < model.n; i++) if (model.kept[i]! >= 0) k.set(i, i, k.get(i, i) + resistance * (isTurn(i) ? ARM_MM ** 2 : 1));
  return new LuDecomposition(k).solve(Matrix.columnVector(Array.from(r, (v) => -v))).to1DArray();
}

/** Largest force that is out of balance, N; moments count over 50 mm. */
export function outOfBalanceN(model: AxleModel, q: Float64Array, load: Load): number {
  const r = new Float64Array(model.n);
  assemble(model, q, load, FINAL_BLEND, r, null, workspace());
  return Math.max(...r.map((v, i) => Math.abs(isTurn(i) ? v / ARM_MM : v)));
}

/** Share of a step that may be taken at once: until a length changes by 6 mm or a turn by 0.12 rad. */
export const shareOf = (dq: readonly number[]): number => Math.min(1, ...dq.map((v, i) => (isTurn(i) ? 0.12 : 6) / Math.abs(v)));
