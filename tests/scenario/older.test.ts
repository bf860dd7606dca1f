import { describe, expect, it } from "vitest";
import { axleMassKg, sprungMassKg, unsprungMassKg } from "../../src/core/design/mass.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { expectAbs } from "../support/close.ts";
import { shippedText } from "../support/shipped.ts";

/** Files from before the car's weight had one place: the mass on the axle's springs, and a car's mass in the drive. */

type Plain = Record<string, Record<string, unknown>>;

/** The demo as it was written then, with so much on the axle's springs; two corners of 0.35 kg below them. */
function old(sprungMassKg: unknown, carMassKg?: unknown, change: (d: Plain) => void = () => {}): unknown {
  const d = JSON.parse(shippedText("heavy-forked.json")) as Plain;
  const { carMassKg: _c, axleShare: _s, ...body } = d["body"]!;
  d["body"] = { sprungMassKg, ...body };
  if (carMassKg !== undefined) d["drive"] = { carMassKg, ...d["drive"] };
  change(d);
  return d;
}
const read = (d: unknown) => {
  const r = parseScenario(d, "old.json");
  if (!r.ok) throw new Error(r.problems.map((p) => p.message).join("\n"));
  return r.scenario;
};
const told = (d: unknown): string[] => {
  const r = parseScenario(d, "old.json");
  return r.ok ? [] : r.problems.map((p) => p.message);
};

describe("a file that tells the mass on the axle's springs", () => {
  it("is read as the whole car and this axle's share: 2.2 kg and two corners of 0.35 kg are 2.9 kg of 5.2 kg, 55.77 %", () => {
    const s = read(old(2.2, 5.2));
    expect(s.body.carMassKg).toBe(5.2);
    expectAbs(s.body.axleShare, 0.5577, 5e-5, "share");
    expect(sprungMassKg(s)).toBe(2.2);
    expectAbs(axleMassKg(s), 2.9, 1e-9, "kg");
    expect("carMassKg" in s.drive).toBe(false);
  });

  it("counts what a side carries of its own: 0.35 kg and 0.5 kg", () => {
    const s = read(old(2.2, 5.2, (d) => Object.assign(d, { right: { wheel: { unsprungMassKg: 0.5 } } })));
    expectAbs(unsprungMassKg(s), 0.85, 1e-12, "kg");
    expect(sprungMassKg(s)).toBe(2.2);
  });

  it("stood for a car of 5 kg where it had no drive", () => {
    const { body } = read(old(2.2, undefined, (d) => delete d["drive"]));
    expect(body.carMassKg).toBe(5);
    expectAbs(body.axleShare, 0.58, 1e-12, "share");
  });

  it("keeps what stands on the axle where the drive told a lighter car", () => {
    const s = read(old(2.2, 2));
    expect([s.body.axleShare, sprungMassKg(s)]).toEqual([1, 2.2]);
    expectAbs(s.body.carMassKg, 2.9, 1e-12, "kg");
  });

  it("with nothing on the springs is read, too", () => {
    expect(sprungMassKg(read(old(0, 5.2)))).toBe(0);
  });

  it("is refused with its own field and range where that is wrong, and where it tells both", () => {
    expect(told(old(45, 5.2))).toEqual(["old.json: body.sprungMassKg is 45 kg; allowed 0 to 30 kg."]);
    expect(told(old("2", 200))).toEqual([
      'old.json: body.sprungMassKg is "2"; allowed 0 to 30 kg.',
      "old.json: drive.carMassKg is 200 kg; allowed 0.05 to 100 kg.",
    ]);
    expect(told(old(2.2, undefined, (d) => Object.assign(d["body"]!, { carMassKg: 5, axleShare: 0.58 })))[0]).toMatch(
      /body\.sprungMassKg is not a known field/,
    );
  });
});
