import type { Scenario } from "../core/design/types.ts";
import { parseScenario } from "../scenario/parse.ts";
import { type Chosen, readChosen } from "../scenario/read-file.ts";
import { formatScenario } from "../scenario/write.ts";

export type Opened = { ok: true; scenario: Scenario } | { ok: false; lines: string[] };

const LINES_SHOWN = 4;
const UNCHANGED = "Your design is unchanged.";

/** A scenario from what was chosen or dropped; what is wrong is told line by line, and nothing else happens. */
export async function openChosen(chosen: readonly Chosen[]): Promise<Opened> {
  const read = await readChosen(chosen);
  return read.ok ? fromText(read.text, read.name) : { ok: false, lines: [read.message, UNCHANGED] };
}

export function fromText(value: unknown, name: string): Opened {
  const read = parseScenario(value, name);
  if (read.ok) return { ok: true, scenario: read.scenario };
  const lines = read.problems.slice(0, LINES_SHOWN).map((p) => p.message);
  const more = read.problems.length + read.more - LINES_SHOWN;
  if (more > 0) lines.push(`and ${more} more`);
  lines.push(UNCHANGED);
  return { ok: false, lines };
}

export function pickFile(onFile: (file: File) => void): void {
  const input = document.createElement("input");
  input.type = "file";
  input.accept = ".json,application/json";
  input.addEventListener("change", () => {
    const file = input.files?.[0];
    if (file) onFile(file);
  });
  input.click();
}

export function download(name: string, type: string, content: BlobPart): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

export const fileName = (words: string): string =>
  `${
    words
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "") || "design"
  }`;

export const saveScenario = (s: Scenario): void => download(`${fileName(s.name)}.json`, "application/json", formatScenario(s));

/** What could not be read, as it lay there. */
export const saveText = (name: string, text: string): void => download(`${fileName(name)}.json`, "application/json", text);
