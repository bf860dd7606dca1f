import { describe, expect, it } from "vitest";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { SHIPPED, shipped, shippedText } from "../support/shipped.ts";

describe("the shipped scenarios", () => {
  it("are at least eight, with the ones that the page and the guides name", () => {
    expect(SHIPPED.length).toBeGreaterThanOrEqual(8);
    for (const name of [
      "heavy-forked",
      "heavy-straight",
      "heavy-straight-pinned",
      "light-same-hub",
      "heavy-cross-pinned",
      "heavy-stiff-bar",
      "converging-unequal",
      "worn-joints",
      "asymmetric",
    ])
      expect(SHIPPED).toContain(`${name}.json`);
  });

  it.each(SHIPPED)("%s is read, and stands in the file as it would be written", (file) => {
    const r = parseScenario(shippedText(file), file);
    expect(r.ok ? [] : r.problems.map((p) => p.message)).toEqual([]);
    expect(formatScenario(shipped(file), "./scenario.schema.json")).toBe(shippedText(file));
  });

  it.each(SHIPPED)("%s says in one line what it teaches, and that it is invented", (file) => {
    const s = shipped(file);
    expect(s.teaches.length).toBeGreaterThan(40);
    expect(s.teaches).not.toContain("\n");
    expect(s.teaches).toMatch(/invented/i);
    expect(s.loadCases.map((c) => c.name)).toEqual(expect.arrayContaining(["cornering 0.8 g", "bump 6 mm right"]));
    expect(s.tracks.map((t) => t.radiusM)).toEqual([4, 6, 12]);
  });

  it("carry different names", () => {
    expect(new Set(SHIPPED.map((f) => shipped(f).name)).size).toBe(SHIPPED.length);
  });

  it("put every pivot on the pitch grid of the parts system, halves included", () => {
    const off: string[] = [];
    for (const file of SHIPPED) {
      const s = shipped(file);
      const half = s.holePitchMm / (s.halfPitchAllowed ? 2 : 1);
      for (const key of ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const)
        for (const v of [s.corner[key].sMm, s.corner[key].zMm]) if (v % half !== 0) off.push(`${file} ${key} ${v} mm`);
    }
    expect(off).toEqual([]);
  });
});
