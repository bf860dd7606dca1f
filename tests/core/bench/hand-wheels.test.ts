import { describe, expect, it } from "vitest";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { pressedTread } from "../../../src/core/bench/wheel-laws.ts";
import type { Corner, Scenario } from "../../../src/core/design/types.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt, typed } from "./typed.ts";

/** Springs, bearings and tyres against calculations by hand, as a pocket calculator gives them. */

const forked = shipped("heavy-forked.json");
const G = 9.80665;

const withCorner = (s: Scenario, change: (c: Corner) => Corner): Scenario => ({ ...s, corner: change(s.corner) });

describe("a wheel tilted by a pull", () => {
  it("gives back play and stiffness: 48 mm times 10 N over 300 N·mm/° is 1.6° beyond a play of 0.7°", () => {
    const tilt = (n: number): number => 0.2 + Math.sign(n) * 0.7 + (n * 48) / 300;
    const rows = [-15, -10, -5, 5, 10, 15].map((n) => [`${n} N`, tilt(n)]);
    const fit = fitBench(forked, typed(forked, "wheelTilt", rows, { pullAtMm: 48 }));
    expectRel(resultAt(fit, "tiltStiffnessNmmPerDeg").value, 300, 1e-6, "stiffness (N·mm/°)");
    expectRel(resultAt(fit, "tiltPlayDeg").value, 0.7, 1e-6, "play (°)");
  });

  it("reads mm at a told distance as degrees: 5 mm at 50 mm are 5.7106° (arc tangent of 0.1)", () => {
    const rows = [-10, 10].flatMap((n) =>
      [1, 2, 3].map((f) => [`${n * f} N`, `${Math.tan(((Math.sign(n) * 0.5 + (n * f * 40) / 250) * Math.PI) / 180) * 50} mm`]),
    );
    const fit = fitBench(forked, typed(forked, "wheelTilt", rows, { pullAtMm: 40, readAtMm: 50 }));
    expectRel(resultAt(fit, "tiltStiffnessNmmPerDeg").value, 250, 1e-6, "stiffness (N·mm/°)");
    const single = fitBench(forked, typed(forked, "wheelTilt", [["1 N", "5 mm"]], { readAtMm: 50 }));
    expect(single.rows[0]).toMatchObject({ ok: true, y: expect.closeTo(5.7106, 4) });
  });

  it("by pulls to one side alone tells the stiffness, and what is missing for the play", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "wheelTilt",
        [5, 10, 15].map((n) => [`${n} N`, 0.9 + (n * 48) / 300]),
        { pullAtMm: 48 },
      ),
    );
    expect(fit.results.map((r) => r.path)).toEqual(["corner.hub.tiltStiffnessNmmPerDeg"]);
    expect(fit.notes.join(" ")).toContain("Pulls the other way as well");
  });
});

describe("a spring on a scale", () => {
  it("2 springs of 2.4 N/mm, free length 65 on 3 mm of packing", () => {
    const rows = [0, 9.6, 19.2, 28.8].map((n) => [`${n} N`, 65 + 3 - n / 4.8]);
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 3, count: 2 }));
    expectRel(resultAt(fit, "spring.rateNPerMm").value, 2.4, 1e-9, "rate (N/mm)");
    expectRel(resultAt(fit, "spring.freeLengthMm").value, 65, 1e-9, "free length (mm)");
  });

  it("three series one after the other are no unloading", () => {
    const rows = [1, 2, 3].flatMap(() => [10, 20, 30].map((n) => [`${n} N`, 65 - n / 2.5]));
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0 }));
    expect(new Set(fit.rows.map((r) => r.ok === true && r.way))).toEqual(new Set(["up"]));
    expect(fit.loop).toBeNull();
  });

  it("tells the stop where it goes hard: at 45 mm, 48 N, by 40 N/mm besides", () => {
    const length = (n: number): number => (n <= 48 ? 65 - n / 2.4 : 45 - (n - 48) / 42.4);
    const rows = [0, 10, 20, 30, 40, 60, 80, 100, 120].map((n) => [`${n} N`, length(n)]);
    const fit = fitBench(forked, typed(forked, "springPress", rows, { packingMm: 0 }));
    expectRel(resultAt(fit, "spring.rateNPerMm").value, 2.4, 1e-6, "rate (N/mm)");
    expectRel(resultAt(fit, "bumpStop.lengthMm").value, 45, 1e-6, "stop (mm)");
  });

  it("a loop of 0.6 mm between pressing and letting up is told, and the rate lies between", () => {
    const up = [10, 20, 30, 40].map((n) => [`${n} N`, 65 - n / 2.5 + 0.3]);
    const down = [30, 20, 10].map((n) => [`${n} N`, 65 - n / 2.5 - 0.3]);
    const fit = fitBench(forked, typed(forked, "springPress", [...up, ...down], { packingMm: 0 }));
    expectAbs(fit.loop!.value, 0.6, 1e-9, "loop (mm)");
    expectRel(resultAt(fit, "rateNPerMm").value, 2.5, 1e-9, "rate (N/mm)");
    expect(fit.rows.map((r) => r.ok === true && r.way)).toEqual(["up", "up", "up", "up", "down", "down", "down"]);
  });
});

