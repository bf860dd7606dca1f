import { describe, expect, it } from "vitest";
import { limitShown, namingPlace, pathOf, postSides, rangeOf, runAt, type Track, timeMarks } from "../../../src/pages/motion/picture/tracks.ts";

const track = (over: Partial<Track>): Track => ({
  key: "k",
  title: "Lean",
  term: "",
  unit: "°",
  digits: 1,
  line: { t: [0, 1, 2], v: [1, 5, 3] },
  solidToS: 2,
  paleFromS: 2,
  pale: null,
  rival: null,
  steady: null,
  limit: null,
  peak: null,
  leastSpan: 1,
  ...over,
});
const same = (v: number): number => v;

describe("the range of a row", () => {
  it("holds the line, the answer at rest and the peak between the samples", () => {
    expect(rangeOf(track({ steady: 0.5, peak: { t: 1.1, v: 6, past: false } }))).toEqual({ min: 0.5, max: 6 });
  });

  it("leaves out what comes after the solid line, unless it is drawn pale", () => {
    const line = { t: [0, 1, 2], v: [1, 2, 90] };
    expect(rangeOf(track({ line, solidToS: 1 })).max).toBe(2);
    expect(rangeOf(track({ line, solidToS: 1, pale: { t: [1, 2], v: [2, 7] } })).max).toBe(7);
  });

  it("shows a limit within reach, and does not flatten the line for one far off", () => {
    const near = track({ limit: 8 });
    expect(limitShown(near, rangeOf(near))).toBe(true);
    const far = track({ limit: 80 });
    expect(limitShown(far, rangeOf(far))).toBe(false);
    expect(rangeOf(far).max).toBe(5);
  });

  it("keeps flat what hardly changes", () => {
    const r = rangeOf(track({ line: { t: [0, 1], v: [4, 4.01] }, leastSpan: 2 }));
    expect(r.max - r.min).toBeCloseTo(2, 9);
    expect((r.max + r.min) / 2).toBeCloseTo(4.005, 9);
  });

  it("is never empty", () => {
    expect(rangeOf(track({ line: { t: [], v: [] }, leastSpan: 3 }))).toEqual({ min: 0, max: 3 });
  });
});

describe("the name of the other design's line", () => {
  it("stands once, in the row and at the time at which the two lie furthest apart", () => {
    const near = track({ rival: { t: [0, 1, 2], v: [1, 5, 3.1] } });
    const apart = track({ rival: { t: [0, 1, 2], v: [1, 2, 3] } });
    const place = namingPlace([near, apart, near]);
    expect(place?.row).toBe(1);
    expect(place?.t).toBeCloseTo(1, 6);
    expect(place?.v).toBeCloseTo(2, 6);
  });
  it("is left out where there is none", () => {
    expect(namingPlace([track({})])).toBeNull();
  });
});

describe("the words of the posts", () => {
  const x = (t: number): number => 1000 * t;
  const sides = (posts: { t: number; loud: boolean }[]): (string | null)[] =>
    postSides(
      posts.map((p) => ({ ...p, words: "word" })),
      x,
      () => 60,
      0,
      1000,
    );
  it("stand after their lines where there is room, before them at the right edge", () => {
    expect(sides([{ t: 0.1, loud: false }])).toEqual(["start"]);
    expect(sides([{ t: 0.97, loud: false }])).toEqual(["end"]);
  });
  it("keep off the lines beside them", () => {
    expect(
      sides([
        { t: 0.3, loud: false },
        { t: 0.32, loud: true },
      ]),
    ).toEqual(["end", "start"]);
  });
  it("tell every loss, and leave out quiet words for which nothing is left", () => {
    expect(
      sides([
        { t: 0.3, loud: false },
        { t: 0.31, loud: true },
        { t: 0.35, loud: true },
      ]),
    ).toEqual([null, "end", "start"]);
  });
});

describe("a value of a run", () => {
  const run = { t: [0, 0.5, 1], v: [0, 10, 20] };
  it("lies straight between two samples", () => {
    expect(runAt(run, 0.25)).toBeCloseTo(5, 9);
    expect(runAt(run, 1)).toBe(20);
  });
  it("is not made up outside", () => {
    expect(runAt(run, 1.2)).toBeNull();
    expect(runAt({ t: [], v: [] }, 0)).toBeNull();
  });
});

describe("the path of a run", () => {
  it("keeps lowest and highest where many samples share a px", () => {
    const t = Array.from({ length: 1000 }, (_, i) => i / 1000);
    const v = t.map((_, i) => (i === 500 ? 40 : i === 501 ? -40 : 0));
    const d = pathOf({ t, v }, (x) => 10 * x, same, 0, 1);
    expect(d).toContain(" 40.0");
    expect(d).toContain(" -40.0");
    expect(d.match(/[ML]/g)?.length ?? 0).toBeLessThan(40);
  });
  it("is cut to its times", () => {
    expect(pathOf({ t: [0, 1, 2, 3], v: [0, 1, 2, 3] }, (x) => 10 * x, same, 1, 2)).toBe("M10.0 1.0L20.0 2.0");
  });
});

describe("the time axis", () => {
  it.each([0.13, 0.91, 3.1, 20])("has round marks within a run of %f s", (end) => {
    const m = timeMarks(end);
    expect(m.long[0]).toBe(0);
    expect(m.long.length).toBeGreaterThanOrEqual(3);
    expect(m.long.length).toBeLessThanOrEqual(12);
    for (const at of [...m.long, ...m.short]) expect(at).toBeLessThanOrEqual(end + 1e-9);
  });
});
