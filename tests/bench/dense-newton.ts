import { LuDecomposition, Matrix } from "ml-matrix";
import type { Load } from "../../src/core/design/types.ts";
import { assemble, residualSize } from "../../src/core/equilibrium/assemble.ts";
import type { AxleModel } from "../../src/core/equilibrium/model.ts";
import { FINAL_BLEND } from "../../src/core/equilibrium/newton.ts";
import { workspace } from "../../src/core/equilibrium/workspace.ts";
import { MOMENT_ARM_MM, RESIDUAL_SHARE } from "../../src/core/tolerances.ts";

/** Steps of the forward differences: about the root of the rounding of a residual that stiff arms make large. */
const STEP_MM = 1e-7;
const STEP_RAD = 1e-8;
const MAX_ITERATIONS = 60;

/**
 * The plain way to the same equilibrium: the same residual and the same stop, but all unknowns at once, the tangent by forward
 * differences and a dense solve of a general linear-algebra package. In place on `q`; returns the iterations, or null.
 */
export function denseNewton(model: AxleModel, q: Float64Array, load: Load): number | null {
  const { n } = model;
  const ws = workspace();
  const r = new Float64Array(n);
  const moved = new Float64Array(n);
  const jacobian = new Matrix(n, n);
  const tolerance = RESIDUAL_SHARE * model.totalWeight;
  for (let it = 0; it < MAX_ITERATIONS; it++) {
    assemble(model, q, load, FINAL_BLEND, r, null, ws);
    if (residualSize(model, r, MOMENT_ARM_MM) <= tolerance) return it;
    for (let j = 0; j < n; j++) {
      const turn = j === 1 || (j >= 12 ? j % 3 === 2 : (j - 2) % 5 === 2 || (j - 2) % 5 === 3);
      const at = q[j]!;
      q[j] = at + (turn ? STEP_RAD : STEP_MM);
      const step = q[j]! - at;
      assemble(model, q, load, FINAL_BLEND, moved, null, ws);
      q[j] = at;
      for (let i = 0; i < n; i++) jacobian.set(i, j, (moved[i]! - r[i]!) / step);
    }
    const dq = new LuDecomposition(jacobian).solve(Matrix.columnVector(Array.from(r)));
    for (let i = 0; i < n; i++) q[i] = q[i]! - dq.get(i, 0);
    if (!q.every(Number.isFinite)) return null;
  }
  return null;
}
