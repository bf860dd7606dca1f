import { describe, expect, it } from "vitest";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Origin, Scenario } from "../../../src/core/design/types.ts";
import { controlsOf } from "../../../src/pages/axle/panels/fields.ts";
import type { Control } from "../../../src/pages/axle/state/control.ts";
import { knownName, knownOf, partOfPath, pathsOf, withKnownAs } from "../../../src/pages/axle/state/known-edits.ts";
import { gate } from "../../../src/state/gate.ts";
import { PARTS, type PartName } from "../../../src/view/pick.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const car = shipped("heavy-straight.json");
const GUESS: Origin = { how: "guess", plusMinus: 0.1 };
const row = (s: Scenario, part: PartName, path: string, kind = "number"): Control =>
  controlsOf(part, cornerOf(s, "right"), s).find((c) => c.path === path && c.kind === kind) as Control;

describe("how the value of a row is known", () => {
  it("belongs to the value that the row sets: the shared one, and a side's own where it has one", () => {
    const s: Scenario = { ...car, left: { spring: { rateNPerMm: 3 } } };
    const rate = row(s, "spring", "spring.rateNPerMm");
    expect(pathsOf(s, rate, "both")).toEqual(["corner.spring.rateNPerMm", "left.spring.rateNPerMm"]);
    expect(pathsOf(s, rate, "left")).toEqual(["left.spring.rateNPerMm"]);
    expect(pathsOf(s, rate, "right")).toEqual(["corner.spring.rateNPerMm"]);
    const known = withKnownAs(s, rate, "left", GUESS);
    expect(knownOf(known, rate, "both")).toMatchObject({ path: "left.spring.rateNPerMm", how: "guess", differ: true, isNumber: true });
    expect(knownOf(known, rate, "right")).toMatchObject({ how: "entered", differ: false });
    expect(withKnownAs(known, rate, "both", null).origins).toEqual({});
    expect(knownName(s, rate, "left", "guess")).toBe("left spring, rate is a guess");
  });

  it("of a choice is that of its kind, and a number that may be none has one mark", () => {
    expect(pathsOf(car, row(car, "hub", "hub.retention", "choice"), "both")).toEqual(["corner.hub.retention.kind"]);
    expect(pathsOf(car, row(car, "lowerArm", "lowerArm.section", "choice"), "both")).toEqual(["corner.lowerArm.section.shape"]);
    expect(pathsOf(car, row(car, "lowerArm", "lowerArm.material", "choice"), "both")).toEqual(["corner.lowerArm.material"]);
    const crown = { ...car, corner: { ...car.corner, tyre: { ...car.corner.tyre, crownRadiusMm: 80 } } };
    expect(pathsOf(crown, row(crown, "tyre", "tyre.crownRadiusMm", "choice"), "both")).toEqual([]);
    expect(pathsOf(crown, row(crown, "tyre", "tyre.crownRadiusMm"), "both")).toEqual(["corner.tyre.crownRadiusMm"]);
    expect(knownOf(car, row(car, "body", "scale"), "both")).toBeNull();
  });

  it("can be told of every row of every shipped car, and stands", () => {
    const load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
    for (const file of SHIPPED) {
      let s = shipped(file);
      let rows = 0;
      for (const part of PARTS)
        for (const c of controlsOf(part, cornerOf(s, "right"), s)) {
          const known = knownOf(s, c, "right");
          if (!known) continue;
          rows++;
          s = withKnownAs(s, c, "right", { how: "guess", ...(known.isNumber ? { plusMinus: 0 } : {}) });
          const part2 = partOfPath(known.path);
          expect([part2, part === "car" ? "body" : part2], known.path).toContain(part === "car" ? (part2 === "car" ? "car" : "body") : part);
        }
      expect(rows).toBeGreaterThan(90);
      expect(gate({ a: s, b: s, load }), file).toBeNull();
    }
  });
});
