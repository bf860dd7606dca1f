import { execFile } from "node:child_process";
import { chmodSync, chownSync, copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Run } from "../support/cli.ts";

const root = new URL("../..", import.meta.url).pathname;
/** The user "nobody" of most systems; only root can become it. */
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;

/** A small project with the real runner, whose cache a test may spoil. */
let home: string;
const cache = (): string => join(home, "node_modules/.cache/run");

beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), "wheelstay-run-"));
  mkdirSync(join(home, "src/cli"), { recursive: true });
  mkdirSync(join(home, "node_modules"));
  chmodSync(home, 0o755);
  copyFileSync(join(root, "src/cli/run.mjs"), join(home, "src/cli/run.mjs"));
  symlinkSync(join(root, "node_modules/vite"), join(home, "node_modules/vite"));
  writeFileSync(join(home, "package-lock.json"), "{}");
  writeFileSync(join(home, "package.json"), '{ "type": "module" }');
  writeFileSync(join(home, "src/hello.ts"), "export const main = (args: string[]): number => {\n  console.log(args.join());\n  return 3;\n};\n");
});
afterEach(() => {
  chmodSync(join(home, "node_modules"), 0o755);
  rmSync(home, { recursive: true, force: true });
});

function run(as: { uid?: number } = {}): Promise<Run> {
  return new Promise((done) => {
    execFile(process.execPath, ["src/cli/run.mjs", "src/hello.ts", "a", "b"], { cwd: home, ...as }, (error, out, err) => {
      done({ code: error ? (typeof error.code === "number" ? error.code : -1) : 0, out, err });
    });
  });
}
const WELL: Run = { code: 3, out: "a,b\n", err: "" };

describe("the runner", () => {
  it("bundles once and gives the entry's own exit code", async () => {
    expect(await run()).toEqual(WELL);
    expect(await run()).toEqual(WELL);
    expect(readdirSync(cache())).toHaveLength(1);
  });

  it.each<[string, (place: string) => void]>([
    ["empty", (place) => rmSync(join(place, "main.mjs"))],
    ["without a word in it", (place) => writeFileSync(join(place, "main.mjs"), "")],
    ["a folder with other things", (place) => renameSync(join(place, "main.mjs"), join(place, "other"))],
  ])("makes a bundle again whose place is %s", async (_, spoil) => {
    await run();
    spoil(join(cache(), readdirSync(cache())[0]!));
    expect(await run()).toEqual(WELL);
    expect(readdirSync(cache())).toHaveLength(1);
  });

  it("says in a sentence that a file stands where its folder should be", async () => {
    writeFileSync(join(home, "node_modules/.cache"), "");
    expect(await run()).toEqual({
      code: 1,
      out: "",
      err: expect.stringMatching(/^\S*node_modules\/\.cache\S* should be a folder and is none; remove it\.\n$/),
    });
  });

  it("says in a sentence that its folder is another user's", async () => {
    if (!isRoot) chmodSync(join(home, "node_modules"), 0o555);
    const r = await run(isRoot ? { uid: NOBODY } : {});
    expect(r).toEqual({
      code: 1,
      out: "",
      err: expect.stringMatching(/^\S*node_modules\S* cannot be used, that is not permitted to this user: run it once as [^\n]*\n$/),
    });
  });

  it("runs what another user has bundled, and for a second user tidies only what it may", async () => {
    expect(await run()).toEqual(WELL);
    if (!isRoot) chmodSync(join(home, "node_modules"), 0o555);
    expect(await run(isRoot ? { uid: NOBODY } : {})).toEqual(WELL);
    if (!isRoot) return;
    for (let i = 0; i < 8; i++) mkdirSync(join(cache(), `older-${i}`, "inside"), { recursive: true });
    chownSync(cache(), NOBODY, NOBODY);
    writeFileSync(join(home, "src/hello.ts"), "export const main = (args: string[]): number => (console.log(args.join()), 3);\n");
    expect(await run({ uid: NOBODY })).toEqual(WELL);
  });

  it("says in a sentence that the packages are missing", async () => {
    rmSync(join(home, "node_modules/vite"));
    expect(await run()).toEqual({ code: 1, out: "", err: "The packages of this project are not installed here: run npm ci.\n" });
    expect(existsSync(cache()) ? readdirSync(cache()) : []).toEqual([]);
  });

  it("says in a sentence why an entry cannot be made ready", async () => {
    writeFileSync(join(home, "src/hello.ts"), "export const main = (: number => 3;\n");
    const r = await run();
    expect([r.code, r.out]).toEqual([1, ""]);
    expect(r.err).toMatch(/^src\/hello\.ts cannot be made ready: /);
    expect(r.err).not.toMatch(/\n\s+at /);
  });
});
