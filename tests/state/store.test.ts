import { describe, expect, it } from "vitest";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { gate } from "../../src/state/gate.ts";
import { createStore } from "../../src/state/store.ts";
import { scenarioFile } from "../view/fixture.ts";

const doc = (): Doc => ({ a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } });
const withG =
  (g: number) =>
  (d: Doc): Doc => ({ ...d, load: { ...d.load, lateralG: g } });

describe("the store", () => {
  it("undoes and redoes by name, in order", () => {
    const s = createStore(doc(), INITIAL_VIEW, () => 0, gate);
    s.act("cornering to 0.5 g", withG(0.5));
    s.act("cornering to 0.3 g", withG(0.3));
    expect(s.get().undoName).toBe("cornering to 0.3 g");
    expect(s.undo()).toBe("cornering to 0.3 g");
    expect(s.get().doc.load.lateralG).toBe(0.5);
    expect(s.undo()).toBe("cornering to 0.5 g");
    expect(s.get().doc.load.lateralG).toBe(0.8);
    expect(s.undo()).toBeNull();
    expect(s.redo()).toBe("cornering to 0.5 g");
    expect(s.get().redoName).toBe("cornering to 0.3 g");
    s.act("cornering to 0.1 g", withG(0.1));
    expect(s.get().redoName).toBeNull();
  });

  it("makes one entry of a drag, and none of one that was put back", () => {
    const s = createStore(doc(), INITIAL_VIEW, () => 0, gate);
    for (const g of [0.7, 0.6, 0.5]) s.preview(withG(g)(s.settled()));
    expect(s.get().doc.load.lateralG).toBe(0.5);
    expect(s.settled().load.lateralG).toBe(0.8);
    expect(s.get().dragging).toBe(true);
    s.commit("cornering to 0.50 g");
    s.undo();
    expect(s.get().doc.load.lateralG).toBe(0.8);
    expect(s.get().undoName).toBeNull();
    s.preview(withG(0.2)(s.settled()));
    s.cancel();
    expect(s.get().doc.load.lateralG).toBe(0.8);
    expect(s.get().undoName).toBeNull();
  });

  it("merges quick follows of one kind, and no others", () => {
    let now = 0;
    const s = createStore(doc(), INITIAL_VIEW, () => now, gate);
    for (const g of [0.7, 0.6, 0.5]) {
      now += 100;
      s.actMerged("cornering", `cornering to ${g} g`, withG(g));
    }
    now += 5000;
    s.actMerged("cornering", "cornering to 0.4 g", withG(0.4));
    s.undo();
    expect(s.get().doc.load.lateralG).toBe(0.5);
    s.undo();
    expect(s.get().doc.load.lateralG).toBe(0.8);
  });

  it("cannot be changed in place", () => {
    const s = createStore(doc(), INITIAL_VIEW, () => 0, gate);
    expect(() => {
      (s.get().doc.a.corner.wheelCentre as { sMm: number }).sMm = 1;
    }).toThrow(TypeError);
  });

  it("leaves no entry for a change that changed nothing", () => {
    const s = createStore(doc(), INITIAL_VIEW, () => 0, gate);
    s.act("nothing", (d) => d);
    expect(s.get().undoName).toBeNull();
  });
});
