import { describe, expect, it } from "vitest";
import { analyze } from "../../../src/core/analyze.ts";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { splitPath, withValueAt } from "../../../src/core/design/field-path.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { runDemands, usedInRun } from "../../../src/core/runs/demands.ts";
import { drivenIn, runLoad } from "../../../src/core/runs/pace.ts";
import { type Strength, strengthsOf } from "../../../src/core/runs/strengths.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { car, run } from "./runs.ts";

describe("how fast a run was", () => {
  it("follows from the time for a circle, from a speed and from a phone's g", () => {
    // by hand: 2π · 3 m / 14.2 s = 1.327433 m/s; squared over 3 m · 9.80665 m/s²
    const lap = drivenIn({ radiusM: 3, pace: { by: "lap", seconds: 14.2 } });
    expectRel(lap.speedMps, 1.327433, 1e-6, "speed, m/s");
    expectRel(lap.lateralG, 1.327433 ** 2 / (3 * 9.80665), 1e-6, "cornering, g");
    // 4 % of the line, twice 0.2 s of 14.2 s
    expectRel(lap.share, Math.hypot(0.04, 0.4 / 14.2), 1e-12, "share");
    const speed = drivenIn({ radiusM: 6, pace: { by: "speed", kmh: 18 } });
    expectRel(speed.lateralG, 25 / (6 * 9.80665), 1e-12, "cornering, g");
    const phone = drivenIn({ radiusM: 6, pace: { by: "g", g: 0.5 } });
    expectRel(phone.speedMps, Math.sqrt(0.5 * 9.80665 * 6), 1e-12, "speed, m/s");
    expectRel(phone.share, 0.06, 1e-12, "share");
  });

  it("loads the outer wheel, and lifts it on the road's unevenness", () => {
    expect(runLoad({ hand: "left", bumpMm: 3 }, 0.4)).toMatchObject({ lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 3 });
    expect(runLoad({ hand: "right", bumpMm: 3 }, 0.4)).toMatchObject({ lateralG: -0.4, bumpLeftMm: 3, bumpRightMm: 0 });
  });
});

