import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bothThemes, drawn, pictureOf, ready, type Site, startSite, stillPicture, wholeMap } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

const VIEWS = { axle: "Axle", arm: "Arm sheet", speedMap: "Speed map", motion: "Motion", bench: "Bench", report: "Report" } as const;
type View = keyof typeof VIEWS;
const ALL = Object.keys(VIEWS) as View[];
/** Goes to a view and waits until it is whole. */
async function show(page: Page, view: View): Promise<void> {
  await page.locator(`[data-view="${view}"]:visible`).first().click();
  if (view === "speedMap") await wholeMap(page);
  else if (view === "report")
    await page.waitForFunction(() => document.querySelector(".report-host")?.shadowRoot?.querySelector("h1"), null, { timeout: 60_000 });
  else if (view === "motion") await page.waitForSelector(".tracks .track-line", { state: "attached", timeout: 60_000 });
  else if (view === "bench") await page.waitForSelector(".bench-kinds");
  else if (view === "arm") await page.waitForSelector(".arm-grip", { state: "attached" });
  await page.waitForTimeout(300);
}

/** Opens every list, table and panel of the view at hand, those inside an opened one too. */
async function openAll(page: Page): Promise<void> {
  for (let round = 0; round < 2; round++) {
    await page.evaluate(() => {
      for (const d of document.querySelectorAll<HTMLDetailsElement>("main details")) d.open = true;
      for (const e of document.querySelectorAll<HTMLElement>("main [aria-expanded=false]")) if (e.checkVisibility()) e.click();
      const fit = document.querySelector<HTMLInputElement>("main [data-show=fit]");
      if (fit?.checkVisibility() && !fit.checked) fit.click();
    });
    await page.waitForTimeout(300);
  }
}

/** What is wider than the window, or than the paper that it lies on. */
const tooWide = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [document.documentElement, document.querySelector(".report-paper")].flatMap((e) => {
      const over = e?.checkVisibility() ? e.scrollWidth - (e === document.documentElement ? window.innerWidth : e.clientWidth) : 0;
      return over > 0 ? [`${e?.className || "the page"} is ${over} px too wide`] : [];
    }),
  );

const press = (page: Page, selector: string, index = 0): Promise<void> =>
  page.evaluate(([s, i]) => document.querySelectorAll<HTMLElement>(s as string)[i as number]?.click(), [selector, index]);

/** A bench test with good and bad rows and the place to paste, and a run with all that can be told of it. */
async function workBench(page: Page): Promise<string[]> {
  const found: string[] = [];
  await press(page, "[data-kind=armHang]");
  await drawn(page);
  await page.evaluate(() => {
    for (const [at, text] of Object.entries({
      "0.0": "0",
      "0.1": "0",
      "1.0": "100",
      "1.1": "0.5",
      "2.0": "200",
      "2.1": "1",
      "3.0": "300",
      "3.1": "1.4",
      "4.0": "x",
    })) {
      const cell = document.querySelector<HTMLInputElement>(`[data-cell="${at}"]`)!;
      cell.value = text;
      cell.dispatchEvent(new Event("input", { bubbles: true }));
    }
  });
  await press(page, "[data-act=open-paste]");
  await page.waitForTimeout(200);
  found.push(...(await headingFaults(page)), ...(await tooWide(page)), ...(await bothThemes(page)));
  await press(page, "[data-part=runs]");
  await press(page, "[data-act=new-run]");
  await drawn(page);
  for (const limit of ["hubRetention", "camber"]) await press(page, `[data-gave=${limit}]`);
  await page.waitForTimeout(200);
  return [...found, ...(await headingFaults(page)), ...(await tooWide(page)), ...(await bothThemes(page))];
}

/** What is wrong with the headings of what is on the screen, those within other trees too. */
async function headingFaults(page: Page): Promise<string[]> {
  const levels = await page.evaluate(() => {
    const roots: ParentNode[] = [document, ...[...document.querySelectorAll("*")].flatMap((e) => (e.shadowRoot ? [e.shadowRoot] : []))];
    return roots.flatMap((r) =>
      [...r.querySelectorAll<HTMLElement>("h1, h2, h3, h4, h5, h6")].filter((e) => e.checkVisibility()).map((e) => Number(e.tagName[1])),
    );
  });
  const faults: string[] = [];
  if (levels[0] !== 1 || levels.filter((l) => l === 1).length !== 1) faults.push(`not one first heading, in front: ${levels}`);
  for (const [i, level] of levels.entries()) if (level > (levels[i - 1] ?? 0) + 1) faults.push(`heading ${i} leaves a level out: ${levels}`);
  return faults;
}

