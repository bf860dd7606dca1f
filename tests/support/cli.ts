import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Writable } from "node:stream";
import { expect } from "vitest";
import { main, type Streams } from "../../src/cli/main.ts";
import { shippedText } from "./shipped.ts";

const root = new URL("../..", import.meta.url).pathname;

export interface Run {
  code: number;
  out: string;
  err: string;
}

/** Runs the program as its npm script does, a process of its own, from the root of the project or as if typed in `from`. */
export function startWheelstay(args: readonly string[], from = root): Promise<Run> {
  return new Promise((done) => {
    const options = { cwd: root, env: { ...process.env, INIT_CWD: from }, maxBuffer: 2 ** 26 };
    execFile(process.execPath, ["src/cli/run.mjs", "src/cli/main.ts", ...args], options, (error, out, err) => {
      done({ code: error ? (typeof error.code === "number" ? error.code : -1) : 0, out, err });
    });
  });
}

/**
 * Runs the program's `main` inside the test, one at a time, and catches what it writes: a process of its own costs ten
 * times as much, most of it to start and warm up. tests/cli/process.test.ts holds the two against each other, command by
 * command; what asks for several cores needs `startWheelstay`.
 */
export async function wheelstay(args: readonly string[], from = root): Promise<Run> {
  const typedIn = process.env["INIT_CWD"];
  const text = { out: "", err: "" };
  process.env["INIT_CWD"] = from;
  const sink = (name: "out" | "err"): Streams["err"] =>
    Object.assign(
      new Writable({
        write(chunk, _encoding, done) {
          text[name] += String(chunk);
          done();
        },
        decodeStrings: false,
      }),
      { isTTY: false },
    ) as unknown as Streams["err"];
  try {
    const code = await main(args, { out: sink("out"), err: sink("err") });
    return { code, ...text };
  } finally {
    if (typedIn === undefined) delete process.env["INIT_CWD"];
    else process.env["INIT_CWD"] = typedIn;
  }
}

/** The one JSON object of a run that must have gone well, and nothing besides. */
export async function jsonOf<T = Record<string, unknown>>(args: readonly string[], run: typeof wheelstay = wheelstay): Promise<T> {
  const r = await run([...args, "--json"]);
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
type ScenarioJson = any;

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
