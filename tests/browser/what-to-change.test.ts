import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { lean, type Site, startSite } from "./site.ts";

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(() => site.close());

/** a busy machine may take its time for a frame */
const WAIT = { timeout: 60_000 };
const degreesOf = (text: string | null): number =>
  Number(
    text
      ?.replace("°", "")
      .replace("−", "-")
      .replace(/[^\d.-]/g, ""),
  );

/** The list is whole when no progress is told beside it. */
const listWhole = (page: Page): Promise<unknown> =>
  page.waitForFunction(
    () => document.querySelector(".change-list li") !== null && document.querySelector(".map-changes .map-progress")?.hasAttribute("hidden") === true,
    undefined,
    { timeout: 120_000 },
  );

const inSight = (page: Page, selector: string): Promise<boolean> =>
  page.locator(selector).evaluate((el) => {
    const r = el.getBoundingClientRect();
    const at = document.elementFromPoint(r.left + 4, r.top + r.height / 2);
    return r.top >= 0 && r.bottom <= window.innerHeight && at !== null && (el.contains(at) || at.contains(el));
  });

describe.each([
  ["wide", { viewport: { width: 1440, height: 900 } }],
  ["narrow", { viewport: { width: 390, height: 844 }, hasTouch: true }],
] as const)("which change stands the outer wheel of the opened demo up, on a %s sheet", (_, options) => {
  it("is led to from what leaned it and from what gives first, and found from the first line, behind what helps the hub: one pin, tried as B, leans less than 2° at 0.8 g", async () => {
    const { page, complaints } = await site.open(options);
    for (const [aim, region] of [
      ["lean", ".stair"],
      ["speed", ".limits"],
    ] as const) {
      const link = page.locator(`${region} [data-change-for=${aim}]`);
      await expect.poll(() => link.textContent()).toContain("what to change first");
      await link.click();
      await page.waitForSelector(".change-list li", WAIT);
      await expect.poll(() => page.locator(".map-aim").inputValue()).toBe(aim);
      await expect.poll(() => inSight(page, ".map-changes h2"), WAIT).toBe(true);
      await page.locator("[data-view=axle]:visible").click();
      await page.waitForSelector(".hero", WAIT);
    }
    expect(await lean(page)).toBeGreaterThan(6);
    await expect.poll(() => page.locator(".load.cornering .ruler-value").textContent()).toContain("0.80");
    await page.getByRole("button", { name: "Then see what to change first." }).click();
    await page.waitForSelector(".change-list li", WAIT);
    // the way led to the list, and the list is for what gives first
    await expect.poll(() => inSight(page, ".map-changes h2"), WAIT).toBe(true);
    await expect.poll(() => page.locator(".map-aim").inputValue()).toBe("hubRetention");
    await listWhole(page);
    const leader = page.locator(".change-list li").first();
    await expect.poll(() => leader.locator(".change-title").textContent()).toBe("Hold the wheel with a screwed ring");
    await expect.poll(async () => (await page.locator(".change-worse").allTextContents()).join("")).toBe("");
    expect(await page.locator(".change-worse").count()).toBe(await page.locator(".change-list li").count());
    // for less lean no row leads that makes worse what gives first, and one that does says so at once
    await page.locator(".map-aim").selectOption("lean");
    await expect.poll(() => page.locator(".map-changes").textContent()).toContain("The outer wheel now leans 6.6° at 0.80 g.");
    await expect.poll(() => leader.locator(".change-worse").textContent()).toBe("");
    await page.locator("[data-act=all-changes]").click();
    const pin = page.locator(".change-list li", { hasText: /^Upper inner pin \d holes down/ }).first();
    await expect.poll(() => pin.locator(".change-worse").textContent()).toMatch(/^: worse for the hub lip, \d\.\d\d instead of 1\.80$/);
    await expect.poll(async () => degreesOf(await pin.locator(".change-bar text").textContent())).not.toBeNaN();
    const told = degreesOf(await pin.locator(".change-bar text").textContent());
    expect(Math.abs(told)).toBeLessThan(2);
    // one click makes it B, the next shows it
    await pin.locator("button").click();
    await page.getByRole("button", { name: /^see B on the axle/ }).click();
    await page.waitForSelector(".hero-b:not([hidden])");
    await expect.poll(async () => degreesOf(await page.locator(".hero-b").textContent()), WAIT).toBe(told);
    expect(await lean(page)).toBeGreaterThan(6);
    if (options.viewport.width < 700) await expect.poll(() => page.evaluate(() => window.scrollY)).toBe(0);
    // and as A it stands as it was told
    await page.locator("[data-act=swap]").click();
    await expect.poll(() => lean(page), WAIT).toBe(told);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("the study of changes", () => {
  it("tells how far it is and can be stopped", async () => {
    const { page } = await site.open();
    await page.getByRole("button", { name: "Then see what to change first." }).click();
    await page.waitForFunction(() => /\d+ of \d+ tried/.test(document.querySelector(".map-changes .map-progress")?.textContent ?? ""), undefined, WAIT);
    await page.locator("[data-act=stop-changes]").click();
    await expect.poll(() => page.locator(".map-changes .map-progress").innerText(), WAIT).toMatch(/^stopped after \d+ of \d+ go on/);
    const rows = await page.locator(".change-list li").count();
    await page.waitForTimeout(300);
    expect(await page.locator(".change-list li").count()).toBe(rows);
    await page.context().close();
  });
});
