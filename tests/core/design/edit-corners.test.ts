import { describe, expect, it } from "vitest";
import { editCorners } from "../../../src/core/design/edit-corners.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Corner } from "../../../src/core/design/types.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const stiffer = (c: Corner): Corner => ({ ...c, spring: { ...c.spring, rateNPerMm: c.spring.rateNPerMm + 1 } });

describe("an edit of both corners", () => {
  it.each(SHIPPED)("changes both sides of %s as they stand, and nothing else", (file) => {
    const s = shipped(file);
    const out = editCorners(s, stiffer);
    for (const side of ["left", "right"] as const) expect(cornerOf(out, side)).toEqual(stiffer(cornerOf(s, side)));
    expect({ ...out, corner: 0, left: 0, right: 0 }).toEqual({ ...s, corner: 0, left: 0, right: 0 });
  });

  it("that changes nothing gives the scenario back, overrides and all", () => {
    for (const file of SHIPPED) {
      const s = shipped(file);
      const out = editCorners(s, (c) => c);
      for (const side of ["left", "right"] as const) expect(cornerOf(out, side)).toEqual(cornerOf(s, side));
    }
    expect(editCorners(shipped("heavy-forked.json"), (c) => c).left).toEqual({});
  });

  it("may change a choice to another kind on one side alone", () => {
    const s = shipped("heavy-forked.json");
    const seat = { on: "hub" as const, sMm: 116, zMm: 62 };
    const out = editCorners(s, (c, side) => (side === "left" ? { ...c, spring: { ...c.spring, seat } } : c));
    expect(cornerOf(out, "left").spring.seat).toEqual(seat);
    expect(cornerOf(out, "right")).toEqual(cornerOf(s, "right"));
  });

  it("leaves its argument alone", () => {
    const s = shipped("asymmetric.json");
    const before = JSON.stringify(s);
    editCorners(s, stiffer);
    expect(JSON.stringify(s)).toBe(before);
  });
});
