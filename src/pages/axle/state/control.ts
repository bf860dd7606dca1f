import type { FieldName } from "../../../core/design/field-names.ts";
import { fieldName } from "../../../core/design/field-words.ts";
import type { Corner, Scenario } from "../../../core/design/types.ts";

/** What a row of the parts panel changes: pure descriptions, and the short ways to write them. */

interface Row {
  /** below the corner, or from the root where `root` */
  path: string;
  words: string;
  root?: boolean;
  /** behind the fold */
  more?: boolean;
  /** the heading it stands under */
  group?: string;
}

export interface NumberControl extends Row {
  kind: "number";
  unit: string;
  min: number;
  max: number;
  step: number;
  /** only whole numbers make sense */
  whole?: boolean;
  /** shown value per stored value (100 for a share in %) */
  times?: number;
  /** a place, told in holes as well and typed in either */
  place?: boolean;
  /** how it is found out, told where the hand rests on it */
  hint?: string;
  /** no field of its own: how it is read off the car and what of the car it sets */
  reading?: { of(s: Scenario): number; set(s: Scenario, value: number): Scenario; most(s: Scenario): number };
}

export interface ChoiceControl extends Row {
  kind: "choice";
  /** key by its words */
  options: Readonly<Record<string, string>>;
  /** the key that stands there; without it the value itself */
  now?(raw: unknown): string;
  /** what a key stands for as a whole; without it the key itself */
  to?(key: string, raw: unknown, corner: Corner, scenario: Scenario): unknown;
}

export interface TextControl extends Row {
  kind: "text";
  longest: number;
  /** may be left empty */
  empty?: boolean;
}

/** Adds to a list, or takes out of it. */
export interface ActControl extends Row {
  kind: "act";
  to(scenario: Scenario): Scenario;
}

export type Control = NumberControl | ChoiceControl | TextControl | ActControl;

export const controlId = (c: Control): string => `${c.kind}:${c.path}${c.kind === "act" ? c.words : ""}`;

function named(path: string, root: boolean): FieldName {
  const found = fieldName(root ? path : `corner.${path}`);
  if (!found) throw new RangeError(`no name for ${path}`);
  return found;
}

interface More {
  root?: boolean;
  /** tells legs from a single bar */
  before?: string;
  whole?: boolean;
  words?: string;
  place?: boolean;
}

/** A slider under the field's own short name; a share is set in per cent. */
export function n(path: string, min: number, max: number, step: number, more: More = {}): NumberControl {
  const { short, unit, percent } = named(path, more.root ?? false);
  return {
    kind: "number",
    path,
    words: more.words ?? `${more.before ?? ""}${short}`,
    unit,
    min,
    max,
    step,
    ...(more.root ? { root: true } : {}),
    ...(percent ? { times: 100 } : {}),
    ...(more.whole ? { whole: true } : {}),
    ...(more.place ? { place: true } : {}),
  };
}

/** Both coordinates of a point, under its heading. */
export const place = (path: string, group: string): Control[] => [
  { ...n(`${path}.sMm`, -500, 500, 0.5, { words: "out", place: true }), group },
  { ...n(`${path}.zMm`, -500, 500, 0.5, { words: "up", place: true }), group },
];

/** What may be chosen, by its words; `brief`: what stands in brackets is left out beside the control. */
export function choice(path: string, keys: readonly string[], more: Partial<ChoiceControl> & { brief?: boolean; field?: string } = {}): ChoiceControl {
  const { brief, field, ...rest } = more;
  const { short, values = {} } = named(field ?? path, more.root ?? false);
  const words = (key: string): string => (brief ? (values[key] ?? key).replace(/ \(.*/, "") : (values[key] ?? key));
  return { kind: "choice", path, words: short, options: Object.fromEntries(keys.map((key) => [words(key), key])), ...rest };
}

/** Yes or no. */
export const flag = (path: string, root = false): ChoiceControl =>
  choice(path, ["yes", "no"], { ...(root ? { root: true } : {}), now: (raw) => (raw ? "yes" : "no"), to: (key) => key === "yes" });

export const text = (path: string, longest: number, more: Partial<TextControl> = {}): TextControl => ({
  kind: "text",
  path,
  words: named(path, more.root ?? false).short,
  longest,
  ...more,
});

/** A number that may be none: the choice, and the number where there is one. */
export function maybe(number: NumberControl, raw: number | null, start: (c: Corner) => number): Control[] {
  const { none = "none" } = named(number.path, number.root ?? false);
  const pick: ChoiceControl = {
    kind: "choice",
    path: number.path,
    ...(number.root ? { root: true } : {}),
    words: number.words,
    options: { [none]: "none", "a value": "own" },
    now: (v) => (v === null ? "none" : "own"),
    to: (key, v, c) => (key === "none" ? null : (v ?? start(c))),
  };
  return raw === null ? [pick] : [pick, { ...number, words: `${number.words}, value` }];
}

/** The first few are seen at once, the others are behind the fold. */
export const firstFew = (count: number, list: readonly Control[]): Control[] => list.map((c, i) => (i < count ? c : { ...c, more: true }));

export const under = (group: string, ...list: readonly Control[]): Control[] => list.map((c) => ({ ...c, group }));
