import type { Load, Scenario } from "../../src/core/design/types.ts";
import { assemble } from "../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../src/core/equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../../src/core/equilibrium/model.ts";
import { createSolver, FINAL_BLEND, type Solver } from "../../src/core/equilibrium/newton.ts";
import { solveCold, solveWarm } from "../../src/core/equilibrium/solve.ts";
import { denseNewton } from "./dense-newton.ts";
import { line, median, medianMs, report, reportMs, share } from "./timing.ts";

const HERE: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
/** A neighbouring load: what a pull at a slider asks for next. */
const NEXT: Load = { lateralG: 0.61, bumpLeftMm: 0, bumpRightMm: 0 };
const ELEMENTS = [8, 16, 32, 64];
const WARM_GOAL_MS = 0.5;
const COLD_GOAL_MS = 6;

function solvedAt(model: AxleModel, solver: Solver, load: Load): Float64Array {
  const r = solveCold(model, load, solver);
  if (!r.ok) throw new Error(r.reason.message);
  return r.q;
}

/** Time and iterations of one equilibrium from the neighbouring one, to and fro. */
function warm(model: AxleModel, times: number): { ms: number; iterations: number } {
  const solver = createSolver(model);
  const starts = [solvedAt(model, solver, HERE), solvedAt(model, solver, NEXT)] as const;
  const before = solver.iterations;
  let calls = 0;
  const ms = medianMs((i) => {
    const back = i % 2;
    if (!solveWarm(model, back ? HERE : NEXT, starts[back ? 1 : 0], solver).ok) throw new Error("no equilibrium");
    calls++;
  }, times);
  return { ms, iterations: (solver.iterations - before) / calls };
}

/** One Newton step in its three parts, ms. */
function step(model: AxleModel, times: number): { assemble: number; factor: number; solve: number } {
  const s = createSolver(model);
  const q = solvedAt(model, s, HERE);
  const taken = { assemble: [] as number[], factor: [] as number[], solve: [] as number[] };
  for (let i = 0; i < times; i++) {
    const t0 = performance.now();
    assemble(model, q, NEXT, FINAL_BLEND, s.r, s.sys, s.ws);
    const t1 = performance.now();
    factor(s.sys);
    const t2 = performance.now();
    solveSystem(s.sys, s.r, s.dq);
    const t3 = performance.now();
    taken.assemble.push(t1 - t0);
    taken.factor.push(t2 - t1);
    taken.solve.push(t3 - t2);
  }
  return { assemble: median(taken.assemble), factor: median(taken.factor), solve: median(taken.solve) };
}

/** One car in full: warm, cold, one step in its parts, a sweep, and the plain way beside it. */
export function benchEquilibrium(scenario: Scenario): void {
  const model = buildAxle(scenario);
  const solver = createSolver(model);
  report("unknowns, and those left after condensing the arms", `${model.n}, ${model.nKept}`);
  const w = warm(model, 1000);
  reportMs(`warm: ${HERE.lateralG} g from ${NEXT.lateralG} g and back`, w.ms, WARM_GOAL_MS);
  report("  Newton steps", w.iterations.toFixed(1));
  const before = solver.iterations;
  let cold = 0;
  const coldMs = medianMs(() => {
    solvedAt(model, solver, HERE);
    cold++;
  }, 100);
  reportMs(`cold: rest and ${HERE.lateralG} g from nothing`, coldMs, COLD_GOAL_MS);
  report("  Newton steps", ((solver.iterations - before) / cold).toFixed(1));

  const s = step(model, 2000);
  reportMs("one Newton step", s.assemble + s.factor + s.solve);
  reportMs("  residual and tangent", s.assemble);
  reportMs("  condense and factor", s.factor);
  reportMs("  solve", s.solve);
  benchSweep(model);
  benchAgainstDense(model);
}

/** Every level from straight on to the edge of grip, each from its neighbour: the few in which a part crosses its play cost more. */
function benchSweep(model: AxleModel): void {
  const solver = createSolver(model);
  const taken: number[] = [];
  for (let round = 0; round < 6; round++) {
    let q = solvedAt(model, solver, { ...HERE, lateralG: 0 });
    for (let i = 1; i <= 100; i++) {
      const start = performance.now();
      const r = solveWarm(model, { ...HERE, lateralG: i / 100 }, q, solver);
      if (round > 0) taken.push(performance.now() - start);
      if (!r.ok) break;
      q = r.q;
    }
  }
  reportMs("warm, 0 to 1 g in steps of 0.01 g: median", median(taken));
  reportMs("  95 of 100 below", share(taken, 0.95));
}

/** Warm and cold of other cars. */
export function benchCars(scenarios: readonly Scenario[]): void {
  for (const s of scenarios) {
    const model = buildAxle(s);
    const solver = createSolver(model);
    const cold = medianMs(() => void solvedAt(model, solver, HERE), 30);
    reportMs(`${s.name}: warm`, warm(model, 200).ms, WARM_GOAL_MS);
    reportMs("  cold", cold, COLD_GOAL_MS);
  }
}

/** The same start, residual and stop, in turns, so that both meet the same machine. */
function benchAgainstDense(model: AxleModel): void {
  const solver = createSolver(model);
  const start = solvedAt(model, solver, NEXT);
  const own = solvedAt(model, solver, HERE);
  const mine: number[] = [];
  const plain: number[] = [];
  let iterations: number | null = 0;
  let apart = 0;
  for (let round = 0; round < 25; round++) {
    const t0 = performance.now();
    for (let k = 0; k < 10; k++) solveWarm(model, HERE, start, solver);
    const t1 = performance.now();
    const q = start.slice();
    iterations = denseNewton(model, q, HERE);
    const t2 = performance.now();
    if (iterations === null) throw new Error("the dense way does not arrive");
    if (round < 5) continue;
    mine.push((t1 - t0) / 10);
    plain.push(t2 - t1);
    apart = q.reduce((m, v, i) => Math.max(m, Math.abs(v - own[i]!)), 0);
  }
  reportMs("the same by a dense Newton, difference tangent, ml-matrix", median(plain));
  report("  Newton steps, and how far its answer lies from ours", `${iterations}, ${apart.toExponential(1)} mm`);
  report("  ratio", `${(median(plain) / median(mine)).toFixed(0)} x`, "at least 30 x");
}

/** What finer arms cost. */
export function benchElements(scenario: Scenario): void {
  const times = ELEMENTS.map((elementsPerArm) => {
    const model = buildAxle(scenario, { elementsPerArm });
    const w = warm(model, 400);
    const s = step(model, 600);
    const ms = s.assemble + s.factor + s.solve;
    reportMs(`${elementsPerArm} elements (${model.n} unknowns): warm equilibrium, ${w.iterations.toFixed(1)} steps`, w.ms);
    reportMs("  one Newton step", ms);
    return ms;
  });
  const fit = line(ELEMENTS, times);
  report("one step as a line a + b·elements: a, b", `${fit.a.toFixed(3)} + ${fit.b.toFixed(5)} ms`);
  report("  farthest from that line", `${(100 * fit.off).toFixed(0)} %`, "linear: a few %");
  report("  64 elements against 8", `${(times[3]! / times[0]!).toFixed(2)} x`, "at most 8 x");
}
