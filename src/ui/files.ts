import type { Scenario } from "../core/design/types.ts";
import { parseScenario } from "../scenario/parse.ts";
import { formatScenario } from "../scenario/write.ts";

export type Opened = { ok: true; scenario: Scenario } | { ok: false; lines: string[] };

const LINES_SHOWN = 4;
const MOST_BYTES = 2_000_000;

/** A scenario from a file; what is wrong is told line by line, and nothing else happens. */
export async function openFile(file: File): Promise<Opened> {
  if (file.size > MOST_BYTES)
    return {
      ok: false,
      lines: [`${file.name} has ${Math.round(file.size / 1000)} kB; a scenario has up to ${MOST_BYTES / 1000} kB. Your design is unchanged.`],
    };
  return fromText(await file.text(), file.name);
}

export function fromText(value: unknown, name: string): Opened {
  const read = parseScenario(value, name);
  if (read.ok) return { ok: true, scenario: read.scenario };
  const lines = read.problems.slice(0, LINES_SHOWN).map((p) => p.message);
  const more = read.problems.length + read.more - LINES_SHOWN;
  if (more > 0) lines.push(`and ${more} more`);
  lines.push("Your design is unchanged.");
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
