import { beforeAll, describe, expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { axleSvg, markSvg, PICTURE_PX } from "../../src/report/axle-svg.ts";
import { CHART_PX, chartSvg } from "../../src/report/chart-svg.ts";
import { cornersOf } from "../../src/report/data.ts";
import { MAP_PX, mapSvg } from "../../src/report/map-svg.ts";
import { barSvg } from "../../src/report/sections-limits.ts";
import { toneOf } from "../../src/report/tones.ts";
import type { ChartModel } from "../../src/view/curves.ts";
import { mapRange } from "../../src/view/map/frame.ts";
import { mark } from "../../src/view/marks.ts";
import type { Drawn } from "../../src/view/scene.ts";
import { expectAbs } from "../support/close.ts";
import { markupFaults } from "../support/markup.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";
import { wholeSpeedMap } from "../support/whole-studies.ts";

function drawn(scenario: Scenario, lateralG: number): Drawn {
  const r = analyze(scenario, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 }, { bands: false, pathSteps: 1 });
  if (!r.ok) throw new Error(r.reason.message);
  return { scenario, corners: cornersOf(scenario), state: r.state, report: r.report };
}

/** Places of all absolute points of paths, px. */
const pointsOf = (svg: string): [number, number][] =>
  [...svg.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m): [number, number] => [Number(m[1]), Number(m[2])]);

describe("the axle on paper", () => {
  it.each(SHIPPED)("is well-formed and stays on its sheet: %s", (file) => {
    const svg = axleSvg(drawn(shipped(file), 0.5), null, 3, "x");
    expect(markupFaults(svg)).toEqual([]);
    const heightPx = Number(/viewBox="0 0 700 (\d+)"/.exec(svg)![1]);
    const inside = pointsOf(svg).filter(([x, y]) => x > -20 && x < PICTURE_PX + 20 && y > -20 && y < heightPx + 20);
    // the road runs on a little past both edges, nothing else does
    expect(inside.length / pointsOf(svg).length).toBeGreaterThan(0.98);
  });

  it("says how far each wheel leans, and tags what gives", () => {
    const a = drawn(shipped("heavy-forked.json"), 0.8);
    const svg = axleSvg(a, null, 3, "x");
    for (const side of ["left", "right"] as const) expect(svg).toContain(`${a.report[side].camberDeg.toFixed(1).replace("-", "−")}°</text>`);
    expect(svg).toContain(">hub lip gives</text>");
  });

  it("mirrors with the load", () => {
    const s = shipped("heavy-straight.json");
    const left = pointsOf(axleSvg(drawn(s, 0.4), null, 1, "x"));
    const right = pointsOf(axleSvg(drawn(s, -0.4), null, 1, "x"));
    const spread = (p: [number, number][]): number => p.reduce((sum, [x, y]) => sum + Math.abs(x - PICTURE_PX / 2) * y, 0) / p.length;
    // labels take another place on the other side; the marks do not
    expect(Math.abs(spread(left) / spread(right) - 1)).toBeLessThan(0.01);
  });

  it("shows B behind it dashed and named, only when there is one", () => {
    const a = drawn(shipped("heavy-forked.json"), 0.5);
    const b = drawn(shipped("heavy-straight.json"), 0.5);
    const tone = `stroke="${toneOf("design-b-line")}"`;
    expect(axleSvg(a, null, 3, "x")).not.toContain(tone);
    expect(axleSvg(a, b, 3, "x")).toContain(tone);
    expect(axleSvg(a, b, 3, "x")).toContain(">B</text>");
  });

  it("takes over every kind of mark", () => {
    const stroke = { tone: "ink", width: 1 };
    const svg = markSvg(
      mark("m", "arm", [
        {
          kind: "poly",
          points: [
            [0, 0],
            [4, 0],
            [4, 3],
          ],
          closed: true,
          fill: "arm",
          fillAlpha: 0.5,
          stroke,
        },
        { kind: "circle", at: [1, 2], radius: 3, fill: "hub" },
        {
          kind: "segments",
          pairs: [
            [0, 0],
            [1, 1],
            [2, 2],
            [3, 3],
          ],
          stroke,
        },
        { kind: "dots", at: [[5, 6]], radius: 1, fill: "dot" },
        {
          kind: "holes",
          at: [
            [5, 6],
            [9, 6],
          ],
          radius: 2,
          fill: "paper",
          fillAlpha: 1,
          stroke,
        },
      ]),
    );
    expect(markupFaults(svg)).toEqual([]);
    expect(svg).toContain('d="M0 0L4 0L4 3Z"');
    expect(svg).toContain('cx="1" cy="2" r="3"');
    expect(svg).toContain('d="M0 0L1 1M2 2L3 3"');
    expect(svg).toContain('d="M5 6h0"');
    expect(svg).toContain("M3 6a2 2 0 1 0 4 0a2 2 0 1 0 -4 0ZM7 6");
  });
});

