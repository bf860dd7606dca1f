import { z } from "zod";
import { type Path, valueAt } from "../core/design/field-path.ts";
import { unwrap } from "./partial.ts";

/** Members of a choice that may hold `value`: those whose literal keys agree with it, or all when none does. */
function membersFor(union: z.ZodUnion, value: unknown): z.core.$ZodType[] {
  const options = union.options.map((o) => unwrap(o));
  if (typeof value !== "object" || value === null) return options;
  const agrees = options.filter(
    (o) =>
      o instanceof z.ZodObject &&
      Object.entries(o.shape).every(([key, f]) => {
        const tag = f instanceof z.ZodLiteral || f instanceof z.ZodEnum ? f : null;
        return !tag || !(key in value) || tag.safeParse((value as Record<string, unknown>)[key]).success;
      }),
  );
  return agrees.length > 0 ? agrees : options;
}

/** Wrappers kept: defaults and descriptions sit on them. */
function fieldsAt(schema: z.core.$ZodType, path: Path, value: unknown): z.core.$ZodType | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return schema;
  const inner = unwrap(schema);
  if (inner instanceof z.ZodNullable) return fieldsAt(inner.unwrap(), path, value);
  const next = valueAt(value, [step]);
  if (inner instanceof z.ZodObject) {
    const shape = inner.shape as Record<string, z.core.$ZodType>;
    return Object.hasOwn(shape, step) ? fieldsAt(shape[step]!, rest, next) : undefined;
  }
  if (inner instanceof z.ZodRecord) return fieldsAt(inner.valueType, rest, next);
  if (inner instanceof z.ZodArray) return typeof step === "number" ? fieldsAt(inner.element, rest, next) : undefined;
  if (inner instanceof z.ZodUnion) {
    for (const member of membersFor(inner, value)) {
      const found = fieldsAt(member, path, value);
      if (found) return found;
    }
  }
  return undefined;
}

/** The schema of the field at `path`; `data` (the file's content) decides between members of a choice. */
export function schemaAt(schema: z.core.$ZodType, path: Path, data?: unknown): z.core.$ZodType | undefined {
  return fieldsAt(schema, path, data);
}

/** Keys that an object may have at `path`. */
export function keysAt(schema: z.core.$ZodType, path: Path, data: unknown): string[] {
  const at = schemaAt(schema, path, data);
  if (!at) return [];
  let inner = unwrap(at);
  if (inner instanceof z.ZodNullable) inner = unwrap(inner.unwrap());
  if (inner instanceof z.ZodObject) return Object.keys(inner.shape);
  if (inner instanceof z.ZodUnion) return membersFor(inner, valueAt(data, path)).flatMap((m) => (m instanceof z.ZodObject ? Object.keys(m.shape) : []));
  return [];
}