/** The design with the strength's number as it just holds. */
function with1(s: Scenario, strength: Strength, value: number): Scenario {
  const material = /^(.*\.material)\.yieldMPa$/.exec(strength.path);
  if (!material) return withValueAt(s, splitPath(strength.path), value);
  return withValueAt(s, splitPath(material[1]!), {
    ...resolveMaterial(cornerOf(s, strength.sides[0]!)[`${strength.at as "upper"}Arm`].material),
    yieldMPa: value,
  });
}
describe("what a run asked of a part", () => {
  it.each(["twin-tube-hub-spring.json", "asymmetric.json"])("is the number of %s with which the answer's limit is just reached", (file) => {
    const read = shipped(file);
    // discs that are needed: the band alone does not hold the tyre
    const s = read.corner.tyre.seat.kind === "stretchedBand" ? read : withValueAt(read, splitPath("corner.tyre.seat.bandTensionN"), 2);
    const runs = [run(17), run(15, { hand: "right", bumpMm: 2, radiusM: 5 })];
    const strengths = strengthsOf(s);
    const demands = runDemands(s, runs, strengths);
    let checked = 0;
    runs.forEach((r, i) => {
      const load = runLoad(r, drivenIn(r).lateralG);
      strengths.forEach((strength, k) => {
        if (strength.limit === "hubHeat" || strength.limit === "sliding") return;
        for (const side of strength.sides) {
          const asked = demands[i]!.asked[k]![side];
          if (strength.limit === "tyreOffRim" && r.hand !== side) expect(asked, `${strength.path}, ${side}`).toBeDefined();
          if (!asked) continue;
          const a = analyze(with1(s, strength, asked.at), load, {
            radiusM: r.radiusM,
            bands: false,
            stiffer: false,
            byPart: false,
            leaveOut: ["fit", "armBuckling"],
          });
          if (!a.ok) throw new Error(a.reason.message);
          const limit = a.report.limits.find((l) => l.name === strength.limit && l.wheel === side)!;
          // of joints and arms the answer tells the worse: with the number asked for it is this one, unless another is past its own
          expect(limit.utilization, `${strength.path}, ${side}`).toBeGreaterThanOrEqual(1 - 1e-6);
          if (strength.at === null) expectRel(limit.utilization, 1, 1e-6, `${strength.path}, ${side}`);
          if (limit.utilization < 1 + 1e-6) checked++;
          expectRel(usedInRun(with1(s, strength, asked.at), r, { ...strength, sides: [side] })!, 1, 1e-6, "used");
        }
      });
    });
    expect(checked).toBeGreaterThan(8);
  });

  it("of the grip is its cornering, and a run beyond the grip of the design is looked at all the same", () => {
    const s = shipped("heavy-forked.json");
    const strengths = strengthsOf(s);
    const k = strengths.findIndex((t) => t.limit === "sliding");
    const fast = run(24, { pace: { by: "g", g: 0.5 } });
    const slippery = withValueAt(s, splitPath("corner.tyre.friction"), 0.3);
    for (const of of [s, slippery]) expectRel(runDemands(of, [fast], strengths)[0]!.asked[k]!.right!.at, 0.5, 1e-6, "grip needed");
  });

  it("of the hub's friction is what warms it by a kelvin: the answer's own temperature after long, and its share of it before", () => {
    const s = shipped("heavy-forked.json");
    const strengths = strengthsOf(s);
    const k = strengths.findIndex((t) => t.limit === "hubHeat");
    // the answer takes the air at 23 °C
    const long = run(16, { airCelsius: 23 });
    const at = runDemands(s, [long], strengths)[0]!.asked[k]!.right!.at;
    const a = analyze(withValueAt(s, splitPath("corner.hub.heat.friction"), 40 * at), runLoad(long, drivenIn(long).lateralG), {
      radiusM: 6,
      bands: false,
      stiffer: false,
      byPart: false,
    });
    if (!a.ok) throw new Error("no answer");
    const heat = a.report.limits.find((l) => l.name === "hubHeat" && l.wheel === "right")!;
    expectRel(heat.inputs.find((n) => n.unit === "°C")!.value, 63, 1e-6, "steady temperature, °C");
    // two minutes are part of the warming: less of the rise is there, so the same warmth takes more friction
    const short = runDemands(s, [{ ...long, minutes: 2 }], strengths)[0]!.asked[k]!.right!.at;
    const endless = runDemands(s, [{ ...long, minutes: 600 }], strengths)[0]!.asked[k]!.right!.at;
    expect(short).toBeGreaterThan(1.2 * at);
    expectRel(endless, at, 1e-6, "after ten hours");
  });

  it("is told less sharply where the speed is, in proportion to how steeply the load grows", () => {
    const s = shipped("heavy-forked.json");
    const strengths = strengthsOf(s);
    const [told] = runDemands(s, [run(18)], strengths);
    const k = strengths.findIndex((t) => t.limit === "sliding");
    // grip grows with the cornering itself
    expectRel(told!.asked[k]!.right!.share, Math.hypot(0.06, 0.04), 5e-3, "share");
    const joint = strengths.findIndex((t) => t.limit === "jointPullOut" && t.at === "upperInner");
    // this joint feels the cornering less than the grip does
    expect(told!.asked[joint]!.right!.share).toBeLessThan(0.6 * told!.asked[k]!.right!.share);
  });

  it("is nothing where the model has no steady position, and that is told", () => {
    const [told] = runDemands(car([]), [run(24, { pace: { by: "g", g: 2.5 } })], strengthsOf(car([])));
    expect(told!.noHold?.message.length).toBeGreaterThan(10);
    expect(told!.asked.every((a) => Object.keys(a).length === 0)).toBe(true);
    expectAbs(usedInRun(car([]), run(24, { pace: { by: "g", g: 2.5 } }), { limit: "wheelLift", at: null, sides: ["left", "right"] })!, 2, 1.2, "load over end");
  });
});
