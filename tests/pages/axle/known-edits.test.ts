import { describe, expect, it } from "vitest";
import { keptOrigins } from "../../../src/core/design/origins.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Origin, Scenario } from "../../../src/core/design/types.ts";
import { controlsOf } from "../../../src/pages/axle/panels/fields.ts";
import type { Control } from "../../../src/pages/axle/state/control.ts";
import { knownOf, partOfPath, pathsOf, withKnownAs } from "../../../src/pages/axle/state/known-edits.ts";
import { FIRST_VALUE, withControl } from "../../../src/pages/axle/state/part-edits.ts";
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
          // the weight stands with the whole car, too
          expect([part, part === "car" ? "body" : part], known.path).toContain(partOfPath(known.path));
        }
      expect(rows).toBeGreaterThan(90);
      expect(gate({ a: s, b: s, load }), file).toBeNull();
    }
  });
});

describe("a kind that is chosen", () => {
  it("brings first values along, which are guesses; what stood there before is known as it was", () => {
    const s: Scenario = { ...car, origins: { "corner.hub.retention.journalShare": { how: "measured" } } };
    const held = row(s, "hub", "hub.retention", "choice");
    const pinned = keptOrigins(s, withControl(s, held, "both", "crossPin"));
    expect(pinned.corner.hub.retention.kind).toBe("crossPin");
    expect(pinned.origins).toEqual({
      "corner.hub.retention.journalShare": { how: "measured" },
      "corner.hub.retention.pinDiameterMm": { how: "guess", note: FIRST_VALUE },
      "corner.hub.retention.shearStrengthMPa": { how: "guess", note: FIRST_VALUE },
      "corner.hub.retention.shearRadiusMm": { how: "guess", note: FIRST_VALUE },
    });
    const left = keptOrigins(s, withControl(s, held, "left", "crossPin"));
    expect(
      Object.keys(left.origins)
        .filter((p) => p.startsWith("left."))
        .sort(),
    ).toEqual([
      "left.hub.retention.journalShare",
      "left.hub.retention.pinDiameterMm",
      "left.hub.retention.shearRadiusMm",
      "left.hub.retention.shearStrengthMPa",
    ]);
    const crown = withControl(s, row(s, "tyre", "tyre.crownRadiusMm", "choice"), "both", "own");
    expect(crown.origins["corner.tyre.crownRadiusMm"]).toEqual({ how: "guess", note: FIRST_VALUE });
    const layout = withControl(s, row(s, "lowerArm", "lowerArm.layout", "choice"), "both", "twin");
    expect(layout.origins).toEqual(s.origins);
  });
});
