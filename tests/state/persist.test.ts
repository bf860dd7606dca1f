import { describe, expect, it } from "vitest";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { gate } from "../../src/state/gate.ts";
import { emptyHistory, type History, recorded } from "../../src/state/history.ts";
import { designs, keepDesign, readWork, removeDesign, removeWork, type Shelf, saveWork, stored, type Work, writtenByOther } from "../../src/state/persist.ts";
import { scenarioFile } from "../view/fixture.ts";

interface Box extends Shelf {
  full: boolean;
}
function shelf(): Box {
  const map = new Map<string, string>();
  return {
    full: false,
    getItem: (k) => map.get(k) ?? null,
    setItem(k, v) {
      if (this.full) throw new DOMException("full", "QuotaExceededError");
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
const demo: Doc = { a: scenarioFile("light-same-hub"), b: scenarioFile("asymmetric"), load: { lateralG: 0.3, bumpLeftMm: 0, bumpRightMm: 0 } };
const work = (more: Partial<Work> = {}): Work => ({ doc, view: INITIAL_VIEW, history: emptyHistory(), ...more });
const textOf = (s: Shelf, id: string): string => stored(s).find((x) => x.id === id)?.text as string;
const withName = (d: Doc, name: string): Doc => ({ ...d, a: { ...d.a, name } });

describe("work in the browser's store", () => {
  it("comes back as it was: designs, load, view, and every step in both directions", () => {
    const s = shelf();
    const later = { ...withName(doc, "renamed"), load: { lateralG: -0.4, bumpLeftMm: 1, bumpRightMm: 0 } };
    const now = { ...later, b: { ...later.b, tracks: [] } };
    let history: History<Doc> = emptyHistory();
    history = recorded(history, { name: "first", before: doc, after: later });
    history = { past: history.past, future: [{ name: "second", before: later, after: now }] };
    const view = { ...INITIAL_VIEW, page: "speedMap", road: { ...INITIAL_VIEW.road, radiusM: 9 } };
    expect(saveWork(s, "one", "me", { doc: later, view, history }, 5)).toBe(true);
    const read = readWork(textOf(s, "one"), demo, gate);
    if (!read.ok) throw new Error(read.message);
    expect(read.amiss).toEqual([]);
    expect(read.work.doc).toEqual(later);
    expect(read.work.view).toEqual(view);
    expect(read.work.history.past).toEqual([{ name: "first", before: doc, after: later }]);
    expect(read.work.history.future).toEqual([{ name: "second", before: later, after: now }]);
  });

  it("of designs of version 1 opens, with what can be undone", () => {
    const s = shelf();
    const later = withName(doc, "renamed");
    saveWork(s, "one", "me", work({ doc: later, history: recorded(emptyHistory(), { name: "first", before: doc, after: later }) }), 5);
    const then = textOf(s, "one").replaceAll('"version":2', '"version":1').replaceAll(',"origins":{}', "");
    expect(then.match(/"version":1/g)).toHaveLength(2);
    const read = readWork(then, demo, gate);
    if (!read.ok) throw new Error(read.message);
    expect([read.amiss, read.work.doc]).toEqual([[], later]);
    expect(read.work.history.past).toEqual([{ name: "first", before: doc, after: later }]);
  });

  it("lists the newest first, with the names of the designs", () => {
    const s = shelf();
    saveWork(s, "old", "me", work(), 5);
    saveWork(s, "new", "me", work({ doc: withName(doc, "Later car") }), 9);
    expect(stored(s).map((x) => [x.id, x.name, x.savedAt])).toEqual([
      ["new", "Later car", 9],
      ["old", doc.a.name, 5],
    ]);
  });

  it("tells whose hand wrote it last, so that a tab that slept does not write over another's", () => {
    const s = shelf();
    expect(writtenByOther(s, "one", "me")).toBe(false);
    saveWork(s, "one", "me", work(), 5);
    expect(writtenByOther(s, "one", "me")).toBe(false);
    expect(writtenByOther(s, "one", "m")).toBe(true);
    expect(writtenByOther(s, "one", "other")).toBe(true);
  });

  it("says that it was not kept when the store is full", () => {
    const s = shelf();
    s.full = true;
    expect(saveWork(s, "one", "me", work(), 5)).toBe(false);
  });

  it("is read part by part: a design that cannot be read leaves the other one, the load and the view", () => {
    const s = shelf();
    saveWork(s, "one", "me", work(), 5);
    const broken = textOf(s, "one").replace(`"name":${JSON.stringify(doc.b.name)}`, '"name":7');
    const read = readWork(broken, demo, gate);
    if (!read.ok) throw new Error(read.message);
    expect(read.work.doc.a).toEqual(doc.a);
    expect(read.work.doc.b).toEqual(demo.b);
    expect(read.work.doc.load).toEqual(doc.load);
    expect(read.amiss).toEqual(["design B: name is 7; allowed a text of 1 to 120 letters."]);
  });

  it("with a broken view stands as the page stands first, field by field", () => {
    const s = shelf();
    saveWork(s, "one", "me", work(), 5);
    const value = JSON.parse(textOf(s, "one"));
    const readView = (view: unknown) => {
      const read = readWork(JSON.stringify({ ...value, view }), demo, gate);
      if (!read.ok) throw new Error(read.message);
      expect(read.amiss).toEqual([]);
      return read.work.view;
    };
    for (const view of [null, 7, "x", [], { show: 3, road: "y", pages: 1, drawerPx: "tall" }]) expect(readView(view)).toEqual(INITIAL_VIEW);
    expect(readView({ page: "report", theme: "pink", road: { track: -1, shock: 2 } })).toEqual({
      ...INITIAL_VIEW,
      page: "report",
      road: { ...INITIAL_VIEW.road, shock: 2 },
    });
  });

  it("that is cut short is told as that, at every length", () => {
    const s = shelf();
    saveWork(s, "one", "me", work(), 5);
    const text = textOf(s, "one");
    for (const share of [0, 0.1, 0.5, 0.9, 0.999])
      expect(readWork(text.slice(0, Math.floor(text.length * share)), demo, gate)).toEqual({ ok: false, message: "it is cut short or changed" });
  });

  it("of the first format, without a history, is read", () => {
    const old = JSON.stringify({ id: "one", doc, view: { ...INITIAL_VIEW, track: 2, arm: { name: "upper" } }, savedAt: 3, aliveAt: 0 });
    const read = readWork(old, demo, gate);
    expect(read.ok && read.work.doc).toEqual(doc);
    expect(read.ok && read.work.history).toEqual(emptyHistory());
  });

  it("keeps the steps up to one that leads to no valid design", () => {
    const s = shelf();
    const b = withName(doc, "b");
    const c = withName(doc, "c");
    const history: History<Doc> = {
      past: [
        { name: "to b", before: withName(doc, ""), after: b },
        { name: "to c", before: b, after: c },
      ],
      future: [],
    };
    saveWork(s, "one", "me", { doc: c, view: INITIAL_VIEW, history }, 1);
    const read = readWork(textOf(s, "one"), demo, gate);
    expect(read.ok && read.work.history.past.map((e) => e.name)).toEqual(["to c"]);
  });

  it("that is removed can be put back", () => {
    const s = shelf();
    saveWork(s, "one", "me", work(), 5);
    const before = textOf(s, "one");
    const back = removeWork(s, "one");
    expect(stored(s)).toEqual([]);
    expect(back()).toBe(true);
    expect(textOf(s, "one")).toBe(before);
  });
});

describe("kept designs", () => {
  it("of two tabs under one name are both kept", () => {
    const s = shelf();
    expect(keepDesign(s, doc.a, "tab-1", 1)).toBe(doc.a.name);
    expect(keepDesign(s, { ...doc.a, holePitchMm: 10 }, "tab-2", 2)).toBe(`${doc.a.name} (2)`);
    expect(keepDesign(s, { ...doc.a, holePitchMm: 12 }, "tab-1", 3)).toBe(doc.a.name);
    const pitch = (name: string): unknown => (designs(s)[name]?.scenario as { holePitchMm?: number } | undefined)?.holePitchMm;
    expect(pitch(doc.a.name)).toBe(12);
    expect(pitch(`${doc.a.name} (2)`)).toBe(10);
  });

  it("that are removed can be put back, beside what was kept since", () => {
    const s = shelf();
    keepDesign(s, doc.a, "me", 1);
    const back = removeDesign(s, doc.a.name, 2);
    expect(designs(s)).toEqual({});
    keepDesign(s, { ...doc.b, name: "other" }, "me", 3);
    expect(back?.()).toBe(true);
    expect(Object.keys(designs(s)).sort()).toEqual([doc.a.name, "other"].sort());
    expect(removeDesign(s, "none", 4)).toBeNull();
  });

  it("are not kept, and say so, when the store is full", () => {
    const s = shelf();
    s.full = true;
    expect(keepDesign(s, doc.a, "me", 1)).toBeNull();
  });

  it("that cannot be read as a list are put aside before anything is written", () => {
    const s = shelf();
    s.setItem("wheelstay.designs", "{oops");
    expect(designs(s)).toEqual({});
    keepDesign(s, doc.a, "me", 7);
    expect(s.getItem("wheelstay.unreadable.7")).toBe("{oops");
    expect(Object.keys(designs(s))).toEqual([doc.a.name]);
  });
});
