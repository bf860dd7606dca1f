import { describe, expect, it } from "vitest";
import { readQuantity } from "../../src/core/quantity.ts";
import { rangeWords } from "../../src/view/number-range.ts";

const value = (text: string, unit: string, kind?: string, pitch: number | null = null): number => {
  const read = readQuantity(text, unit, kind, pitch);
  if (!read.ok) throw new Error(read.message);
  return read.value;
};
const fault = (text: string, unit: string): string => {
  const read = readQuantity(text, unit);
  return read.ok ? `read as ${read.value}` : read.message;
};

describe("a number as people type it", () => {
  // expected values: definitions of the units (SI brochure; inch 25.4 mm by ISO 31), written out by hand
  it.each([
    ["1,8", "kg", 1.8],
    ["1.8", "kg", 1.8],
    [",5", "mm", 0.5],
    ["4,", "mm", 4],
    ["−3", "°", -3],
    ["- 3", "°", -3],
    ["+2.5°", "°", 2.5],
    ["1,65 kg", "kg", 1.65],
    ["1650 g", "kg", 1.65],
    ["1 650 g", "kg", 1.65],
    ["4\u2009500\u202fg", "kg", 4.5],
    ["1.234,5", "mm", 1234.5],
    ["1,234.5", "mm", 1234.5],
    ["8 kg", "N", 78.4532],
    ["500 g", "N", 4.903325],
    ["85 n", "N", 85],
    ["2 cm", "mm", 20],
    ["0,3 in", "mm", 7.62],
    ["600 cm", "m", 6],
    ["0.02 m", "mm", 20],
    ["36 km/h", "km/h", 36],
    ["10 m/s", "km/h", 36],
    ["260 Nmm/deg", "N·mm/°", 260],
    ["0.26 N·m/°", "N·mm/°", 260],
    ["2,3 N/mm", "N/mm", 2.3],
    ["2300 N/m", "N/mm", 2.3],
    ["2.1 GPa", "N/mm²", 2100],
    ["90 s", "min", 1.5],
    ["30 %", "%", 30],
    ["7", "", 7],
  ])("%s in %s", (text, unit, expected) => {
    expect(value(text, unit)).toBeCloseTo(expected, 9);
  });

  it("takes lengths in holes where the pitch is known", () => {
    expect(value("4,5 holes", "mm", undefined, 8)).toBe(36);
    expect(value("1 hole", "mm", undefined, 10)).toBe(10);
    expect(fault("2 holes", "mm")).toMatch(/“holes” is no unit here/);
  });

  it("takes g as an acceleration where the field says so", () => {
    expect(value("0,8 g", "g", "acceleration")).toBe(0.8);
    expect(value("9.80665 m/s²", "g", "acceleration")).toBeCloseTo(1, 12);
  });

  it.each([
    ["", "kg", "a number is wanted"],
    ["heavy", "kg", "“heavy” is no number"],
    ["1 2 3", "kg", "“1 2 3” is no number"],
    ["1,2,3", "kg", "“1,2,3” is no number"],
    ["1.2.3", "kg", "“1.2.3” is no number"],
    ["12,34.5", "kg", "“12,34.5” is no number"],
    ["5 lb", "kg", "“lb” is no unit here; kg, g"],
    ["8 N", "kg", "“N” is no unit here; kg, g"],
    ["3 mm", "°", "“mm” is no unit here; °, deg, degrees, rad"],
    ["1e3", "mm", "“e3” is no unit here; mm, cm, m, in"],
    ["Infinity", "mm", "“Infinity” is no number"],
  ])("refuses %s in %s with its reason", (text, unit, message) => {
    expect(fault(text, unit)).toBe(message);
  });

  it("says what is allowed with as many figures as there are", () => {
    expect(rangeWords(0.05, 150, "mm")).toBe("0.05 to 150\u2009mm");
    expect(rangeWords(1, 4, "")).toBe("1 to 4");
  });
});
