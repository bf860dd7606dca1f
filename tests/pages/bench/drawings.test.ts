import { describe, expect, it } from "vitest";
import { BENCH_KINDS } from "../../../src/core/design/tried.ts";
import { fitPicture, pointShape } from "../../../src/pages/bench/picture/fit-picture.ts";
import { decimalsOf, plainText, sdText, spanText, valueText } from "../../../src/pages/bench/picture/number-words.ts";
import { SET_UPS } from "../../../src/pages/bench/picture/sketches.ts";
import { SHEET, turned } from "../../../src/pages/bench/picture/strokes.ts";

describe("a value with its ±", () => {
  it.each([
    [2053.4, 118, "2050", "120"],
    [0.41234, 0.0213, "0.412", "0.021"],
    [-3.26, 0.5, "\u22123.26", "0.50"],
    [12.34, 1.26, "12.3", "1.3"],
    [85, 9.96, "85.0", "10.0"],
  ])("%d ± %d shows two figures of its doubt", (value, sd, words, doubt) => {
    expect(valueText(value, sd)).toBe(words);
    expect(sdText(value, sd)).toBe(doubt);
  });

  it("that is not known says so", () => {
    expect(sdText(3, Number.NaN)).toBe("–");
    expect(spanText([Number.NEGATIVE_INFINITY, 3], 1)).toBe("not known yet");
    expect(spanText([1.234, 3.456], 0.5)).toBe("1.23 to 3.46");
    expect(decimalsOf(0, Number.NaN)).toBe(2);
  });

  it("beside it shows no zeros behind the point", () => {
    expect(plainText(2.5, 0.00047)).toBe("2.5");
    expect(plainText(2050, 120)).toBe("2050");
  });
});

describe("the drawing of a fit", () => {
  const row = (x: number, y: number, fitted: number, way: "up" | "down" | null) => ({ ok: true, x, y, fitted, residual: y - fitted, way }) as const;
  const axes = { x: { words: "load", unit: "N" }, y: { words: "sag", unit: "mm" } };
  const fit = {
    axes,
    rows: [row(0, 0.1, 0, null), { ok: false, reason: "“x” is no number" } as const, { ok: null } as const, row(100, 0.9, 1, "up"), row(50, 0.5, 0.5, "down")],
    curves: [{ words: "fitted line", points: [0, 100].map((x) => ({ x, y: x / 100 })) }],
  };
  const p = fitPicture(fit, 400, 300)!;

  it("holds the rows that are good, by their place in the table", () => {
    expect(p.points.map((q) => q.row)).toEqual([0, 3, 4]);
    expect(p.points.map((q) => q.way)).toEqual([null, "up", "down"]);
  });

  it("lies within its plot, more to the right and up, and zero is on its axis", () => {
    for (const q of p.points) {
      expect(q.x).toBeGreaterThanOrEqual(p.plot.left);
      expect(q.x).toBeLessThanOrEqual(p.plot.right);
      expect(q.y).toBeLessThanOrEqual(p.plot.bottom);
      expect(q.y).toBeGreaterThanOrEqual(p.plot.top);
    }
    expect(p.points[0]!.x).toBe(p.plot.left);
    expect(p.points[1]!.y).toBeLessThan(p.points[2]!.y);
  });

  it("shows what is left over above or below zero, none on it", () => {
    expect(p.points[0]!.at).toBeLessThan(p.strip.zero);
    expect(p.points[1]!.at).toBeGreaterThan(p.strip.zero);
    expect(p.points[2]!.at).toBe(p.strip.zero);
    expect(p.stripTicks.map((t) => t.words)).toEqual(["+0.10", "\u22120.10"]);
  });

  it("is none without a good row, and stands on one alone", () => {
    expect(fitPicture({ axes, rows: [{ ok: null }, { ok: false, reason: "" }], curves: [] }, 400, 300)).toBeNull();
    const one = fitPicture({ axes, rows: [row(0, 0, Number.NaN, null)], curves: [] }, 400, 300);
    expect(one?.points).toHaveLength(1);
    expect(JSON.stringify(one)).not.toContain("null,null");
    expect(one?.sticks).toBe("");
  });

  it("draws pieces of one name alike, and counts in whole numbers", () => {
    const line = (words: string, y: number) => ({
      words,
      points: [
        { x: 1, y },
        { x: 2, y },
      ],
    });
    const drawn = fitPicture(
      {
        axes: { ...axes, x: { words: "part", unit: "" } },
        rows: [row(1, 1, 1, null), row(2, 2, 2, null)],
        curves: [line("fit", 1), line("loading", 1), line("fit", 2)],
      },
      700,
      300,
    );
    expect(drawn?.curves.map((c) => c.look)).toEqual([0, 1, 0]);
    expect(drawn?.xTicks.map((t) => t.words)).toEqual(["1", "2"]);
  });

  it("tells the ways apart by shape", () => {
    expect(new Set([null, "up", "down"].map((w) => pointShape(10, 10, w as "up"))).size).toBe(3);
  });
});

describe("the drawings of the set-ups", () => {
  it.each(BENCH_KINDS)("%s shows what is held or loaded and what is read, all of it on its sheet", (kind) => {
    const { strokes, labels, view } = SET_UPS[kind];
    expect(view).not.toBe("");
    const looks = new Set(strokes.map(([look]) => look));
    expect(looks.has("load") || looks.has("weight")).toBe(true);
    expect(labels.some((l) => l.tone === "read") || looks.has("gives")).toBe(true);
    for (const [, d] of strokes) {
      expect(d).not.toMatch(/NaN|undefined/);
      for (const [, x, y] of d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
        expect(Number(x)).toBeGreaterThanOrEqual(0);
        expect(Number(x)).toBeLessThanOrEqual(SHEET.width);
        expect(Number(y)).toBeGreaterThanOrEqual(0);
        expect(Number(y)).toBeLessThanOrEqual(SHEET.height);
      }
    }
    // a letter of this face is some 6.6 wide at most
    for (const l of labels) {
      const wide = l.words.length * 6.6;
      const from = l.anchor === "start" ? l.x : l.anchor === "end" ? l.x - wide : l.x - wide / 2;
      expect(from).toBeGreaterThanOrEqual(0);
      expect(from + wide).toBeLessThanOrEqual(SHEET.width);
    }
  });

  it("are turned clockwise as seen", () => {
    const [p] = turned([[10, 0]], [0, 0], 90);
    expect(p![0]).toBeCloseTo(0, 9);
    expect(p![1]).toBeCloseTo(10, 9);
  });
});
