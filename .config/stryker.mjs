/**
 * Mutation testing: small mistakes are planted in the code one at a time, and each must make a test fail.
 * `npm run mutants -- --mutate 'src/core/limits/**'`; by hand and before a release, since it takes minutes a folder.
 *
 * A folder is judged by its own tests, tests/core/limits for src/core/limits: a mistake that only a far-off test notices is one whose
 * reason is hard to find, and running them all for every mutant would take days. `MUTANT_TESTS=tests/core npm run mutants ...` widens it.
 */
const flag = process.argv.findIndex((a) => a === "--mutate" || a === "-m");
const wanted = flag < 0 ? [] : (process.argv[flag + 1] ?? "").split(",");
const testsOf = (glob) => glob.replace(/^src\//, "tests/").replace(/\/[^/]*[*.].*$/, "");
// the workers inherit it; vitest-mutants.ts reads it
process.env.MUTANT_TESTS ??= wanted
  .filter((g) => g.startsWith("src/"))
  .map(testsOf)
  .join(",");

export default {
  testRunner: "vitest",
  plugins: ["@stryker-mutator/vitest-runner"],
  vitest: { configFile: ".config/vitest-mutants.ts", related: true },
  mutate: ["src/core/**/*.ts", "src/motion/**/*.ts", "src/state/**/*.ts", "src/scenario/**/*.ts"],
  coverageAnalysis: "perTest",
  // strings are words for the reader, and a mutant that fails while the file is loaded tells nothing about what it does
  ignoreStatic: true,
  mutator: { excludedMutations: ["StringLiteral"] },
  // the runner would rewrite tsconfig.json by an interface that typescript 7 no longer has; the sandbox needs no rewriting
  tsconfigFile: "none",
  ignorePatterns: ["**/*.md", "/.mutants", "/.docs", "/.ci", "/dist", "/coverage"],
  tempDirName: ".mutants/sandbox",
  incremental: true,
  incrementalFile: ".mutants/last-run.json",
  concurrency: 2,
  timeoutMS: 20_000,
  reporters: ["clear-text", "progress-append-only", "json"],
  jsonReporter: { fileName: ".mutants/report.json" },
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  thresholds: { high: 95, low: 85, break: null },
  allowConsoleColors: false,
};
