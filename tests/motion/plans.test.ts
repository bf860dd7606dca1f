import { describe, expect, it } from "vitest";
import { CHANNELS, channelIndex } from "../../src/motion/channels.ts";
import { HEAVY, heavyIndices, inertia, updateInertia } from "../../src/motion/inertia.ts";
import { completeParams, loadsOf, MANOEUVRES, type ManoeuvreName, type Params, plan, type Scene } from "../../src/motion/manoeuvres.ts";
import { buildMotion } from "../../src/motion/model.ts";
import { bump, flat, rollOver, rough, sumOf, washboard } from "../../src/motion/road.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** What manoeuvres ask of the road and the steering, by hand. */

const m = buildMotion(shipped("heavy-forked.json"));
const of = (name: ManoeuvreName, params: Params = {}) => {
  const p = plan(name, completeParams(name, params), m, 1);
  const at = (t: number): Scene => {
    const scene: Scene = { lateralG: Number.NaN, road: [Number.NaN, Number.NaN], kerb: null };
    p.at(t, scene);
    return scene;
  };
  return { ...p, at };
};

describe("a steering step", () => {
  // straight for 0.1 s, then half a cosine over 0.15 s to 0.6 g
  const p = of("steeringStep", { lateralG: 0.6, riseS: 0.2, holdS: 1 });
  it("goes from straight to the curve smoothly and stays there", () => {
    for (const [t, g] of [
      [0, 0],
      [0.1, 0],
      [0.15, 0.6 * 0.14644661],
      [0.2, 0.3],
      [0.25, 0.6 * 0.85355339],
      [0.3, 0.6],
      [1.2, 0.6],
    ] as const)
      expectAbs(p.at(t).lateralG, g, 1e-8, `g at ${t} s`);
    expectRel(p.durationS, 1.3, 1e-12, "s");
    expect(p.dropMm).toBe(0);
    expect(p.at(0.5)).toMatchObject({ road: [0, 0], kerb: null });
  });

  it("belongs to the curve at rest, held to what the tyres can: 0.99 of 1.05 times the surface", () => {
    expect(loadsOf("steeringStep", completeParams("steeringStep", { lateralG: 0.6 }), m)).toEqual({
      start: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 },
      steady: { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 },
    });
    const steady = (lateralG: number, grip = 1): number => loadsOf("slalom", completeParams("slalom", { lateralG, grip }), m).steady.lateralG;
    expectRel(steady(2), 1.0395, 1e-9, "g");
    expectRel(steady(-2), -1.0395, 1e-9, "g");
    expectRel(steady(2, 0.5), 0.51975, 1e-9, "g on half the grip");
  });
});

describe("a slalom", () => {
  // gates 3 m apart at 6 m/s: half a swing lasts 0.5 s
  const p = of("slalom", { lateralG: 0.8, gateM: 3, gates: 4, speedMps: 6 });
  it("swings once to each side in the time of two gates, growing over the first", () => {
    expect(p.at(0.05).lateralG).toBe(0);
    // a quarter of the swing: sine 1, grown to half
    expectRel(p.at(0.35).lateralG, 0.4, 1e-9, "g");
    expectAbs(p.at(0.6).lateralG, 0, 1e-9, "g between the gates");
    expectRel(p.at(0.85).lateralG, -0.8, 1e-9, "g");
    expectRel(p.at(1.35).lateralG, 0.8, 1e-9, "g");
    expectRel(p.durationS, 2.1, 1e-12, "s");
  });
});

