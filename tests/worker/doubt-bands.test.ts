import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import type { OutputKey } from "../../src/core/doubt/outputs.ts";
import { deltaOf } from "../../src/state/delta.ts";
import { type BandsRequest, type BandsTold, bandsOf } from "../../src/worker/doubt-bands.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { scenarioFile } from "../view/fixture.ts";

const car = scenarioFile("heavy-forked");
const load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
const asked = (r: Partial<BandsRequest>): BandsRequest => ({ scenario: null, load, radiusM: 6, options: {}, inHand: null, ...r });
let job = 0;
const bands = async (r: Partial<BandsRequest>): Promise<BandsTold> => {
  const told = await bandsOf("test", ++job, asked(r));
  if (!told) throw new Error("nothing told");
  return told;
};
const LEAN: OutputKey = "camberDeg.right";

describe("the bands beside the page", () => {
  it("refuse a change of a design that was never told", () => {
    expect(() => bandsOf("test", ++job, asked({ scenario: deltaOf(car, { ...car, name: "another" }) }))).toThrow("never told");
  });

  it("are told at rest with what they are made of, in hand by what matters, and follow a change of a ±", async () => {
    const rest = await bands({ scenario: deltaOf(undefined, car) });
    const lean = rest.sd?.get(LEAN) ?? Number.NaN;
    expect(lean).toBeGreaterThan(0);
    expect(rest.safe?.sdMps).toBeGreaterThan(0);
    const rows = rest.rows?.right ?? [];
    expect(rows.map((r) => r.share)).toEqual(rows.map((r) => r.share).sort((x, y) => y - x));
    // what is left out in hand carries a thousandth of the variance each
    const hand = await bands({ inHand: "answer" });
    expectRel(hand.sd?.get(LEAN) ?? 0, lean, 0.03, "lean's ± in hand");
    expect(hand.safe).toBeNull();
    const safe = await bands({ inHand: "safe" });
    expectAbs(safe.safe?.sdMps ?? 0, rest.safe?.sdMps ?? Number.NaN, 1e-9, "m/s of the safe speed's ±");
    // by the law of propagation a doubt alone beside all others gives its share back: s² = s0² (1 - share) + s0² share (new/old)²
    const most = rows.find((r) => r.how !== "material");
    if (!most) throw new Error("no input");
    const told: Scenario = { ...car, origins: { ...car.origins, [most.key]: { how: "measured", plusMinus: 3 * most.sd } } };
    const next = await bands({ scenario: deltaOf(car, told) });
    expectRel(next.sd?.get(LEAN) ?? 0, lean * Math.sqrt(1 + 8 * most.share), 0.01, "lean's ± with three times the worst input's");
    const share = next.rows?.right.find((r) => r.key === most.key)?.share ?? 0;
    expectRel(share, (9 * most.share) / (1 + 8 * most.share), 0.01, "its share then");
  });
});
