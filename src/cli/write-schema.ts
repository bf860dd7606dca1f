import { writeFileSync } from "node:fs";
import { scenarioJsonSchemaText } from "../scenario/json-schema.ts";

/** Writes the published schema of scenario files; run from the root of the project. */
export function main(): number {
  writeFileSync("scenarios/scenario.schema.json", scenarioJsonSchemaText());
  return 0;
}
