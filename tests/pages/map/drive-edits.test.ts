import { describe, expect, it } from "vitest";
import { sprungMassKg } from "../../../src/core/design/mass.ts";
import { addStage, dropStage, setCarMass, setDrive, setStage, setWheelRadius } from "../../../src/pages/map/state/drive-edits.ts";
import type { Doc } from "../../../src/state/document.ts";
import { scenarioFile } from "../../view/fixture.ts";

const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } };

describe("edits of the drive", () => {
  it("change one value of A and share the rest", () => {
    const next = setDrive(doc, "noLoadRpm", 999);
    expect(next.a.drive.noLoadRpm).toBe(999);
    expect(next.a.corner).toBe(doc.a.corner);
    expect(next.b).toBe(doc.b);
  });

  it("give the same document for the same value, so that undo has no empty step", () => {
    expect(setDrive(doc, "noLoadRpm", doc.a.drive.noLoadRpm)).toBe(doc);
    expect(setCarMass(doc, doc.a.body.carMassKg)).toBe(doc);
    expect(setStage(doc, 0, "drivenTeeth", doc.a.drive.stages[0]?.drivenTeeth ?? 0)).toBe(doc);
    expect(setStage(doc, 9, "drivenTeeth", 10)).toBe(doc);
    expect(setWheelRadius(doc, doc.a.corner.wheel.radiusMm)).toBe(doc);
  });

  it("set the one weight of the car that the axle counts with, too: 6 kg at 58 % are 3.48 kg on it, 2.78 kg on its springs", () => {
    const next = setCarMass(doc, 6).a;
    expect(next.body).toEqual({ ...doc.a.body, carMassKg: 6 });
    expect(sprungMassKg(next)).toBe(2.78);
    expect(next.drive).toBe(doc.a.drive);
  });

  it("add a stage at the wheel's end and take it away again", () => {
    const more = addStage(doc);
    expect(more.a.drive.stages).toHaveLength(doc.a.drive.stages.length + 1);
    expect(dropStage(more, more.a.drive.stages.length - 1).a).toEqual(doc.a);
    expect(setStage(more, 1, "drivingTeeth", 24).a.drive.stages[1]?.drivingTeeth).toBe(24);
  });

  it("set the wheel's radius on both sides, also where one side has its own", () => {
    const own: Doc = { ...doc, a: { ...doc.a, left: { wheel: { radiusMm: 40 } } } };
    const next = setWheelRadius(own, 52);
    expect(next.a.corner.wheel.radiusMm).toBe(52);
    expect(next.a.left.wheel?.radiusMm).toBe(52);
  });
});
