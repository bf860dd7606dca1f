import { readdirSync, readFileSync } from "node:fs";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";

/** Tests and fuzzers run from the root of the project; a bundled fuzzer lies elsewhere. */
const folder = "scenarios";

/** Names of the shipped scenario files. */
export const SHIPPED: readonly string[] = readdirSync(folder)
  .filter((n) => n.endsWith(".json") && n !== "scenario.schema.json")
  .sort();

export const shippedText = (file: string): string => readFileSync(`${folder}/${file}`, "utf8");

/** A shipped scenario, read; throws when it is refused. */
export function shipped(file: string): Scenario {
  const r = parseScenario(shippedText(file), file);
  if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
  return r.scenario;
}
