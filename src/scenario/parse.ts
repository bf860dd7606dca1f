import { z } from "zod";
import { checkScenario } from "../core/design/check.ts";
import { joinPath, type Path, valueAt } from "../core/design/field-path.ts";
import { plainLoad } from "../core/design/load.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import { CAPS } from "./caps.ts";
import { checkBench } from "./check-bench.ts";
import { checkOrigins } from "./check-origins.ts";
import { jsonFault } from "./json-text.ts";
import { keysAt, schemaAt } from "./lookup.ts";
import { fromOlder } from "./older.ts";
import { unwrap } from "./partial.ts";
import { rangeIn } from "./ranges.ts";
import { loadSchema, scenarioSchema } from "./schema.ts";
import { nearest, shownName, shownText, shownValue } from "./words.ts";

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

/** What was read, or what is wrong with it: the first problems, and how many more there are. */
export type Parsed<T> = { ok: true; value: T } | { ok: false; problems: ScenarioProblem[]; more: number };
export type ParsedScenario = { ok: true; scenario: Scenario } | { ok: false; problems: ScenarioProblem[]; more: number };

/**
 * Reads a scenario from JSON text, or from the value that such a text stands for. Defaults are filled in.
 * Problems are told with file, field, value and what is allowed, up to `CAPS.problemsTold` of them, each in one short line; nothing is thrown.
 */
export function parseScenario(input: unknown, fileName: string): ParsedScenario {
  const file = shownName(fileName);
  if (typeof input === "string" && input.length > CAPS.fileBytes) return wholeFile(file, TOO_LARGE, "fewer letters");
  const data = typeof input === "string" ? readJson(input, file) : ({ ok: true, value: input } as const);
  if (!data.ok) return data;
  const older = fromOlder(data.value);
  if (!older.ok)
    return refused(older.faults.map((p) => ({ ...p, file, message: `${file}: ${p.path} is ${shownValue(p.value, "kg")}; allowed ${p.allowed}.` })));
  const read = readAs(scenarioSchema, older.value, file);
  if (!read.ok) return read;
  const { $schema: _, ...scenario } = read.value;
  const problems = checkScenario(scenario).map((p): ScenarioProblem => {
    const shown = shownValue(p.value, p.unit);
    return { file, path: p.path, value: p.value, allowed: p.allowed, message: `${file}: ${p.path} is ${shown}; allowed ${p.allowed}.` };
  });
  if (problems.length === 0)
    problems.push(
      ...[...checkOrigins(scenario, keysOf(older.value, "origins")), ...checkBench(scenario)].map(({ words, ...p }) => ({
        file,
        ...p,
        message: `${file}: ${words}.`,
      })),
    );
  return problems.length > 0 ? refused(problems) : { ok: true, scenario };
}

const keysOf = (data: unknown, key: string): string[] => Object.keys(valueAt(data, [key]) ?? {});

/** Reads a load, with the ranges of a load case of the file; what is left out is 0. */
export const parseLoad = (value: unknown, from: string): Parsed<Load> => {
  const read = readAs(loadSchema, value, shownName(from));
  return read.ok ? { ok: true, value: plainLoad(read.value) } : read;
};

/** The value of a JSON text that has no key twice in an object. */
export function readJson(text: string, file: string): Parsed<unknown> {
  const json = text.replace(/^\uFEFF/, "");
  const fault = jsonFault(json);
  if (fault) return wholeFile(file, `line ${fault.line}, column ${fault.column}: ${fault.message}`, "JSON text");
  return { ok: true, value: JSON.parse(json) as unknown };
}

/** That a file is too large, without its name and the full stop. */
export const TOO_LARGE = `it is larger than ${CAPS.fileBytes / 1000} kB, more than a scenario can have`;

const wholeFile = (file: string, words: string, allowed: string) => refused([{ file, path: "", value: undefined, allowed, message: `${file}: ${words}.` }]);

