import { describe, expect, it } from "vitest";
import { withOrigins } from "../../src/core/design/origins.ts";
import type { Origin, Scenario } from "../../src/core/design/types.ts";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { gate } from "../../src/state/gate.ts";
import { openLink, toHash } from "../../src/state/link.ts";
import { createStore } from "../../src/state/store.ts";
import { taken } from "../../src/state/take.ts";
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

describe("how values are known", () => {
  const RATE = "corner.spring.rateNPerMm";
  const FREE = "corner.spring.freeLengthMm";
  const guess: Origin = { how: "guess", note: "a soft spring", plusMinus: 0.3 };
  const rate =
    (n: number) =>
    (d: Doc): Doc => ({ ...d, a: { ...d.a, corner: { ...d.a.corner, spring: { ...d.a.corner.spring, rateNPerMm: n } } } });
  const told =
    (origins: Record<string, Origin | null>) =>
    (d: Doc): Doc => ({ ...d, a: withOrigins(d.a, origins) });
  const begin = () => {
    const s = createStore(doc(), INITIAL_VIEW, () => 0, gate);
    s.act("guess", told({ [RATE]: guess, [FREE]: guess }));
    return s;
  };
  const a = (s: ReturnType<typeof begin>): Scenario["origins"] => s.settled().a.origins;

  it("go with each edit, and come back with undo", () => {
    const s = begin();
    s.act("rate", rate(3));
    expect(a(s)).toEqual({ [FREE]: guess });
    s.undo();
    expect(a(s)).toEqual({ [RATE]: guess, [FREE]: guess });
    s.redo();
    expect(a(s)).toEqual({ [FREE]: guess });
    s.undo();
    s.undo();
    expect(a(s)).toEqual({});
  });

  it("stay where a drag ends at the value that it began with", () => {
    const s = begin();
    s.preview(rate(3)(s.settled()));
    expect(s.get().doc.a.origins).toEqual({ [FREE]: guess });
    s.preview(rate(s.settled().a.corner.spring.rateNPerMm)(s.settled()));
    s.commit("rate");
    expect(a(s)).toEqual({ [RATE]: guess, [FREE]: guess });
  });

  it("are refused in a sentence where no value stands", () => {
    const s = begin();
    expect(s.act("guess", told({ "corner.colour": guess }))).toBeNull();
    expect(a(s)).toEqual({ [RATE]: guess, [FREE]: guess });
    expect(s.act("guess", told({ [RATE]: { how: "guess", plusMinus: -1 } }))).toMatch(/plusMinus is -1; allowed 0 to 1000000\.$/);
  });

  it("travel with copies, swaps and values taken from B, and stay apart from there", () => {
    const s = begin();
    s.act("copy A to B", (d) => ({ ...d, b: { ...d.a, name: "copy" } }));
    s.act("rate", rate(3));
    expect([a(s), s.settled().b.origins]).toEqual([{ [FREE]: guess }, { [RATE]: guess, [FREE]: guess }]);
    s.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a }));
    expect([a(s), s.settled().b.origins]).toEqual([{ [RATE]: guess, [FREE]: guess }, { [FREE]: guess }]);
    s.act("take", (d) => ({ ...d, a: taken(d.a, d.b, RATE).scenario }));
    expect([s.settled().a.corner.spring.rateNPerMm, a(s)]).toEqual([3, { [FREE]: guess }]);
    s.undo();
    s.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a }));
    s.act("take", (d) => ({ ...d, a: taken(d.a, d.b, RATE).scenario }));
    expect([s.settled().a.corner.spring.rateNPerMm, a(s)]).toEqual([2.4, { [RATE]: guess, [FREE]: guess }]);
  });

  it("of a group taken from B are as B knows them, where the value is the same, too", () => {
    const s = begin();
    const lip = "corner.hub.retention.radiusMm";
    s.act("guess", told({ [lip]: guess, [RATE]: guess }));
    expect(s.settled().b.corner.hub.retention).toMatchObject({ radiusMm: (s.settled().a.corner.hub.retention as { radiusMm: number }).radiusMm });
    s.act("take", (d) => ({ ...d, a: taken(d.a, d.b, "corner.hub.retention").scenario }));
    expect(a(s)).toEqual({ [RATE]: guess, [FREE]: guess });
  });

  it("come with a changed copy that is tried as B, but for what was changed in it", () => {
    const s = begin();
    s.act("try as B", (d) => ({ ...d, b: { ...rate(5)(d).a, name: "stiffer" } }));
    expect(s.settled().b.origins).toEqual({ [FREE]: guess });
  });

  it("travel in a link", async () => {
    const s = begin();
    const link = await openLink(await toHash(s.settled()));
    expect(link.ok && link.doc).toEqual(s.settled());
  });
});