describe.each([
  [1440, 900],
  [390, 844],
])("%d px wide, in both themes", (width, height) => {
  it("axe finds nothing on the axle as it opens, and on any view with every list and panel open; nothing runs over the edge; each view has its title, and headings in order", async () => {
    const { page } = await site.open({ viewport: { width, height }, hasTouch: width < 700 });
    const found: Record<string, string[]> = {};
    for (const view of ALL) {
      await show(page, view);
      await expect.poll(() => page.title()).toBe(`${VIEWS[view]} \u2013 Wheelstay`);
      found[view] = [...(await headingFaults(page)), ...(await tooWide(page))];
      if (view === "axle") found[view].push(...(await bothThemes(page)));
      await openAll(page);
      found[view].push(...(await tooWide(page)), ...(await bothThemes(page)));
      if (view === "bench") found[view].push(...(await workBench(page)));
    }
    expect(found).toEqual({ axle: [], arm: [], speedMap: [], motion: [], bench: [], report: [] });
    await page.context().close();
  });

  it("nor in the menus, a word that is explained and the parameters of every part", async () => {
    const { page } = await site.open({ viewport: { width, height }, hasTouch: width < 700 });
    const found: string[] = [];
    await press(page, "[data-act=keep]");
    for (const [opener, panel] of [
      [".brand", ".main-menu"],
      [".design-tab.a", '.design-menu[aria-label="design A"]'],
      [".design-tab.b", '.design-menu[aria-label="design B"]'],
      ["main .term", ".help-pop"],
      [".help-open", ".help-page"],
    ] as const) {
      await press(page, opener);
      await page.evaluate((p) => {
        for (const d of document.querySelectorAll<HTMLDetailsElement>(`${p} details`)) d.open = true;
      }, panel);
      await page.locator(panel).waitFor();
      found.push(...(await bothThemes(page, panel)));
      await page.keyboard.press("Escape");
    }
    await press(page, ".open-params");
    const parts = await page.locator(".params .part-choice option").evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value));
    expect(parts.length).toBeGreaterThan(5);
    for (const part of parts) {
      await page.locator(".params .part-choice").selectOption(part);
      await drawn(page);
      if ((await page.locator(".params .more").textContent())?.endsWith("more")) await press(page, ".params .more");
      await drawn(page);
      found.push(...(await bothThemes(page, ".params")));
    }
    expect(found).toEqual([]);
    await page.context().close();
  });
});

/** How many px of an element's picture differ much from its commonest colour. */
async function inkOf(page: Page, selector: string): Promise<number> {
  const png = await page.locator(selector).first().screenshot();
  return page.evaluate(async (base64) => {
    const img = new Image();
    img.src = `data:image/png;base64,${base64}`;
    await img.decode();
    const canvas = document.createElement("canvas");
    canvas.width = img.width;
    canvas.height = img.height;
    const c = canvas.getContext("2d") as CanvasRenderingContext2D;
    c.drawImage(img, 0, 0);
    const { data } = c.getImageData(0, 0, img.width, img.height);
    const counts = new Map<number, number>();
    const light = (i: number): number => (data[i] as number) + (data[i + 1] as number) + (data[i + 2] as number);
    for (let i = 0; i < data.length; i += 4) counts.set(light(i), (counts.get(light(i)) ?? 0) + 1);
    const ground = [...counts].sort((p, q) => q[1] - p[1])[0]?.[0] ?? 0;
    let ink = 0;
    for (let i = 0; i < data.length; i += 4) if (Math.abs(light(i) - ground) > 200) ink++;
    return ink;
  }, png.toString("base64"));
}

