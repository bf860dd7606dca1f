import { readdirSync, readFileSync } from "node:fs";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";

const folder = new URL("../../scenarios/", import.meta.url);

/** Names of the shipped scenario files. */
export const SHIPPED: readonly string[] = readdirSync(folder)
  .filter((n) => n.endsWith(".json") && n !== "scenario.schema.json")
  .sort();

export const shippedText = (file: string): string => readFileSync(new URL(file, folder), "utf8");

/** A shipped scenario, read; throws when it is refused. */
export function shipped(file: string): Scenario {
  const r = parseScenario(shippedText(file), file);
  if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
  return r.scenario;
}
