import { resolveMaterial } from "../../src/core/arm/materials.ts";
import { checkScenario } from "../../src/core/design/check.ts";
import { splitPath, withValueAt } from "../../src/core/design/field-path.ts";
import type { Material, Scenario } from "../../src/core/design/types.ts";
import type { UncertainInputs } from "../../src/core/doubt/inputs.ts";
import { createRandom } from "../../src/core/numerics/random.ts";

/**
 * A car as it may truly be: every input drawn by dice from the scatter that is stated of it (log-normal where it is wide and cannot be negative),
 * drawn again as a whole where the values do not go together. Apart from how the samples are drawn.
 */
export function inventedWorld(inputs: UncertainInputs, world: number): Scenario {
  const random = createRandom(90_000 + world);
  for (;;) {
    let s = inputs.scenario;
    const materials = new Map<string, Material>();
    for (const u of inputs.list) {
      const z = random.normal();
      const cv = u.sd / u.value;
      const drawn = u.law === "logNormal" ? (u.value / Math.sqrt(1 + cv * cv)) * Math.exp(z * Math.sqrt(Math.log1p(cv * cv))) : u.value + z * u.sd;
      const value = Math.max(u.min, Math.min(u.max, drawn));
      const [, name, what] = /^material\.(.+)\.(youngMPa|yieldMPa)$/.exec(u.key) ?? [];
      if (name === undefined) s = withValueAt(s, splitPath(u.key), value);
      else materials.set(name, { ...(materials.get(name) ?? resolveMaterial(name)), [what!]: value });
    }
    for (const place of ["corner", "left", "right"] as const)
      for (const arm of ["upperArm", "lowerArm"] as const) {
        const material = s[place][arm]?.material;
        if (typeof material === "string") s = withValueAt(s, [place, arm, "material"], materials.get(material)!);
      }
    if (checkScenario(s).length === 0) return s;
  }
}