describe("in forced colours", () => {
  it.each(["light", "dark"] as const)("sliders, rulers, curves, handles and the drawing are seen (%s)", async (colorScheme) => {
    const { page } = await site.open({ colorScheme, forcedColors: "active" });
    // a rail 1 px high along the slider, and the mark of its place
    for (const slider of await page.locator(".params .lil-slider").all()) expect(await slider.isVisible()).toBe(true);
    const ink = (selector: string) => expect.poll(() => inkOf(page, selector), { message: selector });
    await ink(".params .lil-slider").toBeGreaterThan(60);
    await ink(".cornering .ruler").toBeGreaterThan(500);
    await ink('[data-chart="lean"] .chart').toBeGreaterThan(500);
    await ink(".stage").toBeGreaterThan(5000);
    const handle = page.locator('[data-handle="pin.right.lowerInner"]');
    await handle.focus();
    expect(await handle.evaluate((e) => Number.parseFloat(getComputedStyle(e).outlineWidth))).toBeGreaterThanOrEqual(3);
    await show(page, "arm");
    await ink(".arm-grip-fork").toBeGreaterThan(20);
    await show(page, "motion");
    await ink(".tracks").toBeGreaterThan(500);
    await page.context().close();
  });

  it("the drawing takes the person's colours as soon as they are chosen", async () => {
    const { page } = await site.open();
    const canvas = page.locator(".stage canvas").last();
    const before = await stillPicture(canvas);
    await page.emulateMedia({ forcedColors: "active" });
    await expect.poll(async () => (await canvas.screenshot()).equals(before)).toBe(false);
    expect((await pictureOf(page, await stillPicture(canvas))).colours).toBeGreaterThan(3);
    // the text of a chosen thing alone tells which is which: the other views have no line
    const lines = await page.locator(".views button").evaluateAll((all) => all.map((b) => getComputedStyle(b).borderBottomColor));
    expect(new Set(lines).size).toBe(2);
    await page.context().close();
  });
});

describe("on another screen", () => {
  it.each(["axle", "motion"] as const)("%s is drawn anew in the pixels of the screen", async (view) => {
    const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" });
    context.setDefaultTimeout(60_000);
    const page = await context.newPage();
    // an emulated screen changes its ratio without a word to the queries about it: that word is given by hand
    await page.addInitScript(() => {
      const own = window.matchMedia.bind(window);
      const asked: MediaQueryList[] = [];
      window.matchMedia = (query) => {
        const list = own(query);
        if (query.includes("resolution")) asked.push(list);
        return list;
      };
      window.addEventListener("screen-changed", () => {
        for (const list of asked.splice(0)) list.dispatchEvent(new Event("change"));
      });
    });
    await page.goto(site.url);
    await ready(page);
    await show(page, view);
    const session = await page.context().newCDPSession(page);
    const widths = (): Promise<number[]> =>
      page.evaluate(() =>
        [...document.querySelectorAll<HTMLCanvasElement>(".stage canvas")].filter((c) => c.checkVisibility()).map((c) => c.width / c.clientWidth),
      );
    const full = (): Promise<boolean> =>
      page
        .locator(".stage canvas:visible")
        .last()
        .evaluate((c) => {
          const copy = document.createElement("canvas");
          copy.width = (c as HTMLCanvasElement).width;
          copy.height = (c as HTMLCanvasElement).height;
          const context = copy.getContext("2d") as CanvasRenderingContext2D;
          context.drawImage(c as HTMLCanvasElement, 0, 0);
          return context.getImageData(0, 0, copy.width, copy.height).data.some((v) => v > 0);
        });
    await expect.poll(full, { timeout: 60_000 }).toBe(true);
    for (const ratio of await widths()) expect(ratio).toBeCloseTo(1, 1);
    for (const deviceScaleFactor of [2, 3]) {
      await session.send("Emulation.setDeviceMetricsOverride", { width: 1440, height: 900, deviceScaleFactor, mobile: false });
      await page.evaluate(() => window.dispatchEvent(new Event("screen-changed")));
      await expect.poll(async () => (await widths()).every((r) => Math.abs(r - deviceScaleFactor) < 0.05)).toBe(true);
      // and it is not left empty
      await expect.poll(full).toBe(true);
    }
    await context.close();
  });
});
