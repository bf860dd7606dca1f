import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Site, startSite, takeBack, toMap, undoName } from "./site.ts";

/** a busy machine may take its time for a frame */
const WAIT = { timeout: 60_000 };
let site: Site;
/** one page for all tests */
let page: Page;

beforeAll(async () => {
  site = await startSite();
  ({ page } = await site.open());
  await toMap(page);
  await page.locator(".drive summary").click();
});
afterAll(async () => {
  await site.close();
});

describe("the drive", () => {
  it("one more stage of 24 on 42 teeth slows the car down, and undo brings it back", async () => {
    const free = async (): Promise<number> => Number.parseFloat((await page.locator(".drive-facts dd").nth(1).textContent()) ?? "");
    await expect.poll(free, WAIT).toBeGreaterThan(0);
    const before = await free();
    await page.locator("[data-act=add-stage]").click();
    const stage = page.locator(".drive-stages li").nth(1);
    for (const [label, value] of [
      ["driving, teeth", "24"],
      ["driven, teeth", "42"],
    ] as const) {
      await stage.getByLabel(label).fill(value);
      await stage.getByLabel(label).press("Enter");
      await expect.poll(() => undoName(page), WAIT).toContain(value);
    }
    // common practice of the trade, no published source: 24 teeth driving 42 divide the speed by 1.75
    await expect.poll(async () => before / (await free()), WAIT).toBeCloseTo(1.75, 1);
    await stage.getByRole("button").click();
    await expect.poll(free, WAIT).toBe(before);
  });

  it("opens and closes at every press, while the map is still being worked out", async () => {
    const drive = page.locator("details.drive");
    await page.locator(".map-shock .ruler").focus();
    for (let i = 1; i <= 12; i++) {
      await page.keyboard.press(i % 2 ? "ArrowRight" : "ArrowLeft");
      await drive.locator("summary").click();
      await page.waitForTimeout(60);
      expect(await drive.evaluate((d) => (d as HTMLDetailsElement).open), `press ${i}`).toBe(i % 2 === 0);
      await page.locator(".map-shock .ruler").focus();
    }
  });

  it("refuses a number out of range and keeps the old one, and takes the top speed that was driven", async () => {
    await takeBack(page);
    const field = page.getByLabel("driven wheels", { exact: true });
    // the page fills its fields a frame after they are opened, and leaves alone what is being typed
    await expect.poll(() => field.inputValue(), WAIT).toMatch(/^\d/);
    await field.fill("99");
    await field.press("Enter");
    await expect
      .poll(() => page.locator(".number-fault:not(:empty)").allTextContents(), WAIT)
      .toEqual([expect.stringMatching(/^allowed: a whole number, 1 to 16; it stays \d+$/)]);
    expect(await undoName(page)).toBe("Nothing to undo");
    // the speed really driven has a place of its own, which leaves the motors' numbers alone and stands on the map
    const byMotors = await page.locator(".drive-facts dd").first().textContent();
    await page.getByLabel("top speed driven, km/h", { exact: true }).fill("18,5");
    await page.getByLabel("top speed driven, km/h", { exact: true }).press("Enter");
    await expect.poll(() => page.locator(".drive-facts dd").first().textContent(), WAIT).toMatch(/^18\.5.km\/h$/);
    await expect.poll(() => page.locator(".drive-facts dd").nth(1).textContent(), WAIT).toBe(byMotors);
    await expect.poll(() => page.locator(".map-sentence").first().textContent(), WAIT).toMatch(/The fastest you drove is 18\.5.km\/h/);
    await page.locator("[data-act=not-driven]").click();
    await expect.poll(() => page.locator(".drive-facts dd").first().textContent(), WAIT).toBe(byMotors);
  });

  it("pushes and brakes: the map's choice is the load's own, and the axle's rulers set it", async () => {
    await takeBack(page);
    const driven = page.locator(".map-driven li");
    // each way of driving has its speed and what gives
    await expect
      .poll(() => driven.allTextContents(), WAIT)
      .toEqual([/^coasting/, /^full throttle/, /^hard braking/].map((w) => expect.stringMatching(new RegExp(`${w.source}\\d+\\.\\d.* first`))));
    await page.locator("[data-driving=hardBraking]").click();
    await expect.poll(() => undoName(page), WAIT).toBe("Undo: brake hard");
    await expect.poll(() => page.locator("[data-driving=hardBraking]").getAttribute("aria-pressed"), WAIT).toBe("true");
    await page.locator("[data-view=axle]").first().click();
    const brake = page.getByRole("slider", { name: "braking in g" });
    await expect.poll(() => brake.getAttribute("aria-valuetext"), WAIT).toMatch(/^1\.05.g$/);
    await brake.focus();
    await page.keyboard.press("Home");
    const throttle = page.getByRole("slider", { name: "throttle in %" });
    await throttle.focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => undoName(page), WAIT).toMatch(/^Undo: throttle to 20.%$/);
    // A and B are charged for what they give along the road
    await expect.poll(() => page.locator(".compare").textContent(), WAIT).toMatch(/Shift under the push, mm/);
  });
});
