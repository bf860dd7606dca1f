import { describe, expect, it } from "vitest";
import { diagnoseRest } from "../../../src/core/equilibrium/diagnose.ts";
import { type AxleModel, buildAxle, cornerModel } from "../../../src/core/equilibrium/model.ts";
import type { NoEquilibrium } from "../../../src/core/equilibrium/state.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const REST = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

const CAR = shipped("heavy-straight.json");
const car = (): AxleModel => buildAxle(structuredClone(CAR), { elementsPerArm: 2 });

/** Everything that may be stiffened, by name. */
function stiffness(m: AxleModel): Map<string, number> {
  const all = new Map<string, number>();
  for (const c of m.corners) {
    for (const arm of Object.values(c.arms))
      for (const what of ["ea", "kNear", "kFar"] as const) for (const [e, v] of arm[what].entries()) all.set(`${c.side} ${arm.name} arm, ${what} ${e}`, v);
    all.set(`${c.side} spring`, c.spring.k);
    for (const [name, j] of Object.entries(c.joints)) all.set(`${c.side} joint ${name}`, j.k);
    all.set(`${c.side} bearing`, c.bearing.k);
  }
  return all;
}

/** What is stiffened now: the first words of those names. */
function stiffened(m: AxleModel, before: Map<string, number>): string[] {
  const now = stiffness(m);
  expect(now.size).toBe(before.size);
  const parts = new Map<string, number[]>();
  for (const [name, v] of now) {
    const part = name.replace(/,.*| joint.*| bearing/, (w) => (w.startsWith(",") ? "" : " joints"));
    parts.set(part, [...(parts.get(part) ?? []), v / before.get(name)!]);
  }
  const out: string[] = [];
  for (const [part, times] of parts) {
    if (times.every((t) => t === 1)) continue;
    for (const t of times) expectRel(t, 1000, 1e-12, `${part}: times stiffer`);
    out.push(part);
  }
  return out.sort();
}

/** Asks why the car does not stand, of one that stands as soon as `holds` finds what it wants among the stiffened parts. */
function asked(holds: (parts: string[]) => boolean, ended: number | null = null): { why: NoEquilibrium; tries: string[][] } {
  const m = car();
  const before = stiffness(m);
  const tries: string[][] = [];
  const stands = (): boolean => {
    const parts = stiffened(m, before);
    tries.push(parts);
    return holds(parts);
  };
  const why = diagnoseRest(m, REST, stands, ended);
  expect(stiffness(m), "everything is put back").toEqual(before);
  return { why, tries };
}

const UPPER = ["left upper arm", "right upper arm"];
const LOWER = ["left lower arm", "right lower arm"];
const ARMS = [...LOWER, ...UPPER].sort();
const SPRINGS = ["left spring", "right spring"];
const JOINTS = ["left joints", "right joints"];
const among = (parts: string[], ...wanted: string[]): boolean => wanted.every((w) => parts.includes(w));

describe("a car that does not even stand", () => {
  it("is tried again with what may give way, stiffened a thousand times, one after the other", () => {
    const { why, tries } = asked(() => false);
    expect(tries).toEqual([UPPER, LOWER, ARMS, SPRINGS, JOINTS]);
    expect(why).toEqual({
      kind: "unstable",
      message: "The suspension does not hold the car up: it finds no steady position under its own weight.",
      atLoad: REST,
    });
  });

  it("is unsettled where none of them shows and the search was ended by its bound", () => {
    const { why } = asked(() => false, 2500);
    expect(why.kind).toBe("unsettled");
    expect(why.message).toMatch(/^No steady position was found under its own weight; the search was ended after 2500 steps/);
  });

  it("has one arm that buckles", () => {
    for (const name of ["upper", "lower"] as const)
      for (const side of ["left", "right"] as const) {
        const { why } = asked((p) => among(p, `${side} ${name} arm`), 2500);
        expect(why).toEqual({ kind: "buckles", message: `The ${side} ${name} arm buckles under the car's own weight.`, atLoad: REST, side, arm: name });
      }
  });

  it("has a pair of arms that buckles", () => {
    for (const name of ["upper", "lower"] as const) {
      const { why, tries } = asked((p) => among(p, `left ${name} arm`, `right ${name} arm`));
      expect(why).toEqual({ kind: "buckles", message: `The ${name} arms buckle under the car's own weight.`, atLoad: REST, arm: name });
      // each alone was tried too
      expect(tries.slice(-2)).toEqual([[`left ${name} arm`], [`right ${name} arm`]]);
    }
  });

  it("has arms that buckle all together", () => {
    expect(asked((p) => among(p, ...ARMS)).why).toEqual({ kind: "buckles", message: "The arms buckle under the car's own weight.", atLoad: REST });
  });

  it("has springs that are too soft where they sit", () => {
    const { why } = asked((p) => among(p, ...SPRINGS), 2500);
    expect([why.kind, why.side]).toEqual(["springOutOfReach", undefined]);
    expect(why.message).toMatch(/^The springs cannot carry the car: where they sit they are too soft/);
  });

  it("has joints or bearings that are too soft", () => {
    const { why } = asked((p) => among(p, ...JOINTS), 2500);
    expect(why.kind).toBe("unstable");
    expect(why.message).toMatch(/^The wheels fold under the car's own weight: joints or wheel bearings/);
  });

  it("is put back to what it was when a try breaks", () => {
    for (const nth of [1, 2, 3, 4, 5]) {
      const m = car();
      const before = stiffness(m);
      let n = 0;
      const breaks = (): boolean => {
        if (++n === nth) throw new Error("broken");
        return false;
      };
      expect(() => diagnoseRest(m, REST, breaks, null)).toThrow("broken");
      expect(stiffness(m)).toEqual(before);
    }
  });
});

describe("a spring out of reach", () => {
  const never = (): never => expect.fail("needs no further look");
  // from (76, 88) to 0.6 of the lower arm from (48, 32) to (120, 28), that is (91.2, 29.6): 60.344 mm by hand
  const BUILT_MM = 60.344;

  it("could not carry its half of the body if it were pressed together altogether", () => {
    for (const side of ["left", "right"] as const) {
      const m = car();
      const { spring } = cornerModel(m, side);
      spring.k = (0.99 * m.bodyWeight) / 2 / spring.free;
      expect(diagnoseRest(m, REST, never, null)).toEqual({
        kind: "springOutOfReach",
        message: `The ${side} spring cannot carry the car: it is out of reach, 68 mm long and 60 mm from its seat to its top.`,
        atLoad: REST,
        side,
      });
      spring.k = (1.01 * m.bodyWeight) / 2 / spring.free;
      expect(diagnoseRest(m, REST, () => false, null).kind).toBe("unstable");
    }
  });

  it("is shorter than half the way from its seat to its top", () => {
    for (const side of ["left", "right"] as const) {
      const m = car();
      const { spring } = cornerModel(m, side);
      spring.k = 1000;
      spring.free = 0.499 * BUILT_MM;
      expect(diagnoseRest(m, REST, never, 2500)).toMatchObject({ kind: "springOutOfReach", side });
      spring.free = 0.501 * BUILT_MM;
      expect(diagnoseRest(m, REST, () => false, null).kind).toBe("unstable");
    }
  });
});
