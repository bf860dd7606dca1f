/**
 * Runs a TypeScript entry of this project under plain Node: `node src/cli/run.mjs ENTRY.ts ARGS`.
 * The entry exports `main(args: string[])`, whose number is the exit code. The entry is bundled once into
 * node_modules/.cache and reused until a source file changes, so that a later start costs what Node itself costs.
 */
import { createHash } from "node:crypto";
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
/** Other processes may still run from the older bundles that are kept. */
const KEPT_BUNDLES = 6;
/** Programs and tools that cannot be, or need not be, bundled. */
const EXTERNAL = ["vite", "vitest", "playwright-core", "@sparticuz/chromium", "@stryker-mutator/instrumenter"];
const BAD = 1;

function stamp(hash, dir) {
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) stamp(hash, path);
    else {
      const s = statSync(path);
      hash.update(`${path}\0${s.size}\0${s.mtimeMs}\n`);
    }
  }
}

/** Path of the bundle of `entry` for the sources as they stand now, and the folder of all bundles. */
function bundlePlace(entry) {
  const hash = createHash("sha256").update(`${entry}\0${process.version}\n`);
  for (const dir of ["src", "scenarios", ...(entry.startsWith("src/") ? [] : ["tests"])]) if (existsSync(join(root, dir))) stamp(hash, join(root, dir));
  hash.update(String(statSync(join(root, "package-lock.json")).mtimeMs));
  const home = join(root, "node_modules/.cache/run");
  return { home, place: join(home, hash.digest("hex").slice(0, 20)) };
}

/** A bundle whose program is there and not empty, as a full disk may leave it. */
function isWhole(place) {
  return (statSync(join(place, "main.mjs"), { throwIfNoEntry: false })?.size ?? 0) > 0;
}

async function bundle(entry, home, place) {
  mkdirSync(home, { recursive: true });
  const out = mkdtempSync(join(home, "new-"));
  // such a folder is for its maker alone, but others may run the program too
  chmodSync(out, 0o777 & ~process.umask());
  try {
    const { build } = await import("vite");
    await build({
      root,
      configFile: false,
      publicDir: false,
      logLevel: "silent",
      ssr: { noExternal: true, external: EXTERNAL },
      build: {
        ssr: join(root, entry),
        outDir: out,
        emptyOutDir: false,
        minify: false,
        target: "node20",
        rolldownOptions: { output: { entryFileNames: "main.mjs" } },
      },
    });
    if (!isWhole(place)) rmSync(place, { recursive: true, force: true });
    renameSync(out, place);
  } catch (e) {
    rmSync(out, { recursive: true, force: true });
    // another process may have been quicker with the same sources
    if (!isWhole(place)) throw e;
  }
}

/** Removes bundles beyond the last few; what cannot be removed, another user's say, may stay. */
function tidy(home) {
  try {
    const old = readdirSync(home)
      .filter((n) => !n.startsWith("new-"))
      .map((n) => ({ n, at: statSync(join(home, n)).mtimeMs }))
      .sort((a, b) => b.at - a.at);
    for (const { n } of old.slice(KEPT_BUNDLES)) rmSync(join(home, n), { recursive: true, force: true });
  } catch {
    // room is all that is lost
  }
}

/** Why no bundle could be made, in a sentence. */
function whyNoBundle(entry, home, e) {
  const where = e.path === undefined ? home : dirname(e.path).startsWith(home) ? home : e.path;
  const words = { EACCES: "that is not permitted to this user", EPERM: "that is not permitted to this user", EROFS: "the disk is read-only" };
  const full = { ENOSPC: "the disk is full", EDQUOT: "the share of the disk is used up" };
  if (Object.hasOwn(words, e.code))
    return `${where} cannot be used, ${words[e.code]}: run it once as the user whose folder this is, or open the folder to this one.`;
  if (Object.hasOwn(full, e.code)) return `${where} cannot be written, ${full[e.code]}.`;
  if (e.code === "ERR_MODULE_NOT_FOUND") return "The packages of this project are not installed here: run npm ci.";
  if (e.code === "ENOTDIR" || e.code === "EEXIST") return `${where} should be a folder and is none; remove it.`;
  return `${entry} cannot be made ready: ${String(e.message ?? e)}`;
}

async function start(entry, args) {
  let place;
  let home = root;
  try {
    ({ home, place } = bundlePlace(entry));
    if (!isWhole(place)) {
      await bundle(entry, home, place);
      tidy(home);
    }
  } catch (e) {
    process.stderr.write(`${whyNoBundle(entry, home, e)}\n`);
    return BAD;
  }
  const { main } = await import(pathToFileURL(join(place, "main.mjs")).href);
  return (await main(args)) ?? 0;
}

const [, , entry, ...args] = process.argv;
if (entry) process.exitCode = await start(entry, args);
else {
  process.stderr.write("usage: node src/cli/run.mjs ENTRY.ts ARGS\n");
  process.exitCode = BAD;
}
