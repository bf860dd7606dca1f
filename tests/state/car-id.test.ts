import { describe, expect, it } from "vitest";
import { carId } from "../../src/state/car-id.ts";
import { withAt } from "../../src/state/edit.ts";
import { shipped } from "../support/shipped.ts";

describe("what counts as the same car", () => {
  it("is all but its name and its line: renaming asks nothing anew", () => {
    const car = shipped("heavy-forked.json");
    const id = carId(car);
    expect(carId({ ...car, name: "mine", teaches: "" })).toBe(id);
    expect(carId(shipped("heavy-forked.json"))).toBe(id);
    const lower = withAt(car, "body.cgHeightMm", car.body.cgHeightMm - 1);
    expect(carId(lower)).not.toBe(id);
    expect(carId(withAt(lower, "body.cgHeightMm", car.body.cgHeightMm))).toBe(id);
  });
});
