import { withOrigins } from "../../src/core/design/origins.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { uncertainInputs } from "../../src/core/doubt/inputs.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";

/** A car of which nobody measured anything. */
export function guessed(s: Scenario): Scenario {
  const fields = uncertainInputs(s, rangeOf).list.filter((u) => u.how !== "material");
  return withOrigins(s, Object.fromEntries(fields.map((u) => [u.key, { how: "guess" as const }])));
}
