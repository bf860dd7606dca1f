import type { BudgetPart, CamberBudget, SidePart } from "../analysis.ts";
import { type Load, SIDES } from "../design/types.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import { camberRad } from "../equilibrium/readout.ts";
import { radToDeg } from "../units.ts";
import { elementSet, unitLoad } from "./elements.ts";

export const SIDE_PARTS: readonly SidePart[] = [
  "spring",
  "tyreVertical",
  "tyreTilt",
  "upperArm",
  "lowerArm",
  "innerPivotSprings",
  "upperInnerClearance",
  "upperInnerGive",
  "upperOuterClearance",
  "upperOuterGive",
  "lowerInnerClearance",
  "lowerInnerGive",
  "lowerOuterClearance",
  "lowerOuterGive",
  "bearingPlay",
  "bearingGive",
  "road",
];

/** A solved point of the loading path. */
export interface PathPoint {
  load: Load;
  q: Float64Array;
}

/**
 * Camber of each wheel by the part whose give made it, ° (Maxwell-Mohr, unit-load theorem, integrated by trapezoids over the
 * loading path from rest to the load): dcamber = Σ n·de - n_tyre·d(road height).
 * @param path equilibrium states from rest to the load, at least 8 steps for 2e-4°, 16 for less
 * @returns for [left, right] wheel; the parts with `atRest` and `unassigned` sum to the camber at the path's end
 */
export function camberByPart(model: AxleModel, path: readonly PathPoint[]): [CamberBudget["byPart"], CamberBudget["byPart"]] {
  const set = elementSet(model);
  const totals = [new Map<BudgetPart, number>(), new Map<BudgetPart, number>()];
  let e0 = new Float64Array(set.e.length);
  let n0: [Float64Array, Float64Array] = [set.n[0].slice(), set.n[1].slice()];
  path.forEach((p, step) => {
    unitLoad(set, p.q, p.load);
    if (step > 0) {
      const before = path[step - 1]!.load;
      const road = [p.load.bumpLeftMm - before.bumpLeftMm, p.load.bumpRightMm - before.bumpRightMm];
      for (const w of [0, 1] as const) {
        const total = totals[w]!;
        const mean = (f: number): number => (set.n[w][f]! + n0[w][f]!) / 2;
        for (let i = 0; i < set.e.length; i++) {
          const part = set.part[i]!;
          total.set(part, (total.get(part) ?? 0) + mean(set.forceOf[i]!) * (set.e[i]! - e0[i]!));
        }
        for (const [s, side] of SIDES.entries()) {
          const part: BudgetPart = `${side}.road`;
          total.set(part, (total.get(part) ?? 0) - mean(set.tyreForce[s as 0 | 1]) * road[s]!);
        }
      }
    }
    e0 = set.e.slice();
    n0 = [set.n[0].slice(), set.n[1].slice()];
  });
  const first = path[0]!;
  const last = path[path.length - 1]!;
  return [0, 1].map((w) => {
    const out = {} as CamberBudget["byPart"];
    let sum = 0;
    const put = (part: BudgetPart): void => {
      const v = radToDeg(totals[w]!.get(part) ?? 0);
      out[part] = v;
      sum += v;
    };
    for (const side of SIDES) for (const part of SIDE_PARTS) put(`${side}.${part}`);
    put("antiRollBar");
    put("restOfCar");
    out.atRest = radToDeg(camberRad(model, first.q, w as 0 | 1));
    out.unassigned = radToDeg(camberRad(model, last.q, w as 0 | 1)) - out.atRest - sum;
    return out;
  }) as [CamberBudget["byPart"], CamberBudget["byPart"]];
}
