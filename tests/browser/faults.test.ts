import { readFileSync } from "node:fs";
import type { BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launchBrowser } from "../support/browser.ts";
import { type Fault, named } from "../support/faults.ts";
import { lean, pictureOf, ready, type Site, startSite, undoName, watch } from "./site.ts";

const DESK: BrowserContextOptions = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" };
let site: Site;
beforeAll(async () => {
  site = await startSite(undefined, true);
});
afterAll(async () => {
  await site.close();
});

/** A profile of its own; no test is failed by a slow machine's clock. */
async function desk(options: BrowserContextOptions = {}, browser = site.browser): Promise<BrowserContext> {
  const context = await browser.newContext({ ...DESK, ...options });
  context.setDefaultTimeout(60_000);
  return context;
}

/** Opens the page with a fault that a script has set up before the page's own begins. */
async function openWith(fault: (how: string) => void, how = "", browser = site.browser): Promise<Page> {
  const context = await desk({ serviceWorkers: "block" }, browser);
  const page = await context.newPage();
  await page.addInitScript(fault, how);
  await page.goto(site.url);
  await ready(page);
  return page;
}

/** Where each kind of work beside the page says that it stopped, and what stands there once it has answered. */
const WORK: Record<string, { view: string; region: string; answer: string }> = {
  curves: { view: "axle", region: ".drawer", answer: ".rulers:not(.lag)" },
  "how sure the answer is": { view: "axle", region: ".sure", answer: ".known-rows li" },
  "trials of the arm": { view: "arm", region: ".arm-take", answer: ".take b:not(:has-text('…'))" },
  "speed map": { view: "speedMap", region: ".map-left", answer: ".map-safe" },
  motion: { view: "motion", region: ".motion-drawing", answer: ".story-row" },
  report: { view: "report", region: ".report-tools", answer: ".report h2" },
};

/** asked for once the map is there */
const CHANGES = { region: ".map-changes", answer: ".change-list li" };

/** Workers that are broken until the page is `healed`; silence is counted twenty times faster. */
function breakWorkers(how: string): void {
  const w = window as unknown as { Worker: typeof Worker | undefined; healed?: boolean; setInterval: (...a: unknown[]) => number };
  const Real = Worker;
  const every = window.setInterval.bind(window) as (f: unknown, ms: number) => number;
  w.setInterval = (f, ms) => every(f, (ms as number) / 20);
  const changesAlone = how === "the worker of the single changes dies";
  class Broken extends Real {
    constructor(url: string | URL, options?: WorkerOptions) {
      if (w.healed || changesAlone) {
        super(url, options);
        return;
      }
      if (how === "a worker cannot be started") throw new Error("refused by this test");
      super(how === "a worker's script is missing" ? "./assets/missing.js" : url, options);
      if (/ dies/.test(how)) this.terminate();
    }
    override postMessage(...sent: unknown[]): void {
      const { path } = sent[0] as { path?: string[] };
      if (changesAlone && !w.healed && path?.[0] === "changesOf") this.terminate();
      (super.postMessage as (...a: unknown[]) => void)(...sent);
    }
  }
  w.Worker = how === "the browser has no workers" ? undefined : Broken;
  if (how === "the browser has no workers")
    Object.defineProperty(w, "healed", {
      set: () => {
        w.Worker = Real;
      },
    });
}

const WORDS: Record<string, string> = {
  "a worker dies, or never answers": "no sign of life for 20 s",
  "a worker's script is missing": "its program could not be loaded, or broke off",
  "a worker cannot be started": "it could not be started (refused by this test)",
  "the browser has no workers": "this browser lets nothing work beside a page (no Web Worker)",
};

/** Every kind of work comes back from the first fault; from the others, which the same code watches, those that are quickly done, in turn. */
const comesBack = (view: string, fault: number): boolean =>
  fault === 0 || (view !== "report" && (Object.values(WORK).findIndex((w) => w.view === view) + fault) % 2 === 0);

