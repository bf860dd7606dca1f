import { z } from "zod";
import { scenarioSchema } from "./schema.ts";

/**
 * The published JSON Schema (draft 2020-12) of a scenario file. Units stand in the descriptions and in the names;
 * our own keywords are left out, since strict checkers refuse what they do not know.
 */
export function scenarioJsonSchema(): Record<string, unknown> {
  const { $schema, ...rest } = z.toJSONSchema(scenarioSchema, {
    io: "input",
    override: ({ jsonSchema }) => {
      delete jsonSchema.unit;
      delete jsonSchema.what;
    },
  }) as Record<string, unknown>;
  return {
    $schema,
    title: "Wheelstay scenario",
    description: "One axle of a model car seen from behind: geometry, arms, joints, springs, wheels, loads. Lengths in mm, forces in N, angles in degrees.",
    ...rest,
  };
}

/** Text of scenarios/scenario.schema.json. */
export function scenarioJsonSchemaText(): string {
  return `${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`;
}
