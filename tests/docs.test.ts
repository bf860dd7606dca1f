import { describe, expect, it } from "vitest";
import { type SourceFile, sourceFiles } from "./support/imports.ts";

const root = new URL("..", import.meta.url).pathname.replace(/\/$/, "");
/** Whose functions others read without reading their code. */
const TOLD = /^src\/(?:core|motion|scenario)\//;
const FUNCTION = /^export (?:function\*? (\w+)|const (\w+)(?:[^=\n]|=>)*= (?:<[^\n]*?>)?(?:\([^\n]*\)[^\n]*|\w+) =>)/;

/** Exported functions, const with arrow included, without a doc comment right above, as "file: name". */
function undocumented(files: readonly SourceFile[]): string[] {
  return files.flatMap(({ path, text }) => {
    const lines = text.split("\n");
    return lines.flatMap((line, i) => {
      const name = FUNCTION.exec(line);
      return name && !/\*\/$/.test(lines[i - 1] ?? "") ? [`${path}: ${name[1] ?? name[2]}`] : [];
    });
  });
}

describe("exported functions", () => {
  it("are found with and without a comment above", () => {
    const text = [
      "export function bare(a: number): number {",
      "}",
      "/** Told. */",
      "export function told(): void {",
      "}",
      "export const arrow = (a: number): number => a;",
      "/** Two",
      " * lines. */",
      "export function* steps() {",
      "}",
      "// not enough",
      "export const half = <T>(x: T): T => x;",
      "export const typed: (a: number) => number = (a) => a;",
      "export const number = 3;",
    ].join("\n");
    expect(undocumented([{ path: "x", text }])).toEqual(["x: bare", "x: arrow", "x: half", "x: typed"]);
  });

  it("of the core, the motion and the scenario say what they take and give", () => {
    expect(undocumented(sourceFiles(root).filter((f) => TOLD.test(f.path)))).toEqual([]);
  });
});
