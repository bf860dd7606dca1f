import { describe, expect, it } from "vitest";
import { normalCdf, normalQuantile } from "../../../src/core/numerics/distributions.ts";
import { blurred, type Posterior, posterior, quantileOf, type SeenWithin } from "../../../src/core/numerics/posterior.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { expectAbs } from "../../support/close.ts";

const normalDensity = (z: number): number => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
const NORMAL = { law: "normal", mean: 85, sd: 15 } as const;
const LOG_NORMAL = { law: "log-normal", mean: 85, sd: 30 } as const;

describe("the belief about a part", () => {
  it("is the prior as long as nothing was seen", () => {
    const normal = posterior(NORMAL, []);
    expectAbs(normal.mean, 85, 1e-6, "mean, N");
    expectAbs(normal.sd, 15, 1e-5, "sd, N");
    expectAbs(quantileOf(normal, 0.025), 85 - 1.959964 * 15, 1e-3, "2.5 % quantile, N");
    expectAbs(normal.logEvidence, 0, 1e-8, "log evidence");
    const log = posterior(LOG_NORMAL, []);
    expectAbs(log.mean, 85, 1e-6, "mean, N");
    expectAbs(log.sd, 30, 1e-4, "sd, N");
    // median of a log-normal law: mean/√(1 + variation²)
    expectAbs(quantileOf(log, 0.5), 85 / Math.sqrt(1 + (30 / 85) ** 2), 1e-3, "median, N");
  });

  it("weighs a measured strength by the inverse squares of the deviations", () => {
    // 1/15² and 1/3²: mean (85/225 + 70/9)/(1/225 + 1/9), variance 1/(1/225 + 1/9)
    const p = posterior(NORMAL, [{ kind: "exact", at: 70, sd: 3 }]);
    expectAbs(p.mean, (85 / 225 + 70 / 9) / (1 / 225 + 1 / 9), 1e-6, "mean, N");
    expectAbs(p.sd, Math.sqrt(1 / (1 / 225 + 1 / 9)), 1e-6, "sd, N");
    // evidence: the density of 70 in a normal law of both variances
    expectAbs(p.logEvidence, Math.log(normalDensity((70 - 85) / Math.hypot(15, 3)) / Math.hypot(15, 3)), 1e-7, "log evidence");
  });

  it("after one run that held has the mean and spread of the skew-normal law (A. Azzalini, Scand. J. Statist. 12 (1985) 171-178)", () => {
    for (const [at, sd] of [
      [70, 5],
      [100, 8],
      [150, 2],
    ] as const) {
      const both = Math.hypot(15, sd);
      const alpha = (85 - at) / both;
      const hazard = normalDensity(alpha) / normalCdf(alpha);
      const p = posterior(NORMAL, [{ kind: "held", at, sd }]);
      expectAbs(p.mean, 85 + (225 / both) * hazard, 1e-5, `mean, N, held at ${at}`);
      expectAbs(p.sd, Math.sqrt(225 - (225 ** 2 / both ** 2) * hazard * (alpha + hazard)), 1e-5, `sd, N, held at ${at}`);
      expectAbs(p.logEvidence, Math.log(normalCdf(alpha)), 1e-6, "log evidence");
      // a part that gave is the mirror image about the prior's mean
      const mirrored = posterior(NORMAL, [{ kind: "gave", at: 170 - at, sd }]);
      expectAbs(mirrored.mean, 170 - p.mean, 1e-6, "mean of the mirror image, N");
    }
  });

  it("with the load known exactly is the prior cut off there", () => {
    const p = posterior(NORMAL, [
      { kind: "held", at: 80, sd: 0 },
      { kind: "gave", at: 100, sd: 0 },
    ]);
    const [low, high] = [normalCdf(-5 / 15), normalCdf(1)];
    expectAbs(quantileOf(p, 0.5), 85 + 15 * normalQuantile((low + high) / 2), 0.02, "median, N");
    expect(quantileOf(p, 1e-6)).toBeGreaterThanOrEqual(79.9);
    expect(quantileOf(p, 1 - 1e-6)).toBeLessThanOrEqual(100.1);
    const between = posterior(NORMAL, [{ kind: "between", low: 80, high: 100, sd: 1e-3 }]);
    expectAbs(between.mean, p.mean, 0.03, "mean of the interval, N");
    expectAbs(between.logEvidence, Math.log(high - low), 1e-3, "log evidence");
  });

  it("with all loads off by one same unknown amount knows the strength no better than that amount", () => {
    // two measured strengths: variance of their mean 9/2 and of the common fault 16
    const seen = [68, 72].map((at): SeenWithin => ({ kind: "exact", at, sd: 3 }));
    const p = posterior(NORMAL, seen, 4);
    const variance = 9 / 2 + 16;
    expectAbs(p.mean, (85 / 225 + 70 / variance) / (1 / 225 + 1 / variance), 1e-3, "mean, N");
    expectAbs(p.sd, Math.sqrt(1 / (1 / 225 + 1 / variance)), 1e-3, "sd, N");
    // a single run that held: as if it were less sharp by the same
    const held = posterior(NORMAL, [{ kind: "held", at: 90, sd: 3 }], 4);
    const plain = posterior(NORMAL, [{ kind: "held", at: 90, sd: 5 }]);
    expectAbs(held.mean, plain.mean, 1e-3, "mean, N");
    expectAbs(quantileOf(held, 0.025), quantileOf(plain, 0.025), 0.01, "2.5 % quantile, N");
    expectAbs(held.logEvidence, plain.logEvidence, 1e-4, "log evidence");
  });

  it("does not lose itself where the runs contradict it", () => {
    const p = posterior(NORMAL, [
      { kind: "held", at: 400, sd: 4 },
      { kind: "held", at: 395, sd: 4 },
    ]);
    expect(p.mean).toBeGreaterThan(380);
    expect(p.mean).toBeLessThan(410);
    expect(p.logEvidence).toBeLessThan(-150);
    expect(Number.isFinite(p.sd) && p.sd > 0).toBe(true);
  });

  it("holds the true strength in 95 of 100 of its 95 % ranges", () => {
    const random = createRandom(21);
    for (const prior of [NORMAL, LOG_NORMAL]) {
      const tries = prior === NORMAL ? 1000 : 500;
      let inside = 0;
      const spread = Math.sqrt(Math.log1p((prior.sd / prior.mean) ** 2));
      for (let i = 0; i < tries; i++) {
        const z = random.normal();
        const truth = prior.law === "normal" ? prior.mean + prior.sd * z : prior.mean * Math.exp(spread * z - spread ** 2 / 2);
        const seen = [60, 75, 90, 70].map((at): SeenWithin => ({ kind: truth > at + 6 * random.normal() ? "held" : "gave", at, sd: 6 }));
        const p: Posterior = posterior(prior, seen);
        if (quantileOf(p, 0.025) <= truth && truth <= quantileOf(p, 0.975)) inside++;
      }
      expectAbs(inside / tries, 0.95, 0.02, `share inside, ${prior.law}`);
    }
  });
});

describe("a belief with a fault upon it", () => {
  it("normal, 10 ± 3 with a fault of ± 4: 10 ± 5, 95 % from 0.20018 to 19.79982 (1.959964 times 5)", () => {
    const p = blurred(posterior({ law: "normal", mean: 10, sd: 3 }, []), 4);
    expectAbs(p.mean, 10, 1e-6, "mean");
    expectAbs(p.sd, 5, 1e-5, "sd");
    expectAbs(quantileOf(p, 0.025), 0.20018, 2e-3, "lower end");
    expectAbs(quantileOf(p, 0.975), 19.79982, 2e-3, "upper end");
  });
});
