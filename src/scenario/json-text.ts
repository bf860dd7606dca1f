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

/** Deeper nesting than this is no scenario; the limit keeps the scanner's own recursion bounded. */
const MAX_DEPTH = 100;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids exactly these in a text
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
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

const shown = (text: string, at: number): string => (at >= text.length ? "the end of the file" : JSON.stringify(String.fromCodePoint(text.codePointAt(at)!)));

function value(text: string, at: number, depth: number): number {
  if (depth > MAX_DEPTH) throw new Fault(at, "nested too deep");
  const c = text[at];
  if (c === "{") return members(text, at, depth);
  if (c === "[") return elements(text, at, depth);
  const token = match(STRING, text, at) ?? match(NUMBER, text, at) ?? match(WORD, text, at);
  if (token === null) throw new Fault(at, c === '"' ? "a text without its closing quote" : `${shown(text, at)} where a value should stand`);
  return at + token.length;
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
    const key = match(STRING, text, at);
    if (key === null) throw new Fault(at, `${shown(text, at)} where a name in double quotes should stand`);
    if (seen.has(key)) throw new Fault(at, `${key} stands twice`);
    seen.add(key);
    at = skip(text, at + key.length);
    if (text[at] !== ":") throw new Fault(at, `${shown(text, at)} where a colon should stand`);
    at = skip(text, value(text, skip(text, at + 1), depth + 1));
    if (text[at] === "}") return at + 1;
    if (text[at] !== ",") throw new Fault(at, `${shown(text, at)} where a comma or } should stand`);
    at = skip(text, at + 1);
  }
}
