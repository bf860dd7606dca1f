import { describe, expect, it } from "vitest";
import { fitBounds, projector } from "../../src/view/camera.ts";
import { limitWhy, offPath, pathMark, worstOf } from "../../src/view/load-path.ts";
import { sceneBounds } from "../../src/view/parts/paper.ts";
import { drawnAt, scenarioFile } from "./fixture.ts";

const scenario = scenarioFile("heavy-forked");
const a = drawnAt(scenario, { lateralG: 0.8 });
const px = projector(fitBounds(sceneBounds(scenario), 1056, 591, { left: 94, right: 94, top: 44, bottom: 136 }));
const names = [...new Set(a.report.limits.map((l) => l.name))];

const limitOf = (name: string) => {
  const l = worstOf(a.report.limits, name);
  if (!l) throw new Error(`no ${name}`);
  return l;
};

describe("the way of a load", () => {
  it.each(names)("of %s is drawn with points that are on the picture", (name) => {
    const mark = pathMark(a, limitOf(name), 3, px);
    expect(mark.prims.length).toBeGreaterThan(0);
    for (const p of mark.prims) {
      const points = p.kind === "poly" ? p.points : p.kind === "circle" ? [p.at] : [];
      for (const [x, y] of points) expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true);
    }
  });

  it.each(names)("of %s leaves some parts standing back and some in front", (name) => {
    const back = offPath(limitOf(name), 0.8);
    const keys = ["wheel.left", "wheel.right", "hub.left", "hub.right", "arm.left.upper", "arm.right.lower", "spring.right", "plate", "shell", "web.right"];
    const standing = keys.filter((k) => back(k));
    expect(standing.length).toBeGreaterThan(0);
    expect(standing.length).toBeLessThan(keys.length);
    expect(back("paper") || back("road") || back("loadPath")).toBe(false);
  });

  it("of the hub runs on the outer wheel's side, in a left-hand curve the right one", () => {
    const back = offPath(limitOf("hubRetention"), 0.8);
    expect(back("hub.right")).toBe(false);
    expect(back("hub.left")).toBe(true);
    expect(back("arm.right.lower")).toBe(true);
  });
});

describe("why a limit gives", () => {
  it.each(names)("is told for %s: words, and numbers with a unit or a share", (name) => {
    const why = limitWhy(limitOf(name), a.corners.right);
    expect(why.plain.length).toBeGreaterThan(20);
    expect(why.formula.length).toBeGreaterThan(3);
    for (const n of why.numbers) expect(n.value).toMatch(/^−?[\d.]+(°|\u2009\S.*)?$/);
    for (const text of why.inputs) expect(text).not.toMatch(/^[a-z]\w*\.\w+$/i);
  });
});
