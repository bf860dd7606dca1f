import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

/** Both projects draw on the same workers. Vitest would leave one core to itself, which is half of a machine with two. */
const WORKERS = Math.max(2, availableParallelism());

/** Nothing is loaded from elsewhere; data: and blob: pictures are for the export of drawings. */
const CSP =
  "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'";

export default defineConfig({
  base: "./",
  worker: { format: "es" },
  plugins: [
    {
      name: "csp",
      apply: "build",
      transformIndexHtml: () => [{ tag: "meta", attrs: { "http-equiv": "Content-Security-Policy", content: CSP }, injectTo: "head-prepend" }],
    },
  ],
  build: { target: "es2022" },
  // found before the first page load, so that the dev server does not reload the page once
  optimizeDeps: {
    include: ["pixi.js", "pixi.js/unsafe-eval", "planck-js", "gl-matrix", "comlink", "zod", "lil-gui", "d3-scale", "d3-shape", "d3-contour", "d3-dsv"],
  },
  test: {
    reporters: ["default", "./tests/support/summary.ts"],
    setupFiles: ["./tests/support/seed.ts"],
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          environment: "node",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**"],
          maxWorkers: WORKERS,
          // nothing of the core keeps a state: files share a warm process, two fifths of the work of starting anew each time
          isolate: false,
          testTimeout: 120_000,
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          environment: "node",
          include: ["tests/browser/**/*.test.ts"],
          globalSetup: ["./tests/browser/serve.ts"],
          maxWorkers: WORKERS,
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
