import { describe, expect, it } from "vitest";
import { LIMIT_NAMES } from "../../../src/core/analysis.ts";
import { buildBench } from "../../../src/core/analyze.ts";
import { lateralGAt } from "../../../src/core/cornering.ts";
import { failuresOf } from "../../../src/core/limits/records.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { mapPoint, safeSpeedAt } from "../../../src/core/studies/map-levels.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { byRatio, evenly, NONE, type SpeedMap, speedMap } from "../../../src/core/studies/speed-map.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { directPoint, safeSpeed, wholeSpeedMap } from "../../support/whole-studies.ts";

const POINTS = 50;
/** the middle of an interval is checked when the map is built; elsewhere in it the error can be a little larger */
const BETWEEN = 2;

/** Value of a grid at a point, bilinear in the cell, and the least and greatest of the cell's corners. */
function inCell(map: SpeedMap, grid: Float64Array, radiusM: number, speedMps: number): { low: number; high: number } {
  const col = Math.max(0, map.radiiM.findIndex((r) => r > radiusM) - 1);
  const row = Math.max(0, map.speedsMps.findIndex((v) => v > speedMps) - 1);
  const n = map.radiiM.length;
  const corners = [grid[row * n + col]!, grid[row * n + col + 1]!, grid[(row + 1) * n + col]!, grid[(row + 1) * n + col + 1]!];
  return { low: Math.min(...corners), high: Math.max(...corners) };
}

