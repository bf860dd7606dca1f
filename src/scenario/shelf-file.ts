import { isPlain } from "../core/design/plain.ts";
import { CAPS } from "./caps.ts";
import { readJson, TOO_LARGE } from "./parse.ts";
import { readPart, type ShelfPart } from "./shelf-kinds.ts";
import { shownName, shownValue } from "./words.ts";

/** A builder's own shelf as a file, and as the browser keeps it. */

const FORMAT = "wheelstay-shelf";
const VERSION = 1;

/** What could be read of a shelf; `unread`: parts that could not be, as they lie there, each with its sentence. */
export type ReadShelf = { ok: true; parts: ShelfPart[]; unread: { raw: unknown; message: string }[] } | { ok: false; message: string };

/** A shelf from its text. Nothing is thrown; each part is checked against the ranges of a scenario. */
export function readShelf(text: string, name: string): ReadShelf {
  const from = shownName(name);
  const no = (message: string): ReadShelf => ({ ok: false, message });
  if (text.length > CAPS.fileBytes) return no(`${from}: ${TOO_LARGE}.`);
  const json = readJson(text, from);
  if (!json.ok) return no(json.problems[0]?.message ?? `${from}: it cannot be read.`);
  const { value } = json;
  if (!isPlain(value) || value["format"] !== FORMAT) return no(`${from}: this is no shelf of parts.`);
  if (value["version"] !== VERSION) return no(`${from}: version is ${shownValue(value["version"], "")}; allowed ${VERSION}.`);
  const list = value["parts"];
  if (!Array.isArray(list)) return no(`${from}: parts is ${shownValue(list, "")}; allowed a list.`);
  if (list.length > CAPS.shelfParts) return no(`${from}: it holds ${list.length} parts; allowed up to ${CAPS.shelfParts}.`);
  const parts: ShelfPart[] = [];
  const unread: { raw: unknown; message: string }[] = [];
  for (const raw of list) {
    const read = readPart(raw, from);
    if (read.ok) parts.push(read.part);
    else unread.push({ raw, message: `${read.message}.` });
  }
  return { ok: true, parts, unread };
}

/** The text of a shelf; `beside`: parts that could not be read, kept as they are. */
export const formatShelf = (parts: readonly ShelfPart[], beside: readonly unknown[] = []): string =>
  `${JSON.stringify({ format: FORMAT, version: VERSION, parts: [...parts, ...beside] }, null, 2)}\n`;
