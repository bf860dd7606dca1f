import { describe, expect, it } from "vitest";
import { editCorners, editSides } from "../../../src/core/design/edit-corners.ts";
import { fieldValue, guesses, homeOf, keptOrigins, withOrigins } from "../../../src/core/design/origins.ts";
import type { Corner, Origin, Scenario } from "../../../src/core/design/types.ts";
import { shipped } from "../../support/shipped.ts";

const car = shipped("heavy-straight.json");
const GUESS: Origin = { how: "guess", note: "a soft spring" };
const MEASURED: Origin = { how: "measured", plusMinus: 0.05, date: "2026-11-20" };
const RATE = "corner.spring.rateNPerMm";
const withRate = (c: Corner, rateNPerMm: number): Corner => ({ ...c, spring: { ...c.spring, rateNPerMm } });
const known = (told: Record<string, Origin>, s: Scenario = car): Scenario => withOrigins(s, told);
const originsAfter = (before: Scenario, next: Scenario): Record<string, Origin> => keptOrigins(before, next).origins;
/** a design with two boxes and a fork of two outlines, of which single values are known */
const box = (name: string, toSMm: number) => ({ name, fromSMm: 0, toSMm, fromZMm: 20, toZMm: 40, bothSides: true });
const boxes: Scenario = { ...car, fit: { ...car.fit, keepOut: [box("motor", 30), box("beam", 20)] } };
const withBoxes = (s: Scenario, keepOut: Scenario["fit"]["keepOut"]): Scenario => ({ ...s, fit: { ...s.fit, keepOut } });

describe("what may carry how it is known", () => {
  it("is every number, choice and none, and no group, list, text or word of the file itself", () => {
    expect(fieldValue(car, RATE)).toBe(2.4);
    expect(fieldValue(car, "corner.lowerArm.layout")).toBe("straight");
    expect(fieldValue(car, "corner.lowerArm.stemSection")).toBeNull();
    expect(fieldValue(car, "tracks[1].radiusM")).toBe(6);
    for (const none of [
      "corner.spring",
      "tracks",
      "tracks[9].radiusM",
      "tracks[1].name",
      "name",
      "version",
      "left.spring.rateNPerMm",
      "corner..spring.rateNPerMm",
      "tracks.1.radiusM",
      "constructor",
      "corner.__proto__",
      "",
    ])
      expect(fieldValue(car, none), none).toBeUndefined();
  });

  it("stands with a side where that has a value of its own, else with the shared one", () => {
    const s = known({ [RATE]: GUESS, "left.spring.rateNPerMm": MEASURED }, { ...car, left: { spring: { rateNPerMm: 3 } } });
    expect([homeOf(s, "left", "spring.rateNPerMm"), homeOf(s, "right", "spring.rateNPerMm")]).toEqual(["left.spring.rateNPerMm", RATE]);
    expect([s.origins[homeOf(s, "left", "spring.rateNPerMm")]?.how, s.origins[homeOf(s, "right", "spring.rateNPerMm")]?.how]).toEqual(["measured", "guess"]);
    expect(guesses(s)).toEqual([RATE]);
  });
});

