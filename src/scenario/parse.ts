import { z } from "zod";
import { checkScenario } from "../core/design/check.ts";
import type { Scenario } from "../core/design/types.ts";
import { jsonFault } from "./json-text.ts";
import { joinPath, keysAt, type Path, schemaAt, valueAt } from "./lookup.ts";
import { unwrap } from "./partial.ts";
import { rangeOf } from "./ranges.ts";
import { scenarioSchema } from "./schema.ts";
import { nearest, shownValue } from "./words.ts";

export interface ScenarioProblem {
  file: string;
  /** such as "corner.wheel.radiusMm"; "" for the file as a whole */
  path: string;
  /** what stands there; undefined when nothing does */
  value: unknown;
  /** what may stand there, in plain words */
  allowed: string;
  /** the whole sentence, file and field included */
  message: string;
}

export type ParsedScenario = { ok: true; scenario: Scenario } | { ok: false; problems: ScenarioProblem[] };

/**
 * Reads a scenario from JSON text, or from the value that such a text stands for. Defaults are filled in.
 * Every problem is told with file, field, value and what is allowed; nothing is thrown.
 */
export function parseScenario(input: unknown, fileName: string): ParsedScenario {
  let data = input;
  if (typeof input === "string") {
    const fault = jsonFault(input.replace(/^\uFEFF/, ""));
    if (fault) {
      const place = `line ${fault.line}, column ${fault.column}`;
      const message = `${fileName}: ${place}: ${fault.message}.`;
      return { ok: false, problems: [{ file: fileName, path: "", value: undefined, allowed: "JSON text", message }] };
    }
    data = JSON.parse(input.replace(/^\uFEFF/, ""));
  }
  const result = scenarioSchema.safeParse(data);
  if (!result.success) return { ok: false, problems: result.error.issues.flatMap((i) => problemsOf(i, [], data, fileName)) };
  const { $schema: _, ...scenario } = result.data;
  const problems = checkScenario(scenario).map((p): ScenarioProblem => {
    const shown = shownValue(p.value, p.unit);
    return { file: fileName, path: p.path, value: p.value, allowed: p.allowed, message: `${fileName}: ${p.path} is ${shown}; allowed ${p.allowed}.` };
  });
  return problems.length > 0 ? { ok: false, problems } : { ok: true, scenario };
}

type Issue = z.core.$ZodIssue;

/** Problems that stand behind one issue; `above` is the path of the choice that the issue was found in. */
function problemsOf(issue: Issue, above: Path, data: unknown, file: string): ScenarioProblem[] {
  const path = [...above, ...(issue.path as (string | number)[])];
  if (issue.code === "unrecognized_keys") return issue.keys.map((key) => unknownKey(key, path, data, file));
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    // The member that got furthest, past the question of what kind of value stands there, is the one that was meant.
    const value = valueAt(data, path);
    const meant = issue.errors.find((e) => !e.some((i) => i.path.length === 0 && (i.code === "invalid_type" || i.code === "invalid_value")));
    if (meant && value !== undefined) return meant.flatMap((i) => problemsOf(i as Issue, path, data, file));
  }
  const value = valueAt(data, path);
  const unit = rangeOf(path, data)?.unit ?? "";
  const allowed = allowedAt(path, data, issue);
  const where = path.length === 0 ? "the scenario" : joinPath(path);
  return [{ file, path: joinPath(path), value, allowed, message: `${file}: ${where} is ${shownValue(value, unit)}; allowed ${allowed}.` }];
}

function unknownKey(key: string, at: Path, data: unknown, file: string): ScenarioProblem {
  const path = [...at, key];
  const keys = keysAt(scenarioSchema, at, data);
  const near = nearest(key, keys);
  const allowed = near === undefined ? "no field" : near;
  const message = `${file}: ${joinPath(path)} is not a known field; the nearest allowed one is ${allowed}.`;
  return { file, path: joinPath(path), value: valueAt(data, path), allowed, message };
}

/** What may stand at a path, in words: "15 to 150 mm", "one of straight, split, A, twin". */
function allowedAt(path: Path, data: unknown, issue: Issue): string {
  const range = rangeOf(path, data);
  if (range) {
    const numbers = `${range.min} to ${range.max}${range.unit === "" ? "" : ` ${range.unit}`}`;
    return `${range.whole ? "a whole number, " : ""}${numbers}${range.nullable ? ", or null" : ""}`;
  }
  if (issue.code === "invalid_value") return issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.join(", ")}`;
  const options = (issue as { options?: unknown }).options;
  if (issue.code === "invalid_union" && Array.isArray(options)) return `one of ${options.join(", ")}`;
  const schema = schemaAt(scenarioSchema, path, data);
  return schema ? kindOf(unwrap(schema)) : "a value";
}

function kindOf(schema: z.core.$ZodType): string {
  if (schema instanceof z.ZodNullable) return `${kindOf(unwrap(schema.unwrap()))}, or null`;
  if (schema instanceof z.ZodString)
    return schema.minLength ? `a text of ${schema.minLength} to ${schema.maxLength} letters` : `a text of up to ${schema.maxLength} letters`;
  if (schema instanceof z.ZodBoolean) return "true or false";
  if (schema instanceof z.ZodLiteral) return JSON.stringify(schema.value);
  if (schema instanceof z.ZodEnum) return `one of ${schema.options.join(", ")}`;
  if (schema instanceof z.ZodArray) return listOf(schema);
  if (schema instanceof z.ZodObject) return `an object with ${Object.keys(schema.shape).join(", ")}`;
  if (schema instanceof z.ZodDiscriminatedUnion) return `an object with "${schema._zod.def.discriminator}"`;
  if (schema instanceof z.ZodUnion) return schema.options.map((o) => kindOf(unwrap(o))).join(", or ");
  return "a value";
}

function listOf(schema: z.ZodArray): string {
  let least = 0;
  let most = "any number of";
  for (const { _zod } of schema.def.checks ?? []) {
    const def = _zod.def as { check: string; minimum?: number; maximum?: number };
    if (def.check === "min_length") least = def.minimum ?? least;
    if (def.check === "max_length") most = String(def.maximum);
  }
  return `a list of ${least} to ${most} entries`;
}
