import { describe, expect, it } from "vitest";
import { CAPS } from "../../src/scenario/caps.ts";
import { formatShelf, readShelf } from "../../src/scenario/shelf-file.ts";
import { KINDS_OF_PARTS, readPart, SHELF_KINDS, type ShelfPart } from "../../src/scenario/shelf-kinds.ts";
import { TYPICAL_PARTS } from "../../src/scenario/shelf-parts.ts";

const part = (name: string): ShelfPart => TYPICAL_PARTS.find((p) => p.name === name) as ShelfPart;
const refused = (raw: unknown): string => {
  const r = readPart(raw, "shelf.json");
  return r.ok ? "read" : r.message;
};

describe("the shelf of typical parts", () => {
  it.each(TYPICAL_PARTS.map((p) => [p.kind, p.name, p] as const))("holds a %s that any file may hold: %s", (_kind, _name, p) => {
    const r = readPart(JSON.parse(JSON.stringify(p)), "the shelf");
    expect(r).toEqual({ ok: true, part: { kind: p.kind, name: p.name, values: p.values, known: p.known } });
    expect(p.source).toMatch(/EN \d|MMPDS|common practice, no source|from memory|invented|its own source/);
    for (const o of Object.values(p.known)) expect(o).toMatchObject({ how: "guess", note: `shelf: ${p.name}` });
    if (p.kind !== "material") expect(Object.values(p.known).some((o) => (o.plusMinus ?? 0) > 0)).toBe(true);
  });

  it("has several of each kind, each under a name of its own", () => {
    for (const kind of SHELF_KINDS) expect(TYPICAL_PARTS.filter((p) => p.kind === kind).length, kind).toBeGreaterThanOrEqual(4);
    expect(new Set(TYPICAL_PARTS.map((p) => `${p.kind} ${p.name}`)).size).toBe(TYPICAL_PARTS.length);
    for (const p of TYPICAL_PARTS) expect(Object.keys(p.values)).toEqual([...KINDS_OF_PARTS[p.kind].fields]);
  });

  // G d^4 / (8 D^3 n) of EN 13906-1 by hand with 81,500 MPa: 81500·1/(8·1728·8), 81500·2.0736/(8·1728·7), 81500·3.8416/(8·1728·7), 81500·6.5536/(8·1728·6), 81500·10.4976/(8·2197·6)
  it.each([
    ["soft spring, short", 0.737],
    ["medium spring, short", 1.746],
    ["medium spring, long", 1.746],
    ["firm spring, long", 3.235],
    ["hard spring, long", 6.44],
    ["very hard spring, long", 8.113],
  ])("tells the rate of a %s by its wire and coil", (name, rate) => {
    expect(Math.abs((part(name).values["rateNPerMm"] as number) - rate)).toBeLessThan(0.006);
  });
});

describe("a part from a file", () => {
  const soft = part("soft spring, short");
  it("is refused in a sentence where it is none", () => {
    expect(refused(3)).toBe("shelf.json: a part of the shelf is no object");
    expect(refused({ ...soft, kind: "wing" })).toMatch(/^shelf\.json: kind is "wing"; allowed one of spring, bar, /);
    expect(refused({ ...soft, name: "n".repeat(61) })).toMatch(/allowed a text of 1 to 60 letters$/);
    expect(refused({ ...soft, values: { ...soft.values, colour: 1 } })).toMatch(/"soft spring, short": colour is no field of a spring; allowed rateNPerMm, /);
    expect(refused({ ...soft, values: { ...soft.values, rateNPerMm: 500 } })).toBe(
      'shelf.json: "soft spring, short": rateNPerMm is 500 N/mm; allowed 0.05 to 200 N/mm',
    );
    const { rateNPerMm: _, ...without } = soft.values;
    expect(refused({ ...soft, values: without })).toMatch(/rateNPerMm is missing/);
    expect(refused({ ...part("carbon rod, 4 mm"), values: { section: { shape: "star" }, material: "abs" } })).toMatch(/section\.shape is an object/);
    expect(refused({ ...soft, known: { "spring.rate": { how: "guess" } } })).toMatch(/tells how spring\.rate is known, which is no value of it$/);
    expect(refused({ ...soft, known: { rateNPerMm: { how: "measured", date: "yesterday!" } } })).toMatch(/how rateNPerMm is known cannot be read$/);
  });
});

describe("a shelf as a file", () => {
  it("comes back as it was written", () => {
    const mine: ShelfPart = {
      ...part("soft spring, short"),
      known: { rateNPerMm: { how: "measured", plusMinus: 0.02, date: "2026-11-20", note: "three times" } },
    };
    const { source: _, ...bare } = mine as ShelfPart & { source: string };
    expect(readShelf(formatShelf([bare]), "mine.json")).toEqual({ ok: true, parts: [bare], unread: [] });
  });

  it("tells in one sentence what is wrong with it, and part by part", () => {
    const told = (text: string): string => {
      const r = readShelf(text, "mine.json");
      return r.ok ? "read" : r.message;
    };
    expect(told("{")).toMatch(/^mine\.json: line 1, column 2: /);
    expect(told('{"format": "wheelstay-scenario"}')).toBe("mine.json: this is no shelf of parts.");
    expect(told('{"format": "wheelstay-shelf", "version": 2}')).toBe("mine.json: version is 2; allowed 1.");
    expect(told('{"format": "wheelstay-shelf", "version": 1}')).toBe("mine.json: parts is missing; allowed a list.");
    expect(
      told(
        formatShelf(
          [],
          Array.from({ length: CAPS.shelfParts + 1 }, () => 0),
        ),
      ),
    ).toBe("mine.json: it holds 301 parts; allowed up to 300.");
    expect(told(`"${"a".repeat(CAPS.fileBytes)}"`)).toMatch(/larger than/);
    const r = readShelf(formatShelf([part("carbon rod, 4 mm")], [{ kind: "wing" }]), "mine.json");
    expect(r.ok && [r.parts.length, r.unread.map((u) => u.message)]).toEqual([1, [expect.stringMatching(/^mine\.json: kind is "wing"; allowed one of .+\.$/)]]);
  });
});
