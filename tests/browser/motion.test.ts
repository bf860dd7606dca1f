import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Site, startSite } from "./site.ts";

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const WAIT_MS = 60_000;
let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

const settled = (page: Page): Promise<unknown> => page.waitForSelector('.motion-sheet[aria-busy="false"] .story-row', { timeout: WAIT_MS });

async function openMotion(options: Parameters<Site["open"]>[0] = {}): Promise<{ page: Page; complaints: string[] }> {
  const { page, complaints } = await site.open(options);
  const narrow = (page.viewportSize()?.width ?? 1440) < 700;
  await page.locator(`${narrow ? ".foot-nav" : ".views"} button`, { hasText: "Motion" }).click();
  await settled(page);
  return { page, complaints };
}

const timeOf = async (page: Page): Promise<number> => Number(await page.locator(".time-axis").getAttribute("aria-valuenow"));

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(readFileSync(AXE, "utf8"));
  const found = await page.evaluate(() =>
    (window as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe.run(),
  );
  return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 160)}`));
}

/** Numbers of a drawn path, to tell whether a picture changed. */
const wheelLabels = (page: Page): Promise<string> => page.locator(".motion-drawing .labels").innerHTML();

describe("a run", () => {
  it("is recorded, names what came off with its numbers, says it once, and complains of nothing", async () => {
    const { page, complaints } = await openMotion();
    expect(await page.locator(".motion-title").textContent()).toBe("One bump");
    expect(await page.locator(".motion-hero .hero-number").textContent()).toMatch(/^×\d\.\d$/);
    const loud = page.locator(".story-row.loud").first();
    expect(await loud.textContent()).toMatch(/^\d\.\d\dsright wheel came off: hub lip, \d+ of 85\u2009N$/);
    await expect.poll(() => page.locator(".sr[role=status]").textContent(), { timeout: 5000 }).toMatch(/^The right wheel came off at \d\.\d\d s: hub lip/);
    expect(await page.locator(".motion-drawing .label.gives text").first().textContent()).toBe("right wheel came off");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("is scrubbed by keys, sample by sample, to both ends", async () => {
    const { page } = await openMotion();
    const axis = page.locator(".time-axis");
    await axis.focus();
    await page.keyboard.press("Home");
    await expect.poll(() => timeOf(page)).toBe(0);
    const atStart = await wheelLabels(page);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => timeOf(page)).toBeCloseTo(1 / 240, 3);
    await page.keyboard.press("PageUp");
    await expect.poll(() => timeOf(page)).toBeCloseTo(0.1 + 1 / 240, 2);
    await page.keyboard.press("End");
    const end = Number(await axis.getAttribute("aria-valuemax"));
    await expect.poll(() => timeOf(page)).toBeCloseTo(end, 3);
    expect(await wheelLabels(page)).not.toBe(atStart);
    await page.context().close();
  });

  it("plays, pauses, and steps by its buttons; the clock stands still while it is paused", async () => {
    const { page } = await openMotion();
    const play = page.locator(".transport.play");
    await page.locator(".time-axis").focus();
    await page.keyboard.press("Home");
    await play.click();
    await expect.poll(() => timeOf(page), { timeout: 10_000 }).toBeGreaterThan(0.002);
    expect(await play.getAttribute("aria-label")).toBe("pause");
    await play.click();
    expect(await play.getAttribute("aria-label")).toBe("play");
    await page.waitForTimeout(150);
    const stopped = await timeOf(page);
    const frames = await page.evaluate(() => performance.getEntriesByName("wheelstay-motion-frame").length);
    await page.waitForTimeout(400);
    expect(await timeOf(page)).toBe(stopped);
    expect(await page.evaluate(() => performance.getEntriesByName("wheelstay-motion-frame").length)).toBe(frames);
    await page.getByRole("button", { name: "one sample on" }).click();
    await expect.poll(() => timeOf(page)).toBeGreaterThan(stopped);
    await page.context().close();
  });

  it("is dragged along by the mouse, and goes to an event that is pressed", async () => {
    const { page } = await openMotion();
    const box = (await page.locator(".time-axis").boundingBox())!;
    await page.mouse.move(box.x + 160, box.y + 26);
    await page.mouse.down();
    await page.mouse.move(box.x + 420, box.y + 26, { steps: 4 });
    await page.mouse.up();
    const dragged = await timeOf(page);
    expect(dragged).toBeGreaterThan(0.05);
    const row = page.locator(".story-row").first();
    await row.click();
    await expect.poll(() => timeOf(page)).toBeCloseTo(Number(await row.locator("b").textContent()), 1);
    await page.context().close();
  });

  it("changes with its numbers, and another one can be chosen", async () => {
    const { page } = await openMotion();
    const before = await page.locator(".motion-hero .hero-number").textContent();
    await page.locator('[data-number="heightMm"]').fill("1");
    await expect.poll(() => page.locator(".motion-hero .hero-number").textContent(), { timeout: WAIT_MS }).not.toBe(before);
    await page.locator('[data-run="steeringStep"]').click();
    await expect.poll(() => page.locator(".story-row").first().textContent(), { timeout: WAIT_MS }).toContain("steered");
    expect(await page.locator(".motion-title").textContent()).toBe("Steer into a curve");
    await page.context().close();
  });

  it("hands its road shock to the speed map", async () => {
    const { page } = await openMotion();
    const said = (await page.locator(".motion-hero .hero-number").textContent())!.slice(1);
    const use = page.locator(".use-shock");
    expect(await use.textContent()).toBe(`Use ×${said} on the speed map`);
    await use.click();
    await expect.poll(() => use.textContent()).toBe(`The speed map counts with ×${said}`);
    await page.locator(".views button", { hasText: "Speed map" }).click();
    const ruler = page.getByRole("slider", { name: /road shock/ });
    await expect.poll(() => ruler.getAttribute("aria-valuenow")).toBe(String(Number(said)));
    await page.context().close();
  });
});

describe("free play", () => {
  it("answers a road that is raised by key, and can be put back", async () => {
    const { page, complaints } = await openMotion();
    await page.locator('[data-run="free"]').click();
    const road = page.locator('.motion-sheet [data-handle="road.right"]');
    await road.waitFor({ state: "attached", timeout: WAIT_MS });
    const lean = page.locator(".motion-hero .hero-number");
    await expect.poll(() => lean.textContent(), { timeout: WAIT_MS }).toMatch(/°$/);
    const before = await lean.textContent();
    await road.focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowUp");
    await expect.poll(() => lean.textContent(), { timeout: WAIT_MS }).not.toBe(before);
    await expect.poll(() => page.locator(".motion-hero .hero-list").textContent()).toContain("road right 6.0");
    await page.locator(".run-action").click();
    await expect.poll(() => page.locator(".motion-hero .hero-list").textContent(), { timeout: WAIT_MS }).toContain("road right 0.0");
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("the page", () => {
  it.each([
    ["wide, light", 1440, 900, "light"],
    ["wide, dark", 1440, 900, "dark"],
    ["narrow, light", 390, 844, "light"],
    ["narrow, dark", 390, 844, "dark"],
  ] as const)("%s: no fault for those who cannot see or point, and nothing over the edge", async (_name, width, height, colorScheme) => {
    const { page } = await openMotion({ viewport: { width, height }, colorScheme });
    expect(await violations(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
    await page.context().close();
  });
});
