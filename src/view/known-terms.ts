import type { Term } from "./terms.ts";

/** Terms of how a value is known and how sure an answer is. */
export const KNOWN_TERMS = {
  guess: {
    plain: "guess",
    trade: "typical value",
    text: "A value of a typical part or of a rule, marked with a question mark; an answer is as good as the guesses it rests on, and those named first are worth measuring first.",
    unit: "",
  },
  entered: { plain: "entered", trade: "", text: "A value that somebody typed or drew, marked with a dot: whoever sets a value makes it entered.", unit: "" },
  measured: { plain: "measured", trade: "", text: "A value read off the car or a bench, marked \u00b1, with the day and how it was measured.", unit: "" },
  plusMinus: {
    plain: "how sure",
    trade: "standard deviation",
    text: "How far off the value may be: measured again and again, or on other parts of its kind, two of three would lie within it.",
    unit: "",
  },
  band: {
    plain: "90 % range",
    trade: "90 % interval",
    text: "Of a hundred cars that are like this one as far as it is known, ninety have their number within this range, five below and five above.",
    unit: "",
  },
  share: {
    plain: "what it hangs on",
    trade: "share of the variance",
    text: "How much of the answer's doubt comes from each value that is not known better: with that value known exactly, this part of the doubt (its square) would be gone.",
    unit: "%",
  },
  chance: {
    plain: "chance",
    trade: "probability",
    text: "Of a hundred cars that are like this one as far as it is known, so many have it happen.",
    unit: "%",
  },
  measureNext: {
    plain: "what to measure next",
    trade: "value of information",
    text: "Bench tests by how much narrower the range of the safe speed becomes with what they tell, not by how much hangs on a value that is known already.",
    unit: "",
  },
  driveAtMost: {
    plain: "drive at most",
    trade: "quantile of the safe speed",
    text: "The speed at which something gives with the chance that you accept: slower than the plain safe speed by as much as the car is not known better.",
    unit: "km/h",
  },
} as const satisfies Readonly<Record<string, Term>>;
