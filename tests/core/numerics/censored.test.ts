import { describe, expect, it } from "vitest";
import { fitStrength, type Law, NORMAL, type Seen, type StrengthFit } from "../../../src/core/numerics/censored.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const held = (...at: number[]): Seen[] => at.map((x) => ({ kind: "held", at: x }));
const gave = (...at: number[]): Seen[] => at.map((x) => ({ kind: "gave", at: x }));
const exact = (...at: number[]): Seen[] => at.map((x) => ({ kind: "exact", at: x }));

function found(law: Law, seen: Seen[], scale?: number): StrengthFit {
  const fitted = fitStrength(law, seen, scale);
  if (!fitted.ok) throw new Error(fitted.no.why);
  return fitted.fit;
}

/** Logarithms of exponential (scale 1) and Weibull lives: S = exp(-e^z). */
const SMALLEST: Law = {
  density: (z) => [z - Math.exp(z), 1 - Math.exp(z), -Math.exp(z)],
  above: (z) => [-Math.exp(z), -Math.exp(z), -Math.exp(z)],
  below: (z) => {
    const p = -Math.expm1(-Math.exp(z));
    const slope = Math.exp(z - Math.exp(z)) / p;
    return [Math.log(p), slope, slope * (1 - Math.exp(z) - slope)];
  },
};

/** Weeks in remission, 6-MP group of the leukaemia trial (Gehan 1965; Cox and Oakes 1984, table 1.1). */
const LEUKAEMIA = [...exact(...[6, 6, 6, 7, 10, 13, 16, 22, 23].map(Math.log)), ...held(...[6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map(Math.log))];

describe("a strength from what held and what gave", () => {
  it("has the published rate of the leukaemia trial: 9 in 359 weeks, standard error rate/√9", () => {
    const fit = found(SMALLEST, LEUKAEMIA, 1);
    const rate = Math.exp(-fit.place);
    expectAbs(rate, 0.0250696, 5e-8, "rate, 1/week");
    expectAbs(rate * fit.placeError, 0.0083565, 5e-8, "its standard error, 1/week");
  });

  it("has the Weibull law of the same trial, scale free", () => {
    // maximum of scipy's gumbel_l logpdf and logsf (1.17.1), errors by differences of it
    const fit = found(SMALLEST, LEUKAEMIA);
    expectAbs(fit.place, 3.5194292, 1e-6, "place");
    expectAbs(fit.scale, 0.7386973, 1e-6, "scale");
    expectAbs(fit.placeError, 0.2733689, 1e-6, "error of the place");
    expectAbs(fit.scaleError, 0.2056516, 1e-6, "error of the scale");
  });

  it("has the normal strength of runs that held and pulls that were raised until it gave", () => {
    const seen = [...held(52, 60, 66, 71, 75), ...exact(82, 88, 79, 95)];
    const fit = found(NORMAL, seen);
    // worked beforehand with scipy
    expectAbs(fit.place, 86.136381, 1e-6, "mean, N");
    expectAbs(fit.scale, 5.990119, 1e-6, "sd, N");
    expectAbs(fit.logLikelihood, -12.965624, 1e-6, "log likelihood");
    expectAbs(fit.placeError, 2.935871, 2e-6, "error of the mean, N");
    expectAbs(fit.scaleError, 2.003357, 3e-6, "error of the sd, N");
  });

  it("has the normal strength where it is only known to lie above, below or between", () => {
    // maxima of scipy's norm logsf, logcdf and cdf differences
    const mixed = found(NORMAL, [...held(52, 60, 66, 71, 85), ...gave(82, 88, 79, 95)]);
    expectAbs(mixed.place, 79.303968, 1e-6, "mean, N");
    expectAbs(mixed.scale, 7.515212, 1e-6, "sd, N");
    expectAbs(mixed.placeError, 4.489091, 2e-6, "error of the mean, N");
    const between = found(NORMAL, [...held(52, 60, 84), { kind: "between", low: 70, high: 78 }, { kind: "between", low: 79, high: 90 }, ...gave(88, 79)]);
    expectAbs(between.place, 79.740911, 1e-6, "mean, N");
    expectAbs(between.scale, 6.340917, 1e-6, "sd, N");
    expectAbs(between.placeError, 3.48281, 2e-6, "error of the mean, N");
    expectAbs(between.logLikelihood, -4.091588, 1e-6, "log likelihood");
  });

  it("is mean and √(n-1)/n spread of measured strengths alone, and one between two ends is one measured when they meet", () => {
    const fit = found(NORMAL, exact(82, 88, 79, 95));
    expectRel(fit.place, 86, 1e-9, "mean, N");
    expectRel(fit.scale, Math.sqrt((16 + 4 + 49 + 81) / 4), 1e-8, "sd, N");
    const narrow = exact(82, 88, 79, 95).map((s): Seen => (s.kind === "exact" ? { kind: "between", low: s.at - 0.01, high: s.at + 0.01 } : s));
    expectAbs(found(NORMAL, narrow).place, 86, 1e-6, "mean of narrow intervals, N");
    expectAbs(found(NORMAL, narrow).scale, fit.scale, 1e-5, "sd of narrow intervals, N");
  });

  it("stays finite far out in a tail", () => {
    // halfway between what it is known to be above and below, by symmetry: log Φ(-40) and the interval from there, twice each
    const apart = found(NORMAL, [...held(400), ...gave(-400)], 10);
    expectAbs(apart.place, 0, 1e-6, "place");
    expectRel(apart.logLikelihood, 2 * -804.6084420137538, 1e-12, "log likelihood");
    const between = found(
      NORMAL,
      [
        { kind: "between", low: 400, high: 401 },
        { kind: "between", low: -401, high: -400 },
      ],
      10,
    );
    expectAbs(between.place, 0, 1e-6, "place");
    expectRel(between.logLikelihood, 2 * -804.6267881787521, 1e-10, "log likelihood of intervals");
  });

  it("says when what was seen leaves it open", () => {
    expect(fitStrength(NORMAL, held(50, 60))).toEqual({ ok: false, no: { why: "nothing gave" } });
    expect(fitStrength(NORMAL, gave(50, 60))).toEqual({ ok: false, no: { why: "nothing held" } });
    expect(fitStrength(NORMAL, [...held(50, 60), ...gave(65, 80)])).toEqual({ ok: false, no: { why: "no spread" } });
    expect(fitStrength(NORMAL, [])).toEqual({ ok: false, no: { why: "nothing gave" } });
    // with the spread known it is between the two
    const { place } = found(NORMAL, [...held(60), ...gave(70)], 4);
    expectAbs(place, 65, 1e-6, "mean, N");
  });
});
