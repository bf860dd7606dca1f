import { describe, expect, it } from "vitest";
import { marksOf, withMark } from "../../../src/pages/own-car/state/marks.ts";
import { STEPS } from "../../../src/pages/own-car/state/questions.ts";
import { newPhoto, ownCarSlice, tracingOf } from "../../../src/pages/own-car/state/slice.ts";
import { REQUIRED } from "../../../src/scenario/own-car/answers.ts";
import { answered, answerOf, startedCar } from "../../../src/scenario/own-car/own-car.ts";
import { INITIAL_VIEW, readView } from "../../../src/state/document.ts";

const kept = (photo: unknown) =>
  ownCarSlice.of(readView(JSON.parse(JSON.stringify({ ...INITIAL_VIEW, pages: { ownCar: { begun: true, step: "pins", photo } } }))));

describe("what the page keeps", () => {
  it("a photo's marks come back as they were put", () => {
    let photo = { ...newPhoto("abc", 900, 560), straighten: true, locked: true };
    for (const { id } of marksOf(photo)) photo = { ...photo, ...withMark(photo, id, [12.5, 80]) };
    const back = kept(photo).photo;
    expect(back && marksOf(back)).toEqual(marksOf(photo));
    expect(back && tracingOf(back)).toEqual(tracingOf(photo));
    expect(back?.locked).toBe(true);
  });

  it("the corners count only while they take the perspective out", () => {
    const photo = newPhoto("abc", 900, 560);
    expect(tracingOf(photo).rectangle).toBeNull();
    expect(tracingOf({ ...photo, straighten: true }).rectangle).toEqual(photo.corners);
  });

  it("marks stay on the photo", () => {
    const photo = withMark(newPhoto("abc", 900, 560), "mark.a", [-50, 9999]);
    expect(photo.marks.distance?.a).toEqual([0, 560]);
  });

  it.each([
    ["no id", { ...newPhoto("abc", 900, 560), id: 7 }],
    ["marks that are no places", { ...newPhoto("abc", 900, 560), marks: { distance: { a: [1], b: null, mm: "x" } } }],
    ["three corners", { ...newPhoto("abc", 900, 560), corners: { corners: [[0, 0]], widthMm: 1, heightMm: 1 } }],
    ["a size beyond all bounds", { ...newPhoto("abc", 900, 560), widthPx: 1e9 }],
    ["words", "photo"],
  ])("a photo with %s counts as none, and the rest stands", (_, photo) => {
    expect(kept(photo)).toMatchObject({ begun: true, step: "pins", photo: null });
  });
});

describe("the questions", () => {
  it("ask for all that an answer needs, each once, and only for what a car has", () => {
    const keys = STEPS.flatMap((s) => s.questions.map((q) => q.key));
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toEqual(expect.arrayContaining([...REQUIRED]));
    const kinds = [startedCar(), answered(startedCar(), { "lowerArm.layout": "twin", "lowerArm.shape": "round", wheelHeldBy: "crossPin", springOn: "hub" })];
    for (const key of keys)
      expect(
        kinds.some((s) => answerOf(s, key) !== undefined),
        key,
      ).toBe(true);
  });
});
