import { describe, expect, it } from "vitest";
import { checkScenario } from "../../../src/core/design/check.ts";
import { addBox, addOutline, addPoint, movedFit, removePoint, removeWhole, setFit } from "../../../src/pages/axle/state/fit-edits.ts";
import { movedHandle, moveName, nudgeOf } from "../../../src/pages/axle/state/handle-edits.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import type { Doc } from "../../../src/state/document.ts";
import { scenarioFile } from "../../view/fixture.ts";

const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } };
const box = doc.a.fit.keepOut[0];
if (!box) throw new Error("the demo car has a box");

describe("points of the body's outlines", () => {
  it("move in whole millimetres, or in tenths when the hand asks for it", () => {
    const p = doc.a.fit.outlines[0]?.points[2];
    if (!p) throw new Error("the demo car has a shell");
    const rough = movedFit(doc, "fit.o.0.2", { right: 3.26, up: -1.74 }, false).a.fit.outlines[0]?.points[2];
    expect(rough).toEqual({ sMm: p.sMm + 3, zMm: p.zMm - 2 });
    const fine = movedFit(doc, "fit.o.0.2", { right: 3.26, up: -1.74 }, true).a.fit.outlines[0]?.points[2];
    expect(fine).toEqual({ sMm: p.sMm + 3.3, zMm: p.zMm - 1.7 });
  });

  it("there and back is the same document", () => {
    expect(movedFit(doc, "fit.o.0.2", { right: 0.2, up: 0 }, false)).toBe(doc);
  });

  it("go by the same hand and keys as all other points", () => {
    const move = nudgeOf("fit.o.0.2", "ArrowUp", "hole", doc.a.holePitchMm);
    if (!move) throw new Error("an arrow key moves");
    const next = movedHandle(doc, "fit.o.0.2", move, null);
    expect(next.a.fit.outlines[0]?.points[2]?.zMm).toBe((doc.a.fit.outlines[0]?.points[2]?.zMm ?? 0) + 1);
    expect(moveName(doc, next, "fit.o.0.2")).toBe("body shell, point 3");
  });

  it("are added in the middle of the way to the next, and taken away again", () => {
    const more = addPoint(doc, "fit.o.0.1");
    const [a, m, b] = (more.a.fit.outlines[0]?.points ?? []).slice(1, 4);
    if (!a || !m || !b) throw new Error("three points");
    expect(m.sMm).toBeCloseTo((a.sMm + b.sMm) / 2, 12);
    expect(removePoint(more, "fit.o.0.2").a).toEqual(doc.a);
  });

  it("the last two of an outline go together", () => {
    const two = addOutline(doc);
    const index = two.a.fit.outlines.length - 1;
    expect(removePoint(two, `fit.o.${index}.0`).a).toEqual(doc.a);
  });
});

describe("boxes that stay free", () => {
  it("are pulled at a corner while the opposite one stays", () => {
    const next = movedFit(doc, "fit.b.0.2", { right: 4, up: 5 }, false).a.fit.keepOut[0];
    expect(next).toEqual({ ...box, toSMm: box.toSMm + 4, toZMm: box.toZMm + 5 });
    const low = movedFit(doc, "fit.b.0.0", { right: 2, up: 3 }, false).a.fit.keepOut[0];
    expect(low).toEqual({ ...box, fromSMm: box.fromSMm + 2, fromZMm: box.fromZMm + 3 });
  });

  it("never turn inside out", () => {
    const next = movedFit(doc, "fit.b.0.2", { right: -900, up: -900 }, false);
    expect(checkScenario(next.a).filter((p) => p.path.startsWith("fit"))).toEqual([]);
  });

  it("are added and removed as a whole", () => {
    const more = addBox(doc);
    expect(more.a.fit.keepOut).toHaveLength(2);
    expect(removeWhole(more, "fit.b.1.0").a).toEqual(doc.a);
  });
});

describe("every edit", () => {
  it("gives a design that a file may hold", () => {
    for (const d of [
      addOutline(doc),
      addBox(doc),
      addPoint(doc, "fit.o.1.0"),
      setFit(doc, "clearanceMm", 5),
      movedFit(doc, "fit.o.0.1", { right: 5000, up: 5000 }, false),
    ])
      expect(parseScenario(JSON.stringify(d.a), "edited").ok).toBe(true);
  });
});