describe("a bump", () => {
  it("lies under the wheels that are named, its top where the raised cosine has it", () => {
    // 6 m/s: it begins after 600 mm; top after 640 mm at 0.106667 s
    const top = 0.64 / 6;
    const roads = (wheels: number): number[] => of("singleBump", { heightMm: 6, lengthMm: 80, wheels }).at(top).road;
    expectAbs(roads(0)[0]!, 6, 1e-6, "mm left of both");
    expectAbs(roads(0)[1]!, 6, 1e-6, "mm right of both");
    expect(roads(1)[1]).toBe(0);
    expectAbs(roads(1)[0]!, 6, 1e-6, "mm left");
    expect(roads(2)[0]).toBe(0);
    expectAbs(roads(2)[1]!, 6, 1e-6, "mm right");
    expectRel(of("singleBump", { lengthMm: 80 }).durationS, 0.1 + 80 / 6000 + 0.8, 1e-12, "s");
  });

  it("is met in a steady curve when one is asked for", () => {
    const p = of("singleBump", { lateralG: 0.4 });
    expect([p.at(0).lateralG, p.at(0.5).lateralG, p.steady.lateralG]).toEqual([0.4, 0.4, 0.4]);
    expect(loadsOf("washboard", completeParams("washboard", { lateralG: 0.4 }), m).start.lateralG).toBe(0.4);
  });
});

describe("a washboard", () => {
  it("begins after the lead and lasts as long as asked, left behind right by a share of a wave", () => {
    const p = of("washboard", { heightMm: 3, waveMm: 600, apart: 0.5, lastsS: 1, speedMps: 3 });
    expectRel(p.durationS, 1.1, 1e-12, "s");
    // 300 mm of lead, then crests of the right wheel at 2.5 waves: (300 + 1500)/3000 s
    expectAbs(p.at(0.6).road[1], 3, 1e-4, "mm, crest on the right");
    expect(p.at(0.6).road[0]).toBeLessThan(0.3);
    expect(p.at(0.09).road[1]).toBeLessThan(1e-3);
  });
});

describe("a landing", () => {
  it("falls from the height that is asked for and goes on for 0.8 s after the touch", () => {
    const p = of("landing", { dropMm: 60 });
    expect(p.dropMm).toBe(60);
    // sqrt(2 · 0.06/9.80665) = 0.110619 s
    expectRel(p.durationS, 0.910619, 1e-6, "s");
    expect(p.steady).toEqual({ lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 });
  });
});

describe("a constant load", () => {
  it("is laid on over 0.3 s: half of it after 0.15 s", () => {
    const p = of("constantLoad", { lateralG: 0.5, bumpLeftMm: 4, bumpRightMm: -2, lastsS: 2 });
    const half = p.at(0.15);
    expectRel(half.lateralG, 0.25, 1e-9, "g");
    expectRel(half.road[0], 2, 1e-9, "mm");
    expectRel(half.road[1], -1, 1e-9, "mm");
    expect(p.at(0.3)).toMatchObject({ lateralG: 0.5, road: [4, -2] });
    expect(p.steady).toEqual({ lateralG: 0.5, bumpLeftMm: 4, bumpRightMm: -2 });
    expect(p.durationS).toBe(2);
  });
});

describe("a kerb strike", () => {
  // 6 m/s at 30°: 3 m/s across; right tyre's edge at 170 mm; met after 0.1 s, turned along it 0.15 s later
  it("brings the kerb to the tyre's edge at the hit, and lets it fall behind as the car turns along it", () => {
    for (const [rightSide, side, sign] of [
      [1, "right", 1],
      [0, "left", -1],
    ] as const) {
      const p = of("kerbStrike", { speedMps: 6, angleDeg: 30, heightMm: 20, rightSide });
      const before = p.at(0.09).kerb!;
      expect([before.side, before.heightMm]).toEqual([side, 20]);
      expectRel(before.xMm, sign * 200, 1e-9, "mm, 30 mm to go");
      expectRel(before.speedMmps, -sign * 3000, 1e-9, "mm/s");
      expectRel(p.at(0.1).kerb!.xMm, sign * 170, 1e-9, "mm at the hit");
      // half-way through the turn: half the speed, three eighths of 0.15 s of way
      const half = p.at(0.175).kerb!;
      expectRel(half.speedMmps, -sign * 1500, 1e-9, "mm/s");
      expectRel(half.xMm, sign * (170 - 168.75), 1e-6, "mm");
      const along = p.at(0.3).kerb!;
      expectAbs(along.speedMmps, 0, 1e-9, "mm/s");
      expectRel(along.xMm, sign * (170 - 225), 1e-9, "mm");
      expectRel(p.durationS, 0.6, 1e-12, "s");
    }
  });
});

