import { z } from "zod";
import { type Path, splitPath } from "../core/design/field-path.ts";
import { schemaAt } from "./lookup.ts";
import { unwrap } from "./partial.ts";
import { scenarioSchema } from "./schema.ts";

/** What a slider or a number box needs to know of a field. */
export interface NumberRange {
  min: number;
  max: number;
  /** plain words, without the unit */
  description: string;
  /** "" for pure numbers */
  unit: string;
  /** null: no default, or the default is "none" */
  default: number | null;
  whole: boolean;
  /** may be null, which means "none" or "as the rest" */
  nullable: boolean;
}

/**
 * Range, unit, words and default of the number at `path`, such as "corner.wheel.radiusMm" or "loadCases[0].lateralG".
 * `data`, a scenario, decides between members of a choice. Undefined when no number can stand there.
 */
export function rangeOf(path: string | Path, data?: unknown): NumberRange | undefined {
  return rangeIn(scenarioSchema, typeof path === "string" ? splitPath(path) : path, data);
}

/** The same in another schema than that of scenarios. */
export function rangeIn(schema: z.core.$ZodType, path: Path, data?: unknown): NumberRange | undefined {
  const found = schemaAt(schema, path, data);
  if (!found) return undefined;
  const fallback = found instanceof z.ZodDefault ? found.def.defaultValue : null;
  let inner = unwrap(found);
  const nullable = inner instanceof z.ZodNullable;
  if (inner instanceof z.ZodNullable) inner = unwrap(inner.unwrap());
  if (!(inner instanceof z.ZodNumber) || inner.minValue === null || inner.maxValue === null) return undefined;
  const meta = inner.meta() as { what?: string; unit?: string } | undefined;
  return {
    min: inner.minValue,
    max: inner.maxValue,
    description: meta?.what ?? "",
    unit: meta?.unit ?? "",
    default: typeof fallback === "number" ? fallback : null,
    whole: inner.isInt,
    nullable,
  };
}
