import type { Random } from "../../src/core/numerics/random.ts";
import { pick } from "./fuzzer.ts";

/** Ways in which a text or a value goes wrong: by hand, by another program, or on the way. */

const TOKENS = [
  "-0",
  "1e999",
  "-1e999",
  "1e-999",
  "01",
  ".5",
  "+1",
  "NaN",
  "Infinity",
  "null",
  "true",
  '""',
  '"1,5"',
  "{}",
  "[]",
  "[[]]",
  "//",
  "/*",
  "'a'",
  "\\",
  "\u0000",
  "\u009b",
  "\ud800",
  "\u2028",
  "\ufeff",
  ",",
  ",,",
  ":",
  "{",
  "}",
  "[",
  "]",
  '"',
  "9007199254740993",
  "0.1000000000000000055511151231257827",
  '"\\u0000"',
  '"\\ud800"',
  "1e5",
]; // prettier-ignore

const KEYS = [
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "length",
  "name",
  "kind",
  "shape",
  "on",
  "seat",
  "$schema",
  "",
  "0",
  "\u001b[2J",
  "\u202e",
  "ключ",
  "rate",
  "RadiusMm",
];

const VALUES: readonly (() => unknown)[] = [
  () => null,
  () => true,
  () => "",
  () => "\u001b[31m\n\u009b",
  () => "x".repeat(5000),
  () => -1,
  () => 0,
  () => 1e308,
  () => 5e-324,
  () => 0.1 + 0.2,
  () => 2 ** 53,
  () => [],
  () => ({}),
  () => ({ shape: "tube" }),
  () => ({ on: "hub", sMm: 1 }),
  () => ({ kind: "lip" }),
  () => Array.from({ length: 600 }, () => ({ sMm: 1, zMm: 1 })),
  () => Array.from({ length: 120 }, () => ({ name: "a" })),
  () => JSON.parse('{"__proto__": {"a": 1}}') as unknown,
  () =>
    Array(90)
      .fill(0)
      .reduce<unknown>((inside) => [inside], 0),
];

/** A few letters changed, lost, doubled, moved or put in; `letters` are those that come in. */
export function mutateText(random: Random, text: string, letters: readonly string[]): string {
  const at = random.whole(0, text.length);
  const to = Math.min(text.length, at + Math.ceil(text.length * random.next() ** 6));
  switch (random.whole(0, 6)) {
    case 0:
      return text.slice(0, at) + text.slice(at + 1);
    case 1:
      return text.slice(0, at) + pick(random, letters) + text.slice(at + 1);
    case 2:
      return text.slice(0, at) + pick(random, letters) + text.slice(at);
    case 3:
      return text.slice(0, at) + text.slice(to);
    case 4:
      return text.slice(0, to) + text.slice(at);
    case 5:
      return text.slice(0, at);
    default:
      return text.slice(0, at) + [...text.slice(at, at + 2)].reverse().join("") + text.slice(at + 2);
  }
}

/** A whole number, word or text of the JSON replaced by something else. */
export function mutateToken(random: Random, text: string): string {
  const found = [...text.matchAll(/"(?:[^"\\]|\\.)*"|-?\d[\d.eE+-]*|true|false|null|[{}[\],:]/g)];
  if (found.length === 0) return pick(random, TOKENS);
  const one = pick(random, found);
  const by = random.next() < 0.3 ? pick(random, found)[0] : pick(random, TOKENS);
  return text.slice(0, one.index) + by + text.slice(one.index + one[0].length);
}

/** Only keys as they stand in files are made very long, so that a case stays a case. */
const LONG_FROM = 40;

type Holder = Record<string, unknown>;

/** Every object and list of a value, the value itself first. */
function holders(value: unknown): Holder[] {
  if (typeof value !== "object" || value === null) return [];
  return [value as Holder, ...Object.values(value).flatMap(holders)];
}

/** Changes a JSON value in one place: a field lost, renamed, added, doubled, or with another value. */
export function mutateValue(random: Random, value: unknown): void {
  const all = holders(value).filter((h) => Object.keys(h).length > 0);
  if (all.length === 0) return;
  const holder = pick(random, all);
  const key = pick(random, Object.keys(holder));
  const old = holder[key];
  switch (random.whole(0, 6)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete holder[key];
      return;
    case 1:
      if (Array.isArray(holder)) holder.push(old);
      else Object.defineProperty(holder, pick(random, KEYS), { value: old, enumerable: true, writable: true, configurable: true });
      return;
    case 2:
      holder[key] = pick(random, VALUES)();
      return;
    case 3:
      holder[key] = structuredClone(pick(random, all));
      return;
    case 4:
      holder[key] = typeof old === "number" ? old * 10 ** random.between(-4, 4) : pick(random, VALUES)();
      return;
    case 5:
      holder[key] = typeof old === "number" ? -old : [old];
      return;
    default:
      holder[`${key}${random.whole(0, 9)}`.repeat(random.next() < 0.02 && key.length < LONG_FROM ? 50_000 : 1)] = old;
  }
}
