import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { FAULTS, faultTable } from "./support/faults.ts";

const read = (path: string): string => readFileSync(new URL(path, import.meta.url), "utf8");

it("the developers' table of faults is that of the tests", () => {
  expect(read("../DEVELOPERS.md")).toContain(faultTable());
});

it("every fault of the table is planted by a test", () => {
  const tests = ["faults", "keeping", "dropped", "long-search"].map((name) => read(`browser/${name}.test.ts`)).join("\n");
  expect(Object.keys(FAULTS).filter((fault) => !tests.includes(`"${fault}"`))).toEqual([]);
});
