import { closeSync, openSync, readSync } from "node:fs";
import { resolve } from "node:path";
import type { Scenario } from "../core/design/types.ts";
import { CAPS } from "../scenario/caps.ts";
import { parseScenario } from "../scenario/parse.ts";
import { textOfBytes } from "../scenario/read-file.ts";
import { shownName, visible } from "../scenario/words.ts";
import { Refusal } from "./refusal.ts";
import { why } from "./why.ts";

/** A file that was read. */
export interface InputFile {
  /** as given */
  file: string;
  /** the same from the root of the disk */
  path: string;
}

export interface LoadedScenario extends InputFile {
  scenario: Scenario;
}

/** A file that is no scenario, such as a bench test. */
export interface LoadedText extends InputFile {
  text: string;
}

/** Paths count from where the command was typed, also when npm has changed the folder. */
export const typedPath = (file: string): string => resolve(process.env["INIT_CWD"] ?? process.cwd(), file);

/** Reads a text. */
export function loadText(file: string): LoadedText {
  const read = textOfBytes(readBytes(file), file);
  if (!read.ok) throw new Refusal(read.message);
  return { file, path: typedPath(file), text: read.text };
}

/** Reads and checks a scenario. */
export function loadScenario(file: string): LoadedScenario {
  const { path, text } = loadText(file);
  const r = parseScenario(text, file);
  if (r.ok) return { file, path, scenario: r.scenario };
  throw refusalOf(file, r);
}

/** The scenario behind a file of another kind; where they were given the other way round, that is what is told. */
export function loadBehind(file: string, before: LoadedText, kind: string): LoadedScenario {
  try {
    return loadScenario(file);
  } catch (e) {
    if (!parseScenario(before.text, before.file).ok) throw e;
    throw new Refusal(`${shownName(before.file)} is a scenario and ${shownName(file)} is none; the ${kind} comes first, the scenario after it.`);
  }
}

/** What is wrong with a file, a line for each problem. */
export function refusalOf(file: string, { problems, more }: { problems: readonly { message: string }[]; more: number }): Refusal {
  const lines = problems.map((p) => p.message);
  if (more > 0) lines.push(`${shownName(file)}: and ${more} more problems.`);
  return new Refusal(lines.join("\n"));
}

/** The bytes of a file, one more than allowed at most: what gives bytes for ever, as some devices do, is read no further. */
function readBytes(file: string): Uint8Array {
  const bytes = new Uint8Array(CAPS.fileBytes + 1);
  let length = 0;
  try {
    const fd = openSync(typedPath(file), "r");
    try {
      for (let got = -1; got !== 0 && length < bytes.length; length += got) got = readSync(fd, bytes, length, bytes.length - length, null);
    } finally {
      closeSync(fd);
    }
  } catch (e) {
    throw new Refusal(`${shownName(file)}: cannot be read, ${why(e, "there is no such file")}.`);
  }
  return bytes.subarray(0, length);
}

/** The same with every text as a terminal may show it: names come from others. */
export function forTerminal({ file, path, scenario }: LoadedScenario): LoadedScenario {
  return { file: visible(file), path, scenario: visibleTexts(scenario) as Scenario };
}

function visibleTexts(value: unknown): unknown {
  if (typeof value === "string") return visible(value);
  if (Array.isArray(value)) return value.map(visibleTexts);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, v]) => [key, visibleTexts(v)]));
}
