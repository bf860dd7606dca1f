import { z } from "zod";
import type { Scenario } from "../core/design/types.ts";
import { schemaAt } from "./lookup.ts";
import { unwrap } from "./partial.ts";
import { scenarioSchema } from "./schema.ts";

/** Objects without further objects in them stay on one line up to this length. */
const LINE_LENGTH = 120;

/**
 * A scenario as JSON text, in the order of the schema whatever the order of the keys was, with every value written
 * out, defaults too. `schemaAddress` is put in front for editors that complete and check as one types.
 */
export function formatScenario(scenario: Scenario, schemaAddress?: string): string {
  const whole = schemaAddress === undefined ? scenario : { $schema: schemaAddress, ...scenario };
  return `${lines(ordered(scenarioSchema, whole), "")}\n`;
}

function ordered(schema: z.core.$ZodType | undefined, value: unknown): unknown {
  if (Array.isArray(value)) return value.map((v, i) => ordered(schema && schemaAt(schema, [i]), v));
  if (typeof value !== "object" || value === null) return value;
  const given = value as Record<string, unknown>;
  const known = schema ? orderAt(schema, given) : [];
  const keys = [...known.filter((k) => k in given), ...Object.keys(given).filter((k) => !known.includes(k))];
  return Object.fromEntries(keys.filter((k) => given[k] !== undefined).map((k) => [k, ordered(schema && schemaAt(schema, [k], value), given[k])]));
}

function orderAt(schema: z.core.$ZodType, value: Record<string, unknown>): string[] {
  let inner = unwrap(schema);
  if (inner instanceof z.ZodNullable) inner = unwrap(inner.unwrap());
  if (inner instanceof z.ZodObject) return Object.keys(inner.shape);
  if (inner instanceof z.ZodRecord) return Object.keys(value).sort();
  if (!(inner instanceof z.ZodUnion)) return [];
  const member = inner.options.find((o) => z.safeParse(o, value).success);
  return member instanceof z.ZodObject ? Object.keys(member.shape) : [];
}

function lines(value: unknown, indent: string): string {
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const list = Array.isArray(value);
  const entries: [string, unknown][] = list ? value.map((v) => ["", v]) : Object.entries(value).map(([k, v]) => [`${JSON.stringify(k)}: `, v]);
  const [open, close] = list ? ["[", "]"] : ["{", "}"];
  if (entries.length === 0) return open + close;
  const flat = entries.every(([, v]) => typeof v !== "object" || v === null);
  if (flat) {
    const pad = list ? "" : " ";
    const line = `${open}${pad}${entries.map(([k, v]) => k + JSON.stringify(v)).join(", ")}${pad}${close}`;
    if (line.length <= LINE_LENGTH) return line;
  }
  const inner = `${indent}  `;
  return `${open}\n${entries.map(([k, v]) => inner + k + lines(v, inner)).join(",\n")}\n${indent}${close}`;
}
