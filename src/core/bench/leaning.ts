import { splitPath, valueAt, withValueAt } from "../design/field-path.ts";
import { pathName } from "../design/field-words.ts";
import { homeOf } from "../design/origins.ts";
import type { BenchTest } from "../design/tried.ts";
import type { Scenario } from "../design/types.ts";
import type { BenchFit } from "./fit.ts";
import { choiceOf } from "./set-up.ts";
import { cornerOn } from "./settings.ts";
import { HALF_KNOWN } from "./student.ts";

/**
 * What a test takes from the design for known is known with a ± itself, and hands its part on to the result: each such value moved by its ±
 * moves the result, and the squares add up (GUM, JCGM 100:2008, 5.1.2; what is not told a ± is taken as exact).
 */

/** Fields that the sums of a test lean on, below the corner or from the root. */
function leansOn(s: Scenario, test: BenchTest): string[] {
  const c = cornerOn(s, test.side);
  switch (test.kind) {
    case "tyreTilt":
      return ["tyre.verticalNPerMm"];
    case "tyrePushOff":
      return c.tyre.seat.kind === "stretchedBand" ? ["tyre.seat.friction"] : ["tyre.seat.friction", "tyre.seat.bandTensionN"];
    case "hubPullOff":
      return c.hub.retention.kind === "crossPin"
        ? ["hub.retention.pinDiameterMm"]
        : c.hub.retention.kind === "screwedRing"
          ? ["hub.retention.threadRadiusMm", "hub.retention.engagedLengthMm"]
          : [];
    case "armHang": {
      const [arm, held] = [choiceOf(s, test, "arm"), choiceOf(s, test, "held")];
      if (held === "vice") return [];
      if (held === "pins") return givesOf(`${arm}Inner`);
      // of the arm's stiffness and that of its pivots one is sought, the other known beforehand
      const known = choiceOf(s, test, "sought") === "pivot" ? "material.youngMPa" : "pivotStiffnessNmmPerDeg";
      return [...givesOf(`${arm}Inner`), `${arm}Arm.${known}`];
    }
    case "armAlongRoad":
      return choiceOf(s, test, "pulledBy") === "joint" ? givesOf(`${choiceOf(s, test, "arm")}Outer`) : [];
    case "heightByTilting":
      return ["body.carMassKg", "body.axleShare", "tyre.verticalNPerMm"];
    case "wheelWeights":
      return ["body.carMassKg"];
    case "motor":
      return choiceOf(s, test, "at") === "wheel" ? s.drive.stages.map((_, i) => `drive.stages[${i}].efficiency`) : [];
    default:
      return [];
  }
}

const givesOf = (joint: string): string[] => ["pinNPerMm", "holeNPerMm", "mountNPerMm"].map((part) => `joints.${joint}.${part}`);

const ofCar = (field: string): boolean => /^(body|drive)\./.test(field);

/** The fit with the doubt of what it leans on. @param refit the same fit of a design with one value moved */
export function withLeaning(s: Scenario, test: BenchTest, fit: BenchFit, refit: (moved: Scenario) => BenchFit): BenchFit {
  if (fit.results.length === 0) return fit;
  const moves = leansOn(s, test).flatMap((field) => {
    const path = ofCar(field) ? field : homeOf(s, test.side === "both" ? "right" : test.side, field);
    const sd = s.origins[path]?.plusMinus ?? 0;
    const now = valueAt(s, splitPath(path));
    if (!(sd > 0) || typeof now !== "number") return [];
    const moved = refit(withValueAt(s, splitPath(path), now + sd)).results;
    if (moved.length !== fit.results.length) return [];
    return [{ path, by: fit.results.map((r, i) => moved[i]!.value - r.value) }];
  });
  const telling = moves.filter((m) => m.by.some((v) => v !== 0));
  if (telling.length === 0) return fit;
  const together = (i: number, j: number): number => telling.reduce((sum, m) => sum + m.by[i]! * m.by[j]!, 0);
  const sds = fit.results.map((r, i) => Math.sqrt(r.sd * r.sd + together(i, i)));
  const results = fit.results.map((r, i) => {
    const more = HALF_KNOWN * Math.sqrt(together(i, i));
    const end = (v: number): number => r.value + Math.sign(v - r.value) * Math.hypot(v - r.value, more);
    const least = Math.min(r.range95[0], r.value >= 0 ? 0 : Number.NEGATIVE_INFINITY);
    return {
      ...r,
      sd: sds[i]!,
      range95: [Math.max(least, end(r.range95[0])), end(r.range95[1])] as [number, number],
      together: Object.fromEntries(
        Object.entries(r.together).map(([path, v]) => {
          const j = fit.results.findIndex((o) => o.path === path);
          return [path, Math.max(-1, Math.min(1, (v * r.sd * fit.results[j]!.sd + together(i, j)) / (sds[i]! * sds[j]!)))];
        }),
      ),
    };
  });
  const named = telling.map((m) => pathName(m.path)).join("; ");
  return { ...fit, results, notes: [...fit.notes, `The ± holds what the design knows only with a ± of its own: ${named}.`] };
}
