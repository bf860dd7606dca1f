import { describe, expect, it } from "vitest";
import { heldWords } from "../../../src/core/limits/held-words.ts";

// the sentences are written out by hand, as a builder would say them
describe("what is asked for and what holds", () => {
  it.each([
    ["152", "85", "N", "152 N, holds 85 N"],
    ["21.4", "40", "N/mm²", "21.4 N/mm², holds 40 N/mm²"],
    ["131", "62", "K above the air", "131 K, holds 62 K above the air"],
    ["0.06", "0.05", "MPa·m/s", "0.06, holds 0.05 MPa·m/s"],
    ["6.6", "8.0", "°", "6.6°, holds 8.0°"],
  ])("%s and %s %s", (demand, capacity, unit, words) => expect(heldWords(null, demand, capacity, unit, " ")).toBe(words));
});
