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
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids exactly these in a text
const SPECIAL = /["\\\u0000-\u001f]/g;
const WORD = /true|false|null/y;
const SPACE = /[ \t\n\r]*/y;

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

function match(pattern: RegExp, text: string, at: number): string | null {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0] ?? null;
}

const skip = (text: string, at: number): number => at + match(SPACE, text, at)!.length;

const shown = (text: string, at: number): string => (at >= text.length ? "the end of the file" : quoted(String.fromCodePoint(text.codePointAt(at)!)));

function value(text: string, at: number, depth: number): number {
  if (depth > CAPS.depth) throw new Fault(at, "nested too deep");
  const c = text[at];
  if (c === "{") return members(text, at, depth);
  if (c === "[") return elements(text, at, depth);
  if (c === '"') return words(text, at);
  const token = match(NUMBER, text, at) ?? match(WORD, text, at);
  if (token === null) throw new Fault(at, `${shown(text, at)} where a value should stand`);
  return at + token.length;
}

/** The end of the text in quotes that opens at `open`; goes from one special letter to the next, so that no length is too much. */
function words(text: string, open: number): number {
  for (let at = open + 1; ; ) {
    SPECIAL.lastIndex = at;
    const found = SPECIAL.exec(text);
    const letter = found?.[0];
    if (!found || letter === "\n" || letter === "\r") throw new Fault(open, "a text without its closing quote");
    if (letter === '"') return found.index + 1;
    const sign = letter === "\\" ? match(ESCAPE, text, found.index) : null;
    if (sign === null) throw new Fault(found.index, letter === "\\" ? "a \\ that begins no known sign" : `${shown(text, found.index)} inside a text`);
    at = found.index + sign.length;
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