describe("an edit", () => {
  it("makes the value that it sets entered, and leaves the others as they were known", () => {
    const s = known({ [RATE]: GUESS, "corner.spring.freeLengthMm": MEASURED });
    expect(originsAfter(s, { ...s, corner: withRate(s.corner, 3) })).toEqual({ "corner.spring.freeLengthMm": MEASURED });
    expect(keptOrigins(s, s)).toBe(s);
    const renamed = { ...s, name: "other" };
    expect(keptOrigins(s, renamed)).toBe(renamed);
  });

  it("may tell itself how a value is known, the same as before too", () => {
    const s = known({ [RATE]: MEASURED });
    const again = withOrigins({ ...s, corner: withRate(s.corner, 2.5) }, { [RATE]: MEASURED });
    expect(originsAfter(s, again)).toEqual({ [RATE]: MEASURED });
    expect(originsAfter(s, withOrigins(s, { [RATE]: GUESS }))).toEqual({ [RATE]: GUESS });
    expect(originsAfter(s, withOrigins(s, { [RATE]: null }))).toEqual({});
  });

  it("of one side leaves what both share as it was known", () => {
    const s = known({ [RATE]: GUESS });
    const left = editSides(
      s,
      "left",
      (c) => withRate(c, 3),
      () => true,
    );
    expect(left.left.spring?.rateNPerMm).toBe(3);
    expect(originsAfter(s, left)).toEqual({ [RATE]: GUESS });
    const both = editSides(
      left,
      "both",
      (c) => withRate(c, 4),
      () => true,
    );
    expect(originsAfter(left, both)).toEqual({});
  });

  it("that gives a side a whole group of its own takes along how the rest of it is known", () => {
    const lip = "corner.hub.retention.radiusMm";
    const s = known({ [lip]: MEASURED, "corner.hub.retention.capacityN": GUESS });
    const next = editSides(
      s,
      "right",
      (c) => ({ ...c, hub: { ...c.hub, retention: { ...c.hub.retention, capacityN: 99 } as Corner["hub"]["retention"] } }),
      () => true,
    );
    expect(originsAfter(s, next)).toEqual({ [lip]: MEASURED, "corner.hub.retention.capacityN": GUESS, "right.hub.retention.radiusMm": MEASURED });
  });

  it("that makes a side as the other again takes away what was known of its own value", () => {
    const s = known({ "left.spring.rateNPerMm": MEASURED, [RATE]: GUESS }, { ...car, left: { spring: { rateNPerMm: 3 } } });
    const next = editCorners(s, (c) => withRate(c, 2.4));
    expect(next.left).toEqual({});
    expect(originsAfter(s, next)).toEqual({ [RATE]: GUESS });
  });

  it("to another kind lets go what the old kind alone had", () => {
    const s = known({ "corner.hub.retention.capacityN": GUESS, "corner.hub.retention.kind": GUESS, "corner.hub.retention.journalShare": GUESS });
    const retention = { kind: "screwedRing", threadRadiusMm: 5, engagedLengthMm: 4, shearStrengthMPa: 20, journalShare: 0 } as const;
    const next = { ...s, corner: { ...s.corner, hub: { ...s.corner.hub, retention } } };
    expect(originsAfter(s, next)).toEqual({ "corner.hub.retention.journalShare": GUESS });
  });
});

describe("an edit of a list", () => {
  const s = known({ "fit.keepOut[0].toSMm": GUESS, "fit.keepOut[1].toSMm": MEASURED }, boxes);
  const [motor, beam] = s.fit.keepOut as [ReturnType<typeof box>, ReturnType<typeof box>];

  it("that takes an element out takes its entry along, and the others move with theirs", () => {
    expect(originsAfter(s, withBoxes(s, [beam]))).toEqual({ "fit.keepOut[0].toSMm": MEASURED });
    expect(originsAfter(s, withBoxes(s, [motor]))).toEqual({ "fit.keepOut[0].toSMm": GUESS });
    expect(originsAfter(s, withBoxes(s, []))).toEqual({});
  });

  it("that takes one out does not leave what was known of it to one of equal value", () => {
    const alike = known({ "fit.keepOut[0].toSMm": GUESS }, withBoxes(car, [box("motor", 30), box("beam", 30)]));
    expect(originsAfter(alike, withBoxes(alike, alike.fit.keepOut.slice(1)))).toEqual({});
  });

  it("that puts one in front or turns them round keeps each with its own", () => {
    const moved = { "fit.keepOut[1].toSMm": GUESS, "fit.keepOut[2].toSMm": MEASURED };
    expect(originsAfter(s, withBoxes(s, [box("new", 30), motor, beam]))).toEqual(moved);
    expect(originsAfter(s, withBoxes(s, [beam, motor]))).toEqual({ "fit.keepOut[0].toSMm": MEASURED, "fit.keepOut[1].toSMm": GUESS });
  });

  it("that changes one value of an element leaves the others known", () => {
    expect(originsAfter(s, withBoxes(s, [{ ...motor, fromSMm: 2 }, beam]))).toEqual(s.origins);
    expect(originsAfter(s, withBoxes(s, [{ ...motor, toSMm: 31 }, beam]))).toEqual({ "fit.keepOut[1].toSMm": MEASURED });
  });

  it("in a list of a list is followed, too", () => {
    const points = [0, 10, 20].map((sMm) => ({ sMm, zMm: 100 }));
    const line = known(
      { "fit.outlines[0].points[2].sMm": MEASURED },
      {
        ...car,
        fit: { ...car.fit, outlines: [{ name: "arch", points, closed: false, bothSides: true }] },
      },
    );
    const without = line.fit.outlines.map((o) => ({ ...o, points: o.points.filter((_, i) => i !== 1) }));
    expect(originsAfter(line, { ...line, fit: { ...line.fit, outlines: without } })).toEqual({ "fit.outlines[0].points[1].sMm": MEASURED });
  });

  it("never gives an element what another one of equal place was known by", () => {
    const told = originsAfter(s, withBoxes(s, [box("another", 30), beam]));
    // a new object with the old value at the same place is an edit of that element, its value unchanged
    expect(told["fit.keepOut[1].toSMm"]).toEqual(MEASURED);
    expect(originsAfter(s, withBoxes(s, [box("another", 12), beam]))).toEqual({ "fit.keepOut[1].toSMm": MEASURED });
  });
});
