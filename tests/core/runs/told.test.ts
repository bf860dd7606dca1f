import { describe, expect, it } from "vitest";
import type { Run } from "../../../src/core/design/tried.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { runDemands } from "../../../src/core/runs/demands.ts";
import { strengthsOf } from "../../../src/core/runs/strengths.ts";
import { MODEL_SHARE, runsTold, type StrengthTold, strengthAfter, toldBy } from "../../../src/core/runs/told.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { car, hubGave, run } from "./runs.ts";

const hub = (runs: Parameters<typeof car>[0]): StrengthTold => runsTold(car(runs)).strengths.find((t) => t.strength.limit === "hubRetention")!;
const of = (runs: Parameters<typeof car>[0], path: string): StrengthTold => runsTold(car(runs)).strengths.find((t) => t.strength.path === path)!;

describe("what runs tell of a part", () => {
  it("is nothing without runs: the design's value with the scatter of such parts", () => {
    const t = hub([]);
    expectRel(t.after.value, 85, 1e-4, "pull that strips the lip, N");
    // a quarter, common practice
    expectRel(t.after.sd, 0.25 * 85, 1e-3, "its standard deviation, N");
    expect(t.worth).toBe(false);
  });

  it("rises with a run that held, falls with one that it gave in, and narrows with both", () => {
    const held = hub([run(20)]);
    const gave = hub([run(20, hubGave())]);
    const both = hub([run(20), run(23, hubGave())]);
    expect(held.after.value).toBeGreaterThan(held.before.value + 1);
    expect(held.after.low).toBeGreaterThan(held.before.low + 5);
    expect(gave.after.value).toBeLessThan(gave.before.value - 5);
    expect(gave.after.high).toBeLessThan(gave.before.high - 20);
    expect(both.after.sd).toBeLessThan(0.6 * both.before.sd);
    expect(both.told.map((o) => o.kind)).toEqual(["held", "gave"]);
    const [a, b] = both.told.map((o) => o.at) as [number, number];
    expect(a).toBeLessThan(both.after.value);
    // without any prior: between what held and what gave, in the middle of their logarithms where both are as sharp
    expect([held.alone, gave.alone]).toEqual([null, null]);
    expectRel(both.alone!.value, Math.sqrt(a * b), 0.02, "by the runs alone, N");
    expect(b).toBeGreaterThan(both.after.low);
  });

  it("takes the side that gave; what held did so on the side that was asked for more", () => {
    const strengths = strengthsOf(car([]));
    const k = strengths.findIndex((t) => t.limit === "hubRetention");
    const [demand] = runDemands(car([]), [run(22)], strengths);
    const asked = demand!.asked[k]!;
    expect(asked.left!.at).not.toBeCloseTo(asked.right!.at, 0);
    const at = (more: Parameters<typeof run>[1]): number => toldBy(car([]), run(22, more), 0, demand!, strengths)[k]![0]!.at;
    expect(at({})).toBe(Math.max(asked.left!.at, asked.right!.at));
    expect(at(hubGave("left"))).toBe(asked.left!.at);
    expect(at(hubGave("right"))).toBe(asked.right!.at);
    expect(at(hubGave())).toBe(Math.max(asked.left!.at, asked.right!.at));
  });

  it("blames the joint that is named, else the one nearest to parting", () => {
    const gave = (at: "upperInner" | null) => [run(20, { gave: [{ limit: "jointPullOut", side: null, at }] })];
    const kinds = (runs: ReturnType<typeof gave>): Record<string, string> =>
      Object.fromEntries(runsTold(car(runs)).strengths.flatMap((t) => (t.strength.limit === "jointPullOut" ? [[t.strength.at, t.told[0]!.kind]] : [])));
    expect(kinds(gave("upperInner"))).toEqual({ upperInner: "gave", upperOuter: "held", lowerInner: "held", lowerOuter: "held" });
    // the lower inner pin carries most of this car's pull
    expect(kinds(gave(null))).toEqual({ upperInner: "held", upperOuter: "held", lowerInner: "gave", lowerOuter: "held" });
  });

  it("tells of the tyres' grip only on a surface that is that of the design", () => {
    const slid: Parameters<typeof run>[1] = { gave: [{ limit: "sliding", side: null, at: null }] };
    expect(of([run(20, slid)], "corner.tyre.friction").after.value).toBeLessThan(0.8);
    expect(of([run(20, { ...slid, grip: 0.4 })], "corner.tyre.friction").told).toEqual([]);
  });

  it("leaves out runs that were taken already, and keeps their numbers", () => {
    const told = runsTold(car([run(20, { taken: true }), run(21)]));
    expect(told.counted).toEqual([1]);
    expect(told.demands).toHaveLength(2);
    expect(told.strengths.every((t) => t.told.every((o) => o.run === 1))).toBe(true);
  });

  it("gives the hub's friction back from its warmth", () => {
    const path = "corner.hub.heat.friction";
    // 48 °C measured after a long run in air of 20 °C: friction · 28 K over the model's rise, known by some 16 % against a prior of 20 %
    const measured = of([run(15, { minutes: 60, hub: { celsius: 48 } })], path);
    const [exact] = measured.told;
    expect(exact!.kind).toBe("exact");
    expect(Math.abs(measured.after.value - exact!.at)).toBeLessThan(Math.abs(measured.before.value - exact!.at));
    expect(measured.after.sd).toBeLessThan(measured.before.sd);
    // nobody told how long: it may have got warmer still
    expect(of([run(15, { hub: { celsius: 48 } })], path).told[0]!.kind).toBe("held");
    expect(of([run(15, { hub: { felt: "hot" } })], path).told[0]!.kind).toBe("held");
    expect(of([run(15, { minutes: 5, hub: { felt: "warm" } })], path).told[0]!.kind).toBe("between");
    expect(of([run(15, { minutes: 5, hub: { felt: "cold" } })], path).told[0]!.kind).toBe("gave");
    expect(of([run(15, { hub: { felt: "cold" } })], path).told).toEqual([]);
    expect(of([run(15, { gave: [{ limit: "hubHeat", side: null, at: null }] })], path).told[0]!.kind).toBe("held");
    // 20 °C of air: warm is from 10 to 25 K above it, so that both ends are as 10 to 25
    const warm = of([run(15, { minutes: 5, hub: { felt: "warm" } })], path).told[0]!;
    expectRel(warm.high! / warm.at, 2.5, 1e-12, "45 - 20 over 30 - 20 °C");
    // at 23 km/h both hubs' limits are temperatures, the outer one's the higher: that is the one that was felt
    for (const [hand, side] of [
      ["left", "right"],
      ["right", "left"],
    ] as const) {
      const told = runsTold(car([run(23, { hand, hub: { felt: "hot" } })]));
      const hotter = told.demands[0]!.limits.find((l) => l.name === "hubHeat")!;
      expect([hotter.wheel, hotter.part]).toEqual([side, "hub, running temperature"]);
      expect(told.strengths.find((t) => t.strength.path === path)!.told[0]!.sides).toEqual([side]);
    }
  });

  it("holds the true strength in 95 of 100 of its ranges, for 1,000 invented builders", () => {
    // each builder's part is drawn from the prior; the model is off for all runs of a builder alike, and each run by itself; the full model tells
    // what each of twelve speeds asks, once
    const speeds = [10, 12, 14, 16, 17, 18, 19, 20, 21, 22, 23, 24];
    const s = car([]);
    const strengths = strengthsOf(s);
    const demands = runDemands(
      s,
      speeds.map((v) => run(v)),
      strengths,
    );
    const random = createRandom(31);
    for (const [limit, failed] of [
      ["hubRetention", hubGave()],
      ["sliding", { gave: [{ limit: "sliding", side: null, at: null }] }],
    ] satisfies [string, Partial<Run>][]) {
      const k = strengths.findIndex((t) => t.limit === limit);
      const strength = strengths[k]!;
      const spread = Math.sqrt(Math.log1p((strength.sd / strength.value) ** 2));
      let inside = 0;
      let width = 0;
      const builders = 1000;
      for (let b = 0; b < builders; b++) {
        const truth = strength.value * Math.exp(spread * random.normal() - spread ** 2 / 2);
        const model = Math.exp(MODEL_SHARE * random.normal());
        const told = [];
        for (const [i, kmh] of speeds.entries()) {
          if (random.next() < 0.4) continue;
          const [held] = toldBy(s, run(kmh), i, demands[i]!, strengths)[k]!;
          const gives = truth < held!.at * model * Math.exp(held!.share * random.normal());
          told.push(gives ? toldBy(s, run(kmh, failed), i, demands[i]!, strengths)[k]![0]! : held!);
          // nobody drives faster for a while with a part that gave
          if (gives && random.next() < 0.7) break;
        }
        const { after, before } = strengthAfter(strength, told);
        if (after.low <= truth && truth <= after.high) inside++;
        width += (after.high - after.low) / (before.high - before.low);
      }
      expectAbs(inside / builders, 0.95, 0.02, `share inside, ${limit}`);
      // and the runs were worth driving, the more so where the speeds reach what the part takes
      expect(width / builders).toBeLessThan(limit === "hubRetention" ? 0.75 : 0.95);
    }
  });
});
