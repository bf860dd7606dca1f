import { afterAll, beforeAll, expect, it } from "vitest";
import { fuzzPresses, PRESSES } from "../fuzz/presses.ts";
import { type Site, startSite } from "./site.ts";

const WALKS = 2;
let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

it("whatever is pressed, typed and dragged, what was on the screen comes back after a reload", async () => {
  const r = await fuzzPresses(site.browser, site.url)(Number(process.env["SEED"] ?? 1), WALKS);
  expect(r.faults).toEqual([]);
  expect(Object.values(r.ends).reduce((a, b) => a + b)).toBe(WALKS * PRESSES);
  expect(Object.keys(r.ends).filter((k) => k.startsWith("reload")).length).toBeGreaterThan(0);
}, 400_000);
