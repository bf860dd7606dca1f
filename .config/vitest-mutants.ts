import { defineConfig } from "vitest/config";

/** Whole cars drawn by the hundred cost minutes a mutant; `npm test` runs them. */
const SLOW = [
  "tests/core/budget/budget.test.ts",
  "tests/core/equilibrium/robustness.test.ts",
  "tests/core/equilibrium/invariants.test.ts",
  "tests/motion/wild.test.ts",
];

/** The tests that mutation testing runs: of the folders named in MUTANT_TESTS (see stryker.mjs), never those of other programs and of the page. */
const folders = (process.env["MUTANT_TESTS"] || "tests/core,tests/motion,tests/state,tests/scenario").split(",");

export default defineConfig({
  test: {
    name: "mutants",
    environment: "node",
    include: folders.map((f) => `${f}/**/*.test.ts`),
    exclude: SLOW,
    setupFiles: ["./tests/support/seed.ts"],
    testTimeout: 120_000,
  },
});
