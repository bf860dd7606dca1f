import { z } from "zod";
import { unwrap } from "./partial.ts";

/** Steps from the root of a scenario: keys, and indices of lists. */
export type Path = readonly (string | number)[];

/** `corner.wheel.radiusMm`, `loadCases[0].lateralG`, and the same with dots only. */
export function splitPath(path: string): (string | number)[] {
  return path
    .split(/[.[\]]+/)
    .filter((s) => s !== "")
    .map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

/** A path as it is written: `corner.arms[0].name`. */
export function joinPath(path: Path): string {
  return path.reduce<string>((out, step) => (typeof step === "number" ? `${out}[${step}]` : out === "" ? step : `${out}.${step}`), "");
}

/** What stands at a path in parsed JSON, or undefined. */
export function valueAt(root: unknown, path: Path): unknown {
  let v = root;
  for (const step of path) {
    if (typeof v !== "object" || v === null) return undefined;
    v = (v as Record<string | number, unknown>)[step];
  }
  return v;
}

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
