import type { Browser, Page } from "playwright-core";
import { median, reportMs, share } from "./timing.ts";

/** Frames that a percentile is read from, at least. */
const FRAMES = 600;
const MEDIAN_GOAL_MS = 8;
const WORST_GOAL_MS = 16;
const MEASURE = "wheelstay-motion-frame";

/** Plays the run at hand from its start, again and again, until enough frames are painted; script of each, ms. */
async function playedFrames(page: Page): Promise<number[]> {
  const out: number[] = [];
  while (out.length < FRAMES) {
    await page.locator(".time-axis").focus();
    await page.keyboard.press("Home");
    await page.waitForTimeout(300);
    await page.evaluate((name) => performance.clearMeasures(name), MEASURE);
    await page.keyboard.press("Space");
    await page.waitForTimeout(200);
    await page.waitForSelector('.transport.play[aria-label="play"]', { timeout: 60_000 });
    out.push(...(await page.evaluate((name) => performance.getEntriesByName(name).map((e) => e.duration), MEASURE)));
  }
  return out;
}

async function choose(page: Page, run: string, slow: boolean): Promise<void> {
  await page.locator(`[data-run="${run}"]`).click();
  await page.waitForTimeout(500);
  await page.waitForSelector('.motion-sheet[aria-busy="false"] .story-row', { timeout: 60_000 });
  const button = page.locator(".transport.slow");
  if ((await button.getAttribute("aria-pressed")) !== String(slow)) await button.click();
}

/** The motion view while a run plays, all traces and design B on: script per painted frame. */
export async function benchMotionFrames(browser: Browser, url: string): Promise<void> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForSelector("html[data-ready]", { state: "attached" });
  await page.locator(".views button", { hasText: "Motion" }).click();
  await page.waitForSelector('.motion-sheet[aria-busy="false"] .story-row', { timeout: 60_000 });
  for (const [run, slow, words] of [
    ["slalom", false, "playing a weave at its own speed, all traces on"],
    ["singleBump", true, "playing a lost wheel at a tenth of the speed, all traces on"],
  ] as const) {
    await choose(page, run, slow);
    const frames = await playedFrames(page);
    reportMs(`${words}: script per frame, median of ${frames.length}`, median(frames), MEDIAN_GOAL_MS);
    reportMs(`${words}: 99th percentile`, share(frames, 0.99), WORST_GOAL_MS);
  }
  await context.close();
}
