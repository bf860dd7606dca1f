import { z } from "zod";
import { joinPath, splitPath } from "../core/design/field-path.ts";
import { isPlain } from "../core/design/plain.ts";
import type { Origin } from "../core/design/types.ts";
import { CAPS } from "./caps.ts";
import { isDay } from "./check-origins.ts";
import { schemaAt } from "./lookup.ts";
import { rangeIn } from "./ranges.ts";
import { originSchema, scenarioSchema } from "./schema.ts";
import { quoted, shownText, shownValue } from "./words.ts";

/** Parts as they lie on a shelf: the values that belong to one part and hang together, and how each is known. */

export const SHELF_KINDS = ["spring", "bar", "pin", "hub", "hold", "tyre", "motor", "material"] as const;
export type ShelfKind = (typeof SHELF_KINDS)[number];

interface KindOfPart {
  /** one of it, in plain words: "spring" */
  words: string;
  /** where it goes, below the corner or from the root; the first stands for all in checks. A pin goes to all joints at once */
  places: readonly string[];
  root?: boolean;
  together?: boolean;
  /** fields below a place; sections and what holds come whole */
  fields: readonly string[];
}

const JOINTS = ["joints.upperInner", "joints.upperOuter", "joints.lowerInner", "joints.lowerOuter"] as const;
const HEAT = ["friction", "journalRadiusMm", "journalLengthMm", "coolingAreaMm2", "material"] as const;

export const KINDS_OF_PARTS: Readonly<Record<ShelfKind, KindOfPart>> = {
  spring: {
    words: "spring",
    places: ["spring"],
    fields: ["rateNPerMm", "freeLengthMm", "bumpStop.lengthMm", "bumpStop.rateNPerMm", "droopStop", "damping.bumpNsPerM", "damping.reboundNsPerM"],
  },
  bar: { words: "bar", places: ["lowerArm", "upperArm"], fields: ["section", "material"] },
  pin: { words: "pin", places: JOINTS, together: true, fields: ["clearanceMm", "pinNPerMm", "holeNPerMm", "pullOutN"] },
  hub: { words: "hub", places: ["hub"], fields: ["tiltStiffnessNmmPerDeg", "tiltPlayDeg", ...HEAT.map((key) => `heat.${key}`)] },
  hold: { words: "what holds the wheel", places: ["hub"], fields: ["retention"] },
  tyre: { words: "tyre", places: ["tyre"], fields: ["verticalNPerMm", "effectiveWidthMm", "crownRadiusMm", "lateralNPerMm", "friction", "seat"] },
  motor: { words: "motor", places: ["drive"], root: true, fields: ["stallTorqueNmm", "noLoadRpm"] },
  material: { words: "material", places: ["lowerArm", "upperArm"], fields: ["material"] },
};

export interface ShelfPart {
  kind: ShelfKind;
  name: string;
  /** by field below its place; complete for its kind */
  values: Readonly<Record<string, unknown>>;
  /** how each single value is known, by its path below the place; what is not listed is entered */
  known: Readonly<Record<string, Origin>>;
}

/** Single values in one of a part's: itself, or what a section or the like is made of, each with its path below the place. */
export function leavesOf(field: string, value: unknown): string[] {
  if (!isPlain(value)) return [field];
  return Object.entries(value).flatMap(([key, inner]) => (key === "name" || key === "source" ? [] : leavesOf(`${field}.${key}`, inner)));
}

const placeOf = (kind: ShelfKind): string => `${KINDS_OF_PARTS[kind].root ? "" : "corner."}${KINDS_OF_PARTS[kind].places[0]}`;

export type ReadPart = { ok: true; part: ShelfPart } | { ok: false; message: string };

/** A part from plain values of unknown origin, with the ranges of a scenario's fields; what is wrong is one sentence without its end. */
export function readPart(raw: unknown, from: string): ReadPart {
  const no = (words: string): ReadPart => ({ ok: false, message: `${from}: ${words}` });
  if (!isPlain(raw)) return no("a part of the shelf is no object");
  const { kind, name, values, known } = raw;
  if (!SHELF_KINDS.includes(kind as ShelfKind)) return no(`kind is ${shownValue(kind, "")}; allowed one of ${SHELF_KINDS.join(", ")}`);
  if (typeof name !== "string" || name.trim() === "" || name.length > CAPS.partNameLetters)
    return no(`the name of a ${KINDS_OF_PARTS[kind as ShelfKind].words} is ${shownValue(name, "")}; allowed a text of 1 to ${CAPS.partNameLetters} letters`);
  const of = KINDS_OF_PARTS[kind as ShelfKind];
  if (!isPlain(values)) return no(`${quoted(name)} has no values`);
  const strange = Object.keys(values).find((key) => !of.fields.includes(key));
  if (strange !== undefined) return no(`${quoted(name)}: ${shownText(strange)} is no field of a ${of.words}; allowed ${of.fields.join(", ")}`);
  const read: Record<string, unknown> = {};
  for (const field of of.fields) {
    const path = splitPath(`${placeOf(kind as ShelfKind)}.${field}`);
    const schema = schemaAt(scenarioSchema, path);
    const r = schema && z.safeParse(schema, values[field]);
    if (!(field in values) || !r?.success) {
      const inner = r?.error?.issues[0]?.path as (string | number)[] | undefined;
      const at = joinPath([field, ...(inner ?? [])]);
      const range = rangeIn(scenarioSchema, path);
      const allowed = range ? `${range.min} to ${range.max}${range.unit ? ` ${range.unit}` : ""}` : "what a scenario may hold there";
      return no(`${quoted(name)}: ${at} is ${shownValue(values[field], range?.unit ?? "")}; allowed ${allowed}`);
    }
    read[field] = r.data;
  }
  const leaves = new Set(Object.entries(read).flatMap(([field, value]) => leavesOf(field, value)));
  const origins: Record<string, Origin> = {};
  for (const [path, origin] of Object.entries(isPlain(known) ? known : {})) {
    const r = originSchema.safeParse(origin);
    if (!leaves.has(path)) return no(`${quoted(name)} tells how ${shownText(path)} is known, which is no value of it`);
    if (!r.success || (r.data.date !== undefined && !isDay(r.data.date))) return no(`${quoted(name)}: how ${shownText(path)} is known cannot be read`);
    origins[path] = r.data;
  }
  return { ok: true, part: { kind: kind as ShelfKind, name, values: read, known: origins } };
}
