import { describe, expect, it } from "vitest";
import { cornerOf } from "../../src/core/design/sides.ts";
import { type Scenario, SIDES } from "../../src/core/design/types.ts";
import { KINDS_OF_PARTS, type ShelfPart } from "../../src/scenario/shelf-kinds.ts";
import { TYPICAL_PARTS } from "../../src/scenario/shelf-parts.ts";
import { INITIAL_VIEW } from "../../src/state/document.ts";
import { at } from "../../src/state/edit.ts";
import { gate } from "../../src/state/gate.ts";
import { ownShelf, putParts, removePart } from "../../src/state/own-shelf.ts";
import { partOfDesign, takenFromShelf } from "../../src/state/shelf-edits.ts";
import { createStore } from "../../src/state/store.ts";
import { memoryShelf } from "../fuzz/desk.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

const car = shipped("heavy-straight.json");
const part = (name: string): ShelfPart => TYPICAL_PARTS.find((p) => p.name === name) as ShelfPart;
const load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const open = (a: Scenario) => createStore({ a, b: a, load }, INITIAL_VIEW, () => 0, gate);

describe("a part that is taken from the shelf", () => {
  it.each(TYPICAL_PARTS.map((p) => [p.name, p] as const))("fits into every shipped car, in one step: %s", (_name, p) => {
    for (const file of SHIPPED) {
      const s = open(shipped(file));
      const refusal = s.act("take", (d) => ({ ...d, a: takenFromShelf(d.a, p, "both") }));
      if (refusal !== null) {
        // what does not go with the car's other values says so
        expect(refusal, `${file}, ${p.name}`).toMatch(/crown radius|hole/);
        continue;
      }
      const { a } = s.settled();
      const { root, places, together } = KINDS_OF_PARTS[p.kind];
      for (const base of together ? places : places.slice(0, 1))
        for (const [field, value] of Object.entries(p.values))
          for (const side of SIDES) expect(at(root ? a : cornerOf(a, side), `${base}.${field}`), `${file} ${field}`).toEqual(value);
      for (const leaf of Object.keys(p.known)) expect(a.origins[`${root ? "" : "corner."}${places[0]}.${leaf}`], leaf).toEqual(p.known[leaf]);
      s.undo();
      expect(s.settled().a).toEqual(shipped(file));
    }
  });

  it("for one side alone leaves the other as it was", () => {
    const s = takenFromShelf(car, part("carbon rod, 4 mm"), "left", "upperArm");
    expect(cornerOf(s, "right")).toEqual(cornerOf(car, "right"));
    expect(cornerOf(s, "left").upperArm).toMatchObject({ section: { shape: "round", diameterMm: 4 }, material: "carbonRod" });
    expect(s.origins["left.upperArm.section.diameterMm"]).toMatchObject({ how: "guess", plusMinus: 0.03 });
    expect(Object.keys(s.origins).every((path) => path.startsWith("left.upperArm."))).toBe(true);
    expect(gate({ a: s, b: s, load })).toBeNull();
  });

  it("counts as entered where it is changed afterwards", () => {
    const s = open(car);
    s.act("take", (d) => ({ ...d, a: takenFromShelf(d.a, part("firm spring, long"), "both") }));
    s.act("rate", (d) => ({ ...d, a: { ...d.a, corner: { ...d.a.corner, spring: { ...d.a.corner.spring, rateNPerMm: 3 } } } }));
    expect(s.settled().a.origins["corner.spring.rateNPerMm"]).toBeUndefined();
    expect(s.settled().a.origins["corner.spring.freeLengthMm"]?.how).toBe("guess");
  });
});

describe("a part of a design", () => {
  it("is put on the shelf and taken into another as it was, measured values as measured", () => {
    const measured = { how: "measured", plusMinus: 0.03, date: "2026-11-20" } as const;
    const from: Scenario = { ...car, left: { spring: { rateNPerMm: 3.3 } }, origins: { "left.spring.rateNPerMm": measured } };
    const mine = partOfDesign(from, "spring", "mine", "left");
    expect(mine.values["rateNPerMm"]).toBe(3.3);
    expect(mine.known).toEqual({ rateNPerMm: measured });
    const to = takenFromShelf({ ...car, origins: { "corner.spring.freeLengthMm": { how: "guess" } } }, mine, "both");
    expect(to.corner.spring.rateNPerMm).toBe(3.3);
    expect(to.origins).toEqual({ "corner.spring.rateNPerMm": measured });
    const motor = partOfDesign(car, "motor", "mine", "right");
    expect(motor.values).toEqual({ stallTorqueNmm: car.drive.stallTorqueNmm, noLoadRpm: car.drive.noLoadRpm });
  });
});

describe("the builder's own shelf in the browser", () => {
  const spring = partOfDesign(car, "spring", "front spring", "right");

  it("keeps parts, each under a name of its own, and puts back what was removed", () => {
    const store = memoryShelf();
    expect(ownShelf(store)).toEqual({ parts: [], amiss: [] });
    expect(putParts(store, [spring, spring, { ...partOfDesign(car, "hub", "front spring", "right") }], 1)).toBeNull();
    expect(ownShelf(store).parts.map((p) => [p.kind, p.name])).toEqual([
      ["spring", "front spring"],
      ["spring", "front spring (2)"],
      ["hub", "front spring"],
    ]);
    const before = ownShelf(store).parts;
    const back = removePart(store, "spring", "front spring", 2);
    expect(ownShelf(store).parts).toEqual(before.slice(1));
    expect(back?.()).toBe(true);
    expect(ownShelf(store).parts).toEqual(before);
    expect(removePart(store, "tyre", "none", 2)).toBeNull();
  });

  it("leaves a part that cannot be read where it lies, and tells it", () => {
    const store = memoryShelf();
    putParts(store, [spring], 1);
    const text = store.getItem("wheelstay.shelf") as string;
    store.setItem("wheelstay.shelf", text.replace('"parts": [', '"parts": [{"kind": "wing"},'));
    expect(ownShelf(store).amiss).toEqual([expect.stringMatching(/^your shelf: kind is "wing"/)]);
    putParts(store, [{ ...spring, name: "another" }], 2);
    expect(ownShelf(store).parts.map((p) => p.name)).toEqual(["front spring", "another"]);
    expect(store.getItem("wheelstay.shelf")).toContain('"wing"');
  });

  it("puts a shelf that cannot be read at all aside before anything is written over it", () => {
    const store = memoryShelf();
    store.setItem("wheelstay.shelf", "{ torn");
    expect(ownShelf(store).amiss).toHaveLength(1);
    expect(putParts(store, [spring], 77)).toBeNull();
    expect(store.getItem("wheelstay.unreadable.77")).toBe("{ torn");
    expect(ownShelf(store)).toMatchObject({ parts: [{ name: "front spring" }], amiss: [] });
  });

  it("says so where the store is full or shut", () => {
    const full = {
      ...memoryShelf(),
      setItem: () => {
        throw new Error("full");
      },
    };
    expect(putParts(full, [spring], 1)).toMatch(/full or shut/);
    const shut = {
      ...memoryShelf(),
      getItem: () => {
        throw new Error("shut");
      },
    };
    expect(ownShelf(shut).amiss).toEqual(["your shelf: this browser's store is shut."]);
    expect(
      putParts(
        memoryShelf(),
        Array.from({ length: 301 }, () => spring),
        1,
      ),
    ).toMatch(/300 parts at most/);
  });
});
