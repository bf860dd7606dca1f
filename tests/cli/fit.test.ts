import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BenchFit } from "../../src/core/bench/fit.ts";
import { fitBench } from "../../src/core/bench/fit.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { typed } from "../core/bench/typed.ts";
import { type Folder, jsonOf, scratchFolder, wheelstay } from "../support/cli.ts";
import { shipped } from "../support/shipped.ts";

const FORKED = "scenarios/heavy-forked.json";
const SPRING = "tests/fixtures/spring-bench.csv";
let folder: Folder;
beforeAll(() => {
  folder = scratchFolder();
});
afterAll(() => folder.remove());
const at = (name: string): string => join(folder.path, name);
const put = (name: string, text: string): string => {
  writeFileSync(at(name), text);
  return at(name);
};

interface FitJson {
  testFile: string | null;
  tests: (BenchFit & { kind: string; setUp: Record<string, unknown> })[];
  written: { file: string; bytes: number } | null;
}

const OBJECT = {
  format: "wheelstay-bench-test",
  kind: "springPress",
  setUp: { packingMm: 1 },
  rows: [
    [0, 66],
    [500, "64,0"],
    [1000, 62.1],
    ["1.5 kg", 60.1],
  ],
};

describe("fit TEST FILE", () => {
  it("tells the values of a table with their ±, and which row it could not read", async () => {
    const r = await wheelstay(["fit", SPRING, FORKED]);
    expect([r.code, r.err]).toEqual([0, ""]);
    expect(r.out).toMatch(/^SPRING PRESSED ON A SCALE, 2026-11-20\nNote: invented$/m);
    expect(r.out).toMatch(/^spring, rate of one +2\.40 +2\.\d+ +0\.\d+ +2\.\d+ to 2\.\d+ +N\/mm$/m);
    expect(r.out).toMatch(/^Row 5: load: “two kilos” is no number\.$/m);
  });

  it("tells as JSON what the core tells", async () => {
    const r = await jsonOf<FitJson>(["fit", put("test.json", JSON.stringify(OBJECT)), FORKED]);
    const s = shipped("heavy-forked.json");
    const own = fitBench(s, typed(s, "springPress", OBJECT.rows, OBJECT.setUp));
    expect(r.tests[0]).toMatchObject(JSON.parse(JSON.stringify(own)));
    expect(r.tests[0]!.setUp).toMatchObject({ packingMm: 1, count: 1, rulerMm: 0.5 });
    expect(r.written).toBeNull();
  });

  it("writes the scenario with what was told and with the test, which it then fits alone", async () => {
    const r = await jsonOf<FitJson>(["fit", SPRING, FORKED, "--out", at("measured.json")]);
    expect(r.written?.file).toBe(at("measured.json"));
    const read = parseScenario(readFileSync(at("measured.json"), "utf8"), "measured.json");
    if (!read.ok) throw new Error(read.problems[0]!.message);
    const { origins, bench, corner } = read.scenario;
    expect(origins["corner.spring.rateNPerMm"]).toMatchObject({ how: "measured", date: "2026-11-20", note: "bench: spring pressed on a scale" });
    expect(corner.spring.rateNPerMm).toBeCloseTo(r.tests[0]!.results[0]!.value, 2);
    expect(bench).toHaveLength(1);
    expect(bench[0]!.rows[4]).toEqual(["two kilos", "58", "seen in a hurry"]);
    const again = await jsonOf<FitJson>(["fit", at("measured.json")]);
    expect(again.testFile).toBeNull();
    expect(again.tests[0]!.results[0]!.value).toBeCloseTo(r.tests[0]!.results[0]!.value, 9);
  });

  it("reads a table without its kind when it is told, and headings in any order", async () => {
    const file = put("plain.csv", "Length,Load in kg\n66,0\n64,0.5\n62,1\n");
    const r = await jsonOf<FitJson>(["fit", file, FORKED, "--kind", "springPress"]);
    // 9.80665 N over 4 mm
    expect(r.tests[0]!.results[0]!.value).toBeCloseTo(2.4516625, 5);
  });

  it("never writes over what it reads", async () => {
    const test = put("mine.csv", readFileSync(SPRING, "utf8"));
    const car = folder.write("mine.json", "heavy-forked.json", () => {});
    for (const [file, what] of [
      [test, "bench test"],
      [car, "scenario"],
    ] as const) {
      const before = readFileSync(file, "utf8");
      const r = await wheelstay(["fit", test, car, "--out", file]);
      expect([r.code, r.out]).toEqual([1, ""]);
      expect(r.err).toContain(`this is the ${what} ${file} itself, which is never overwritten`);
      expect(readFileSync(file, "utf8")).toBe(before);
    }
  });

  it.each<[string, string, string[], RegExp]>([
    ["none.csv", "500;60\n", [], /none\.csv: kind is missing; allowed the kind of test, in a line '# kind: springPress' or by --kind: armHang, /],
    ["near.csv", "# kind: springPres\n500;60\n", [], /near\.csv: kind is "springPres"; allowed the nearest one is springPress\.$/m],
    ["day.csv", "# kind: motor\n# date: 2026-02-31\n1;1\n", [], /date is "2026-02-31"; allowed a day as 2026-11-26\.$/m],
    ["key.csv", "# kind: springPress\n# colour: red\n1;1\n", [], /colour is "red"; allowed one of kind, date, side, note, packingMm, /],
    ["set.csv", "# kind: springPress\n# packingMm: much\n1;1\n", [], /packingMm is "much"; allowed 0 to 200 mm\.$/m],
    ["choice.csv", "# kind: armHang\n# held: by hand\n1;1\n", [], /held is "by hand"; allowed one of vice, pins, springy, propped\.$/m],
    ["half.json", "{", [], /half\.json: line 1, column 2/],
    ["kind.json", JSON.stringify({ ...OBJECT, kind: "spring" }), [], /kind\.json: kind is "spring"; allowed one of armHang, /],
    ["field.json", JSON.stringify({ ...OBJECT, colour: 1 }), [], /colour is not a known field/],
    ["rows.json", JSON.stringify({ ...OBJECT, rows: [[true]] }), [], /rows\[0\]\[0\] is true; allowed a text/],
    ["word.csv", "1;1\n", ["--kind", "springs"], /--kind is "springs"; allowed armHang, /],
  ])("says in a sentence what is wrong with %s", async (name, text, more, message) => {
    const r = await wheelstay(["fit", put(name, text), FORKED, ...more]);
    expect([r.code, r.out]).toEqual([1, ""]);
    expect(r.err).toMatch(message);
  });

  it("says so where there is no test, where a scenario stands in its place, and where the value may not stand in a design", async () => {
    const none = await wheelstay(["fit", FORKED]);
    expect([none.code, none.err]).toEqual([1, `${FORKED}: bench holds no test; allowed with a TEST before the scenario, or with tests in it.\n`]);
    const turned = await wheelstay(["fit", FORKED, FORKED]);
    expect(turned.err).toContain("the test comes first, the scenario after it");
    const swapped = await wheelstay(["fit", FORKED, SPRING]);
    expect([swapped.code, swapped.err]).toEqual([1, `${FORKED} is a scenario and ${SPRING} is none; the TEST comes first, the scenario after it.\n`]);
    const soft = put("soft.csv", "# kind: springPress\n0;900\n100;500\n200;100\n");
    const beyond = await wheelstay(["fit", soft, FORKED, "--out", at("never.json")]);
    expect([beyond.code, beyond.out]).toEqual([1, ""]);
    expect(beyond.err).toMatch(/corner\.spring\.rateNPerMm is 0\.00\d+ N\/mm; allowed 0\.05 to 200 N\/mm/);
  });
});
