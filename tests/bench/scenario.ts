import { readdirSync, readFileSync } from "node:fs";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";

/** A shipped scenario; the bench runs from the root of the project. */
export function benchScenario(file: string): Scenario {
  const r = parseScenario(readFileSync(`scenarios/${file}`, "utf8"), file);
  if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
  return r.scenario;
}

export const shippedFiles = (): string[] =>
  readdirSync("scenarios")
    .filter((n) => n.endsWith(".json") && n !== "scenario.schema.json")
    .sort();
