import { scenarioJsonSchemaText } from "../scenario/json-schema.ts";
import { writeWhole } from "./output.ts";

/** Writes the published schema of scenario files; run from the root of the project. */
export function main(): number {
  writeWhole("scenarios/scenario.schema.json", scenarioJsonSchemaText());
  return 0;
}
