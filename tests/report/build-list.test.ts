import { describe, expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import { armLengthMm, springSeatPoint } from "../../src/core/design/corner-geometry.ts";
import { SIDES } from "../../src/core/design/types.ts";
import { buildList, carRows, materialRows, plain, retentionWords, sectionWords } from "../../src/report/build-list.ts";
import { cornersOf, isAlike } from "../../src/report/data.ts";
import { expectAbs } from "../support/close.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

const listOf = (file: string) => {
  const s = shipped(file);
  const corners = cornersOf(s);
  const r = analyze(s, { lateralG: 0.3, bumpLeftMm: 0, bumpRightMm: 0 }, { bands: false, pathSteps: 1 });
  if (!r.ok) throw new Error(r.reason.message);
  return { s, corners, list: buildList(s, corners, r.state, isAlike(s)) };
};

describe("the building list", () => {
  it.each(SHIPPED)("gives every place in mm and in holes of the same pitch: %s", (file) => {
    const { s, list } = listOf(file);
    expect(list.pitchMm).toBe(s.holePitchMm);
    for (const h of list.holes) {
      expectAbs(h.outHoles * s.holePitchMm, h.outMm, 1e-9, `${h.what}, mm`);
      expectAbs(h.upHoles * s.holePitchMm, h.upMm, 1e-9, `${h.what}, mm`);
    }
    for (const a of list.arms) expectAbs(a.lengthHoles * s.holePitchMm, a.lengthMm, 1e-9, `${a.arm} arm, mm`);
    const per = list.alike ? 1 : 2;
    expect([list.holes.length, list.arms.length]).toEqual([7 * per, 2 * per]);
  });

  it("has the arm as long as its pins are apart, and the seat on the arm", () => {
    const c = cornersOf(shipped("heavy-forked.json")).right;
    // 72 mm out and 4 mm down from pin to ball joint
    expectAbs(armLengthMm(c, "lower"), Math.sqrt(72 * 72 + 4 * 4), 1e-9, "mm");
    const seat = springSeatPoint(c);
    const toInner = Math.sqrt((seat.sMm - c.lowerInner.sMm) ** 2 + (seat.zMm - c.lowerInner.zMm) ** 2);
    const toOuter = Math.sqrt((seat.sMm - c.lowerOuter.sMm) ** 2 + (seat.zMm - c.lowerOuter.zMm) ** 2);
    expectAbs(toInner + toOuter, armLengthMm(c, "lower"), 1e-9, "mm");
  });

  it("tells which places lie between the holes", () => {
    const off = (file: string): string[] =>
      listOf(file)
        .list.holes.filter((h) => !h.onGrid)
        .map((h) => h.what);
    expect(off("heavy-forked.json")).toEqual(["spring seat"]);
    expect(off("twin-tube-hub-spring.json")).toContain("spring top");
  });

  it("sets both sides apart where they differ, row by row", () => {
    const { list } = listOf("asymmetric.json");
    expect(list.alike).toBe(false);
    const differ = list.parts.filter((p) => p.left !== p.right).map((p) => p.what);
    expect(differ).toContain("rate of one");
    expect(differ.some((w) => w.startsWith("play of the pins"))).toBe(true);
    expect(list.parts.filter((p) => p.left === "–" || p.right === "–")).toEqual([]);
    for (const side of SIDES) expect(list.holes.filter((h) => h.side === side)).toHaveLength(7);
  });

  it("names every material once, with where its values come from", () => {
    for (const file of SHIPPED) {
      const rows = materialRows(cornersOf(shipped(file)));
      expect(new Set(rows.map((r) => r.name)).size).toBe(rows.length);
      for (const r of rows) {
        expect(r.source.length).toBeGreaterThan(5);
        expect(r.youngMPa).toBeGreaterThan(r.yieldMPa);
      }
    }
  });

  it("tells of the car what belongs to neither side", () => {
    const s = shipped("heavy-stiff-bar.json");
    const rows = new Map(carRows(s, 304));
    expect(rows.get("Car: wheels apart, middle to middle (track)")).toBe("304 mm");
    expect(rows.get("Car: anti-roll bar")).toMatch(/N\/mm at \d+ % of the lower arms/);
    expect(new Map(carRows({ ...s, antiRollBar: { rateNPerMm: 0, atFraction: 0.5 } }, 304)).get("Car: anti-roll bar")).toBe("none");
  });
});

describe("words of parts", () => {
  it("have no needless noughts and a true minus", () => {
    expect([plain(3), plain(2.5), plain(-0.5), plain(0.1234), plain(100, 0), plain(10, 1)]).toEqual(["3", "2.5", "−0.5", "0.12", "100", "10"]);
  });

  it("name every section and every retention", () => {
    expect(sectionWords({ shape: "tube", outerMm: 5, innerMm: 3 })).toBe("tube, 5 outside, 3 inside");
    expect(sectionWords({ shape: "pinHoleBar", widthMm: 7.6, heightMm: 7.6, holeMm: 4.8, holePitchMm: 8, holesRun: "upDown" })).toMatch(
      /holes 4.8 every 8, up and down/,
    );
    expect(retentionWords({ kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0.3 })).toBe(
      "cross-pin 3 mm through wheel and hub, cut at 7 mm radius, 35 MPa; a journal takes 30 % of the tilting",
    );
    expect(retentionWords({ kind: "screwedRing", threadRadiusMm: 8, engagedLengthMm: 3, shearStrengthMPa: 20, journalShare: 0 })).toMatch(
      /^screwed ring, thread radius 8 mm/,
    );
  });
});
