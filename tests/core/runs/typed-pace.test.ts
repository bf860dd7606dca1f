import { describe, expect, it } from "vitest";
import { drivenIn } from "../../../src/core/runs/pace.ts";
import { readPace } from "../../../src/core/runs/typed-pace.ts";
import { expectAbs } from "../../support/close.ts";

describe("how fast a run was, as it is typed", () => {
  it.each([
    ["lap 14.2 s on a circle of 3 m", { by: "lap", seconds: 14.2 }, 3],
    ["14,2 s", { by: "lap", seconds: 14.2 }, null],
    ["0.5 min round 12 m", { by: "lap", seconds: 30 }, 12],
    ["lap 14.2 s, circle 6 m across", { by: "lap", seconds: 14.2 }, 3],
    ["22 km/h", { by: "speed", kmh: 22 }, null],
    ["22,5km/h on 600 cm", { by: "speed", kmh: 22.5 }, 6],
    ["5 m/s on 6 m", { by: "speed", kmh: 18 }, 6],
    ["0.6 g", { by: "g", g: 0.6 }, null],
    ["phone 0,6 g, 4 m", { by: "g", g: 0.6 }, 4],
  ])("%s", (text, pace, radiusM) => {
    expect(readPace(text)).toEqual({ ok: true, pace, radiusM });
  });

  it("gives a speed: 14.2 s round a circle of 3 m is 4.78 km/h", () => {
    const read = readPace("lap 14.2 s on a circle of 3 m");
    if (!read.ok || read.radiusM === null) throw new Error("not read");
    expectAbs(drivenIn({ pace: read.pace, radiusM: read.radiusM }).speedMps * 3.6, 4.7788, 1e-3, "speed, km/h");
  });

  it.each([
    ["", /is wanted/],
    ["fast", /is wanted/],
    ["12", /“12”: a speed/],
    ["6 m", /is wanted/],
    ["18 km/h, 0.6 g", /two paces/],
    ["900 km/h", /900 km\/h is out of range; allowed 0.1 to 300 km\/h/],
    ["14 s on 5000 m", /allowed 0.1 to 1000 m/],
    ["-3 g", /allowed 0 to 5 g/],
    ["18 kg", /“18 kg”/],
    ["1.2.3 s", /“1.2.3 s”/],
  ])("refuses %s", (text, message) => {
    const read = readPace(text);
    expect(read.ok).toBe(false);
    expect(!read.ok && read.message).toMatch(message);
  });
});
