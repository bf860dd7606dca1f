import { describe, expect, it } from "vitest";
import { channelAt, speedAt } from "../../../src/motion/trace.ts";
import { kerbOver } from "../../../src/pages/motion/moment.ts";
import { linesOf, noteOf, numbersOf } from "../../../src/pages/motion/run-fields.ts";
import { motionSlice } from "../../../src/pages/motion/state/slice.ts";
import { roadAhead, storyOf, tracksOf } from "../../../src/pages/motion/story.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { scenarioFile } from "../../view/fixture.ts";
import { recordedOf } from "./recorded.ts";

const scenario = scenarioFile("heavy-straight");
const HUB = { part: "hub lip", capacity: 85, unit: "N" };

describe("a run that brakes to a stand", () => {
  const r = recordedOf(scenario, "singleBump", { speedMps: 2, brakeG: 0.5, heightMm: 1, lengthMm: 100, wheels: 2 });

  it("tells the pedal, the shift and where the car stands, and shows shift and speed as curves", () => {
    const story = storyOf(r, "right", HUB).map((s) => s.words);
    expect(story[0]).toBe("brakes pressed");
    expect(story).toContain("the car stands");
    expect(story.some((w) => /^right wheel shifts furthest back, \d\.\d\d\u2009mm$/.test(w))).toBe(true);
    const { tracks } = tracksOf(r, "right", 8, HUB, null, 3);
    expect(tracks.map((t) => t.title)).toEqual(["Lean", "Pull on hub lip", "Wheel load", "Wheel shift", "Speed"]);
    expect(tracks[3]!.limit).toBe(-3);
    // 2 m/s are 7.2 km/h
    expectAbs(tracks[4]!.line.v[0]!, 7.2, 1e-9, "km/h");
  });

  it("shows the road ahead where it lies", () => {
    // the bump begins 200 mm and ends 300 mm on, longer by the round wheel
    const t = 0.06;
    const way = 1000 * channelAt(r.trace, "wayM", t);
    expect(speedAt(r.trace, t)).toBeLessThan(2);
    expectAbs(roadAhead(r.trace, "right", t).heightMm(250 - way), 1, 0.02, "mm at its top");
  });
});

describe("a kerb that a braking car meets", () => {
  it("comes nearer by the car's own way: 2 m/s at 8° from 0.1 s of it on", () => {
    const r = recordedOf(scenario, "kerbStrike", { speedMps: 2, brakeG: 0.3, angleDeg: 8, heightMm: 6 });
    const kerb = kerbOver(scenario, r.trace)!;
    const at = (s: number): number => kerb(s)!.xMm + channelAt(r.trace, "lateralMm", s);
    const way = 1000 * (channelAt(r.trace, "wayM", 0.08) - channelAt(r.trace, "wayM", 0.02));
    expectRel(at(0.02) - at(0.08), way * Math.sin((8 * Math.PI) / 180), 1e-6, "mm");
  });
});

describe("the words of a run with throttle or brake", () => {
  const numbers = { ...numbersOf(motionSlice.initial, "washboard"), throttle: 0.8 };
  it("name the pedals beside the first speed, and what is left out", () => {
    expect(linesOf("washboard", numbers, false)[1]).toBe("21.6\u2009km/h at first, throttle 80\u2009%");
    expect(linesOf("washboard", { ...numbers, throttle: 0 }, false)[1]).toBe("21.6\u2009km/h");
    expect(noteOf(numbers)).toContain("no weight goes from one axle to the other");
    expect(noteOf({})).not.toContain("axle");
  });
});
