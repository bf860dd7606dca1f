import { describe, expect, it } from "vitest";
import { trackTable } from "../../../src/pages/motion/picture/tables.ts";
import type { Track, TracksModel } from "../../../src/pages/motion/picture/tracks.ts";

const t = Array.from({ length: 11 }, (_, i) => i / 10);
const line = { t, v: t.map((v) => 10 * v) };
const track: Track = {
  key: "camberDeg",
  title: "Lean",
  term: "",
  unit: "°",
  digits: 1,
  line,
  solidToS: 1,
  paleFromS: 1,
  pale: null,
  rival: null,
  steady: 3,
  limit: 8,
  peak: { t: 0.87, v: 9.1, past: true },
  leastSpan: 1,
};
const model: TracksModel = { endS: 1, wheel: "right wheel", over: "the run", whole: true, posts: [{ t: 0.33, words: "bump", loud: false }], tracks: [track] };

describe("the table of a row", () => {
  const table = trackTable(track, model);
  const row = (time: string): string[] | undefined => table.rows.find((r) => r[0] === time);

  it("names what it is, with units, limit and the answer at rest", () => {
    expect(table.caption).toBe("Lean, right wheel, over the run; limit 8.0°; held steady in this 3.0°");
    expect(table.head).toEqual(["time, s", "A, °", "what happens"]);
  });

  it("has round times from start to end, and every moment at which something happens, in order", () => {
    const times = table.rows.map((r) => Number(r[0]));
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(times[0]).toBe(0);
    expect(times.at(-1)).toBe(1);
    expect(row("0.330")).toEqual(["0.330", "3.3", "bump"]);
    expect(row("0.870")?.[2]).toBe("peak 9.1°");
    for (const r of table.rows) expect(r).toHaveLength(table.head.length);
  });

  it("does not tell a value where there is none: after a loss, and before the run as if all held parts from it", () => {
    const lost = { ...track, solidToS: 0.5, paleFromS: 0.5, pale: line, rival: { t: [0, 0.4], v: [0, 1] } };
    const told = trackTable(lost, { ...model, posts: [{ t: 0.5, words: "right wheel off", loud: true }], tracks: [lost] });
    expect(told.head).toEqual(["time, s", "A, °", "A if all held, °", "B, °", "what happens"]);
    expect(told.rows.find((r) => r[0] === "0.500")).toEqual(["0.500", "5.0", "5.0", "–", "right wheel off"]);
    expect(told.rows.find((r) => r[0] === "0.200")).toEqual(["0.200", "2.0", "–", "0.5", ""]);
    expect(told.rows.find((r) => r[0] === "0.800")).toEqual(["0.800", "–", "8.0", "–", ""]);
  });

  it("tells two things of one moment in one row", () => {
    const told = trackTable(track, { ...model, posts: [{ t: 0.8701, words: "bump", loud: false }] });
    expect(told.rows.filter((r) => r[2] !== "")).toHaveLength(1);
    expect(told.rows.find((r) => r[2] !== "")?.[2]).toContain("bump");
  });
});
