import { describe, expect, it } from "vitest";
import { changesTasks, usefulJobs } from "../../src/cli/tasks.ts";
import { shipped } from "../support/shipped.ts";

describe("jobs", () => {
  it("are no more than there are cores, whatever is asked", () => {
    expect(usefulJobs(64, 2)).toBe(2);
    expect(usefulJobs(2, 8)).toBe(2);
    expect(usefulJobs(undefined, 8)).toBe(1);
    expect(usefulJobs(64)).toBeLessThan(64);
  });

  it("cut a study into as many parts as are worked on at a time, so that what the parts share is not repeated for nothing", () => {
    expect(changesTasks(shipped("heavy-forked.json"), {}, usefulJobs(64, 2)).map((t) => t.share)).toEqual([
      { index: 0, of: 2 },
      { index: 1, of: 2 },
    ]);
  });
});
