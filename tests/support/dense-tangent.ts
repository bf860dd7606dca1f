import type { AxleSystem } from "../../src/core/equilibrium/condense.ts";

/** The whole tangent of an assembled, not yet factored system over all unknowns, row-major. */
export function denseTangent(sys: AxleSystem): Float64Array {
  const { model, ke, a } = sys;
  const { n, kept, nKept } = model;
  const k = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) if (kept[i]! >= 0 && kept[j]! >= 0) k[i * n + j] = a[kept[i]! * nKept + kept[j]!]!;
  for (const arm of model.arms)
    for (let e = 0; e < arm.count - 1; e++)
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) {
          const at = (arm.base + 3 * e + i) * n + arm.base + 3 * e + j;
          k[at] = k[at]! + ke[36 * (arm.firstElement + e) + 6 * i + j]!;
        }
  return k;
}
