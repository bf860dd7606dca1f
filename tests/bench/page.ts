import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Browser, Page } from "playwright-core";
import { build, preview } from "vite";
import { launchBrowser } from "../support/browser.ts";
import { benchMotionFrames } from "./page-motion.ts";
import { median, report, reportMs, share } from "./timing.ts";

const MOVES = 300;
const OPENINGS = 5;
const FRAME = "wheelstay-frame";
const OPENING_GOAL_MS = 1000;
const MEDIAN_GOAL_MS = 4;
const WORST_GOAL_MS = 8;

/** Script per frame while a hand moves in every frame, ms: what the page itself measures. No frame is idle, and none is left out when the machine is slow. */
async function dragFrames(page: Page, handle: string, dx: number, dy: number): Promise<number[]> {
  const box = await page.locator(`[data-handle="${handle}"]`).boundingBox();
  if (!box) throw new Error(`${handle} is not on the page`);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.keyboard.down("Alt");
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 0; i < 40; i++) await page.mouse.move(x + dx * Math.sin(i / 9), y + dy * Math.sin(i / 13));
  const taken = await page.evaluate(
    async ([x0, y0, wide, high, moves, name]) => {
      const stage = document.querySelector(".stage");
      const move = (i: number): PointerEvent =>
        new PointerEvent("pointermove", {
          pointerId: 1,
          pointerType: "mouse",
          clientX: x0 + wide * Math.sin(i / 9),
          clientY: y0 + high * Math.sin(i / 13),
          altKey: true,
          buttons: 1,
          bubbles: true,
        });
      performance.clearMeasures(name);
      // after the frame is painted, as a mouse is heard of between frames: its place is asked when nothing waits to be laid out
      const painted = (): Promise<void> => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
      for (let i = 0; i < moves; i++) {
        stage?.dispatchEvent(move(i));
        await painted();
      }
      return performance.getEntriesByName(name).map((e) => e.duration);
    },
    [x, y, dx, dy, MOVES, FRAME] as const,
  );
  await page.keyboard.press("Escape");
  await page.mouse.up();
  await page.keyboard.up("Alt");
  return taken;
}

async function openingMs(browser: Browser, url: string): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await page.goto(url);
  await page.waitForSelector("html[data-ready]", { state: "attached" });
  const ms = await page.evaluate(() => performance.now());
  await context.close();
  return ms;
}

/** The built page in a real browser: its size, its first picture, and its frames while a hand drags. */
export async function benchPage(): Promise<void> {
  const dist = mkdtempSync(join(tmpdir(), "wheelstay-bench-"));
  await build({ logLevel: "error", build: { outDir: dist, emptyOutDir: true } });
  const kbOf = (test: (name: string) => boolean): number =>
    readdirSync(join(dist, "assets"))
      .filter((f) => f.endsWith(".js") && test(f))
      .reduce((sum, f) => sum + gzipSync(readFileSync(join(dist, "assets", f)), { level: 9 }).length / 1000, 0);
  const isWorker = (name: string): boolean => /worker-|Worker-/.test(name);
  // the other pages are fetched when they are first chosen, faces for files when one is saved
  const opening = new Set([...readFileSync(join(dist, "index.html"), "utf8").matchAll(/assets\/([\w-]+\.js)/g)].map((m) => m[1]));
  report("scripts that open the page, compressed, every drawing way counted", `${kbOf((f) => opening.has(f)).toFixed(0)} kB`, "at most 350 kB");
  report("scripts of the other pages and of saved files, compressed", `${kbOf((f) => !opening.has(f) && !isWorker(f)).toFixed(0)} kB`);
  report("scripts of the workers, compressed", `${kbOf(isWorker).toFixed(0)} kB`);
  const server = await preview({ logLevel: "error", build: { outDir: dist }, preview: { port: 0, host: "127.0.0.1" } });
  const { browser } = await launchBrowser({ webgl: false, whole: true });
  try {
    const url = server.resolvedUrls?.local[0] as string;
    const openings: number[] = [];
    for (let i = 0; i < OPENINGS; i++) openings.push(await openingMs(browser, url));
    reportMs("first picture from a cold start, median", median(openings), OPENING_GOAL_MS);
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    await page.goto(url);
    await page.waitForSelector("html[data-ready]", { state: "attached" });
    await page.waitForTimeout(1000);
    for (const [handle, dx, dy, words] of [
      ["pin.right.upperInner", 20, 16, "dragging a pivot, all curves on"],
      ["cornering", 24, 0, "pulling the cornering arrow, all curves on"],
    ] as const) {
      const frames = await dragFrames(page, handle, dx, dy);
      reportMs(`${words}: script per frame, median of ${frames.length}`, median(frames), MEDIAN_GOAL_MS);
      reportMs(`${words}: 99th percentile`, share(frames, 0.99), WORST_GOAL_MS);
    }
    await context.close();
    await benchMotionFrames(browser, url);
  } finally {
    await browser.close();
    await server.close();
    rmSync(dist, { recursive: true, force: true });
  }
}
