import { describe, expect, it } from "vitest";
import type { Contradiction } from "../../../src/core/runs/contradictions.ts";
import { runsTold } from "../../../src/core/runs/told.ts";
import { runsModel } from "../../../src/pages/map/picture/runs-model.ts";
import type { SafeWords } from "../../../src/view/map/words.ts";
import { runPoints } from "../../../src/view/runs/points.ts";
import { car, hubGave, run } from "../../core/runs/runs.ts";

const safe = (kmh: number): SafeWords => ({ radiusM: 6, kmh, number: kmh.toFixed(1), also: "", limit: null });
const s = car([run(18), run(19, hubGave("right")), run(12, { hand: "right", taken: true }), run(5, { radiusM: 3, pace: { by: "lap", seconds: 14.2 } })]);

describe("runs on the speed map", () => {
  it("stand where they were driven, those of its hand, with what happened", () => {
    expect(runPoints(s.runs, "left").map(({ run: i, radiusM, kmh, gave }) => [i, radiusM, Math.round(kmh * 100) / 100, gave])).toEqual([
      [0, 6, 18, false],
      [1, 6, 19, true],
      // 2π · 3 m in 14.2 s
      [3, 3, 4.78, false],
    ]);
    const [right] = runPoints(s.runs, "right");
    expect(right).toMatchObject({ run: 2, taken: true });
    expect(right!.words).toBe("run 3 of 2026-11-21: 12.0\u2009km/h on 6.0\u2009m, right-hand, all held");
  });

  it("tell beside it what they would make of the parts and of the safe speed", () => {
    const told = runsTold(s);
    const m = runsModel(s, told, [], safe(20.7), safe(19.3))!;
    expect(m.count).toBe("4 runs, 1 taken");
    expect(m.safe).toBe("With what the runs tell it is safe below 19.3\u2009km/h, 1.4\u2009km/h less.");
    expect(m.values.map((v) => v.name)).toEqual(["wheel on its hub, straight pull that strips the lip"]);
    expect(m.values[0]!.now).toMatch(/^7\d ± \d\.\d\u2009N instead of 85 ± 21\u2009N$/);
    expect(m.values[0]!.range).toMatch(/^95\u2009% range 6\d to 8\d\u2009N$/);
    expect([m.canTake, m.note]).toEqual([true, ""]);
    expect(m.list[1]).toBe("run 2 of 2026-11-21: 19.0\u2009km/h on 6.0\u2009m, left-hand, hub pulled off (right)");
  });

  it("say what is still worked out, and when there is nothing to take", () => {
    expect(runsModel(s, null, null, safe(20.7), null)).toMatchObject({ note: "working out what they tell", canTake: false, safe: "" });
    expect(runsModel(s, runsTold(s), null, safe(20.7), safe(20.7))).toMatchObject({
      note: "looking for contradictions",
      safe: "With what the runs tell it is safe below 20.7\u2009km/h, as before.",
    });
    const slow = car([run(6)]);
    expect(runsModel(slow, runsTold(slow), [], safe(20.7), null)).toMatchObject({ note: "They tell nothing that is not known already.", canTake: false });
    const taken = car([run(18, { taken: true })]);
    expect(runsModel(taken, runsTold(taken), [], safe(20.7), null)).toMatchObject({ count: "1 run, all taken", note: "", canTake: false });
    expect(runsModel(car([]), null, null, null, null)).toBeNull();
  });

  it("say in words what contradicts the model, and what would explain it", () => {
    const about = { limit: "hubRetention", at: null, sides: ["right"] } as const;
    const path = "corner.hub.retention.capacityN";
    const c: Contradiction = {
      run: 1,
      kind: "gave",
      about,
      strength: { path, asked: 44, expected: { value: 85, sd: 5, low: 75, high: 95 }, chance: 1e-5 },
      noHold: null,
      explanations: [
        { key: "run", from: 0.38, to: 0.56, unit: "g", sds: 5.4 },
        { key: "material.abs.youngMPa", from: 2250, to: 900, unit: "N/mm²", sds: -6 },
      ],
    };
    const [said] = runsModel(s, runsTold(s), [c], null, null)!.against;
    expect(said!.said).toBe(
      "Hub pulls off: in run 2 of 2026-11-21 (19.0\u2009km/h on 6.0\u2009m, left-hand) it gave when 44\u2009N was asked of it, while all else says 85 ± 5.0\u2009N (wheel on its hub, straight pull that strips the lip). That comes about less than once in a thousand.",
    );
    expect(said!.explained).toEqual([
      "the run's own cornering: 0.56 instead of 0.38\u2009g, 5.4 of its ± off",
      "stiffness of abs: 900 instead of 2250\u2009N/mm², 6.0 of its ± off",
    ]);
    const alone = runsModel(s, runsTold(s), [{ ...c, explanations: [] }], null, null)!.against[0]!;
    expect(alone.explained).toEqual(["No single number explains it: look at what was noted of the run, and at the part."]);
  });
});
