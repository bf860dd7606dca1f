import { describe, expect, it } from "vitest";
import { leastKnown } from "../../src/view/origin-words.ts";

describe("what several values together are known as", () => {
  const origins = { "a.x": { how: "measured" }, "a.z": { how: "guess", note: "typical" } } as const;

  it("is a guess where one of them is, measured where one is and none is a guess, else entered", () => {
    expect(leastKnown(["a.w", "a.x", "a.y", "a.z"], origins)).toEqual(["a.z", origins["a.z"]]);
    expect(leastKnown(["a.w", "a.x"], origins)).toEqual(["a.x", origins["a.x"]]);
    expect(leastKnown(["a.w", "a.y"], origins)).toEqual(["a.w", undefined]);
  });
});
