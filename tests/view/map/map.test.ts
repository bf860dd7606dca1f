import { describe, expect, it } from "vitest";
import { LIMIT_NAMES } from "../../../src/core/analysis.ts";
import { buildBench } from "../../../src/core/analyze.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { byRatio, evenly } from "../../../src/core/studies/speed-map.ts";
import { kmhToMps, mpsToKmh } from "../../../src/core/units.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { inside } from "../../../src/view/geometry.ts";
import { linesOf, mapAreas, ringsOf } from "../../../src/view/map/areas.ts";
import { type MapFrame, mapRange, radiusAt } from "../../../src/view/map/frame.ts";
import { mapLayout, safeLine } from "../../../src/view/map/layout.ts";
import { turnedBoxes } from "../../../src/view/map/place.ts";
import { reachedIn, regionsOf } from "../../../src/view/map/regions.ts";
import { holdsFrom, pointWords, safeWords, sentence, tableRows, worstAt } from "../../../src/view/map/words.ts";
import { directPoint, wholeSpeedMap } from "../../support/whole-studies.ts";
import { evenMeasure, scenarioFile } from "../fixture.ts";

const scenario = scenarioFile("heavy-forked");
const range = mapRange(scenario);
const COUNT = 60;
const map = wholeSpeedMap(scenario, { radiiM: byRatio(range.radiusM[0], range.radiusM[1], COUNT), speedsMps: evenly(0, kmhToMps(range.kmh), COUNT) });
const areas = mapAreas(map);
const frame: MapFrame = { left: 60, top: 20, right: 960, bottom: 620, range };
const cellMps = kmhToMps(range.kmh) / (COUNT - 1);

describe("contours", () => {
  it("of a plane are its level line", () => {
    const values = Float64Array.from({ length: 20 * 30 }, (_, i) => Math.floor(i / 20) / 29);
    const lines = linesOf(ringsOf(values, 20, 30, 0.5));
    expect(lines).toHaveLength(1);
    for (const p of lines[0] as V2[]) expect(p[1]).toBeCloseTo(0.5, 9);
    const xs = (lines[0] as V2[]).map((p) => p[0]);
    expect(Math.min(...xs)).toBe(0);
    expect(Math.max(...xs)).toBe(1);
  });

  it("stand where equilibria solved by themselves reach the limit, within one cell", () => {
    const bench = buildBench(scenario);
    const random = createRandom(7);
    const points = areas.limits.flatMap((l) => l.runs.flatMap((run) => run.map((p) => ({ name: l.limit, p }))));
    expect(new Set(points.map((p) => p.name)).size).toBeGreaterThanOrEqual(3);
    for (let i = 0; i < 20; i++) {
      const { name, p } = points[random.whole(0, points.length - 1)] as (typeof points)[number];
      const radiusM = radiusAt(range, p[0]);
      const mps = p[1] * kmhToMps(range.kmh);
      const at = (v: number): number => {
        const d = directPoint(bench, radiusM, v);
        return d.ok ? Math.max(...d.limits.filter((l) => l.name === name).map((l) => l.utilization)) : Number.POSITIVE_INFINITY;
      };
      expect(at(mps - cellMps), `${name} at ${radiusM} m below ${mps} m/s`).toBeLessThan(1);
      expect(at(mps + cellMps), `${name} at ${radiusM} m above ${mps} m/s`).toBeGreaterThanOrEqual(1);
    }
  });

  it("lie one in the other: what gives is also close, what is close is also working", () => {
    const [working, close, gives] = areas.steps as [V2[][], V2[][], V2[][]];
    const within = (rings: V2[][], p: V2): boolean => rings.filter((r) => inside(r, p)).length % 2 === 1;
    for (let i = 1; i < 20; i++)
      for (let j = 1; j < 20; j++) {
        const p: V2 = [i / 20, j / 20];
        if (within(gives, p)) expect(within(close, p)).toBe(true);
        if (within(close, p)) expect(within(working, p)).toBe(true);
      }
  });
});