describe("the speed map", () => {
  it.each(SHIPPED)("of %s says at 50 random points what direct solves say, within its stated error and within one cell", (file) => {
    const s = shipped(file);
    const map = wholeSpeedMap(s);
    const b = buildBench(s);
    const random = createRandom(20240611);
    const cell = 10 / 99;
    let compared = 0;
    for (let i = 0; i < POINTS; i++) {
      const radiusM = 2 * 10 ** random.next();
      const top = Math.sqrt(map.levels.endG * 9.80665 * radiusM);
      const speedMps = random.next() * Math.min(10, top);
      const direct = directPoint(b, radiusM, speedMps);
      const point = mapPoint(map, radiusM, speedMps);
      if (!direct.ok) continue;
      compared++;
      for (const name of LIMIT_NAMES) {
        const exact = Math.max(0, ...direct.limits.filter((l) => l.name === name).map((l) => l.utilization));
        const off = Math.abs(point[name] - exact) / Math.max(1, exact);
        // a jump is placed to within the stated level; one such step to either side must then bracket the direct value
        if (off > BETWEEN * map.error.utilization) {
          const near = [-2, -1, 1, 2].map(
            (k) => mapPoint(map, radiusM, Math.sqrt(Math.max(0, lateralGAt(speedMps, radiusM) + k * map.error.lateralG) * 9.80665 * radiusM))[name],
          );
          expect(Math.min(...near) <= exact && exact <= Math.max(...near), `${name} at ${radiusM} m, ${speedMps} m/s: ${point[name]} against ${exact}`).toBe(
            true,
          );
        }
        if (speedMps < 10 - cell) {
          const c = inCell(map, map.utilization[name], radiusM, speedMps);
          const slack = BETWEEN * map.error.utilization * Math.max(1, exact);
          // utilizations that fall and rise again inside one cell are bounded by twice the cell's own spread
          const spread = c.high - c.low;
          expect(exact, name).toBeGreaterThanOrEqual(c.low - slack - spread);
          expect(exact, name).toBeLessThanOrEqual(c.high + slack + spread);
        }
      }
    }
    expect(compared).toBeGreaterThan(POINTS / 2);
  });

  const forked = shipped("heavy-forked.json");
  const map = wholeSpeedMap(forked);

  it("first gives a coarse whole picture, then a finer one that agrees with it roughly", () => {
    const run = speedMap(forked);
    const coarse = run.next();
    if (coarse.done) throw new Error("no coarse picture");
    expect(coarse.value.map.worst).toHaveLength(100 * 100);
    expect(coarse.value.map.solves).toBeLessThan(map.solves / 2);
    let last = coarse.value.map;
    for (;;) {
      const step = run.next();
      if (step.done) {
        last = step.value;
        break;
      }
    }
    for (let i = 0; i < last.worst.length; i += 37)
      if (!last.beyond[i]) expectAbs(coarse.value.map.worst[i]!, last.worst[i]!, 0.15 * Math.max(1, last.worst[i]!), "worst utilization");
    expect([...last.worst]).toEqual([...map.worst]);
  });

  it("depends on speed and radius through v²/R alone, but for the tyre's seat and heat", () => {
    const a = mapPoint(map, 4, 4);
    const b = mapPoint(map, 16, 8);
    for (const name of LIMIT_NAMES) {
      if (name === "tyreOffRim" || name === "hubHeat") expect(b[name]).toBeGreaterThan(a[name]);
      else expectRel(b[name], a[name], 1e-12, name);
    }
  });

  it("marks in every row and column what is worst, without cautions, and what gave first on the way up", () => {
    const n = map.radiiM.length;
    for (let i = 0; i < map.worst.length; i += 13) {
      if (map.beyond[i]) continue;
      const counted = map.limits.filter((l) => failuresOf(forked).includes(l)).map((l) => map.utilization[l][i]!);
      expect(map.worst[i]).toBe(Math.max(...counted));
      expect(map.utilization[map.limits[map.highest[i]!]!][i]).toBe(map.worst[i]);
    }
    for (let col = 0; col < n; col++) {
      const p = map.safe[col]!;
      for (let row = 0; row < map.speedsMps.length; row++) {
        const given = map.speedsMps[row]! > p.speedMps;
        expect(map.first[row * n + col]).toBe(given && p.limit !== null ? map.limits.indexOf(p.limit) : NONE);
      }
    }
  });

  it("ends where the tyres let go, and stays above 1 beyond", () => {
    expect(map.end!.kind).toBe("slides");
    expectAbs(map.end!.atG, forked.corner.tyre.friction, 1e-9, "g");
    let seen = 0;
    for (let i = 0; i < map.worst.length; i++)
      if (map.beyond[i]) {
        seen++;
        expect(map.worst[i]!).toBeGreaterThan(1);
      }
    expect(seen).toBeGreaterThan(100);
  });

  it("tells a safe speed for any radius, which exact root finding confirms", () => {
    for (const file of ["heavy-forked.json", "light-same-hub.json", "asymmetric.json", "heavy-cross-pinned.json"]) {
      const s = shipped(file);
      const m = wholeSpeedMap(s);
      for (const radiusM of [2.5, 6, 15]) {
        const read = safeSpeedAt(m, radiusM);
        const exact = safeSpeed(s, radiusM, "left");
        expectRel(read.speedMps, exact.speedMps, 2e-3, `${file} at ${radiusM} m, m/s`);
        expect(read.limit).toBe(exact.limit?.name ?? exact.end?.limit);
      }
    }
  });

  it("takes a safe speed that is safe, and where a hair more is not", () => {
    const b = buildBench(forked);
    const safe = safeSpeedOf(b, 6);
    const below = directPoint(b, 6, safe.speedMps * 0.999);
    const above = directPoint(b, 6, safe.speedMps * 1.001);
    if (!below.ok || !above.ok) throw new Error("no equilibrium");
    expect(below.first.utilization).toBeLessThan(1);
    expect(above.first.utilization).toBeGreaterThan(1);
    expect(above.first.name).toBe(safe.limit!.name);
  });

  it("is the same for both hands of an equal car, and differs on an unequal one", () => {
    const speed = (file: string, hand: "left" | "right"): number => safeSpeedAt(wholeSpeedMap(shipped(file), { hand }), 6).speedMps;
    expectRel(speed("heavy-forked.json", "right"), speed("heavy-forked.json", "left"), 1e-4, "m/s");
    expect(Math.abs(speed("asymmetric.json", "right") / speed("asymmetric.json", "left") - 1)).toBeGreaterThan(0.01);
  });

  it("multiplies what forces load by the road shock and lowers the safe speed", () => {
    const shocked = wholeSpeedMap(forked, { shock: 1.5 });
    const a = mapPoint(map, 6, 4);
    const b = mapPoint(shocked, 6, 4);
    // each map looks closest where its own first limit is reached: they agree to what both state as their error
    const stated = map.error.utilization + shocked.error.utilization;
    for (const name of ["hubRetention", "armYield", "armBuckling", "jointPullOut", "tyreOffRim"] as const) expectAbs(b[name], 1.5 * a[name], stated, name);
    for (const name of ["camber", "sliding", "wheelLift", "fit", "hubHeat", "springOnStop"] as const) expectAbs(b[name], a[name], stated, name);
    expect(safeSpeedAt(shocked, 6).speedMps).toBeLessThan(safeSpeedAt(map, 6).speedMps - 0.3);
    expectRel(safeSpeedAt(shocked, 6).speedMps, safeSpeed(forked, 6, "left", { shock: 1.5 }).speedMps, 2e-3, "m/s");
  });

  it("combines bump and cornering: a raised outer wheel changes the answer as a direct solve says", () => {
    const o = { bumpLeftMm: 0, bumpRightMm: 5 };
    const m = wholeSpeedMap(forked, o);
    const direct = directPoint(buildBench(forked), 6, 5, o);
    if (!direct.ok) throw new Error("no equilibrium");
    const lip = Math.max(...direct.limits.filter((l) => l.name === "hubRetention").map((l) => l.utilization));
    expectAbs(mapPoint(m, 6, 5).hubRetention, lip, BETWEEN * m.error.utilization * Math.max(1, lip), "use of the lip");
    expect(Math.abs(mapPoint(map, 6, 5).hubRetention - lip)).toBeGreaterThan(5 * m.error.utilization);
  });

  it("of a car that finds no rest is a map without safe speeds, with the reason", () => {
    const weak = {
      ...forked,
      corner: {
        ...forked.corner,
        spring: { ...forked.corner.spring, freeLengthMm: 12, preloadMm: 0, rateNPerMm: 0.1, droopStop: null, bumpStop: { lengthMm: 2, rateNPerMm: 1 } },
      },
    };
    const m = wholeSpeedMap(weak, { radiiM: byRatio(2, 20, 8), speedsMps: evenly(0, 10, 8) });
    expect(m.end).not.toBeNull();
    expect(m.end!.message.length).toBeGreaterThan(20);
    for (const v of m.worst) expect(Number.isFinite(v)).toBe(true);
    expectAbs(safeSpeed(weak, 6, "left").speedMps, 0, 1e-12, "m/s");
  });
});