const refused = (all: readonly ScenarioProblem[]): { ok: false; problems: ScenarioProblem[]; more: number } => ({
  ok: false,
  problems: all.slice(0, CAPS.problemsTold),
  more: Math.max(0, all.length - CAPS.problemsTold),
});

/** Reads a value by a schema; problems are told with file, field, value and what is allowed. */
export function readAs<T extends z.ZodType>(schema: T, data: unknown, file: string): Parsed<z.output<T>> {
  const result = schema.safeParse(data);
  if (result.success) return { ok: true, value: result.data };
  const found = result.error.issues.flatMap((i) => placesOf(i, [], data));
  const problems = found.slice(0, CAPS.problemsTold).map((p) => problemOf(p, { schema, data, file }));
  return { ok: false, problems, more: found.length - problems.length };
}

type Issue = z.core.$ZodIssue;

/** One thing that is wrong: its issue and the path of the value, or of the unknown key. Without words, which cost more to find. */
interface Place {
  issue: Issue;
  path: Path;
  unknownKey?: string;
}

interface Read {
  schema: z.ZodType;
  data: unknown;
  file: string;
}

/** The places that stand behind one issue; `above` is the path of the choice that the issue was found in. */
function placesOf(issue: Issue, above: Path, data: unknown): Place[] {
  const path = [...above, ...(issue.path as (string | number)[])];
  if (issue.code === "unrecognized_keys") return issue.keys.map((unknownKey) => ({ issue, path, unknownKey }));
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    // The member that got furthest, past the question of what kind of value stands there, is the one that was meant.
    const meant = issue.errors.find((e) => !e.some((i) => i.path.length === 0 && (i.code === "invalid_type" || i.code === "invalid_value")));
    if (meant && valueAt(data, path) !== undefined) return meant.flatMap((i) => placesOf(i as Issue, path, data));
  }
  return [{ issue, path }];
}

function problemOf({ issue, path, unknownKey }: Place, read: Read): ScenarioProblem {
  const { schema, data, file } = read;
  if (unknownKey !== undefined) return unknownField(unknownKey, path, read);
  const value = valueAt(data, path);
  const unit = rangeIn(schema, path, data)?.unit ?? "";
  const allowed = allowedAt(path, read, issue);
  const where = path.length === 0 ? (schema === scenarioSchema ? "the scenario" : "it") : joinPath(path);
  return { file, path: joinPath(path), value, allowed, message: `${file}: ${where} is ${shownValue(value, unit)}; allowed ${allowed}.` };
}

function unknownField(key: string, at: Path, { schema, data, file }: Read): ScenarioProblem {
  const path = joinPath([...at, shownText(key)]);
  const keys = keysAt(schema, at, data);
  const near = nearest(key, keys);
  const allowed = near ?? keys.join(", ");
  const message = `${file}: ${path} is not a known field; ${near === undefined ? "allowed" : "the nearest allowed one is"} ${allowed}.`;
  return { file, path, value: valueAt(data, [...at, key]), allowed, message };
}

/** What may stand at a path, in words: "15 to 150 mm", "one of straight, split, A, twin". */
function allowedAt(path: Path, { schema: whole, data }: Read, issue: Issue): string {
  const range = rangeIn(whole, path, data);
  if (range) {
    const numbers = `${range.min} to ${range.max}${range.unit === "" ? "" : ` ${range.unit}`}`;
    return `${range.whole ? "a whole number, " : ""}${numbers}${range.nullable ? ", or null" : ""}`;
  }
  if (issue.code === "invalid_value") return issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.join(", ")}`;
  const options = (issue as { options?: unknown }).options;
  if (issue.code === "invalid_union" && Array.isArray(options)) return `one of ${options.join(", ")}`;
  const schema = schemaAt(whole, path, data);
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
  if (schema instanceof z.ZodRecord) return "an object with the paths of fields";
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
