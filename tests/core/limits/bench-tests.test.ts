import { expect, it } from "vitest";
import { LIMIT_NAMES } from "../../../src/core/analysis.ts";
import type { Retention } from "../../../src/core/design/types.ts";
import { benchTest } from "../../../src/core/limits/bench-tests.ts";
import { shipped } from "../../support/shipped.ts";

it("there is a bench test of its own for every limit, every kind of hub and a car that finds no hold", () => {
  const { corner } = shipped("heavy-forked.json");
  const pinned = (kind: Retention["kind"]) => ({ ...corner, hub: { ...corner.hub, retention: { ...corner.hub.retention, kind } as Retention } });
  const told = [
    ...LIMIT_NAMES.map((n) => benchTest(n, corner)),
    ...(["crossPin", "screwedRing"] as const).map((k) => benchTest("hubRetention", pinned(k))),
    benchTest(null, corner),
  ];
  expect(new Set(told).size).toBe(told.length);
  expect(benchTest("armYield", pinned("crossPin"))).toBe(benchTest("armYield", corner));
});