describe("a tyre on the bench", () => {
  it("pressed flat: 14 N/mm, whatever the ruler begins at", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "tyrePress",
        [0, 7, 14, 21].map((n) => [`${n} N`, 3 + n / 14]),
      ),
    );
    expectRel(resultAt(fit, "tyre.verticalNPerMm").value, 14, 1e-6, "stiffness (N/mm)");
  });

  it("crowned: a strip that touches on 2e with e = √(2 R d) carries 4/3·k/w·d·e", () => {
    // R = 40, w = 36, k = 14 N/mm: at d = 0.5, e = 6.32456: F = 4/3·14/36·0.5·6.32456 = 1.63969; at 1: e = 8.94427, F = 4.63774; at 2: e = 12.6491, F = 13.1175
    const s = withCorner(forked, (c) => ({ ...c, tyre: { ...c.tyre, crownRadiusMm: 40, verticalNPerMm: 10 } }));
    const rows = [
      [0, 0],
      [1.63969, 0.5],
      [4.63774, 1],
      [13.1175, 2],
    ].map(([n, mm]) => [`${n} N`, mm!]);
    const fit = fitBench(s, typed(s, "tyrePress", rows));
    expectRel(resultAt(fit, "tyre.verticalNPerMm").value, 14, 1e-4, "stiffness (N/mm)");
  });

  it("crowned and leaned: the force stands over the lowest place, set back by the crown", () => {
    // ρ = 100, 2°: lowest at -100·tan 2° = -3.49208 mm along the axle; touching ± 10 mm takes k/w·cos/(2ρ)·4/3·10³ = 2.59101 N (k/w = 14/36)
    // place: -3.49208·cos - (3.49208² + 10²/5)·sin/(2ρ) = -3.48995 - 0.00562 = -3.49557 mm from the middle of the tread
    const turn = (2 * Math.PI) / 180;
    const { forceAtMm } = pressedTread({ radiusMm: 48, widthMm: 36, nPerMm: 14, crownRadiusMm: 100 }, 2.59101, turn);
    expectAbs(forceAtMm - 48 * Math.sin(turn), -3.49557, 2e-5, "place (mm)");
  });

  it("pulled sideways: 25 N/mm", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "tyreSideways",
        [-20, -10, 10, 20].map((n) => [`${n} N`, 1 + n / 25]),
      ),
    );
    expectRel(resultAt(fit, "tyre.lateralNPerMm").value, 25, 1e-6, "stiffness (N/mm)");
  });

  it("leaned while all of a flat tread touches: the force wanders by k w² sin(a)/(12 F) along the axle", () => {
    // w = 30, k = 14 N/mm, F = 42 N: at 2°, sin = 0.0348995, 14·900·0.0348995/(12·42) = 0.872487 mm, times cos 2° = 0.871956 mm along the board;
    // 42 N over 200 mm of span: 0.183111 N. At 4° (edges still down: 15·sin 4° = 1.05 < 3 mm): 1.743911·0.997564 = 1.739663 mm, 0.365329 N
    const rows = [
      [-4, -0.365329],
      [-2, -0.183111],
      [0, 0],
      [2, 0.183111],
      [4, 0.365329],
    ].map(([deg, n]) => [deg!, `${21 + n!} N`]);
    const fit = fitBench(forked, typed(forked, "tyreTilt", rows, { pressKg: 42 / G, spanMm: 200, about: "tread" }));
    expectRel(resultAt(fit, "tyre.effectiveWidthMm").value, 30, 1e-4, "width (mm)");
  });

  it("leaned about its axle the tread wanders against the lean besides, by R sin(a)", () => {
    // R = 48: 48·0.0348995 = 1.675176 mm at 2°, 3.348311 at 4°; less 0.871956 and 1.739663: 0.803220 and 1.608648 mm, 0.168676 and 0.337816 N
    const rows = [
      [-4, 0.337816],
      [-2, 0.168676],
      [0, 0],
      [2, -0.168676],
      [4, -0.337816],
    ].map(([deg, n]) => [deg!, `${21 + n!} N`]);
    const fit = fitBench(forked, typed(forked, "tyreTilt", rows, { pressKg: 42 / G, spanMm: 200, about: "axle" }));
    expectRel(resultAt(fit, "tyre.effectiveWidthMm").value, 30, 1e-3, "width (mm)");
    expect(fit.notes.join(" ")).not.toContain("falls where it should rise");
  });
});
