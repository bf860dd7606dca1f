import { describe, expect, it } from "vitest";
import { type Doc, INITIAL_VIEW } from "../../src/state/document.ts";
import { claimSession, type Session, type Shelf, saveSession, sessions } from "../../src/state/persist.ts";
import { scenarioFile } from "../view/fixture.ts";

function shelf(): Shelf {
  const map = new Map<string, string>();
  return {
    getItem: (k) => map.get(k) ?? null,
    setItem: (k, v) => void map.set(k, v),
    removeItem: (k) => void map.delete(k),
    key: (i) => [...map.keys()][i] ?? null,
    get length() {
      return map.size;
    },
  };
}
const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 2 } };
const session = (id: string, more: Partial<Session>): Session => ({ id, doc, view: INITIAL_VIEW, savedAt: 0, aliveAt: 0, ...more });
const NOW = 1_000_000;

describe("sessions of the past", () => {
  /** Saves sessions 1, 2, ... in turn, a minute between them; which of them are kept. */
  const keptOf = (count: number, alive: (n: number) => boolean): string[] => {
    const s = shelf();
    for (let n = 1; n <= count; n++) {
      const now = NOW + 60_000 * n;
      for (const old of sessions(s).filter((o) => alive(Number(o.id))))
        s.setItem(`wheelstay.session.${old.id}`, JSON.stringify({ ...old, aliveAt: now - 5000 }));
      saveSession(s, session(String(n), { savedAt: now, aliveAt: now }));
    }
    return sessions(s).map((k) => k.id);
  };

  it("are kept six in all, the newest, so that a busy browser's store does not fill up", () => {
    expect(keptOf(6, () => false)).toEqual(["6", "5", "4", "3", "2", "1"]);
    expect(keptOf(7, () => false)).toEqual(["7", "6", "5", "4", "3", "2"]);
    expect(keptOf(9, () => false)).toEqual(["9", "8", "7", "6", "5", "4"]);
  });

  it("never lose one whose tab is still open", () => {
    expect(keptOf(9, (n) => n === 1)).toEqual(["9", "8", "7", "6", "5", "4", "1"]);
  });

  it("are taken for gone after 12 s without a sign, and not before", () => {
    const claim = (silentMs: number): string => {
      const s = shelf();
      saveSession(s, session("one", { aliveAt: NOW - silentMs }));
      return claimSession(s, null, "new", NOW).id;
    };
    expect([claim(11_900), claim(12_100)]).toEqual(["new", "one"]);
  });
});
