import { parseLoad, parseScenario } from "../scenario/parse.ts";
import type { Doc } from "./document.ts";

/** A document that was read, or what is wrong with it, line by line. */
export type ReadDoc = { ok: true; doc: Doc } | { ok: false; lines: string[] };

/** So many lines fit a notice; the rest is counted. */
const LINES_SHOWN = 4;

/** A document from the plain value that a link or a browser's store holds: both designs and the load are checked as a file is. */
export function readDoc(value: unknown, from: string): ReadDoc {
  if (typeof value !== "object" || value === null || !("a" in value && "b" in value && "load" in value))
    return { ok: false, lines: [`${from}: it holds no two designs with a load.`] };
  const a = parseScenario(value.a, `${from}, design A`);
  const b = parseScenario(value.b, `${from}, design B`);
  const load = parseLoad(value.load, `${from}, load`);
  if (a.ok && b.ok && load.ok) return { ok: true, doc: { a: a.scenario, b: b.scenario, load: load.value } };
  const lines = [a, b, load].flatMap((r) => (r.ok ? [] : r.problems.map((p) => p.message)));
  const more = lines.length - LINES_SHOWN + [a, b, load].reduce((sum, r) => sum + (r.ok ? 0 : r.more), 0);
  return { ok: false, lines: more > 0 ? [...lines.slice(0, LINES_SHOWN), `and ${more} more`] : lines };
}
