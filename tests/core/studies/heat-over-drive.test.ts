import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import { ROOM_C } from "../../../src/core/limits/derating.ts";
import { hubsOverDrive } from "../../../src/core/studies/heat-over-drive.ts";
import { shipped } from "../../support/shipped.ts";

describe("the hubs' heat over a drive", () => {
  const bench = buildBench(shipped("heavy-forked.json"));

  it("starts at the air's temperature, rises to the end, and rises more at a higher speed", () => {
    const hubs = hubsOverDrive(bench, 6, 5, 10)!;
    for (const side of ["left", "right"] as const) {
      expect(hubs[side][0]!.tempC).toBeCloseTo(ROOM_C, 9);
      for (let i = 1; i < hubs[side].length; i++) expect(hubs[side][i]!.tempC).toBeGreaterThan(hubs[side][i - 1]!.tempC);
    }
    const faster = hubsOverDrive(bench, 6, 6, 10)!;
    expect(faster.right.at(-1)!.tempC).toBeGreaterThan(hubs.right.at(-1)!.tempC);
  });

  it("a longer drive is the same drive gone on with", () => {
    const short = hubsOverDrive(bench, 6, 5, 5, 5)!;
    const long = hubsOverDrive(bench, 6, 5, 10, 10)!;
    expect(long.right[5]!.tempC).toBeCloseTo(short.right[5]!.tempC, 6);
  });

  it("tells nothing where the car finds no steady position", () => {
    expect(hubsOverDrive(bench, 2, 9, 5)).toBeNull();
  });
});
