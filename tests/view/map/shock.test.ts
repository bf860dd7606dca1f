import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import { byRatio, evenly, type SpeedMap } from "../../../src/core/studies/speed-map.ts";
import { kmhToMps } from "../../../src/core/units.ts";
import { mapAreas } from "../../../src/view/map/areas.ts";
import { type MapFrame, mapRange } from "../../../src/view/map/frame.ts";
import { mapLayout } from "../../../src/view/map/layout.ts";
import { beyondRuler, safeWords, sentence, shockWords, tableRows, worstAt } from "../../../src/view/map/words.ts";
import { directPoint, wholeSpeedMap } from "../../support/whole-studies.ts";
import { evenMeasure, scenarioFile } from "../fixture.ts";

/** A hard landing, the end of the ruler, and the worst that a short high bump gives. */
const SHOCKS = [5.4, 6, 23];
const scenario = scenarioFile("heavy-straight-pinned");
const range = mapRange(scenario);
const COUNT = 40;
const mapUnder = (shock: number): SpeedMap =>
  wholeSpeedMap(scenario, { shock, radiiM: byRatio(range.radiusM[0], range.radiusM[1], COUNT), speedsMps: evenly(0, kmhToMps(range.kmh), COUNT) });

describe.each(SHOCKS)("the map under a road shock of %f", (shock) => {
  const map = mapUnder(shock);

  it("is finite everywhere, and what it says is what equilibria solved by themselves say", () => {
    for (const v of map.worst) expect(Number.isFinite(v)).toBe(true);
    const direct = directPoint(buildBench(scenario), 6, 4, { shock });
    if (!direct.ok) throw new Error(direct.end.message);
    const most = Math.max(...direct.limits.filter((l) => !l.caution).map((l) => l.utilization));
    expect(worstAt(map, 6, 4 * 3.6).utilization).toBeCloseTo(most, 1);
  });

  it("is drawn whole: areas within the picture, words, table and sentence", () => {
    const areas = mapAreas(map);
    for (const rings of areas.steps) for (const ring of rings) for (const p of ring) for (const c of p) expect(c >= -1e-9 && c <= 1 + 1e-9).toBe(true);
    const frame: MapFrame = { left: 60, top: 20, right: 960, bottom: 620, range };
    const layout = mapLayout({ map, areas, b: null, corner: scenario.corner, frame, bob: { radiusM: 6, kmh: 10 }, spare: false }, evenMeasure);
    expect(JSON.stringify(layout)).not.toMatch(/NaN|Infinity/);
    expect(sentence(map, scenario.corner, 6)).toMatch(/\.$/);
    expect(tableRows(scenario, map, null, [2, 6, 20]).every((r) => /^\d/.test(r.a))).toBe(true);
  });

  it("is never safer than under less shock", () => {
    const less = mapUnder(shock / 2);
    for (const r of [2, 6, 20]) expect(safeWords(map, r).kmh).toBeLessThanOrEqual(safeWords(less, r).kmh + 1e-9);
  });
});

describe("a shock that breaks something on the straight", () => {
  it("is said as such", () => {
    const map = mapUnder(23);
    expect(safeWords(map, 6).kmh).toBe(0);
    expect(sentence(map, scenario.corner, 6)).toMatch(/even driving straight on\.$/);
  });
});

describe("a factor past the end of the ruler", () => {
  it("is said, the one in use before the one of the last run; within the ruler nothing is", () => {
    expect(beyondRuler(6, 6, 6)).toBe("");
    expect(beyondRuler(2, null, 6)).toBe("");
    expect(beyondRuler(7.3, 7.3, 6)).toBe("×7.3 lies beyond the end of this ruler. The map counts with all of it.");
    expect(beyondRuler(2, 9.85, 6)).toBe("The last motion run gave ×9.85, beyond the end of this ruler.");
  });
  it("is written with as many figures as it needs", () => {
    expect([1, 1.25, 2.5, 12].map(shockWords)).toEqual(["×1.0", "×1.25", "×2.5", "×12.0"]);
  });
});
