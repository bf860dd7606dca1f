import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContextOptions, Locator, Page } from "playwright-core";
import { expect, inject } from "vitest";
import { launchBrowser } from "../support/browser.ts";
import { serveFolder } from "./folder.ts";

/** The built page, served once for all files (serve.ts), and a browser to look at it. */
export interface Site {
  browser: Browser;
  url: string;
  /** opens the page in a fresh profile, nothing kept for offline; what the page complains of is collected in `complaints` */
  open(options?: BrowserContextOptions & { hash?: string }): Promise<{ page: Page; complaints: string[] }>;
  /** changes a file of the built page, as a new version would; for a site of one's own alone */
  change(file: string, how: (text: string) => string): void;
  close(): Promise<void>;
}

/**
 * A page of a test lives for seconds: the compiler's last stage and its threads beside the page cost more there than they save, a fifth to a third of
 * the page's processor time.
 */
const SHORT_LIVED = "--js-flags=--single-threaded,--no-turbofan";
const light = async (): Promise<Browser> => (await launchBrowser({ webgl: false, args: [SHORT_LIVED] })).browser;
/** A browser as people have it, where one is installed; the light one is of the same make, and less than half as dear. */
export const whole = async (): Promise<Browser> => (await launchBrowser({ webgl: false, whole: true })).browser;

/** The page served from a folder of its own, for tests that change its files. */
async function serveCopy(): Promise<{ dist: string; url: string; close(): Promise<void> }> {
  const dist = mkdtempSync(join(tmpdir(), "wheelstay-site-"));
  cpSync(inject("siteDist"), dist, { recursive: true });
  const server = await serveFolder(dist);
  return {
    dist,
    url: server.url,
    async close() {
      await server.close();
      rmSync(dist, { recursive: true, force: true });
    },
  };
}

