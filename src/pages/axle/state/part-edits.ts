import type { Sides } from "../../../core/design/edit-corners.ts";
import { fieldName } from "../../../core/design/field-words.ts";
import { fieldValue, withOrigins } from "../../../core/design/origins.ts";
import { cornerOf } from "../../../core/design/sides.ts";
import { type Origin, type Scenario, SIDES, type Side } from "../../../core/design/types.ts";
import { leavesOf } from "../../../scenario/shelf-kinds.ts";
import { at, withAt, withSides } from "../../../state/edit.ts";
import { fixed, holes } from "../../../view/format.ts";
import { type Control, controlId } from "./control.ts";

/** What stands where a control points, on one side as it is. */
export const rawOf = (s: Scenario, c: Control, side: Side): unknown => (c.root ? at(s, c.path) : at(cornerOf(s, side), c.path));

/** The same as its row shows it. */
export function shownOf(s: Scenario, c: Control, side: Side): number | string {
  if (c.kind === "number" && c.reading) return Math.round(c.reading.of(s) * 1e3) / 1e3;
  const raw = rawOf(s, c, side);
  if (c.kind === "number") return Math.round(Number(raw) * (c.times ?? 1) * 1e6) / 1e6;
  return c.kind === "choice" && c.now ? c.now(raw) : String(raw ?? "");
}

/** The design with what a row was set to, in the file's own measure: a number, or the key of a choice. The same design where nothing changes. */
export function withControl(s: Scenario, c: Control, sides: Sides, value: number | string): Scenario {
  if (c.kind === "act") return c.to(s);
  if (c.kind === "number" && c.reading) return c.reading.set(s, Number(value));
  const shown: Side = sides === "left" ? "left" : "right";
  const next = c.kind === "choice" && c.to ? c.to(String(value), rawOf(s, c, shown), cornerOf(s, shown), s) : value;
  if (c.root) return withAt(s, c.path, next);
  if (JSON.stringify(next) === JSON.stringify(rawOf(s, c, shown)) && (sides !== "both" || !differs(s, c))) return s;
  const out = withSides(s, sides, c.path, next);
  return c.kind === "choice" && c.to ? withFirstValues(s, out, c.path) : out;
}

/** The note of a value that nobody set: it came with the kind that was chosen. */
export const FIRST_VALUE = "first value of the kind that was chosen";

/** Values that came along with a kind are guesses, but for the kind itself and for what stood there before. */
function withFirstValues(before: Scenario, after: Scenario, path: string): Scenario {
  const told: Record<string, Origin> = {};
  for (const place of ["corner", ...SIDES]) {
    const at0 = `${place}.${path}`;
    for (const leaf of leavesOf(at0, at(after, at0))) {
      const value = fieldValue(after, leaf);
      const was = fieldValue(before, leaf) ?? fieldValue(before, leaf.replace(place, "corner"));
      const isKind = typeof value !== "number" && (leaf === at0 || TAGS.some((tag) => leaf === `${at0}.${tag}`));
      if (value !== undefined && value !== was && !isKind) told[leaf] = { how: "guess", note: FIRST_VALUE };
    }
  }
  return Object.keys(told).length === 0 ? after : withOrigins(after, told);
}

/** Left and right differ in what a control changes. */
export const differs = (s: Scenario, c: Control): boolean => !c.root && JSON.stringify(rawOf(s, c, "left")) !== JSON.stringify(rawOf(s, c, "right"));

/** Of two sides' controls those that both have: what one kind alone knows is set on its side. */
export function shared(left: readonly Control[], right: readonly Control[]): Control[] {
  const there = new Set(left.map(controlId));
  return right.filter((c) => there.has(controlId(c)));
}

/** "right spring rate to 3.2 N/mm", "lower inner pin out to 5.5 holes": the change's name for undo. */
export function controlWords(s: Scenario, c: Control, sides: Sides, value: number | string): string {
  if (c.kind === "act") return c.words;
  const at = c.root ? c.path : `corner.${c.path}`;
  const name = fieldName(at) ?? TAGS.map((t) => fieldName(`${at}.${t}`)).find((f) => f !== undefined);
  const whose = [c.root || sides === "both" ? "" : sides, c.root ? (c.group ?? "") : (name?.part ?? "")].filter(Boolean).join(" ");
  if (c.kind === "number") return `${whose} ${c.words} to ${toldAs(s, c, value)}`.trim();
  return `${[whose, name?.short ?? c.words].filter(Boolean).join(", ")}: ${toldAs(s, c, value)}`;
}
const TAGS = ["kind", "shape", "on"];

function toldAs(s: Scenario, c: Exclude<Control, { kind: "act" }>, value: number | string): string {
  if (typeof value === "string")
    return (c.kind === "choice" && Object.entries(c.options).find(([, key]) => key === value)?.[0]) || value.slice(0, 40) || "nothing";
  if (c.kind !== "number") return String(value);
  if (c.place) return `${holes(value, s.holePitchMm)} holes`;
  return `${fixed(value * (c.times ?? 1), 3).replace(/\.?0+$/, "")}${c.unit ? ` ${c.unit}` : ""}`;
}
