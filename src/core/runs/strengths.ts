import type { LimitName } from "../analysis.ts";
import { resolveMaterial, shearModulusMPa } from "../arm/materials.ts";
import { fieldValue, homeOf } from "../design/origins.ts";
import { cornerOf } from "../design/sides.ts";
import { ARM_NAMES, type ArmName, type Corner, JOINT_NAMES, type JointName, type Material, type Scenario, SIDES, type Side } from "../design/types.ts";
import { scatterOf } from "../studies/guess-steps.ts";

/** Numbers of a design that runs tell something about: what parts take, the tyres' grip, the friction in the hub. */
export interface Strength {
  /** the limit whose holding or giving tells about it */
  limit: LimitName;
  /** joint or arm of the corner; null: there is but one */
  at: JointName | ArmName | null;
  /** where the number stands in the file; that of a material that is known by its name would stand there */
  path: string;
  /** sides that it holds for */
  sides: Side[];
  /** as the design has it, above 0 */
  value: number;
  /** one standard deviation before any run, and why */
  sd: number;
  why: string;
  /** runs told it before: what the model's loads are off by is in its ± already */
  fromRuns: boolean;
}

/** Noted beside a value that runs told. */
export const FROM_RUNS = "from runs";

interface Found {
  limit: LimitName;
  at: Strength["at"];
  local: string;
  value: number;
}

const isPlainMaterial = (m: Material): boolean => shearModulusMPa(m) === m.youngMPa / (2 * (1 + m.poisson));

/** The numbers of one corner, by their path within it. */
function ofCorner(c: Corner): Found[] {
  const { retention } = c.hub;
  const { seat } = c.tyre;
  const held = retention.kind === "lip" ? (["capacityN", retention.capacityN] as const) : (["shearStrengthMPa", retention.shearStrengthMPa] as const);
  const on = seat.kind === "stretchedBand" ? "bandTensionN" : "extraHoldN";
  return [
    { limit: "hubRetention", at: null, local: `hub.retention.${held[0]}`, value: held[1] },
    ...JOINT_NAMES.map((n): Found => ({ limit: "jointPullOut", at: n, local: `joints.${n}.pullOutN`, value: c.joints[n].pullOutN })),
    { limit: "tyreOffRim", at: null, local: `tyre.seat.${on}`, value: seat[on] },
    ...ARM_NAMES.flatMap((n): Found[] => {
      const m = resolveMaterial(c[`${n}Arm`].material);
      // a rod of fibres is soft in shear, which a material of one's own cannot tell: another strength would make it another rod
      return isPlainMaterial(m) ? [{ limit: "armYield", at: n, local: `${n}Arm.material.yieldMPa`, value: m.yieldMPa }] : [];
    }),
    { limit: "sliding", at: null, local: "tyre.friction", value: c.tyre.friction },
    { limit: "hubHeat", at: null, local: "hub.heat.friction", value: c.hub.heat.friction },
  ];
}

/** Where the number stands; a material's goes where the material stands. */
function pathOf(s: Scenario, side: Side, local: string): string {
  const material = /^(.*\.material)\.yieldMPa$/.exec(local);
  const own = homeOf(s, side, local);
  return material && fieldValue(s, own) === undefined ? `${homeOf(s, side, material[1]!)}.yieldMPa` : own;
}

/** All numbers of a design that runs may tell about; those that are 0 hold nothing and are left out. */
export function strengthsOf(s: Scenario): Strength[] {
  const out = new Map<string, Strength>();
  for (const side of SIDES)
    for (const { limit, at, local, value } of ofCorner(cornerOf(s, side))) {
      if (!(value > 0)) continue;
      const path = pathOf(s, side, local);
      const known = out.get(path);
      if (known) {
        known.sides.push(side);
        continue;
      }
      const { amount, why } = scatterOf(s, path, value);
      out.set(path, { limit, at, path, sides: [side], value, sd: amount > 0 ? amount : LEAST * value, why, fromRuns: s.origins[path]?.note === FROM_RUNS });
    }
  return [...out.values()];
}

/** Nothing is known better than this share. */
const LEAST = 1e-3;
