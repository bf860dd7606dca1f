import { describe, expect, it } from "vitest";
import { lateralGAt } from "../../../src/core/cornering.ts";
import { curvesOf } from "../../../src/core/studies/axle-curves.ts";
import { safeSpeedAt } from "../../../src/core/studies/map-levels.ts";
import { speedMap } from "../../../src/core/studies/speed-map.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { safeSpeed } from "../../support/whole-studies.ts";

const RADIUS_M = 6;
const sweep = (file: string, count: number) =>
  curvesOf({ scenario: shipped(file), bumpLeftMm: 0, bumpRightMm: 0, direction: 1, toG: 1.2, count, radiusM: RADIUS_M }).sweep;

/** Speeds are told to 0.1 km/h; at 0.5 g on 6 m that is some 0.005 g. */
const TOLD_G = 5e-4;

describe("the load at which something gives first", () => {
  // the search by roots is a way of its own: no sweep and no table goes into it
  it.each(["heavy-forked.json", "heavy-cross-pinned.json", "twin-tube-hub-spring.json"])(
    "of %s is the same from every sweep and every map, coarse or fine",
    (file) => {
      const alone = safeSpeed(shipped(file), RADIUS_M, "left");
      for (const count of [13, 37]) {
        const { gives, endsAtG } = sweep(file, count);
        expectAbs(gives?.g ?? endsAtG!, alone.lateralG, TOLD_G, `${count} points, g`);
        if (alone.limit && gives) expect(gives.name).toBe(alone.limit.name);
      }
      const run = speedMap(shipped(file));
      const first = run.next();
      if (first.done) throw new Error("no first picture");
      expectAbs(lateralGAt(safeSpeedAt(first.value.map, RADIUS_M).speedMps, RADIUS_M), alone.lateralG, 2 * TOLD_G, "first picture of the map, g");
    },
  );

  it("is told up to where the car slides, and the curves reach it", () => {
    const { points, endsAtG } = sweep("heavy-forked.json", 13);
    expect(endsAtG).toBe(1.05);
    expect(points.at(-1)!.g).toBe(1.05);
  });
});

describe("the hub's curve of an axle whose wheels are held apart", () => {
  // what holds each wheel and how much is written in the design itself
  it("stands for the wheel that is nearest to coming off, with what holds that one", () => {
    const lip = shipped("heavy-forked.json");
    const { retention } = shipped("heavy-cross-pinned.json").corner.hub;
    const held = lip.corner.hub.retention;
    if (held.kind !== "lip" || retention.kind !== "crossPin") throw new Error("the designs are held otherwise");
    const run = (scenario: typeof lip) => curvesOf({ scenario, bumpLeftMm: 0, bumpRightMm: 0, direction: 1, toG: 1, count: 6, radiusM: RADIUS_M }).sweep;
    expect(run(lip).hubWheel).toBe(null);
    const outerPinned = run({ ...lip, right: { ...lip.right, hub: { ...lip.right?.hub, retention } } });
    expect([outerPinned.hubWheel, outerPinned.hubPart, outerPinned.hubCapacity]).toEqual([0, "hub lip", held.capacityN]);
    const innerPinned = run({ ...lip, left: { ...lip.left, hub: { ...lip.left?.hub, retention } } });
    expect([innerPinned.hubWheel, innerPinned.hubPart, innerPinned.hubCapacity]).toEqual([1, "hub lip", held.capacityN]);
  });
});
