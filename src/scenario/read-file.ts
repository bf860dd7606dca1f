import { CAPS } from "./caps.ts";
import { TOO_LARGE } from "./parse.ts";
import { shownName } from "./words.ts";

/** The text of a file, or the sentence that says why it has none that can be a scenario. */
export type FileText = { ok: true; text: string } | { ok: false; message: string };

/**
 * What other files begin with, for the mistakes that are likely: the patterns of the WHATWG standard "MIME Sniffing" (section 6),
 * those of PDF from ISO 32000 and of programs from the ELF and PE formats. A dot stands for any byte.
 */
const BEGINNINGS: readonly (readonly [string, string])[] = [
  ["\x89PNG\r\n\x1a\n", "a picture"],
  ["\xff\xd8\xff", "a picture"],
  ["GIF8", "a picture"],
  ["RIFF....WEBPVP", "a picture"],
  ["BM......\0\0\0\0", "a picture"],
  ["\0\0\x01\0", "a picture"],
  ["II*\0", "a picture"],
  ["MM\0*", "a picture"],
  ["....ftypheic", "a picture"],
  ["....ftypavif", "a picture"],
  ["....ftyp", "a film"],
  ["\x1aE\xdf\xa3", "a film"],
  ["RIFF....AVI ", "a film"],
  ["RIFF....WAVE", "a sound"],
  ["ID3", "a sound"],
  ["OggS\0", "a sound"],
  ["%PDF-", "a PDF"],
  ["PK\x03\x04", "a ZIP archive or an office file"],
  ["\x1f\x8b\x08", "a packed file (gzip)"],
  ["7z\xbc\xaf\x27\x1c", "a packed file (7z)"],
  ["Rar \x1a\x07", "a packed file (rar)"],
  ["Rar!\x1a\x07", "a packed file (rar)"],
  ["\x7fELF", "a program"],
  ["MZ", "a program"],
  ["<svg", "a drawing (SVG)"],
  ["<?xml", "a drawing or table (XML)"],
  ["<!DOCTYPE", "a web page"],
  ["<!doctype", "a web page"],
  ["<html", "a web page"],
];

const UTF16: readonly (readonly [string, string])[] = [
  ["\xff\xfe", "utf-16le"],
  ["\xfe\xff", "utf-16be"],
];

const begins = (bytes: Uint8Array, pattern: string): boolean =>
  bytes.length >= pattern.length && Array.from(pattern).every((c, i) => c === "." || c.charCodeAt(0) === bytes[i]);

/** What a file plainly is instead of a scenario, in words; null when its beginning tells nothing. */
const otherKind = (bytes: Uint8Array): string | null => BEGINNINGS.find(([pattern]) => begins(bytes, pattern))?.[1] ?? null;

/** The text of a file's bytes. UTF-8 as JSON has it, or UTF-16 as some editors write it, which begins with its mark. */
export function textOfBytes(bytes: Uint8Array, fileName: string): FileText {
  const name = shownName(fileName);
  if (bytes.length > CAPS.fileBytes) return { ok: false, message: `${name}: ${TOO_LARGE}.` };
  if (bytes.length === 0) return { ok: false, message: `${name}: this file is empty.` };
  const kind = otherKind(bytes);
  if (kind !== null) return { ok: false, message: `${name}: this is ${kind}, not a Wheelstay file.` };
  const coding = UTF16.find(([mark]) => begins(bytes, mark))?.[1] ?? "utf-8";
  try {
    return { ok: true, text: new TextDecoder(coding, { fatal: true }).decode(bytes) };
  } catch {
    return { ok: false, message: `${name}: this is no text (${coding === "utf-8" ? "UTF-8" : "UTF-16"}), so not a Wheelstay file.` };
  }
}

/** What is needed of a file that was chosen or dropped; a browser's File has it. */
interface ChosenFile {
  readonly name: string;
  readonly size: number;
  arrayBuffer(): Promise<ArrayBuffer>;
}

export interface Chosen {
  /** null: what was dropped is no file (a text, a link) */
  file: ChosenFile | null;
  isFolder: boolean;
}

/** The text of the one file that was chosen or dropped; too many, none, a folder, or one that is gone: a sentence. */
export async function readChosen(chosen: readonly Chosen[]): Promise<FileText & { name: string }> {
  const [first, ...others] = chosen;
  const file = first?.file ?? null;
  const name = file?.name ?? "";
  const no = (message: string): FileText & { name: string } => ({ ok: false, message, name });
  if (others.length > 0) return no(`${chosen.length} files at once: one scenario file at a time can be opened.`);
  if (file === null) return no("That is no file; a scenario file can be opened.");
  if (first?.isFolder) return no(`${shownName(name)}: this is a folder; a scenario file can be opened.`);
  if (file.size > CAPS.fileBytes) return no(`${shownName(name)}: ${TOO_LARGE}.`);
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return no(`${shownName(name)}: cannot be read; it was moved, changed or removed since it was chosen, or it is a folder.`);
  }
  return { ...textOfBytes(new Uint8Array(bytes), name), name };
}
