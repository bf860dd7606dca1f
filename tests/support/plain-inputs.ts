import type { Scenario } from "../../src/core/design/types.ts";
import { correlationOf } from "../../src/core/doubt/correlation.ts";
import { type Uncertain, type UncertainInputs, valueAtScore } from "../../src/core/doubt/inputs.ts";
import { drawWorlds } from "../../src/core/doubt/worlds.ts";

/** Inputs of a formula instead of a car: normal ones, unless told otherwise. */
export function plainInputs(
  of: readonly (Pick<Uncertain, "value" | "sd"> & Partial<Uncertain>)[],
  together: readonly [number, number, number][] = [],
): UncertainInputs {
  const list = of.map((u, i): Uncertain => ({ key: `p${i}`, how: "measured", why: "", law: "normal", min: -Infinity, max: Infinity, unit: "", ...u }));
  const origins: Scenario["origins"] = Object.fromEntries(list.map((u) => [u.key, { how: "measured" as const, together: {} as Record<string, number> }]));
  for (const [a, b, r] of together) {
    origins[`p${a}`]!.together![`p${b}`] = r;
    origins[`p${b}`]!.together![`p${a}`] = r;
  }
  const scenario = { origins } as Scenario;
  return { scenario, list, correlation: correlationOf(scenario, list) };
}

/** Values of a formula over worlds. */
export function formulaOver(inputs: UncertainInputs, f: (p: readonly number[]) => number, worlds: number, seed: number): Float64Array {
  const w = drawWorlds(inputs, worlds, seed);
  return Float64Array.from({ length: worlds }, (_, i) => {
    const scores = w.scores(i);
    return f(inputs.list.map((u, k) => valueAtScore(u, scores[k]!)));
  });
}