describe("numbers that are asked for", () => {
  it("may lie on the ends of their range, not beyond, and need a name that exists", () => {
    for (const name of MANOEUVRES) {
      expect(() => completeParams(name, { speedMps: 0, grip: 2 })).not.toThrow();
      expect(() => completeParams(name, { speedMps: 40.001 })).toThrow("speedMps (speed) is 40.001; it must lie between 0 and 40 m/s.");
      expect(() => completeParams(name, { grip: 0.049 })).toThrow("grip (grip of the surface, over the tyres' own) is 0.049; it must lie between 0.05 and 2.");
      expect(() => completeParams(name, { gripp: 1 })).toThrow('has no number "gripp"; it takes speedMps, grip, roughnessMm');
    }
  });
});

describe("roads", () => {
  it("of a bump are a raised cosine and nothing before and after", () => {
    const b = bump(8, 40, 100);
    expect([b(100), b(140), b(99), b(141), b(-5)]).toEqual([0, 0, 0, 0, 0]);
    expectAbs(b(110), 4, 1e-12, "mm a quarter in");
    expectAbs(b(120), 8, 1e-12, "mm on top");
  });

  it("of a washboard grow to their height over one wave", () => {
    const w = washboard(4, 100, 50, 0);
    expect([w(50), w(0)]).toEqual([0, 0]);
    expectAbs(w(100), 2, 1e-12, "mm, half-way up the first wave");
    expectAbs(w(75), 0.5, 1e-12, "mm a quarter in");
    expectAbs(w(200), 4, 1e-12, "mm on the second crest");
  });

  it("that are rough begin flat and fade in over half a metre", () => {
    const r = rough(1, 5, 1000);
    const all = rough(1, 5, -1e6);
    expect([r(1000), r(500)]).toEqual([0, 0]);
    expectRel(r(1250), all(1250) / 2, 1e-9, "mm half-way in");
    expectRel(r(1500), all(1500), 1e-9, "mm all in");
    expect(rough(0, 5, 0)).toBe(flat);
  });

  it("add up, flat ones not counted", () => {
    const a = bump(8, 40, 100);
    expect(sumOf(flat, flat)).toBe(flat);
    expect(sumOf(flat, a)).toBe(a);
    expectAbs(sumOf(a, flat, bump(2, 40, 100))(120), 10, 1e-12, "mm");
  });

  it("are held at their ends beyond the length that was rolled", () => {
    const ramp = rollOver((x) => x / 100, 1, 200);
    // a wheel of 1 mm on a slope of 1 in 100 rides 0.00005 mm above it
    expectAbs(ramp.heightAt(100), 1, 0.02, "mm");
    expectAbs(ramp.heightAt(-50), 0, 0.02, "mm before");
    expectAbs(ramp.heightAt(9000), 2, 0.03, "mm after");
    expectAbs(ramp.heightAt(100.25) - ramp.heightAt(100), 0.0025, 1e-9, "mm over a quarter of a millimetre");
  });
});

describe("channels", () => {
  it("have a column each, four of the axle and fifteen of each wheel, along the road two and three more, and a name that is none is refused", () => {
    expect(CHANNELS).toHaveLength(4 + 2 * 15 + 2 + 2 * 3);
    expect([channelIndex("lateralG"), channelIndex("left.camberDeg"), channelIndex("right.camberDeg"), channelIndex("right.useGrip")]).toEqual([0, 4, 19, 33]);
    expect(CHANNELS[19]).toMatchObject({ key: "right.camberDeg", side: "right", unit: "°" });
    expect(() => channelIndex("camberDeg")).toThrow('A trace has no channel "camberDeg".');
  });
});

