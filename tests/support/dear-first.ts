import type { TestSequencer, TestSpecification } from "vitest/node";

/**
 * Files that take longest, longest first. They are begun first, so that no long one is left over for one core at the end; those of the browser, which
 * wait now and then, stand between those that calculate.
 */
const DEAR: readonly string[] = [
  "browser/access",
  "report/every-car",
  "browser/keeping",
  "fuzz/fuzz",
  "browser/faults",
  "motion/halving",
  "browser/phone",
  "cli/studies",
  "browser/report",
  "browser/speed-map",
  "report/report",
  "browser/presses",
  "browser/motion",
  "cli/process",
  "browser/what-to-change",
  "core/studies/changes",
  "browser/page",
  "core/studies/speed-map",
  "browser/arm-sheet",
  "browser/firefox",
  "oracles/arm-solid",
  "browser/tools",
];

const rank = (spec: TestSpecification): number => {
  const at = DEAR.findIndex((name) => spec.moduleId.endsWith(`/tests/${name}.test.ts`));
  return at < 0 ? DEAR.length : at;
};

/** In which order files of tests are begun. */
export class DearFirst implements TestSequencer {
  async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return [...files].sort((a, b) => rank(a) - rank(b) || (a.moduleId < b.moduleId ? -1 : 1));
  }

  async shard(files: TestSpecification[]): Promise<TestSpecification[]> {
    return files;
  }
}
