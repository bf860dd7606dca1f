import { afterAll, beforeAll, expect, it } from "vitest";
import { drag, kept, lean, ready, type Site, startSite, takeBack } from "./site.ts";

/** How sure the answer is: live bands, sampled cars, chances, what to measure. One opened page for all of it. */

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(() => site.close());

/** a sample takes its time on a busy machine */
const WAIT = { timeout: 120_000 };
const numberOf = (text: string | null, pattern: RegExp): number => Number(pattern.exec((text ?? "").replaceAll("−", "-"))?.[1] ?? Number.NaN);

it("is told of every number, at rest and while a hand drags; from drawn cars where they are sampled; and on the map and the bench", async () => {
  const { page, complaints } = await site.open();
  const hero = page.locator(".hero-sure");
  await expect.poll(() => hero.textContent(), WAIT).toMatch(/^± 0\.\d+° 90 % range −?\d/);
  expect(await page.locator(".limit-list .whisker[d^=M]").count()).toBeGreaterThan(2);
  await expect.poll(() => page.locator(".safe-below").textContent(), WAIT).toMatch(/safe below \d+\.\d ± \d/);

  // while the hand holds: about the value at hand, never gone
  const place = await page.locator(".sure-numbers").boundingBox();
  await drag(page, "pin.right.upperInner", 30, 12, false);
  const held = await lean(page);
  const [low, high] = await hero.evaluate((el) =>
    (el.querySelector(".hero-range > span")?.textContent ?? "").replaceAll("−", "-").split(" to ").map(Number.parseFloat),
  );
  expect(low).toBeLessThanOrEqual(held);
  expect(high).toBeGreaterThanOrEqual(held);
  await page.mouse.up();
  await takeBack(page);
  // and nothing has moved as bands came
  expect((await page.locator(".sure-numbers").boundingBox())?.height).toBe(place?.height);

  // sampled once the page is quiet; the chance that is picked counts and is kept
  await expect.poll(() => page.locator(".sure-way").textContent(), WAIT).toBe("From 512 cars tried, their values drawn within what is known of them.");
  const most = page.locator(".sure .sure-most b");
  const speed = async (): Promise<number> => numberOf(await most.textContent(), /([\d.]+)/);
  const usual = await speed();
  await page.locator(".sure .sure-chance").selectOption("1");
  await expect.poll(speed).toBeLessThan(usual);
  await expect.poll(() => page.locator(".at-most").textContent()).toMatch(/^at most \d+\.\d \(1\.0 %\)$/);
  const careful = await speed();
  await kept(page);
  await page.reload();
  await ready(page);
  await expect.poll(() => page.locator(".sure .sure-chance").inputValue()).toBe("1");
  await page.locator('[data-sure-of="safe"]').click();
  await expect.poll(() => page.locator(".known-rows li").first().textContent(), WAIT).toMatch(/%/);

  await page.locator("[data-view=speedMap]:visible").click();
  await expect.poll(() => page.locator(".map-chances [data-chance=any]").textContent(), WAIT).toMatch(/^anything gives(more than )?[\d.]+ %/);
  expect(await page.locator(".map-picture .map-chance").count()).toBe(3);
  // the same cars as on the axle's page
  await expect.poll(async () => numberOf(await page.locator(".map-hero-sure .sure-most b").textContent(), /([\d.]+)/), WAIT).toBe(careful);

  await page.locator("[data-view=bench]:visible").click();
  await expect.poll(() => page.locator(".measure-list li").count(), WAIT).toBeGreaterThan(0);
  const first = page.locator(".measure-list .link").first();
  const kind = await first.getAttribute("data-to-test");
  await first.click();
  await expect.poll(() => page.locator(`.bench-kind-open[data-kind=${kind}]`).getAttribute("aria-current")).toBe("true");
  expect(complaints).toEqual([]);
});

it("A against B is told by the same drawn cars while it is in sight", async () => {
  const { page, complaints } = await site.open();
  await expect.poll(() => page.locator(".known-rows li").count(), WAIT).toBeGreaterThan(0);
  // one sample at a time: the other is stopped by hand, which says how far it came
  await page.locator('.sure [data-act="sampling"]:visible').click({ timeout: 60_000 });
  await expect.poll(() => page.locator(".sure .sure-progress").textContent()).toMatch(/^stopped after \d+ of 512 cars go on$/);
  await page.locator(".compare").evaluate((el) => el.scrollIntoView());
  await expect.poll(() => page.locator(".better-lines li").first().textContent(), WAIT).toMatch(/^(surely|likely) B B is safe at more speed with a chance of/);
  expect(complaints).toEqual([]);
});