export async function startSite(launch: () => Promise<Browser> = light, ownCopy = false): Promise<Site> {
  const own = ownCopy ? await serveCopy() : null;
  const url = own?.url ?? inject("siteUrl");
  const browser = await launch();
  return {
    browser,
    url,
    async open({ hash, ...options } = {}) {
      const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce", serviceWorkers: "block", ...options });
      // no test is failed by a slow machine's clock
      context.setDefaultTimeout(60_000);
      // so that the page tells the link itself
      await context.addInitScript(() => Object.defineProperty(navigator, "clipboard", { get: () => undefined }));
      const page = await context.newPage();
      const complaints = watch(page);
      await page.goto(`${url}${hash ? `#${hash}` : ""}`);
      await ready(page);
      return { page, complaints };
    },
    change: (file, how) => {
      if (!own) throw new Error("a file of the shared page is not to be changed");
      writeFileSync(join(own.dist, file), how(readFileSync(join(own.dist, file), "utf8")));
    },
    async close() {
      await browser.close();
      await own?.close();
    },
  };
}

/** what the browser says where a test keeps the service worker out itself */
const KEPT_OUT = "Service Worker registration blocked by Playwright";

export function watch(page: Page): string[] {
  const complaints: string[] = [];
  page.on("console", (m) => {
    if ((m.type() === "error" || m.type() === "warning") && m.text() !== KEPT_OUT) complaints.push(m.text());
  });
  page.on("pageerror", (e) => complaints.push(e.message));
  return complaints;
}

export const ready = (page: Page): Promise<unknown> => page.waitForSelector("html[data-ready]", { state: "attached" });

/** The frame that answers what was done last has been drawn. A tab behind another draws none. */
export const drawn = (page: Page): Promise<void> =>
  page.evaluate(
    () =>
      new Promise<void>((done) => {
        requestAnimationFrame(() => requestAnimationFrame(() => done()));
        setTimeout(done, 500);
      }),
  );

/** The big number, °, once the page says that it stays. */
export async function lean(page: Page): Promise<number> {
  await drawn(page);
  await page.locator('.reading[aria-busy="false"]:not(.arm-reading)').first().waitFor({ state: "attached" });
  const said = (await page.locator(".hero-number").first().textContent()) ?? "";
  return Number(said.replace("°", "").replace("−", "-"));
}

/** Where a handle is, once it stays there: the drawing makes room for what opens beside it. Each view has handles of its own. */
export async function middleOf(page: Page, handle: string): Promise<[number, number]> {
  for (let before = ""; ; ) {
    const box = await page.locator(`[data-handle="${handle}"]:visible`).boundingBox();
    if (!box) throw new Error(`${handle} is not on the page`);
    const now = `${box.x} ${box.y}`;
    if (now === before) return [box.x + box.width / 2, box.y + box.height / 2];
    before = now;
    await page.waitForTimeout(60);
  }
}

/** The picture of something once it stays the same. */
export async function stillPicture(what: Locator): Promise<Buffer> {
  for (let before = await what.screenshot(); ; ) {
    await what.page().waitForTimeout(120);
    const now = await what.screenshot();
    if (now.equals(before)) return now;
    before = now;
  }
}

/** How many different colours a picture has, and which share of it is dark, counted in the page itself. */
export async function pictureOf(page: Page, png: Buffer): Promise<{ colours: number; darkShare: number }> {
  return page.evaluate(async (base64) => {
    const img = new Image();
    img.src = `data:image/png;base64,${base64}`;
    await img.decode();
    const canvas = document.createElement("canvas");
    canvas.width = img.width;
    canvas.height = img.height;
    const c = canvas.getContext("2d") as CanvasRenderingContext2D;
    c.drawImage(img, 0, 0);
    const data = c.getImageData(0, 0, img.width, img.height).data;
    const seen = new Set<number>();
    let dark = 0;
    for (let i = 0; i < data.length; i += 4) {
      const [red, green, blue] = [data[i] as number, data[i + 1] as number, data[i + 2] as number];
      seen.add((red << 16) | (green << 8) | blue);
      if (red + green + blue < 300) dark++;
    }
    return { colours: seen.size, darkShare: dark / (data.length / 4) };
  }, png.toString("base64"));
}

interface AxeResult {
  violations: { id: string; nodes: { html: string }[] }[];
}

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

interface Axe {
  run(within: string, options: { runOnly?: string[]; rules?: Record<string, { enabled: boolean }>; resultTypes: ["violations"] }): Promise<AxeResult>;
}

/** rules for WCAG 2.2 AA that axe-core leaves out unless asked */
const ASKED = { rules: { "target-size": { enabled: true }, "label-content-name-mismatch": { enabled: true } } };
/** rules of WCAG 2.2 A and AA that look at colours */
const COLOURS = { runOnly: ["color-contrast", "link-in-text-block"] };

/**
 * On a phone bars lie over what is scrolled under them, which axe takes for small targets: in a window as tall as the view everything is seen at
 * once. Gives back the size that was; null where nothing was changed.
 */
async function seeAll(page: Page): Promise<{ width: number; height: number } | null> {
  const size = page.viewportSize();
  if (!size || size.width >= 1000) return null;
  const height = (): Promise<number> => page.evaluate(() => document.documentElement.scrollHeight);
  // what lies below may be laid out anew in a taller window
  for (let before = 0, now = await height(); now !== before; now = await height()) {
    before = now;
    await page.setViewportSize({ width: size.width, height: now });
    await page.waitForTimeout(300);
  }
  return size;
}

/** What axe-core finds wrong for those who cannot see or point: the rules of WCAG 2.2 A and AA and of good practice, or those of colours alone. */
export async function violations(page: Page, within = "html", coloursAlone = false): Promise<string[]> {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(readFileSync(AXE, "utf8"));
  const size = await seeAll(page);
  const found = await page.evaluate(([where, rules]) => (window as unknown as { axe: Axe }).axe.run(where, { ...rules, resultTypes: ["violations"] }), [
    within,
    coloursAlone ? COLOURS : ASKED,
  ] as const);
  if (size) await page.setViewportSize(size);
  return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 160)}`));
}

/** What axe finds in both themes, which differ in their colours alone (tests/view/themes.test.ts). */
export async function bothThemes(page: Page, within?: string): Promise<string[]> {
  const found = await violations(page, within);
  await page.emulateMedia({ colorScheme: "dark" });
  await page.waitForTimeout(100);
  found.push(...(await violations(page, within, true)).map((v) => `dark: ${v}`));
  await page.emulateMedia({ colorScheme: "light" });
  return found;
}

/** Waits until the map at hand is the whole one. */
export const wholeMap = (page: Page): Promise<unknown> => page.waitForSelector(".map-top-progress.off", { state: "attached", timeout: 60_000 });

export async function toMap(page: Page): Promise<void> {
  await page.locator("[data-view=speedMap]:visible").click();
  // a line along the bottom has no height to be seen by
  await page.waitForSelector(".map-safe", { state: "attached" });
  await wholeMap(page);
}

/** The link that Share gave: told where the browser lets nothing be copied. */
export async function linkOf(page: Page): Promise<string> {
  const told = page.locator(".page-notice .notice p").nth(1);
  await told.waitFor();
  return (await told.textContent()) ?? "";
}

/** What the bar would undo, once the page has answered. */
export async function undoName(page: Page): Promise<string> {
  await drawn(page);
  return (await page.locator(".undo").first().getAttribute("aria-label")) ?? "";
}

/** The page keeps a change within half of this, ms. */
const KEPT_MS = 600;
/** Waits in the page's own time, behind what it has put off to do itself. */
export const kept = (page: Page): Promise<void> => page.evaluate((ms) => new Promise<void>((done) => setTimeout(done, ms)), KEPT_MS);

/** Takes back whatever was done, so that one opened page serves several tests. */
export async function takeBack(page: Page): Promise<void> {
  await drawn(page);
  await expect
    .poll(async () => {
      await page.evaluate(() => document.querySelector<HTMLButtonElement>(".undo:not(.redo):not([disabled])")?.click());
      return undoName(page);
    })
    .toBe("Nothing to undo");
}

/** Drags a handle with the mouse by a way in px. */
export async function drag(page: Page, handle: string, dx: number, dy: number, finish = true): Promise<void> {
  const [x, y] = await middleOf(page, handle);
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 8; i++) await page.mouse.move(x + (dx * i) / 8, y + (dy * i) / 8);
  if (finish) await page.mouse.up();
}