describe("regions", () => {
  it("cover all radii on which something gives, each with the limit that the safe speed names", () => {
    for (const r of regionsOf(map)) {
      const middle = Math.round(((r.from + r.to) / 2) * (COUNT - 1));
      expect(map.safe[middle]?.limit).toBe(r.limit);
      expect(r.next).not.toContain(r.limit);
    }
    expect(regionsOf(map)[0]?.from).toBe(0);
  });

  it("name what comes next in the order of speed", () => {
    const speeds = reachedIn(map, COUNT >> 1).map((r) => r.speedMps);
    expect(speeds.length).toBeGreaterThan(2);
    expect([...speeds].sort((a, b) => a - b)).toEqual(speeds);
  });
});

describe("what is written on the map", () => {
  const layout = mapLayout({ map, areas, b: map, corner: scenario.corner, frame, bob: { radiusM: 6, kmh: 24.7 }, spare: false }, evenMeasure);
  const boxes = [
    ...layout.tags.map((t) => ({ key: t.key, boxes: [t.box] })),
    ...layout.labels.map((l) => ({ key: l.key, boxes: turnedBoxes(l, evenMeasure(l.text, 14), 14) })),
  ];

  it("names the region, the drive, the easy area and the lines", () => {
    expect(layout.tags.map((t) => t.look)).toEqual(expect.arrayContaining(["gives", "easy", "b"]));
    expect(layout.labels.map((l) => l.look)).toEqual(expect.arrayContaining(["drive", "safe", "gives", "lean"]));
  });

  it("has the safe line with what the runs tell, with its name, where there is one", () => {
    const input = { map, areas, b: null, corner: scenario.corner, frame, bob: { radiusM: 6, kmh: 24.7 }, spare: false };
    const known = mapLayout({ ...input, known: map }, evenMeasure);
    expect(known.safeKnown).toEqual(known.safe);
    expect(known.tags.find((t) => t.look === "known")?.lines).toEqual(["safe below this with the runs"]);
    const none = mapLayout(input, evenMeasure);
    expect([none.safeKnown, none.tags.filter((t) => t.look === "known")]).toEqual([[], []]);
  });

  it("draws no line of a limit without its name beside it", () => {
    const narrow: MapFrame = { left: 30, top: 12, right: 190, bottom: 260, range };
    const first = map.safe[0]?.limit;
    for (const f of [frame, narrow]) {
      const { limits, labels } = mapLayout(
        { map, areas, b: map, corner: scenario.corner, frame: f, bob: { radiusM: 6, kmh: 24.7 }, spare: f === narrow },
        evenMeasure,
      );
      for (const l of limits) expect(l.limit === first || labels.some((t) => t.key === l.key), l.key).toBe(true);
    }
    expect(layout.limits.length).toBeGreaterThan(2);
  });

  it("keeps apart and inside of the plot", () => {
    for (const a of boxes)
      for (const box of a.boxes) {
        expect(box.x).toBeGreaterThanOrEqual(frame.left);
        expect(box.x + box.w).toBeLessThanOrEqual(frame.right);
        for (const b of boxes) {
          if (a.key === b.key) continue;
          for (const o of b.boxes)
            expect(box.x < o.x + o.w && o.x < box.x + box.w && box.y < o.y + o.h && o.y < box.y + box.h, `${a.key} over ${b.key}`).toBe(false);
        }
      }
  });

  it("has a safe line that rises with the radius and ends at the upper edge", () => {
    const line = safeLine(map, frame);
    for (let i = 1; i < line.length; i++) expect((line[i] as V2)[1]).toBeLessThanOrEqual((line[i - 1] as V2)[1] + 1e-9);
    expect((line.at(-1) as V2)[1]).toBeGreaterThanOrEqual(frame.top - 1e-9);
  });
});

