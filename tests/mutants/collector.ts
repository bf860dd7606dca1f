import { ASYMMETRIC_MATCHERS_OBJECT, customMatchers, GLOBAL_EXPECT, JestAsymmetricMatchers, JestChaiExpect, JestExtend, setState } from "@vitest/expect";
import * as chai from "chai";

/** Stands for `vitest` in the bundle: describe and it only note what there is to run, as often as they are asked; expect is vitest's own. */

type Run = () => unknown;
export interface Test {
  name: string;
  run: Run;
}
/** An outermost `describe`, whose body is run only when its tests are wanted; a test outside of any is one of its own. */
export interface Suite {
  name: string;
  body: Run;
  /** what its file wants before each test */
  before: Run[];
}

let suites: Suite[] = [];
let tests: Test[] = [];
let ofFile: Run[] = [];
let first: Run[] = [];
let each: Run[] = [];
let inside = "";

/** The suites of a file, whose text is the body of `file`; runs it. */
export function suitesOf(file: Run): Suite[] {
  suites = [];
  ofFile = [];
  inside = "";
  file();
  return suites;
}

/** The tests of a suite, each with what goes before it; runs the bodies of its describes and what goes before all. */
export async function testsOf({ name, body, before }: Suite): Promise<Test[]> {
  tests = [];
  first = [];
  each = [];
  inside = name;
  body();
  for (const f of first) await f();
  const all = [...before, ...each];
  return tests.map((t) => ({
    name: t.name,
    run: async () => {
      for (const f of all) await f();
      await t.run();
    },
  }));
}

const rows = (table: readonly unknown[]): readonly unknown[][] => (table.every(Array.isArray) ? (table as unknown[][]) : table.map((row) => [row]));

type Body = (...row: never[]) => unknown;

function describeOne(name: string, body: Run): void {
  if (inside === "") {
    suites.push({ name, body, before: ofFile });
    return;
  }
  const outer = inside;
  inside = `${outer} > ${name}`;
  body();
  inside = outer;
}

function itOne(name: string, run: Run): void {
  if (inside === "") suites.push({ name, before: ofFile, body: () => tests.push({ name, run }) });
  else tests.push({ name: `${inside} > ${name}`, run });
}

const withEach = (one: (name: string, run: Run) => void) =>
  Object.assign(one, {
    each: (table: readonly unknown[]) => (name: string, run: Body) => rows(table).forEach((row, i) => one(`${name} #${i}`, () => run(...(row as never[])))),
  });

export const describe = withEach(describeOne);
export const it = withEach(itOne);
export const beforeAll = (run: Run): number => first.push(run);
export const beforeEach = (run: Run): number => (inside === "" ? ofFile : each).push(run);

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
export const expect = Object.assign((value: unknown, message?: string) => chai.expect(value, message), chai.expect, {
  ...(globalThis as Record<symbol, object>)[ASYMMETRIC_MATCHERS_OBJECT],
});
(globalThis as Record<symbol, unknown>)[GLOBAL_EXPECT] = expect;
setState({ assertionCalls: 0, isExpectingAssertions: false, isExpectingAssertionsError: null, expectedAssertionsNumber: null }, expect as never);
(chai.expect as unknown as { extend: (e: unknown, m: unknown) => void }).extend(expect, customMatchers);
