import { FIELD_NAMES, type FieldName, GROUP_NAMES } from "./field-names.ts";

/** Fields and their values in plain words, from the one table of names. */

const SIDE = /^(left|right)\./;

/** "corner.spring.seat" of "right.spring.seat", "drive.stages[].drivenTeeth" of "drive.stages[1].drivenTeeth". */
const patternOf = (path: string): string => path.replace(SIDE, "corner.").replace(/\[\d+\]|\.\d+(?=\.|$)/g, "[]");

const within = (path: string): readonly string[] => [path, `corner.${path}`];

/** The name of a field, such as "corner.wheel.radiusMm" or "right.hub.tiltPlayDeg"; undefined for what is no field. */
export function fieldName(path: string): FieldName | undefined {
  return within(patternOf(path))
    .map((p) => FIELD_NAMES.get(p))
    .find((f) => f !== undefined);
}

/** Which of a list is meant, counted as people count. */
function numbered(part: string, path: string): string {
  const index = /\[(\d+)\]|\.(\d+)(?=\.|$)/.exec(path);
  return index ? `${part} ${Number(index[1] ?? index[2]) + 1}` : part;
}

function named(path: string): string {
  const at = patternOf(path);
  const found =
    fieldName(path) ??
    within(at)
      .map((p) => GROUP_NAMES.get(p))
      .find((g) => g !== undefined);
  if (!found) return path;
  const side = SIDE.exec(path)?.[1];
  return `${side ? `${side} side only: ` : ""}${[numbered(found.part, path), found.name].filter(Boolean).join(", ")}`;
}

/** "lower arm, height of legs or bar"; what is no field stays as it is. */
export const pathName = (path: string): string => named(path);

/** "lower arm, height of legs or bar, mm" */
export function pathWords(path: string): string {
  const unit = fieldName(path)?.unit ?? "";
  return unit === "" ? named(path) : `${named(path)}, ${unit}`;
}

const ABSENT = "–";
const number = (v: number): string => String(Math.round(v * 1e4) / 1e4 + 0).replace("-", "\u2212");

/** A value without its unit, as a list shows it: choices in words, shares in per cent, groups by what is in them. */
export function valueWords(path: string, value: unknown): string {
  const at = patternOf(path);
  const name = fieldName(path);
  if (value === undefined) return ABSENT;
  if (value === null)
    return (
      name?.none ??
      within(at)
        .map((p) => GROUP_NAMES.get(p)?.none)
        .find((n) => n !== undefined) ??
      "none"
    );
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return number(name?.percent ? value * 100 : value);
  if (typeof value === "string") return name?.values?.[value] ?? value;
  if (Array.isArray(value)) return value.length === 0 ? "none" : value.map((v) => itemWords(`${path}[0]`, v)).join("; ");
  return groupWords(path, value as Record<string, unknown>);
}

function itemWords(path: string, item: unknown): string {
  const it = item as Record<string, unknown>;
  if (patternOf(path) === "drive.stages[]") return `${it["drivingTeeth"]} on ${it["drivenTeeth"]} teeth`;
  if (typeof it["name"] !== "string") return groupWords(path, it);
  const points = it["points"];
  return Array.isArray(points) ? `${it["name"]}, ${points.length} points` : it["name"];
}

/** What differs in a group that only one design has: by its name where it has one, else value by value. */
function groupWords(path: string, group: Record<string, unknown>): string {
  if (typeof group["name"] === "string") return group["name"];
  return Object.entries(group)
    .map(([key, v]) => {
      const f = fieldName(`${path}.${key}`);
      const told = valueWords(`${path}.${key}`, v);
      return f ? `${f.short} ${told}${f.unit === "" ? "" : ` ${f.unit}`}` : told;
    })
    .join(", ");
}