describe("work beside the page", () => {
  it.each((Object.keys(WORDS) as Fault[]).map((f, turn) => [named(f), f, turn] as const))("%s", async (_name, how, turn) => {
    const page = await openWith(breakWorkers, how);
    // the numbers of the axle need none
    expect(Math.abs(await lean(page))).toBeGreaterThan(1);
    const regions = Object.values(WORK);
    for (const { view, region } of regions) {
      await page.locator(`[data-view=${view}]:visible`).click();
      await expect
        .poll(() => page.locator(`${region} .stopped`).first().textContent(), { message: region })
        .toBe(`The work beside the page stopped: ${WORDS[how]}. try again`);
    }
    await page.evaluate(() => {
      (window as unknown as { healed: boolean }).healed = true;
    });
    for (const { view, region, answer } of regions.filter((w) => comesBack(w.view, turn))) {
      await page.locator(`[data-view=${view}]:visible`).click();
      await page.locator(region).waitFor();
      // a view that is opened anew tries by itself
      const stopped = page.locator(`${region} .stopped`).first();
      if (await stopped.isVisible()) await stopped.getByRole("button", { name: "try again" }).click();
      await page.locator(answer).first().waitFor({ state: "attached", timeout: 60_000 });
      await stopped.waitFor({ state: "hidden" });
    }
    await page.context().close();
  });

  it(named("the worker of the single changes dies"), async () => {
    const page = await openWith(breakWorkers, "the worker of the single changes dies");
    await page.locator("[data-view=speedMap]:visible").click();
    const stopped = page.locator(`${CHANGES.region} .stopped`);
    await expect.poll(() => stopped.textContent()).toBe(`The work beside the page stopped: ${WORDS["a worker dies, or never answers"]}. try again`);
    expect(await page.locator(CHANGES.answer).count()).toBe(0);
    await page.evaluate(() => {
      (window as unknown as { healed: boolean }).healed = true;
    });
    await stopped.getByRole("button", { name: "try again" }).click();
    await page.locator(CHANGES.answer).first().waitFor({ timeout: 60_000 });
    await stopped.waitFor({ state: "hidden" });
    await page.context().close();
  });
});

/** What stands on each view once it has its answer. */
const ANSWERS: Record<string, string> = {
  arm: ".arm-hero .hero-number",
  speedMap: ".map-safe",
  motion: ".story-row",
  report: ".report h2",
};

async function worksOnEveryView(page: Page): Promise<void> {
  for (const [view, answer] of Object.entries(ANSWERS)) {
    await page.locator(`[data-view=${view}]:visible`).click();
    await page.locator(answer).first().waitFor({ state: "attached", timeout: 60_000 });
  }
}

/** Waits until this browser holds the whole page. */
const keptForOffline = (page: Page): Promise<unknown> => page.waitForFunction(() => navigator.serviceWorker.controller?.state === "activated");

