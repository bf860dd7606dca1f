import { appendFileSync, readdirSync, readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { VitePWA } from "vite-plugin-pwa";
import { defineConfig } from "vitest/config";
import { DearFirst } from "./tests/support/dear-first.ts";

/** Both projects draw on the same workers. One more than cores: the tests of the page wait now and then, and another one uses the time. */
const WORKERS = availableParallelism() + 1;

/** Nothing is loaded from elsewhere; data: and blob: pictures are for the export of drawings. */
const CSP =
  "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'";

const LICENCES = "licences.txt";
/** Vite lists what the page itself is bundled from; these are bundled by others: into a worker of its own, and into the service worker. */
const BESIDE = ["planck-js", "workbox-core"];

function licenceOf(name: string): string {
  const home = new URL(`node_modules/${name}/`, import.meta.url);
  const about = JSON.parse(readFileSync(new URL("package.json", home), "utf8")) as { version: string; license: string };
  const file = readdirSync(home).find((f) => /^licen[cs]e/i.test(f));
  if (!file) throw new Error(`${name} brings no licence`);
  return `## ${name} - ${about.version} (${about.license})\n\n${readFileSync(new URL(file, home), "utf8").trim()}\n`;
}

/** The licence of a table of others' numbers stands as the head of the file that holds them. */
function licenceInHeadOf(file: string): string {
  const head = /^\/\*!([\s\S]*?)\*\//.exec(readFileSync(new URL(file, import.meta.url), "utf8"));
  if (!head) throw new Error(`${file} tells no licence`);
  return `## ${file}\n\n${head[1]!.replace(/^ \* ?/gm, "").trim()}\n`;
}

export default defineConfig({
  base: "./",
  publicDir: "src/app/static",
  worker: { format: "es" },
  plugins: [
    {
      name: "csp",
      apply: "build",
      transformIndexHtml: () => [{ tag: "meta", attrs: { "http-equiv": "Content-Security-Policy", content: CSP }, injectTo: "head-prepend" }],
    },
    {
      name: "licences-beside",
      apply: "build",
      writeBundle(options) {
        appendFileSync(`${options.dir}/${LICENCES}`, ["", ...BESIDE.map(licenceOf), licenceInHeadOf("src/core/numerics/sobol-directions.ts")].join("\n"));
      },
    },
    // the page registers the service worker itself: no script within the page, and none in development
    VitePWA({
      injectRegister: null,
      manifest: {
        name: "Wheelstay",
        short_name: "Wheelstay",
        description: "See what a loaded suspension corner of a model car does: lean, bend, forces, and what gives first.",
        start_url: "./",
        scope: "./",
        display: "standalone",
        background_color: "#f9fbfa",
        theme_color: "#f9fbfa",
        icons: [{ src: "mark.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
      },
      workbox: { globPatterns: ["**/*.{html,js,css,woff2,woff,svg,webmanifest,txt}"], clientsClaim: true, cleanupOutdatedCaches: true, sourcemap: false },
    }),
  ],
  build: { target: "es2022", license: { fileName: LICENCES } },
  // found before the first page load, so that the dev server does not reload the page once
  optimizeDeps: {
    include: ["pixi.js", "pixi.js/unsafe-eval", "planck-js", "gl-matrix", "comlink", "zod", "lil-gui", "d3-scale", "d3-shape", "d3-contour", "d3-dsv"],
  },
  test: {
    reporters: ["default", "./tests/support/summary.ts"],
    setupFiles: ["./tests/support/seed.ts"],
    sequence: { sequencer: DearFirst },
    // as everywhere, no test is failed by a slow machine's clock
    expect: { poll: { timeout: 60_000 } },
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          environment: "node",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**"],
          // a process of its own for each file costs more than its tests
          isolate: false,
          maxWorkers: WORKERS,
          testTimeout: 600_000,
          hookTimeout: 600_000,
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          // a busy machine may swallow a press or a frame; what needed its second try is named after the run
          retry: 1,
          environment: "node",
          include: ["tests/browser/**/*.test.ts"],
          globalSetup: ["./tests/browser/serve.ts"],
          isolate: false,
          maxWorkers: WORKERS,
          testTimeout: 600_000,
          hookTimeout: 600_000,
        },
      },
    ],
  },
});
