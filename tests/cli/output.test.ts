import { execFile } from "node:child_process";
import { linkSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadScenario } from "../../src/cli/files.ts";
import { planOutput, writeOutput, writeWhole } from "../../src/cli/output.ts";
import { type Folder, jsonOf, type Run, scratchFolder, wheelstay } from "../support/cli.ts";

const FORKED = "scenarios/heavy-forked.json";
let folder: Folder;
let car: string;
const at = (name: string): string => join(folder.path, name);

beforeAll(() => {
  folder = scratchFolder();
  car = folder.write("car.json", "heavy-forked.json", () => {});
});
afterAll(() => folder.remove());

/** Runs the program under a shell, which can limit it or send its output elsewhere. */
function inShell(words: string): Promise<Run> {
  const root = new URL("../..", import.meta.url).pathname;
  const script = words.replaceAll("WHEELSTAY", `"${process.execPath}" src/cli/run.mjs src/cli/main.ts`);
  return new Promise((done) => {
    execFile("bash", ["-c", script], { cwd: root, env: { ...process.env, INIT_CWD: root } }, (error, out, err) => {
      done({ code: error ? (typeof error.code === "number" ? error.code : -1) : 0, out, err });
    });
  });
}

describe("an output never takes the place of what is read", () => {
  it("under its own name, by a link, or by a second name on the disk", async () => {
    symlinkSync(car, at("link.json"));
    linkSync(car, at("second.json"));
    mkdirSync(at("deep"));
    symlinkSync(folder.path, at("deep/up"));
    const before = readFileSync(car, "utf8");
    const loaded = [loadScenario(car)];
    for (const name of ["car.json", "link.json", "second.json", "deep/up/car.json", "deep/../car.json"])
      expect(() => planOutput("out", at(name), loaded, []), name).toThrow(/this is the scenario .*car\.json itself, which is never overwritten/);
    for (const option of ["--out", "--csv"]) {
      const r = await wheelstay(["report", car, option, at("second.json")]);
      expect([r.code, r.out]).toEqual([1, ""]);
      expect(r.err).toContain(`${option} ${at("second.json")}: this is the scenario`);
    }
    const second = await wheelstay(["report", FORKED, "--compare", car, "--out", car]);
    expect(second.code).toBe(1);
    expect(readFileSync(car, "utf8")).toBe(before);
  });

  it("nor of the other output", () => {
    const html = planOutput("out", at("both"), [], []);
    expect(() => planOutput("csv", at("./both"), [], [html])).toThrow(/same file as/);
    writeFileSync(at("there"), "");
    linkSync(at("there"), at("there-too"));
    expect(() => planOutput("csv", at("there-too"), [], [planOutput("out", at("there"), [], [])])).toThrow(/same file as/);
    expect(planOutput("csv", at("other"), [], [html]).path).toBe(at("other"));
  });
});

describe("where an output is to go is looked at before the work", () => {
  it.each([
    ["a folder", "", /cannot be written, it is a folder/],
    ["a missing folder", "nowhere/report.html", /cannot be written, the folder does not exist/],
    ["a file taken for a folder", "car.json/report.html", /cannot be written, .*car\.json is no folder/],
    ["a link to nothing", "dangling", /a link to something that is not there/],
  ])("%s", (_, name, message) => {
    if (name === "dangling") symlinkSync(at("not-there"), at("dangling"));
    expect(() => planOutput("out", at(name), [], [])).toThrow(message);
  });

  it("so that the refusal comes even where the car finds no steady position, which the work would tell", async () => {
    const r = await wheelstay(["report", FORKED, "--lateral", "2", "--out", at("nowhere/report.html")]);
    expect(r.code).toBe(1);
    expect(r.err).toBe(`--out ${at("nowhere/report.html")}: cannot be written, the folder does not exist.\n`);
  });
});