describe("the network", () => {
  it.each([
    [named("no network when a view is first opened (js)"), "js"],
    [named("no network when a view is first opened (css)"), "css"],
  ])("%s", async (_name, kind) => {
    const context = await desk({ serviceWorkers: "block" });
    const page = await context.newPage();
    // nothing is fetched ahead here: the hand is faster
    await page.addInitScript(() => {
      window.requestIdleCallback = () => 0;
    });
    await page.goto(site.url);
    await ready(page);
    await page.route(`**/*.${kind}`, (r) => r.abort());
    await page.locator("[data-view=arm]:visible").click();
    const stopped = page.locator(".other > .stopped");
    await stopped.waitFor();
    await expect.poll(() => stopped.textContent()).toMatch(/^This page could not be fetched; is the network gone\? Your work is as it was\. \(.+\) try again$/);
    await page.unroute(`**/*.${kind}`);
    await stopped.getByRole("button", { name: "try again" }).click();
    await page
      .locator(ANSWERS.arm as string)
      .first()
      .waitFor();
    // with its styles, not only its code
    await expect.poll(() => page.locator(".arm-sheet").evaluate((el) => getComputedStyle(el).display)).toBe("grid");
    await page.context().close();
  });

  it(named("no network once the page stands"), async () => {
    const context = await desk();
    const page = await context.newPage();
    const complaints = watch(page);
    await page.goto(site.url);
    await ready(page);
    await keptForOffline(page);
    await context.setOffline(true);
    await worksOnEveryView(page);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it(named("no network at the start"), async () => {
    const context = await desk();
    const first = await context.newPage();
    await first.goto(site.url);
    await ready(first);
    await keptForOffline(first);
    await first.close();
    await context.setOffline(true);
    const page = await context.newPage();
    await page.goto(site.url);
    await ready(page);
    expect(Math.abs(await lean(page))).toBeGreaterThan(1);
    await worksOnEveryView(page);
    await context.close();
  });

  it(named("a new version of the page has come"), async () => {
    const context = await desk();
    const page = await context.newPage();
    await page.goto(site.url);
    await ready(page);
    await keptForOffline(page);
    await page
      .getByRole("slider", { name: /cornering/ })
      .first()
      .focus();
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => undoName(page)).toMatch(/^Undo: cornering/);
    const before = await lean(page);
    await page.evaluate(() => {
      (window as unknown as { old: boolean }).old = true;
    });
    site.change("sw.js", (text) => `${text}\n// another version`);
    await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
    const offer = page.locator('[data-notice="update"]');
    await expect.poll(() => offer.textContent()).toContain("A new version of this page is ready. Your work goes along.");
    // nothing happens by itself
    await page.waitForTimeout(1000);
    expect(await page.evaluate(() => "old" in window)).toBe(true);
    expect(await lean(page)).toBe(before);
    await offer.getByRole("button", { name: "load it" }).click();
    await page.waitForFunction(() => !("old" in window));
    await ready(page);
    expect(await lean(page)).toBe(before);
    expect(await offer.isVisible()).toBe(false);
    await context.close();
  });
});

/** Hides that this machine draws WebGL by its processor, so that the page takes it. */
function takeWebgl(): void {
  const real = WebGLRenderingContext.prototype.getExtension;
  const hidden = function (this: WebGLRenderingContext, name: string): unknown {
    return name === "WEBGL_debug_renderer_info" ? null : real.call(this, name as "WEBGL_multi_draw");
  };
  WebGLRenderingContext.prototype.getExtension = hidden as typeof real;
}

const stageColours = async (page: Page): Promise<number> => (await pictureOf(page, await page.locator(".stage").first().screenshot())).colours;

describe("the graphics", () => {
  it(named("the graphics are lost"), async () => {
    const { browser } = await launchBrowser({ webgl: true });
    const page = await openWith(takeWebgl, "", browser);
    const kind = (): Promise<string> =>
      page.evaluate(() => {
        const top = [...document.querySelectorAll<HTMLCanvasElement>(".stage canvas")].at(-1) as HTMLCanvasElement;
        return top.getContext("2d") ? "2d" : top.getContext("webgl2") || top.getContext("webgl") ? "webgl" : "none";
      });
    await expect.poll(kind).toBe("webgl");
    await expect.poll(() => stageColours(page)).toBeGreaterThan(50);
    await page.evaluate(() => {
      const top = [...document.querySelectorAll<HTMLCanvasElement>(".stage canvas")].at(-1) as HTMLCanvasElement;
      const gl = (top.getContext("webgl2") ?? top.getContext("webgl")) as WebGLRenderingContext;
      const lose = gl.getExtension("WEBGL_lose_context") as WEBGL_lose_context;
      lose.loseContext();
      (window as unknown as { back(): void }).back = () => lose.restoreContext();
    });
    await expect.poll(kind).toBe("2d");
    await expect.poll(() => stageColours(page)).toBeGreaterThan(50);
    await page.evaluate(() => (window as unknown as { back(): void }).back());
    await expect.poll(kind).toBe("webgl");
    await expect.poll(() => stageColours(page)).toBeGreaterThan(50);
    await browser.close();
  });

  it(named("the browser has no canvas"), async () => {
    const page = await openWith(() => {
      HTMLCanvasElement.prototype.getContext = () => null;
    });
    expect(await page.locator(".stage .nothing-drawn").first().textContent()).toBe(
      "This browser gives the page nothing to draw on (no canvas), so the drawing is missing. The numbers work all the same.",
    );
    const before = await lean(page);
    expect(Math.abs(before)).toBeGreaterThan(1);
    await page
      .getByRole("slider", { name: /cornering/ })
      .first()
      .focus();
    await page.keyboard.press("PageDown");
    await expect.poll(() => lean(page)).not.toBe(before);
    await worksOnEveryView(page);
    await page.context().close();
  });
});

describe("a fault that nobody foresaw", () => {
  it.each([
    [named("an error that nobody foresaw is thrown"), "thrown"],
    [named("a promise that nobody foresaw is rejected"), "rejected"],
  ])("%s", async (_name, how) => {
    const { page } = await site.open();
    const before = await lean(page);
    await page.evaluate((kind) => {
      setTimeout(() => {
        if (kind === "thrown") throw new Error("planted by this test");
        void Promise.reject(new Error("planted by this test"));
      });
    }, how);
    const tag = page.locator('[data-notice="fault"]');
    await expect.poll(() => tag.textContent()).toContain("Something in this page went wrong: planted by this test");
    expect(await tag.count()).toBe(1);
    await tag.getByRole("button", { name: "load the page again" }).waitFor();
    expect(await lean(page)).toBe(before);
    await page.context().close();
  });
});

describe("the licences", () => {
  it("of all that is shipped come with the page and are linked from its menu", async () => {
    const { page } = await site.open();
    await page.locator("button.brand").click();
    const link = page.getByRole("link", { name: "licences of what this page is made of" });
    const text = await (await page.request.get(new URL((await link.getAttribute("href")) as string, page.url()).href)).text();
    const { dependencies } = JSON.parse(readFileSync("package.json", "utf8")) as { dependencies: Record<string, string> };
    // what the service worker is made of is shipped as well
    const missing = [...Object.keys(dependencies), "workbox-core"].filter((name) => !new RegExp(`^## ${name} - \\d`, "m").test(text));
    expect(missing).toEqual([]);
    expect(text.includes("SIL OPEN FONT LICENSE Version 1.1")).toBe(true);
    await page.context().close();
  });
});
