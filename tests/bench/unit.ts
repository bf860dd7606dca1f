import { LuDecomposition, Matrix } from "ml-matrix";
import { createRandom } from "../../src/core/numerics/random.ts";

/**
 * The bench's unit of time: one dense LU decomposition of 34 unknowns by a general linear-algebra package, a fixed piece of the kind of work that the
 * program does. Figures as multiples of it can be compared between machines and hours.
 */
const UNKNOWNS = 34;
/** The unit on the machine that the goals were set on, when it was quiet, ms: turns a goal in ms into a multiple. */
export const QUIET_UNIT_MS = 0.03;
/** Decompositions that one measurement takes the median of, and those before the first that let the runtime compile. */
const TIMES = 101;
const WARM_UP = 2000;

let matrix: Matrix | null = null;

function fixedMatrix(): Matrix {
  const random = createRandom(34);
  const m = new Matrix(UNKNOWNS, UNKNOWNS);
  for (let i = 0; i < UNKNOWNS; i++) for (let j = 0; j < UNKNOWNS; j++) m.set(i, j, random.between(-1, 1) + (i === j ? UNKNOWNS : 0));
  return m;
}

function once(m: Matrix): number {
  const start = performance.now();
  const singular = new LuDecomposition(m).isSingular();
  const taken = performance.now() - start;
  if (singular) throw new Error("the bench's own matrix is singular");
  return taken;
}

/** Measures the unit now, ms. */
export function unitMs(): number {
  if (!matrix) {
    matrix = fixedMatrix();
    for (let i = 0; i < WARM_UP; i++) once(matrix);
  }
  const m = matrix;
  const taken = Array.from({ length: TIMES }, () => once(m)).sort((a, b) => a - b);
  return taken[TIMES >> 1]!;
}