describe("the map in words", () => {
  it("tells the worst of the limits at a point, as the grid has it", () => {
    const column = 30;
    const row = 30;
    const told = worstAt(map, map.radiiM[column] as number, mpsToKmh(map.speedsMps[row] as number));
    expect(told.utilization).toBeCloseTo(map.worst[row * COUNT + column] as number, 6);
    expect(told.limit).toBe(LIMIT_NAMES[map.highest[row * COUNT + column] as number]);
  });

  it("names place, cornering and part", () => {
    const [place, used] = pointWords(map, scenario.corner, 6, 24.7);
    expect(place).toBe("6.0 m, 24.7 km/h");
    expect(used).toMatch(/^0\.80 g · hub lip \d\.\d\d of what it can take$/);
  });

  it("finds the smallest curve on which the drive runs out first", () => {
    const from = holdsFrom(map);
    if (from === null) throw new Error("the demo car holds on a wide enough curve");
    expect(safeWords(map, from + 0.05).kmh).toBeGreaterThanOrEqual(mpsToKmh(map.reachableMps));
    expect(safeWords(map, from - 0.05).kmh).toBeLessThan(mpsToKmh(map.reachableMps));
    expect(sentence(map, scenario.corner, 6)).toContain("so the hub lip gives before the drive runs out");
    expect(sentence(map, scenario.corner, from + 1)).toContain("nothing gives on this curve");
  });

  it("counts with the speed that was driven, and says so", () => {
    // 30 km/h is beyond what the demo's drive is worked out to reach, 7.2 km/h is below what gives on 6 m
    const fast = { ...map, reachableMps: 30 / 3.6, driven: true };
    expect(sentence(fast, scenario.corner, 6)).toMatch(/^The fastest you drove is 30\.0\u2009km\/h; on this curve the hub lip gives before that\. /);
    expect(sentence({ ...fast, reachableMps: 2 }, scenario.corner, 6)).toBe("The fastest you drove is 7.2\u2009km/h; on this curve nothing gives below that.");
    const layout = (m: typeof map) =>
      mapLayout({ map: m, areas: mapAreas(m), b: null, corner: scenario.corner, frame, bob: { radiusM: 6, kmh: 10 }, spare: false }, evenMeasure);
    expect(layout(fast).labels.find((l) => l.key === "drive")?.text).toBe("top speed driven: 30.0 km/h");
  });

  it("stands in a table with the tracks among its rows", () => {
    const rows = tableRows(scenario, map, null, [2, 6, 20]);
    expect(rows.map((r) => r.radiusM)).toEqual([2, 4, 6, 12, 20]);
    expect(rows.find((r) => r.radiusM === 6)?.name).toBe("car park");
    expect(rows.find((r) => r.radiusM === 2)?.reached).toBe(true);
    expect(rows[0]?.b).toBe("–");
  });
});

describe("a car that finds no rest", () => {
  const heavy = { ...scenario, body: { ...scenario.body, carMassKg: 100, axleShare: 0.607 }, drive: { ...scenario.drive, rollingResistance: 0 } };
  const none = wholeSpeedMap(heavy, { radiiM: byRatio(2, 20, 20), speedsMps: evenly(0, 10, 20) });

  it("has a map on which all is failure, with its reason", () => {
    const shapes = mapAreas(none);
    for (const line of [...shapes.limits, ...shapes.leans]) for (const run of line.runs) for (const p of run) expect(p.every(Number.isFinite)).toBe(true);
    const layout = mapLayout({ map: none, areas: shapes, b: null, corner: heavy.corner, frame, bob: { radiusM: 6, kmh: 10 }, spare: false }, evenMeasure);
    for (const p of layout.safe) expect(p.every(Number.isFinite)).toBe(true);
    expect(safeWords(none, 6).number).toBe("0.0");
    expect(sentence(none, heavy.corner, 6)).toContain("No curve is wide enough");
  });
});
