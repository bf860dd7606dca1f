import { describe, expect, it } from "vitest";
import { readBenchTest } from "../../src/scenario/bench-file.ts";
import { shipped } from "../support/shipped.ts";

const car = shipped("heavy-forked.json");
const problem = (text: string, file: string, kind?: "springPress" | "tyrePress"): string => {
  const read = readBenchTest(text, file, car, kind);
  return read.ok ? "" : read.problems[0]!.message;
};

describe("a bench test's file that cannot be meant", () => {
  it("of JSON that breaks off or holds no test is told as JSON, not as a table without a kind", () => {
    expect(problem("[1,2", "test.json")).toMatch(/^test\.json: line 1, column 5/);
    expect(problem("[1,2]", "test.json")).not.toContain("# kind");
    expect(problem("load;length\n0;66", "test.csv")).toContain("# kind");
  });

  it("that tells another kind than was asked for is not read as that", () => {
    const table = "# kind: tyrePress\nload (g);sink (mm)\n0;0\n";
    expect(problem(table, "t.csv", "springPress")).toContain('kind is "tyrePress"; allowed springPress');
    expect(problem(table, "t.csv", "tyrePress")).toBe("");
  });
});
