import { CAPS } from "./caps.ts";
import { quoted } from "./words.ts";

/** Where and why a text is not JSON: line and column count from 1. */
export interface JsonFault {
  line: number;
  column: number;
  message: string;
}

class Fault extends Error {
  readonly at: number;
  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const WORD = /true|false|null/y;

/**
 * The first fault of a JSON text, or null. Engines differ in whether they tell the place of a fault, and none
 * minds a key that stands twice in one object, of which the first would be lost silently.
 */
export function jsonFault(text: string): JsonFault | null {
  try {
    const end = skip(text, value(text, skip(text, 0), 0));
    if (end < text.length) throw new Fault(end, `${shown(text, end)} after the end of the scenario`);
    return null;
  } catch (e) {
    if (!(e instanceof Fault)) throw e;
    const before = text.slice(0, e.at);
    const line = before.split("\n").length;
    return { line, column: e.at - before.lastIndexOf("\n"), message: e.message };
  }
}

/** The end of what `pattern` finds exactly at `at`; -1 when it finds nothing there. */
function endOf(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

const BLANKS: ReadonlySet<number> = new Set([..." \t\n\r"].map((c) => c.charCodeAt(0)));

function skip(text: string, at: number): number {
  while (BLANKS.has(text.charCodeAt(at))) at++;
  return at;
}

const shown = (text: string, at: number): string => (at >= text.length ? "the end of the file" : quoted(String.fromCodePoint(text.codePointAt(at)!)));

function value(text: string, at: number, depth: number): number {
  if (depth > CAPS.depth) throw new Fault(at, "nested too deep");
  const c = text[at];
  if (c === "{") return members(text, at, depth);
  if (c === "[") return elements(text, at, depth);
  if (c === '"') return words(text, at);
  const end = Math.max(endOf(NUMBER, text, at), endOf(WORD, text, at));
  if (end < 0) throw new Fault(at, `${shown(text, at)} where a value should stand`);
  return end;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const NEWLINE = 0x0a;
const RETURN = 0x0d;
/** JSON forbids the controls below this letter in a text. */
const FIRST_SHOWN = 0x20;

/** The end of the text in quotes that opens at `open`; goes letter by letter, so that no length is too much. */
function words(text: string, open: number): number {
  for (let at = open + 1; ; ) {
    const letter = text.charCodeAt(at);
    if (letter === QUOTE) return at + 1;
    if (at >= text.length || letter === NEWLINE || letter === RETURN) throw new Fault(open, "a text without its closing quote");
    if (letter < FIRST_SHOWN) throw new Fault(at, `${shown(text, at)} inside a text`);
    const end = letter === BACKSLASH ? endOf(ESCAPE, text, at) : at + 1;
    if (end < 0) throw new Fault(at, "a \\ that begins no known sign");
    at = end;
  }
}

function elements(text: string, open: number, depth: number): number {
  let at = skip(text, open + 1);
  if (text[at] === "]") return at + 1;
  for (;;) {
    at = skip(text, value(text, at, depth + 1));
    if (text[at] === "]") return at + 1;
    if (text[at] !== ",") throw new Fault(at, `${shown(text, at)} where a comma or ] should stand`);
    at = skip(text, at + 1);
  }
}

function members(text: string, open: number, depth: number): number {
  const seen = new Set<string>();
  let at = skip(text, open + 1);
  if (text[at] === "}") return at + 1;
  for (;;) {
    if (text[at] !== '"') throw new Fault(at, `${shown(text, at)} where a name in double quotes should stand`);
    const end = words(text, at);
    const raw = text.slice(at + 1, end - 1);
    // the same name may be written in several ways: "a" and "\u0061"
    const key = raw.includes("\\") ? (JSON.parse(text.slice(at, end)) as string) : raw;
    if (seen.has(key)) throw new Fault(at, `${quoted(key)} stands twice`);
    seen.add(key);
    at = skip(text, end);
    if (text[at] !== ":") throw new Fault(at, `${shown(text, at)} where a colon should stand`);
    at = skip(text, value(text, skip(text, at + 1), depth + 1));
    if (text[at] === "}") return at + 1;
    if (text[at] !== ",") throw new Fault(at, `${shown(text, at)} where a comma or } should stand`);
    at = skip(text, at + 1);
  }
}
