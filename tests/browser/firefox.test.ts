import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { findFirefox, launchFirefox } from "../support/firefox.ts";
import { drag, lean, pictureOf, type Site, startSite, takeBack } from "./site.ts";

const found = findFirefox();
const left = "missing" in found ? found.missing : null;
if (left) console.warn(`LEFT OUT: the page in Firefox, because ${left} (Debian: apt-get install firefox-esr)`);

/** a busy machine may take its time for a frame */
const WAIT = { timeout: 60_000 };
/** What stands on each view once it has its answer. */
const ANSWERS: Record<string, string> = {
  arm: ".arm-hero .hero-number",
  speedMap: ".map-safe",
  motion: '.motion-sheet[aria-busy="false"] .story-row',
  bench: ".bench-kinds",
  report: ".report h2",
};

describe.skipIf(left !== null)(`the page in Firefox${left ? ` (left out: ${left})` : ""}`, () => {
  let site: Site;
  /** one page for all: each test begins with the car that was opened */
  let page: Page;
  let complaints: string[];
  beforeAll(async () => {
    site = await startSite(() => launchFirefox((found as { path: string }).path));
    ({ page, complaints } = await site.open());
  });
  beforeEach(() => takeBack(page));
  afterAll(async () => {
    await site.close();
  });

  const anotherLean = (page: Page, before: number): Promise<void> => expect.poll(() => lean(page), WAIT).not.toBe(before);

  it("opens on the car that fails, and complains of nothing", async () => {
    expect(Math.abs(await lean(page))).toBeGreaterThan(1);
    expect(await page.locator(".limit-list li").first().locator(".limit-number").textContent()).toMatch(/^1\.\d\d$/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
    expect(complaints).toEqual([]);
  });

  it("a pivot dragged by the mouse answers while it is dragged, and a key undoes it", async () => {
    const before = await lean(page);
    await drag(page, "pin.right.upperInner", -24, -20, false);
    await anotherLean(page, before);
    await expect.poll(() => page.locator(".labels .value text").first().textContent(), WAIT).toMatch(/^hole \d+(\.5)? out, \d+(\.5)? up$/);
    await page.mouse.up();
    await expect.poll(() => page.locator(".undo-words").first().textContent(), WAIT).toMatch(/^Undo: upper inner pin/);
    await page.keyboard.press("Control+z");
    await expect.poll(() => lean(page), WAIT).toBe(before);
    expect(complaints).toEqual([]);
  });

  it("the cornering ruler and a pin are moved by arrow keys", async () => {
    const before = await lean(page);
    const ruler = page.locator(".cornering .ruler");
    const g = Number(await ruler.getAttribute("aria-valuenow"));
    await ruler.focus();
    await page.keyboard.press("ArrowLeft");
    await expect.poll(async () => Number(await ruler.getAttribute("aria-valuenow")), WAIT).toBeLessThan(g);
    await expect.poll(() => lean(page), WAIT).toBeLessThan(before);
    const slower = await lean(page);
    const pin = page.locator('[data-handle="pin.right.lowerInner"]');
    const hole = async (): Promise<number> => Number(/hole ([\d.]+) out/.exec((await pin.getAttribute("aria-label")) ?? "")?.[1]);
    const at = await hole();
    await pin.focus();
    await page.keyboard.press("ArrowLeft");
    await expect.poll(hole, WAIT).toBe(at - 1);
    await anotherLean(page, slower);
    expect(complaints).toEqual([]);
  });

  it("every view of the bar opens and answers", async () => {
    const views = await page.locator(".views [data-view]").evaluateAll((all) => all.map((b) => b.getAttribute("data-view")));
    expect(views).toEqual(["axle", ...Object.keys(ANSWERS)]);
    for (const [view, answer] of Object.entries(ANSWERS)) {
      await page.locator(`.views [data-view=${view}]`).click();
      await page.locator(answer).first().waitFor({ state: "attached", timeout: 60_000 });
      expect(await page.locator(`.views [data-view=${view}]`).getAttribute("aria-current")).toBe("page");
      expect(complaints, view).toEqual([]);
    }
  });

  // last: what takes the picture adds a style of its own, which the page refuses with a complaint
  it("draws the car", async () => {
    await page.locator(".views [data-view=axle]").click();
    await expect.poll(async () => (await pictureOf(page, await page.locator(".stage:visible").first().screenshot())).colours, WAIT).toBeGreaterThan(50);
  });
});
