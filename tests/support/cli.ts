import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import { shippedText } from "./shipped.ts";

const root = new URL("../..", import.meta.url).pathname;

export interface Run {
  code: number;
  out: string;
  err: string;
}

/** Runs the program as its npm script does, from the root of the project or as if typed in `from`. */
export function wheelstay(args: readonly string[], from = root): Promise<Run> {
  return new Promise((done) => {
    const options = { cwd: root, env: { ...process.env, INIT_CWD: from }, maxBuffer: 2 ** 26 };
    execFile(process.execPath, ["src/cli/run.mjs", "src/cli/main.ts", ...args], options, (error, out, err) => {
      done({ code: error ? (typeof error.code === "number" ? error.code : -1) : 0, out, err });
    });
  });
}

/** The one JSON object of a run that must have gone well, and nothing besides. */
export async function jsonOf<T = Record<string, unknown>>(args: readonly string[]): Promise<T> {
  const r = await wheelstay([...args, "--json"]);
  expect(r.err).toBe("");
  expect(r.code).toBe(0);
  expect(r.out.endsWith("}\n")).toBe(true);
  const value: unknown = JSON.parse(r.out);
  expect(Object.prototype.toString.call(value)).toBe("[object Object]");
  return value as T;
}

export interface Folder {
  path: string;
  /** Writes a shipped scenario, changed, and returns its path. */
  write: (name: string, base: string, change: (data: ScenarioJson) => void) => string;
  /** Writes any text. */
  text: (name: string, content: string) => string;
  remove: () => void;
}

/** Just enough of a scenario file's shape to change it in a test. */
// biome-ignore lint/suspicious/noExplicitAny: any JSON may stand there, wrong ones on purpose
export type ScenarioJson = any;

export function scratchFolder(): Folder {
  const path = mkdtempSync(join(tmpdir(), "wheelstay-"));
  const text = (name: string, content: string): string => {
    writeFileSync(join(path, name), content);
    return join(path, name);
  };
  return {
    path,
    text,
    write: (name, base, change) => {
      const data: ScenarioJson = JSON.parse(shippedText(base));
      change(data);
      return text(name, JSON.stringify(data));
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
}
