import { describe, expect, it } from "vitest";
import type { Drive, Scenario } from "../../../src/core/design/types.ts";
import { ROOM_C } from "../../../src/core/limits/derating.ts";
import { driveNumbers, heatAtSpeed } from "../../../src/pages/map/picture/drive-words.ts";
import { scenarioFile } from "../../view/fixture.ts";

const scenario = scenarioFile("heavy-forked");
const withDrive = (patch: Partial<Drive>): Scenario => ({ ...scenario, drive: { ...scenario.drive, ...patch } });
const fact = (s: Scenario, words: RegExp): number => {
  const found = driveNumbers(s, "left", 6, 20).facts.find((f) => words.test(f.words));
  if (!found) throw new Error(`no fact ${words}`);
  return Number.parseFloat(found.value);
};

describe("the drive in numbers", () => {
  // common practice of the trade, no published source
  it("a 24-tooth gear that drives a 42-tooth one divides the speed by 1.75", () => {
    const more = withDrive({ stages: [...scenario.drive.stages, { drivingTeeth: 24, drivenTeeth: 42, efficiency: 1 }] });
    expect(fact(scenario, /without any/) / fact(more, /without any/)).toBeCloseTo(1.75, 1);
    expect(fact(more, /turns per/) / fact(scenario, /turns per/)).toBeCloseTo(1.75, 1);
  });

  // common practice of the trade, no published source
  it("two motors on a wheel push twice as hard and turn no faster", () => {
    const two = withDrive({ motorsPerWheel: 2 });
    expect(fact(two, /standing/) / fact(scenario, /standing/)).toBeCloseTo(2, 1);
    expect(fact(two, /without any/)).toBe(fact(scenario, /without any/));
  });

  it("says so when the motors do not start the car", () => {
    const told = driveNumbers(withDrive({ stallTorqueNmm: 0.1 }), "left", 6, 20);
    expect(told.topKmh).toBe(0);
    expect(told.summary).toBe("does not start the car");
  });
});

describe("the wheels in a curve", () => {
  const row = (hand: "left" | "right", radiusM: number) => {
    const first = driveNumbers(scenario, hand, radiusM, 20).wheels[0];
    if (!first) throw new Error("no row");
    return first;
  };

  it("the outer one is faster: the right one in a left-hand curve", () => {
    expect(Number(row("left", 3).rightKmh)).toBeGreaterThan(Number(row("left", 3).leftKmh));
    expect(row("right", 3).leftKmh).toBe(row("left", 3).rightKmh);
  });

  it("their speeds are as the radii of their ways: (R + t/2) / (R − t/2)", () => {
    const t = (2 * scenario.corner.wheelCentre.sMm) / 1000;
    expect(Number(row("left", 2).ratio)).toBeCloseTo((2 + t / 2) / (2 - t / 2), 3);
    expect(Number(row("left", 2).leftKmh) + Number(row("left", 2).rightKmh)).toBeCloseTo(40, 0);
  });

  it("stand with the curve asked for first, and each other curve once", () => {
    const { wheels } = driveNumbers(scenario, "left", 6, 20);
    expect(wheels[0]?.here).toBe(true);
    expect(wheels.filter((w) => w.curve.startsWith("6.0"))).toHaveLength(1);
    expect(new Set(wheels.map((w) => w.key)).size).toBe(wheels.length);
  });
});

describe("the push on the arms", () => {
  it("has a row per arm with its unit, the sum of both is the push of a wheel", () => {
    const { arms, armsNote } = driveNumbers(scenario, "left", 6, 20);
    expect(arms.map((a) => a.words)).toEqual(["upper arm", "lower arm"]);
    const sum = arms.reduce((n, a) => n + Number.parseFloat(a.force), 0);
    const perWheel = Number.parseFloat(/standing, ([\d.]+)/.exec(armsNote)?.[1] ?? "");
    expect(sum).toBeCloseTo(perWheel, 0);
    for (const a of arms) expect(a.stiffness).toMatch(/N\/mm$/);
  });
});

describe("heat of the hubs", () => {
  it("rises from the room's temperature over the drive, the strength falls with it, and a longer drive is no cooler", () => {
    const { heat, heatNote } = heatAtSpeed(scenario, 6, 18, 5);
    const number = (text: string): number => Number.parseFloat(text);
    expect(number(heat[0]!.minutes)).toBe(0);
    expect(number(heat[0]!.right)).toBe(ROOM_C);
    for (let i = 1; i < heat.length; i++) {
      expect(number(heat[i]!.right)).toBeGreaterThanOrEqual(number(heat[i - 1]!.right));
      expect(number(heat[i]!.rightHolds)).toBeLessThanOrEqual(number(heat[i - 1]!.rightHolds));
    }
    expect(number(heat.at(-1)!.right)).toBeGreaterThan(ROOM_C);
    expect(heatNote).toContain("5 minutes at 18.0 km/h");
    const long = heatAtSpeed(scenario, 6, 18, 30).heat;
    expect(number(long.at(-1)!.right)).toBeGreaterThanOrEqual(number(heat.at(-1)!.right));
  });

  it("says so when the car finds no hold in that curve", () => {
    const { heat, heatNote } = heatAtSpeed(scenario, 2, 60, 5);
    expect(heat).toEqual([]);
    expect(heatNote).toContain("no steady position");
  });
});
