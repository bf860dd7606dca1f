/**
 * Runs a TypeScript entry of this project under plain Node: `node src/cli/run.mjs ENTRY.ts ARGS`.
 * The entry exports `main(args: string[])`, whose number is the exit code. The entry is bundled once into
 * node_modules/.cache and reused until a source file changes, so that a later start costs what Node itself costs.
 */
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
/** Other processes may still run from the older bundles that are kept. */
const KEPT_BUNDLES = 6;
/** Programs and tools that cannot be, or need not be, bundled. */
const EXTERNAL = ["vite", "vitest", "playwright-core", "@sparticuz/chromium"];

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

async function bundle(entry, home, place) {
  const { build } = await import("vite");
  mkdirSync(home, { recursive: true });
  const out = mkdtempSync(join(home, "new-"));
  await build({
    root,
    configFile: false,
    publicDir: false,
    logLevel: "error",
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
  try {
    renameSync(out, place);
  } catch (e) {
    // another process was quicker with the same sources
    rmSync(out, { recursive: true, force: true });
    if (!existsSync(place)) throw e;
  }
  const old = readdirSync(home)
    .filter((n) => !n.startsWith("new-"))
    .map((n) => ({ n, at: statSync(join(home, n)).mtimeMs }))
    .sort((a, b) => b.at - a.at);
  for (const { n } of old.slice(KEPT_BUNDLES)) rmSync(join(home, n), { recursive: true, force: true });
}

const [, , entry, ...args] = process.argv;
if (!entry) {
  console.error("usage: node src/cli/run.mjs ENTRY.ts ARGS");
  process.exitCode = 1;
} else {
  const { home, place } = bundlePlace(entry);
  if (!existsSync(join(place, "main.mjs"))) await bundle(entry, home, place);
  const { main } = await import(pathToFileURL(join(place, "main.mjs")).href);
  process.exitCode = (await main(args)) ?? 0;
}
