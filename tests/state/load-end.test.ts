import { describe, expect, it } from "vitest";
import { REST } from "../../src/core/equilibrium/solve.ts";
import type { NoEquilibrium } from "../../src/core/equilibrium/state.ts";
import { createAnswers } from "../../src/state/answers.ts";
import { createLoadEnds } from "../../src/state/load-end.ts";
import { corneringScale } from "../../src/view/handles.ts";
import { scenarioFile } from "../view/fixture.ts";

const car = scenarioFile("heavy-forked");
const load = (lateralG: number, bumpLeftMm = 0) => ({ lateralG, bumpLeftMm, bumpRightMm: 0 });

describe("a load pulled past its end", () => {
  it("stops at the tyres' grip of the car's own file, either way, and says that the car slides", () => {
    const answers = createAnswers(false, () => 6);
    const within = createLoadEnds((s, l) => {
      const { analysis } = answers.at(s, l, "hand");
      return analysis.ok ? null : analysis.reason;
    });
    // the demo's tyres grip 1.05 times their load
    expect(within(car, load(0.8), load(1.04))).toEqual({ load: load(1.04), end: null });
    const { load: at, end } = within(car, load(0.8), load(1.6));
    expect(at).toEqual(load(1.05));
    expect(end?.text).toBe("The car slides here: the tyres let go at 1.05 g (friction).");
    expect(within(car, load(0.8), load(-2)).load).toEqual(load(-1.05));
  });

  // a car made up for the test: it tips past 0.52 g, or past 6.2 mm of road under the left wheel
  const tips = (asked: number[]) =>
    createLoadEnds((_s, l) => {
      asked.push(l.lateralG);
      const reason = (atLoad: NoEquilibrium["atLoad"]): NoEquilibrium => ({
        kind: "tips",
        message: "The car tips at 0.52 g, the left wheel lifts first.",
        atLoad,
      });
      return l.lateralG > 0.52 ? reason(load(0.5199)) : l.bumpLeftMm > 6.2 ? reason(load(0, 6.2)) : null;
    });

  it("is looked for once on each way, and found again on the way back", () => {
    const asked: number[] = [];
    const within = tips(asked);
    expect(within(car, load(0.3), load(0.9)).load.lateralG).toBe(0.51);
    const before = asked.length;
    expect(within(car, load(0.3), load(1.3)).end?.words).toBe("the car tips here");
    expect(asked.length).toBe(before);
    expect(within(car, load(0.3), load(0.4)).end).toBeNull();
    expect(within(car, load(0), load(0, 12)).load).toEqual(load(0, 6));
  });

  it("is no end where the search has not come to its own yet", () => {
    const still: NoEquilibrium = { kind: "stopped", message: "stopped", atLoad: REST };
    expect(createLoadEnds(() => still)(car, REST, load(0.4))).toEqual({ load: load(0.4), end: null });
  });

  it("is given back as it is where the car does not even stand", () => {
    const none: NoEquilibrium = { kind: "unstable", message: "It folds.", atLoad: REST };
    expect(createLoadEnds(() => none)(car, REST, load(0.4))).toEqual({ load: load(0.4), end: null });
  });

  it("lies further off than a twitch of the hand: 0.2 g take more than 20 px on a phone too", () => {
    expect(Math.min(corneringScale(390), corneringScale(1000)) * 0.2).toBeGreaterThan(20);
  });
});
