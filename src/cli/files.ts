import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import type { Scenario } from "../core/design/types.ts";
import { parseScenario } from "../scenario/parse.ts";
import { Refusal } from "./refusal.ts";

export interface LoadedScenario {
  /** as given */
  file: string;
  scenario: Scenario;
}

const REASONS: Record<string, string> = {
  ENOENT: "there is no such file",
  EISDIR: "it is a folder",
  EACCES: "reading it is not permitted",
};
/** More problems than this are only counted. */
const SHOWN = 20;

/** Reads and checks a scenario; paths count from where the command was typed, also when npm has changed the folder. */
export function loadScenario(file: string): LoadedScenario {
  let text: string;
  try {
    text = readFileSync(resolve(process.env["INIT_CWD"] ?? process.cwd(), file), "utf8");
  } catch (e) {
    const code = (e as NodeJS.ErrnoException).code ?? "";
    throw new Refusal(`${file}: cannot be read, ${REASONS[code] ?? code}.`);
  }
  const r = parseScenario(text, file);
  if (r.ok) return { file, scenario: r.scenario };
  const lines = r.problems.slice(0, SHOWN).map((p) => p.message);
  if (r.problems.length > SHOWN) lines.push(`${file}: and ${r.problems.length - SHOWN} more problems.`);
  throw new Refusal(lines.join("\n"));
}