describe("a chart on paper", () => {
  const model: ChartModel = {
    key: "k",
    title: "Lean",
    term: "camber, °",
    xName: "cornering",
    xUnit: "g",
    yUnit: "°",
    digits: 1,
    x: { min: 0, max: 1, ticks: [0, 0.5, 1] },
    y: { min: 0, max: 10, ticks: [0, 5, 10] },
    series: [
      {
        key: "a",
        design: "a",
        name: "",
        thin: false,
        points: [
          [0, 0],
          [1, 10],
        ],
      },
      {
        key: "b",
        design: "b",
        name: "",
        thin: false,
        points: [
          [0, 5],
          [0.4, Number.NaN],
          [1, 5],
        ],
      },
    ],
    rules: [
      { y: 8, words: "limit 8" },
      { y: 99, words: "far away" },
    ],
    now: 0.5,
    dots: [
      { design: "a", x: 0.5, y: 5, words: "5.0°" },
      { design: "b", x: 0.5, y: 5, words: "5.0°" },
    ],
  };
  const svg = chartSvg(model);

  it("draws a line from corner to corner of its axes, and breaks where there is no value", () => {
    const [a] = /stroke="#12262b" stroke-width="2.25"/.exec(svg)!;
    expect(a).toBeDefined();
    const line = /d="M(\S+) (\S+?)L(\S+) (\S+?)" fill="none" stroke="#12262b" stroke-width="2.25"/.exec(svg)!;
    const [x0, y0, x1, y1] = line.slice(1).map(Number) as [number, number, number, number];
    expect(x0).toBeLessThan(x1);
    expect(y1).toBeLessThan(y0);
    expect(x1).toBeLessThan(CHART_PX.width);
    expect(y0).toBeLessThan(CHART_PX.height);
    // the broken line of B has two beginnings and no point between
    expect(/d="M[^L"]*M[^L"]*" fill="none" stroke="#a87400"/.test(svg)).toBe(true);
    expect(markupFaults(svg)).toEqual([]);
  });

  it("writes the limit that is on the sheet, and a value that both share once", () => {
    expect(svg).toContain(">limit 8</text>");
    expect(svg).not.toContain("far away");
    expect(svg.match(/>5\.0°/g)).toHaveLength(1);
    const apart = chartSvg({ ...model, dots: [model.dots[0]!, { ...model.dots[1]!, y: 4, words: "4.0°" }] });
    expect(apart).toContain(">4.0° B</text>");
  });
});

describe("a bar of use", () => {
  it("grows up to its torn end, with another hatch for each step", () => {
    const lengthOf = (u: number): number => Math.max(...pointsOf(barSvg(u).split("</path>")[0]!).map((p) => p[0]));
    expect(lengthOf(0.25)).toBeLessThan(lengthOf(0.5));
    expectAbs(lengthOf(1), 104 / 1.36, 0.06, "px");
    expect(lengthOf(9)).toBe(lengthOf(99));
    const hatches = [0.3, 0.7, 0.9, 1.2].map((u) => barSvg(u).split("<path").length - 1);
    expect(hatches).toEqual([2, 3, 3, 3]);
    expect(new Set([0.3, 0.7, 0.9, 1.2].map((u) => /fill="(#\w+)"/.exec(barSvg(u))![1])).size).toBe(4);
  });
});

describe("the speed map on paper", () => {
  const scenario = shipped("heavy-forked.json");
  let map: ReturnType<typeof wholeSpeedMap>;
  let mapB: ReturnType<typeof wholeSpeedMap>;
  beforeAll(() => {
    map = wholeSpeedMap(scenario);
    mapB = wholeSpeedMap(shipped("heavy-cross-pinned.json"));
  });
  const picture = (b: typeof map | null, place: { radiusM: number; kmh: number } | null): string =>
    mapSvg({ map, b, scenario, corner: scenario.corner, range: mapRange(scenario), place, id: "m", name: "x" });

  it("has a hatch for every step besides its colour, and names what gives", () => {
    const svg = picture(null, null);
    expect(markupFaults(svg)).toEqual([]);
    for (const step of [1, 2, 3]) expect(svg).toContain(`fill="url(#m-u${step})"`);
    expect(svg).toContain(">hub lip gives first</text>");
    for (const t of scenario.tracks) expect(svg).toContain(`>${t.name}</text>`);
    for (const [x, y] of pointsOf(svg)) {
      expect(x).toBeGreaterThanOrEqual(-1);
      expect(x).toBeLessThanOrEqual(MAP_PX.width + 1);
      expect(y).toBeLessThanOrEqual(MAP_PX.height + 1);
    }
  });

  it("shows the car's place and what is used there", () => {
    const svg = picture(null, { radiusM: 6, kmh: 24.7 });
    expect(svg).toContain(">here: 6.0 m, 24.7 km/h</text>");
    expect(svg).toMatch(/>0\.80 g · hub lip 1\.\d\d of what it can take<\/text>/);
    expect(picture(null, null)).not.toContain("here:");
  });

  it("draws the safe line of B dashed over it", () => {
    expect(picture(mapB, null)).toContain('stroke="#a87400" stroke-width="2.5" stroke-dasharray="7 4"');
    expect(picture(null, null)).not.toContain("#a87400");
  });
});
