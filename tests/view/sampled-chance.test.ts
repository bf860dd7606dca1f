import { describe, expect, it } from "vitest";
import { chanceOf } from "../../src/core/doubt/chance.ts";
import { sampledChanceWords } from "../../src/view/doubt-words.ts";

describe("a sampled chance in words", () => {
  // by hand, score interval with z² = 3.841459: of none (or all) of n the other end is z²/(n + z²) off: 3.841459/515.841459 = 0.7447 %
  it.each([
    [0, 512, "0 % (0 to 0.7 %)"],
    [512, 512, "100 % (99.3 to 100 %)"],
    // 3.841459/19.841459 = 19.36 %
    [0, 16, "0 % (0 to 19 %)"],
    [16, 16, "100 % (81 to 100 %)"],
    // 3.841459/65539.841 = 0.0059 %: so many are enough
    [0, 65_536, "less than 0.1 %"],
    [65_536, 65_536, "more than 99.9 %"],
    // p = 0.05: middle (0.05 + 0.0037514)/1.0075029 = 0.0533511, half 1.959964·√(0.05·0.95/512 + 3.57e-6)/1.0075029 = 0.0191; of 25.6 no count: 26 of 512 = 5.08 %
    [26, 512, "5 % (3 to 7 %)"],
  ])("%i of %i: %s", (passed, worlds, words) => {
    expect(sampledChanceWords(chanceOf(passed, worlds))).toBe(words);
  });
});
