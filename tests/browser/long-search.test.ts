import { afterAll, beforeAll, expect, it } from "vitest";
import { named } from "../support/faults.ts";
import { drag, lean, ready, type Site, startSite, undoName, watch } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

interface Hooks {
  /** questions to the searching worker that are held back */
  heldBack: (() => void)[] | null;
}

it(named("how a car stands takes long to find"), async () => {
  const usual = await site.open();
  const number = await lean(usual.page);
  await usual.page.context().close();

  const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce", serviceWorkers: "block" });
  context.setDefaultTimeout(60_000);
  const page = await context.newPage();
  const complaints = watch(page);
  await page.addInitScript(() => {
    // the page's patience is over at once: its clock runs ten thousand times as fast
    const now = performance.now.bind(performance);
    performance.now = () => 1e4 * now();
    const hooks = window as unknown as Hooks;
    hooks.heldBack = null;
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (this: Worker, ...args: unknown[]) {
      const go = (): void => (post as (...a: unknown[]) => void).apply(this, args);
      const { path } = args[0] as { path?: string[] };
      if (hooks.heldBack && path?.[0] === "searchOf") hooks.heldBack.push(go);
      else go();
    };
  });
  await page.goto(site.url);
  await ready(page);
  expect(await lean(page)).toBe(number);
  const notice = page.locator(".drawing .notice");
  expect(await notice.isHidden()).toBe(true);

  await page.evaluate(() => {
    (window as unknown as Hooks).heldBack = [];
  });
  await drag(page, "pin.right.upperInner", 0, -12, false);
  await expect.poll(() => notice.textContent()).toMatch(/^Still searching for how this car stands; go on meanwhile\./);
  // the point is where it is dragged to
  await page.mouse.up();
  await expect.poll(() => undoName(page)).toMatch(/^Undo: right upper|^Undo: upper/);
  await expect.poll(() => page.locator(".reading").first().getAttribute("aria-busy")).toBe("true");
  await notice.getByRole("button", { name: "stop searching" }).click();
  await expect.poll(() => notice.textContent()).toMatch(/^The search for how this car stands was stopped\./);
  await page.evaluate(() => {
    (window as unknown as Hooks).heldBack = null;
  });
  await notice.getByRole("button", { name: "search again" }).click();
  await expect.poll(() => notice.isHidden()).toBe(true);
  await expect.poll(() => lean(page)).not.toBe(number);
  await page.locator(".undo").first().click();
  await expect.poll(() => lean(page)).toBe(number);
  // a load that only a long search finds not to hold stops all the same
  await drag(page, "cornering", 110, 0, false);
  await expect.poll(() => notice.textContent()).toMatch(/car slides here: the tyres let go at 1\.05 g/);
  await page.mouse.up();
  await expect.poll(() => page.locator(".cornering .ruler").getAttribute("aria-valuenow")).toBe("1.05");
  await expect.poll(() => page.locator(".reading.stale").count()).toBe(0);
  expect(complaints).toEqual([]);
  await context.close();
});