describe("inertia of the moving parts", () => {
  const s = structuredClone(shipped("heavy-forked.json"));
  // upright as built: the bearing then lies 6 mm level inboard
  s.corner.hub.staticCamberDeg = 0;
  const car = buildMotion(s);
  const o = inertia(car);
  updateInertia(o, car, new Float64Array(car.bare.n), [true, true]);
  const at = (i: number, j: number): number => o.mass[HEAVY * i + j]!;

  // kg·mm/s² are 1e-3 N: 2.2 kg of body, 0.13 of hub and 0.22 of wheel on each side
  it("is that of all 2.9 kg sideways, of the body upwards, of hub and wheel at the hub's point", () => {
    expectRel(at(10, 10), 2.9e-3, 1e-12, "N per mm/s², all of it");
    expectRel(at(0, 0), 2.2e-3, 1e-12, "body");
    expectRel(at(1, 1), car.bodyInertia * 1e-3, 1e-12, "body's turn");
    for (const b of [2, 6]) {
      expectRel(at(b, b), 0.35e-3, 1e-12, "hub x");
      expectRel(at(b + 1, b + 1), 0.35e-3, 1e-12, "hub z");
      expectRel(at(b, 10), 0.35e-3, 1e-12, "hub x with body x");
      // as built the wheel's centre is the hub's point: 44²/12 and 845.28 mm²
      expectRel(at(b + 2, b + 2), (0.13 * 44 ** 2) / 12e3 + 0.22 * 0.84528, 1e-9, "hub's turn");
      // the wheel tilts about its bearing, 6 mm inboard
      expectRel(at(b + 3, b + 3), 0.22 * (0.84528 + 0.036), 1e-9, "wheel's tilt");
      expectRel(at(b + 2, b + 3), 0.22 * 0.84528, 1e-9, "turn with tilt");
      expectAbs(Math.abs(at(b + 1, b + 3)), 0.22e-3 * 6, 1e-12, "hub z with tilt");
    }
    expect(Math.sign(at(3, 5))).toBe(-1);
    expect(Math.sign(at(7, 9))).toBe(1);
    for (let i = 0; i < HEAVY; i++) for (let j = 0; j < HEAVY; j++) expect(at(i, j)).toBe(at(j, i));
  });

  it("is drawn by gravity with the same masses", () => {
    expectRel(o.pullZ[0]!, 2.2e-3, 1e-12, "body down");
    expectRel(o.pullX[10]!, 2.9e-3, 1e-12, "all sideways");
    for (const b of [2, 6]) {
      expectRel(o.pullX[b]!, 0.35e-3, 1e-12, "hub sideways");
      expectRel(o.pullZ[b + 1]!, 0.35e-3, 1e-12, "hub down");
      expectAbs(o.pullZ[b + 2]!, 0, 1e-15, "no lever as built");
      expectRel(Math.abs(o.pullZ[b + 3]!), 0.22e-3 * 6, 1e-12, "wheel about its bearing");
    }
  });

  it("is without the wheel once it is off, all but a grain", () => {
    const bare = inertia(car);
    updateInertia(bare, car, new Float64Array(car.bare.n), [true, false]);
    expectRel(bare.mass[HEAVY * 6 + 6]!, 0.13e-3, 1e-12, "hub x");
    expectRel(bare.mass[HEAVY * 10 + 10]!, 2.68e-3, 1e-12, "all sideways");
    expectRel(bare.mass[HEAVY * 9 + 9]!, (0.13 * 44 ** 2) / 12e6, 1e-9, "a thousandth of the hub's own");
  });

  it("counts body heave and turn, hub x, z, turn and tilt of each side, and the body's x", () => {
    expect(heavyIndices(car)).toEqual([0, 1, 2, 3, 4, 5, 7, 8, 9, 10, car.x]);
  });
});
