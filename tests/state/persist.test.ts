import { describe, expect, it } from "vitest";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { claimSession, designs, dropDesign, keepDesign, type Session, type Shelf, saveSession, sessions } from "../../src/state/persist.ts";
import { scenarioFile } from "../view/fixture.ts";

function shelf(full = false): Shelf {
  const map = new Map<string, string>();
  return {
    getItem: (k) => map.get(k) ?? null,
    setItem: (k, v) => {
      if (full) throw new DOMException("full", "QuotaExceededError");
      map.set(k, v);
    },
    removeItem: (k) => void map.delete(k),
    key: (i) => [...map.keys()][i] ?? null,
    get length() {
      return map.size;
    },
  };
}
const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 2 } };
const session = (id: string, more: Partial<Session> = {}): Session => ({ id, doc, view: INITIAL_VIEW, savedAt: 1000, aliveAt: 1000, ...more });
const NOW = 1_000_000;

describe("sessions", () => {
  it("come back to their own tab after a reload", () => {
    const s = shelf();
    saveSession(s, session("one", { aliveAt: 0, savedAt: 5 }));
    saveSession(s, session("two", { aliveAt: 0, savedAt: 9 }));
    const claimed = claimSession(s, "one", "new", NOW);
    expect(claimed.id).toBe("one");
    expect(claimed.from?.doc).toEqual(doc);
  });

  it("are taken up by a new tab when theirs is gone, the newest first, and never from a living tab", () => {
    const s = shelf();
    saveSession(s, session("old", { aliveAt: 0, savedAt: 5 }));
    saveSession(s, session("crashed", { aliveAt: NOW - 60_000, savedAt: 9 }));
    expect(claimSession(s, null, "new", NOW).id).toBe("crashed");
    const living = shelf();
    saveSession(living, session("here", { aliveAt: NOW - 1000 }));
    expect(claimSession(living, null, "new", NOW)).toEqual({ id: "new", from: null });
  });

  it("are copied under a new key when a tab is duplicated, so that two tabs do not overwrite each other", () => {
    const s = shelf();
    saveSession(s, session("one", { aliveAt: NOW - 1000 }));
    const claimed = claimSession(s, "one", "twin", NOW);
    expect(claimed.id).toBe("twin");
    expect(claimed.from?.id).toBe("one");
  });

  it("say so when the browser's store is full, and pass over what cannot be read", () => {
    expect(saveSession(shelf(true), session("one"))).toBe(false);
    const s = shelf();
    s.setItem("wheelstay.session.bad", "{oops");
    saveSession(s, session("good"));
    expect(sessions(s).map((x) => x.id)).toEqual(["good"]);
  });
});

describe("kept designs", () => {
  it("of two tabs under one name are both kept", () => {
    const s = shelf();
    expect(keepDesign(s, doc.a, "tab-1", 1)).toBe(doc.a.name);
    expect(keepDesign(s, { ...doc.a, holePitchMm: 10 }, "tab-2", 2)).toBe(`${doc.a.name} (2)`);
    expect(keepDesign(s, { ...doc.a, holePitchMm: 12 }, "tab-1", 3)).toBe(doc.a.name);
    expect(designs(s)[doc.a.name]?.scenario.holePitchMm).toBe(12);
    expect(designs(s)[`${doc.a.name} (2)`]?.scenario.holePitchMm).toBe(10);
    dropDesign(s, doc.a.name);
    expect(Object.keys(designs(s))).toEqual([`${doc.a.name} (2)`]);
    expect(keepDesign(shelf(true), doc.a, "tab-1", 1)).toBeNull();
  });
});
