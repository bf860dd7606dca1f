import { z } from "zod";
import type { DeepPartial } from "../core/design/types.ts";

/** The schema under optional, default and prefault wrappers. */
export function unwrap(schema: z.core.$ZodType): z.core.$ZodType {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault || schema instanceof z.ZodPrefault) return unwrap(schema.unwrap());
  return schema;
}

/**
 * A schema in which every field of every nested object may be left out and no default is filled in.
 * Choices (unions) stay whole: whoever overrides one gives all of it.
 */
export function deepPartial<T extends z.ZodObject>(schema: T): z.ZodType<DeepPartial<z.output<T>>, DeepPartial<z.input<T>>> {
  return partialOf(schema) as z.ZodType<DeepPartial<z.output<T>>, DeepPartial<z.input<T>>>;
}

function partialOf(schema: z.core.$ZodType): z.core.$ZodType {
  const inner = unwrap(schema);
  if (!(inner instanceof z.ZodObject)) return inner;
  const shape: Record<string, z.core.$ZodType> = {};
  for (const [key, field] of Object.entries(inner.shape as Record<string, z.core.$ZodType>)) shape[key] = z.optional(partialOf(field));
  const partial = z.strictObject(shape);
  const { description } = (schema as z.ZodType).meta() ?? {};
  return description === undefined ? partial : partial.meta({ description });
}