describe("the story of the invented cars", () => {
  it("on the car park the heavy car's hub lip gives first, at a speed that its drive reaches (common practice, no source)", () => {
    const s = shipped("heavy-forked.json");
    const map = wholeSpeedMap(s);
    const safe = safeSpeed(s, 6, "left");
    expect(safe.limit!.name).toBe("hubRetention");
    expect(safe.limit!.part).toBe("hub lip");
    expect(safe.speedMps).toBeLessThan(map.reachableMps);
    // by a clear margin: at that speed everything else is far from giving
    const there = directPoint(buildBench(s), 6, safe.speedMps);
    if (!there.ok) throw new Error("no equilibrium");
    const next = there.limits.find((l) => !l.caution && l.name !== "hubRetention")!;
    expect(next.utilization).toBeLessThan(0.75);
  });

  it("the light car with the same hub holds at any speed its drive reaches (common practice, no source)", () => {
    const s = shipped("light-same-hub.json");
    expect(s.corner.hub.retention).toEqual(shipped("heavy-forked.json").corner.hub.retention);
    const safe = safeSpeed(s, 6, "left");
    expect(safe.speedMps).toBeGreaterThan(wholeSpeedMap(s).reachableMps);
    const at = directPoint(buildBench(s), 6, Math.sqrt(0.8 * 9.80665 * 6));
    if (!at.ok) throw new Error("no equilibrium");
    expect(at.first.utilization).toBeLessThan(1);
  });

  it("a cross-pin takes the hub out of the way, and the next weak part shows", () => {
    const s = shipped("heavy-cross-pinned.json");
    const safe = safeSpeed(s, 6, "left");
    expect(safe.limit!.name).not.toBe("hubRetention");
    expect(safe.speedMps).toBeGreaterThan(safeSpeed(shipped("heavy-forked.json"), 6, "left").speedMps + 1);
  });

  it("the wheel of the heavy car leans over plainly at 0.8 g, less with straight arms", () => {
    const lean = (file: string): number => {
      const p = directPoint(buildBench(shipped(file)), 6, Math.sqrt(0.8 * 9.80665 * 6));
      if (!p.ok) throw new Error("no equilibrium");
      return (-p.state.right.wheelAngleRad * 180) / Math.PI;
    };
    expect(lean("heavy-forked.json")).toBeGreaterThan(5);
    expect(lean("heavy-forked.json")).toBeLessThan(8);
    expect(lean("heavy-straight.json")).toBeLessThan(lean("heavy-forked.json") - 0.3);
    expect(safeSpeed(shipped("heavy-straight.json"), 6, "left").limit!.name).toBe("hubRetention");
  });
});
