import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { withAt } from "../../src/state/edit.ts";
import { designFault } from "../../src/state/gate.ts";
import { taken } from "../../src/state/take.ts";
import { differences, leaves } from "../../src/view/differences.ts";
import { scenarioFile } from "../view/fixture.ts";

const readAgain = (s: Scenario): unknown => {
  const r = parseScenario(JSON.parse(JSON.stringify(s)), "written");
  return r.ok ? r.scenario : r.problems[0]?.message;
};

describe("a value taken from the other design", () => {
  const lip = scenarioFile("heavy-forked");
  const pinned = scenarioFile("heavy-cross-pinned");

  it("brings along what it hangs together with: a lip's shoulder goes as the whole retention", () => {
    const path = "corner.hub.retention.shoulderRadiusMm";
    const take = taken(lip, pinned, path);
    expect(take.path).toBe("corner.hub.retention");
    expect(take.scenario.corner.hub.retention).toEqual(pinned.corner.hub.retention);
  });

  it("never leaves a design that reads otherwise than it stands, whichever value is taken", () => {
    for (const [a, b] of [
      [lip, pinned],
      [pinned, lip],
      [lip, scenarioFile("asymmetric")],
      [scenarioFile("asymmetric"), lip],
    ] as const) {
      const paths = differences(a, b).flatMap((d) => [d.path, ...leaves(d).map((l) => l.path)]);
      expect(paths.length).toBeGreaterThan(10);
      for (const path of paths) {
        const { scenario } = taken(a, b, path);
        if (designFault(scenario) === null) expect([path, readAgain(scenario)]).toEqual([path, JSON.parse(JSON.stringify(scenario))]);
      }
    }
  });

  it("a design that lacks what its reader would fill in is refused, by the field's name", () => {
    expect(designFault(withAt(lip, "corner.hub.retention.shoulderRadiusMm", undefined))).toMatch(
      /^The design is not whole: .*shoulder.* would read otherwise\.$/,
    );
    expect(designFault(lip)).toBeNull();
  });
});
