import { describe, expect, it } from "vitest";
import { standsApart } from "../../../src/core/bench/apart.ts";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { typed } from "./typed.ts";

const forked = shipped("heavy-forked.json");
const notes = (kind: Parameters<typeof typed>[1], rows: Parameters<typeof typed>[2], setUp = {}): string =>
  fitBench(forked, typed(forked, kind, rows, setUp)).notes.join(" ");

describe("a reading that stands apart from the others", () => {
  it("by hand: 1, 2, 3, 4 and 12: the others' mean 2.5, s = √(5/3), 9.5 off, 6.5818 of their ± √(5/3·(1 + 1/4))", () => {
    // mean 4.4; t(1 - 0.001/10, 3 degrees of freedom) = 22.204 (from memory of tables: 1 - 0.0001 one-sided): 6.58 is not enough
    const readings = [1, 2, 3, 4, 12];
    const found = (v: readonly number[]) => {
      const mean = v.reduce((a, b) => a + b, 0) / v.length;
      return standsApart(
        v.map((x) => x - mean),
        v.map(() => 1 / v.length),
        1,
        0.01,
      );
    };
    expect(found(readings)).toBeNull();
    // 22.204·1.44338 = 32.05 off is the border: 34 is within, 36 beyond
    expect(found([1, 2, 3, 4, 34])).toBeNull();
    const apart = found([1, 2, 3, 4, 36])!;
    expect(apart.at).toBe(4);
    expectAbs(apart.off, 33.5, 1e-9, "36 less 2.5");
  });

  it("is named by its row, with what it reads and what the others lead to, and stays", () => {
    // the others lie on 66 - load/250
    const rows = [
      [0, 66],
      [500, 64],
      [1000, 62],
      [1500, 6],
      [2000, 58],
    ];
    const fit = fitBench(forked, typed(forked, "springPress", rows));
    expect(fit.notes[0]).toContain("Row 4 stands apart: it reads 6 mm, where the others lead to 60 mm.");
    expect(fit.rows[3]).toMatchObject({ ok: true, y: 6 });
    // 9 kg push with 88.26 N
    expect(notes("hubPullOff", [["9 kg"], ["9.1 kg"], ["8.8 kg"], ["90 kg"]])).toContain(
      "Row 4 stands apart: it reads 883 N, where the others lead to 87.9 N.",
    );
    // an empty row counts, too
    const weighed = [
      ["1400", "1500"],
      ["", ""],
      ["1402", "1499"],
      ["1398", "1501"],
      ["140", "1500"],
    ];
    expect(notes("wheelWeights", weighed)).toContain("Row 5 stands apart: it reads 0.14 kg, where the others lead to 1.4 kg.");
  });

  it("is no reading that only shows the ruler's steps", () => {
    // 2.5 N/mm, read to half a millimetre
    const rows = [0, 3, 6, 9, 12, 15].map((n) => [`${n} N`, Math.round(2 * (66 - n / 2.5)) / 2]);
    expect(notes("springPress", rows)).not.toContain("stands apart");
  });

  it("is hardly ever one of good readings: in 2 of 500 tests at most, where one in a thousand is allowed", () => {
    const random = createRandom(5);
    let named = 0;
    for (let i = 0; i < 500; i++) {
      const rows = Array.from({ length: 8 }, (_, k) => [`${3 * k} N`, 66 - (3 * k) / 2.5 + 0.6 * random.normal()]);
      if (notes("springPress", rows, { rulerMm: 0.01 }).includes("stands apart")) named++;
    }
    expect(named).toBeLessThanOrEqual(2);
  });
});

describe("what readings tell that cannot be", () => {
  it("a tread wider than the wheel's: its own is taken, and it is said", () => {
    const rows = [
      [-10, 500],
      [-5, 700],
      [0, 1000],
      [5, 1300],
      [10, 1500],
    ];
    expect(notes("tyreTilt", rows)).toMatch(/The readings tell \d+ mm for tyre, width of the tread that carries, more than there is: 36 mm is taken\./);
  });

  it("no range of a stiffness reaches below nothing", () => {
    const fit = fitBench(
      forked,
      typed(forked, "springPress", [
        [0, 66],
        [500, 65],
        [1000, 65.5],
        [1500, 64],
      ]),
    );
    expect(fit.results.length).toBeGreaterThan(0);
    for (const r of fit.results) expect(r.range95[0]).toBeGreaterThanOrEqual(0);
  });

  it("an arm that does not sag at all has no stiffness", () => {
    const rows = [
      [0, 0],
      [100, 0],
      [200, 0],
    ];
    expect(notes("armHang", rows, { held: "vice" })).toContain("sag does not follow the loads as it should");
  });
});
