/**
 * What nobody uses goes: files, exports, types, packages. `knip` looks at everything; `knip --production` at the program alone, so that what only the
 * tests use moves to them. There, a name that its own file uses may be exported for a test of it; `@internal` marks the few that give tests numbers from inside.
 */
export default ({ production }) => ({
  entry: [
    "src/cli/main.ts!",
    "src/cli/write-schema.ts!",
    "src/worker/worker.ts!",
    "src/worker/motion-worker.ts!",
    // found by the scripts of package.json otherwise
    ...(production ? ["src/cli/run.mjs!"] : []),
    "tests/bench/main.ts",
    "tests/fuzz/main.ts",
    "tests/mutants/main.ts",
    "tests/mutants/worker.ts",
    // stands in for vitest there
    "tests/mutants/collector.ts",
  ],
  project: ["src/**/*.{ts,mjs}!", "tests/**/*.ts", ".config/*.{ts,mjs}"],
  // fetched by their path at run time
  ignoreDependencies: ["@sparticuz/chromium", "axe-core"],
  ignoreBinaries: production ? ["vite"] : ["ccx"],
  ignoreExportsUsedInFile: Boolean(production),
});
