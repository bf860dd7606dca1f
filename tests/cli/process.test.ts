import { describe, expect, it } from "vitest";
import { startWheelstay, wheelstay } from "../support/cli.ts";

const FORKED = "scenarios/heavy-forked.json";
const STRAIGHT = "scenarios/heavy-straight.json";

/** changes and report take long: studies.test.ts holds a process with two cores against one run inside the test */
describe("the program as a process of its own", () => {
  it.each<[number, string[]]>([
    [0, ["--help"]],
    [0, ["analyze", FORKED]],
    [0, ["analyze", FORKED, "--json"]],
    [0, ["rig", FORKED, "--json"]],
    [0, ["kinematics", "scenarios/asymmetric.json", "--json"]],
    [0, ["arm", FORKED, "--json"]],
    [0, ["compare", FORKED, STRAIGHT, "--json"]],
    [0, ["map", FORKED, "--points", "8", "--samples", "8", "--json"]],
    [0, ["drive", FORKED, "--json"]],
    [0, ["motion", FORKED, "--manoeuvre", "singleBump", "--json"]],
    [0, ["fit", "tests/fixtures/spring-bench.csv", FORKED, "--json"]],
    [1, []],
    [1, ["analyse", FORKED]],
    [1, ["analyze", "nowhere.json"]],
    [1, ["map", FORKED, "--jobs", "0"]],
    [2, ["analyze", FORKED, "--lateral", "2", "--json"]],
  ])("ends with %i and writes to both streams what main does inside a test: %j", async (code, args) => {
    const alone = await startWheelstay(args);
    expect(alone.code).toBe(code);
    expect((code === 0 ? alone.out : alone.err).length).toBeGreaterThan(20);
    const here = await wheelstay(args);
    expect([here.code, here.err]).toEqual([alone.code, alone.err]);
    // told by its length and end first: some are long
    expect([here.out.length, here.out.slice(-200)]).toEqual([alone.out.length, alone.out.slice(-200)]);
    expect(here.out === alone.out).toBe(true);
  });
});
