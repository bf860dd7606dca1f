import type { BudgetPart, CamberBudget, SidePart } from "../analysis.ts";
import { type Load, SIDES } from "../design/types.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import { camberRad } from "../equilibrium/readout.ts";
import { radToDeg } from "../units.ts";
import { elementSet, unitLoad } from "./elements.ts";

const SIDE_PARTS: readonly SidePart[] = [
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

/** What was found at the first point of a path; its unknowns belong to one model and are never changed. */
const rests = new WeakMap<Float64Array, { e: Float64Array; n: [Float64Array, Float64Array] }>();

/**
 * Camber of each wheel by the part whose give made it, ° (Maxwell-Mohr, unit-load theorem, integrated by trapezoids over the
 * loading path from rest to the load): dcamber = Σ n·de - n_tyre·d(road height).
 * @param path equilibrium states from rest to the load, at least 8 steps for 2e-4°, 16 for less
 * @param parts false: left out, the whole lean under load is `unassigned`
 * @returns for [left, right] wheel; the parts with `atRest` and `unassigned` sum to the camber at the path's end
 */
export function camberByPart(model: AxleModel, path: readonly PathPoint[], parts = true): [CamberBudget["byPart"], CamberBudget["byPart"]] {
  const set = elementSet(model);
  // by deformation first, and by part at the end
  const totals = [new Float64Array(set.e.length), new Float64Array(set.e.length)] as const;
  const roads = [new Float64Array(2), new Float64Array(2)] as const;
  let e0: Float64Array = new Float64Array(set.e.length);
  let n0: [Float64Array, Float64Array] = [set.n[0].slice(), set.n[1].slice()];
  (parts ? path : []).forEach((p, step) => {
    // every path of a car begins with the same rest
    const rest = step === 0 ? rests.get(p.q) : undefined;
    if (rest) {
      e0 = rest.e;
      n0 = rest.n;
      return;
    }
    unitLoad(set, p.q, p.load);
    if (step > 0) {
      const before = path[step - 1]!.load;
      const road = [p.load.bumpLeftMm - before.bumpLeftMm, p.load.bumpRightMm - before.bumpRightMm];
      for (const w of [0, 1] as const) {
        const total = totals[w];
        const mean = (f: number): number => (set.n[w][f]! + n0[w][f]!) / 2;
        for (let i = 0; i < total.length; i++) total[i] = total[i]! + mean(set.forceOf[i]!) * (set.e[i]! - e0[i]!);
        for (const s of [0, 1] as const) roads[w][s] = roads[w][s]! - mean(set.tyreForce[s]) * road[s]!;
      }
    }
    e0 = set.e.slice();
    n0 = [set.n[0].slice(), set.n[1].slice()];
    if (step === 0) rests.set(p.q, { e: e0, n: n0 });
  });
  const first = path[0]!;
  const last = path[path.length - 1]!;
  return ([0, 1] as const).map((w) => {
    const out = {} as CamberBudget["byPart"];
    const shares = new Map<BudgetPart, number>(SIDES.map((side, s) => [`${side}.road`, roads[w][s]!]));
    set.part.forEach((part, i) => {
      shares.set(part, (shares.get(part) ?? 0) + totals[w][i]!);
    });
    let sum = 0;
    const put = (part: BudgetPart): void => {
      const v = radToDeg(shares.get(part) ?? 0);
      out[part] = v;
      sum += v;
    };
    for (const side of SIDES) for (const part of SIDE_PARTS) put(`${side}.${part}`);
    put("antiRollBar");
    put("restOfCar");
    out.atRest = radToDeg(camberRad(model, first.q, w));
    out.unassigned = radToDeg(camberRad(model, last.q, w)) - out.atRest - sum;
    return out;
  }) as [CamberBudget["byPart"], CamberBudget["byPart"]];
}
