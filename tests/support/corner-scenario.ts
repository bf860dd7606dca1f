import { checkScenario } from "../../src/core/design/check.ts";
import { ARM_LAYOUTS, type Load, type Scenario } from "../../src/core/design/types.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { randomScenario } from "./arbitrary-scenario.ts";

/**
 * Cars at the corners of the schema: a sensible car of which some to most numbers are moved to an end of their range, next to an end, or
 * anywhere between by powers of ten. Whatever the cross-checks refuse is taken back, so that every car is a valid one.
 */

/** Share of a car's numbers that are moved; each car takes one of these. */
const SHARES = [0.02, 0.05, 0.12, 0.3, 0.7] as const;

type Node = Record<string, unknown> | unknown[];

/** Paths of all numbers and switches below `at`, each with its holder. */
function* leaves(at: Node, path: string): Generator<{ holder: Node; key: string | number; path: string; value: unknown }> {
  const entries: [string | number, unknown][] = Array.isArray(at) ? [...at.entries()] : Object.entries(at);
  for (const [key, value] of entries) {
    const here = typeof key === "number" ? `${path}[${key}]` : path === "" ? key : `${path}.${key}`;
    if (value !== null && typeof value === "object") yield* leaves(value as Node, here);
    else if (typeof value === "number" || typeof value === "boolean" || key === "layout") yield { holder: at, key, path: here, value };
  }
}

/** The same seed gives the same scenario. */
export function cornerScenario(seed: number): Scenario {
  const { next } = createRandom(seed + 7_000_000);
  const s = structuredClone(randomScenario(seed));
  const share = SHARES[Math.floor(next() * SHARES.length)]!;
  for (const part of ["corner", "left", "right", "body", "antiRollBar"] as const) {
    // numbers of other parts never reach the mechanics' search
    for (const { holder, key, path, value } of [...leaves(s[part] as unknown as Node, part)]) {
      if (next() >= share) continue;
      const old = value;
      (holder as Record<string | number, unknown>)[key] = moved(s, path, value, next);
      // what was laid over one another is known by its objects, which are changed in place here
      if (checkScenario(structuredClone(s)).length > 0) (holder as Record<string | number, unknown>)[key] = old;
    }
  }
  return s;
}

function moved(s: Scenario, path: string, value: unknown, next: () => number): unknown {
  if (typeof value === "boolean") return !value;
  if (typeof value === "string") return ARM_LAYOUTS[Math.floor(next() * ARM_LAYOUTS.length)]!;
  const r = rangeOf(path, s);
  if (!r) return value;
  const way = Math.floor(next() * 6);
  const t = next();
  const between = (): number => {
    if (way === 3) return r.min + (r.max - r.min) * t;
    if (way === 4) return (value as number) * (0.1 + 1.9 * t);
    // powers of ten between the ends
    const low = r.min > 0 ? r.min : r.max * 1e-6;
    return r.min < 0 ? r.min + (r.max - r.min) * t : low * (r.max / low) ** t;
  };
  const at = way === 0 ? r.min : way === 1 ? r.max : way === 2 && t < 0.5 ? r.min + 1e-3 * (r.max - r.min) : between();
  const clamped = Math.min(r.max, Math.max(r.min, at));
  return r.whole ? Math.round(clamped) : clamped;
}

/** Loads of a generated car: standing, in a curve, at the corners of what may be asked for. */
export function cornerLoads(seed: number): Load[] {
  const { next } = createRandom(seed + 8_000_000);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const bump = (): number => pick([0, 0, -60, 60, 120 * next() - 60]);
  return [
    { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 },
    { lateralG: pick([-3, 3, 6 * next() - 3]), bumpLeftMm: bump(), bumpRightMm: bump() },
    { lateralG: pick([0, -0.8, 2 * next() - 1]), bumpLeftMm: bump(), bumpRightMm: bump() },
  ];
}