describe("an output is written whole or not at all", () => {
  it("and leaves nothing beside it", () => {
    writeFileSync(at("page.html"), "old", { mode: 0o640 });
    symlinkSync(at("page.html"), at("page-link.html"));
    expect(writeOutput(planOutput("out", at("page-link.html"), [], []), "näw")).toEqual({ file: at("page-link.html"), bytes: 4 });
    expect(readFileSync(at("page.html"), "utf8")).toBe("näw");
    expect(statSync(at("page.html")).mode & 0o777).toBe(0o640);
    mkdirSync(at("in-the-way/full"), { recursive: true });
    expect(() => writeWhole(at("in-the-way"), "text")).toThrow();
    expect(readdirSync(folder.path).filter((n) => n.startsWith("."))).toEqual([]);
  });

  it("also when the disk takes only a part of it", async () => {
    writeFileSync(at("kept.html"), "old");
    // the program itself is made ready before
    const r = await inShell(`WHEELSTAY --help >/dev/null; ulimit -f 8; WHEELSTAY report ${FORKED} --samples 8 --out "${at("kept.html")}"`);
    expect(r).toMatchObject({ code: 1, out: "" });
    expect(r.err).toBe(`${at("kept.html")}: cannot be written, the disk takes no file of that size.\n`);
    expect(readFileSync(at("kept.html"), "utf8")).toBe("old");
    expect(readdirSync(folder.path).filter((n) => n.startsWith("."))).toEqual([]);
  });
});

describe("the answer itself", () => {
  it.each([
    ["is full", `WHEELSTAY analyze ${FORKED} > /dev/full`, "the disk is full"],
    ["is closed by its reader", `WHEELSTAY analyze ${FORKED} --json | true; exit "\${PIPESTATUS[0]}"`, "its reader has closed it"],
    ["is full, for the help too", "WHEELSTAY --help > /dev/full", "the disk is full"],
  ])("says so in a sentence where the output %s", async (_, script, reason) => {
    const r = await inShell(script);
    expect(r).toEqual({ code: 1, out: "", err: `The answer is not written whole: the output cannot be written, ${reason}.\n` });
  });

  it("ends with its code where the messages can go nowhere either", async () => {
    expect((await inShell("WHEELSTAY analyze nowhere.json 2> /dev/full")).code).toBe(1);
    expect((await inShell(`WHEELSTAY analyze ${FORKED} --lateral 2 2> /dev/full`)).code).toBe(2);
  });

  it("shows no letters of a name or path that a terminal would act on, and keeps them in JSON", async () => {
    const name = "hot \u001b[31m\u009b2J\u0007\nrod\u202e";
    const nasty = folder.write("a\u001b[2J.json", "heavy-forked.json", (d) => {
      Object.assign(d, { name, loadCases: [{ name }], tracks: [{ name, radiusM: 4 }] });
    });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    const acting = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/;
    for (const args of [
      ["analyze", nasty],
      ["compare", nasty, nasty],
      ["map", nasty, "--points", "5"],
      ["analyze", nasty, "--lateral", "2"],
    ]) {
      const r = await wheelstay(args);
      expect(r.out + r.err).not.toMatch(acting);
      expect(r.out + r.err).toContain("\\u001b[");
    }
    expect((await wheelstay(["analyze", nasty, "--lateral", "\u001b[2J"])).err).not.toMatch(acting);
    const json = await wheelstay(["analyze", nasty, "--json"]);
    expect(json.out).not.toMatch(acting);
    expect(JSON.parse(json.out)).toMatchObject({ file: nasty, scenario: name });
    expect((await jsonOf<{ file: string }>(["kinematics", nasty])).file).toBe(nasty);
  });
});

describe("what is read", () => {
  it.each([
    [".docs/axle.png", /^\.docs\/axle\.png: this is a picture, not a Wheelstay file\.$/m],
    ["/dev/zero", /^\/dev\/zero: it is larger than 5200 kB, more than a scenario can have\.$/m],
    ["/dev/null", /^\/dev\/null: this file is empty\.$/m],
  ])("%s is refused in a sentence", async (file, message) => {
    const r = await wheelstay(["analyze", file]);
    expect(r).toMatchObject({ code: 1, out: "" });
    expect(r.err).toMatch(message);
  });
});
