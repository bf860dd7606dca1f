import type { CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { drawn, lean, middleOf, type Site, startSite, takeBack, undoName } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const PAGES = ["axle", "arm", "speedMap", "motion", "bench", "report"] as const;

/** What stands on each view once it has its answer. */
const ANSWERS: Record<(typeof PAGES)[number], string> = {
  axle: ".rulers:not(.lag)",
  arm: ".arm-grip",
  speedMap: ".map-safe",
  motion: '.motion-sheet[aria-busy="false"] .story-row',
  bench: ".bench-kinds",
  report: ".report h2",
};
const show = async (page: Page, view: (typeof PAGES)[number]): Promise<void> => {
  await page.locator(`[data-view="${view}"]:visible`).first().click();
  await page.locator(ANSWERS[view]).first().waitFor({ state: "attached" });
  await drawn(page);
};

type Point = readonly [number, number];

/** One finger goes down, rests, goes a way in a few steps and comes up. */
async function swipe(session: CDPSession, from: Point, way: Point, restMs = 0): Promise<void> {
  const touch = (type: "touchStart" | "touchMove" | "touchEnd", at: readonly { x: number; y: number }[]): Promise<unknown> =>
    session.send("Input.dispatchTouchEvent", { type, touchPoints: [...at] });
  await touch("touchStart", [{ x: from[0], y: from[1] }]);
  if (restMs > 0) await new Promise((on) => setTimeout(on, restMs));
  const steps = 3;
  for (let i = 1; i <= steps; i++) await touch("touchMove", [{ x: from[0] + (way[0] * i) / steps, y: from[1] + (way[1] * i) / steps }]);
  await touch("touchEnd", []);
}

/** Starts of swipes, spread over the sheet between the bar and the words of the views. */
function starts(columns: number, rows: number): Point[] {
  const out: Point[] = [];
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) out.push([Math.round(15 + (360 * c) / (columns - 1)), Math.round(185 + (585 * r) / (rows - 1))]);
  return out;
}

describe("one finger on a phone", () => {
  let page: Page;
  let session: CDPSession;
  beforeAll(async () => {
    ({ page } = await site.open(PHONE));
    session = await page.context().newCDPSession(page);
  });
  afterAll(() => page.context().close());
  // what was changed before is taken back, and nothing is scrolled
  beforeEach(async () => {
    await show(page, "axle");
    await takeBack(page);
    // a view comes back scrolled as it was left, some frames after it is chosen
    await expect
      .poll(async () => {
        await page.evaluate(() => window.scrollTo(0, 0));
        await drawn(page);
        return page.evaluate(() => window.scrollY);
      })
      .toBe(0);
  });

  it("scrolls every view and changes nothing, wherever it goes down", async () => {
    const changed: string[] = [];
    const stuck: string[] = [];
    let name = await undoName(page);
    expect(name).toBe("Nothing to undo");
    for (const [view, columns, rows] of [
      ["axle", 9, 11],
      ["arm", 5, 6],
      ["speedMap", 5, 6],
      ["motion", 5, 6],
      ["bench", 3, 4],
    ] as const) {
      await show(page, view);
      for (const at of starts(columns, rows)) {
        let y = 0;
        let now = name;
        // a busy browser may let a quick finger pass unseen
        for (let tries = 0; tries < 3 && y < 40; tries++) {
          await page.evaluate(() => window.scrollTo(0, 0));
          await swipe(session, at, [6, -120]);
          [y, now] = await page.evaluate(async () => {
            await new Promise((on) => requestAnimationFrame(() => requestAnimationFrame(on)));
            return [window.scrollY, document.querySelector(".undo")?.getAttribute("aria-label") ?? ""] as const;
          });
        }
        if (y < 40) stuck.push(`${view} ${at}`);
        if (now !== name) changed.push(`${view} ${at}: ${now}`);
        name = now;
      }
    }
    expect(changed).toEqual([]);
    expect(stuck).toEqual([]);
  });

  it("takes a point in hand after a rest, and the page stays where it is", async () => {
    // a busy browser may let a quick finger pass unseen
    const taken = async (): Promise<string> => {
      await swipe(session, await middleOf(page, "gravity"), [0, -24], 320);
      return undoName(page);
    };
    await expect.poll(taken).toMatch(/^Undo: centre of gravity/);
    expect(await page.evaluate(() => window.scrollY)).toBe(0);
  });

  it("pulls a ruler across at once, and a tap on it goes there", async () => {
    const before = await lean(page);
    const box = await page.locator(".cornering .ruler").boundingBox();
    if (!box) throw new Error("no ruler");
    const leanAfter = async (from: number, way: Point): Promise<number> => {
      await swipe(session, [box.x + box.width * from, box.y + 40], way);
      return lean(page);
    };
    await expect.poll(() => leanAfter(0.66, [-120, 8])).toBeLessThan(before);
    const pulled = await lean(page);
    await expect.poll(() => leanAfter(0.1, [0, 0])).toBeLessThan(pulled);
    await expect.poll(() => undoName(page)).toMatch(/^Undo: cornering to 0\.1/);
  });

  it("scrolls the parameters of a part, and pulls their sliders across only", async () => {
    await page.setViewportSize({ width: 390, height: 600 });
    await page.locator(".open-params").click();
    await page.locator(".params .more").click();
    // where it is once nothing scrolls any more
    const middle = async (): Promise<Point> => {
      for (let before = Number.NaN; ; ) {
        const box = await page.locator(".params .lil-slider").nth(2).boundingBox();
        if (!box) throw new Error("no slider");
        if (box.y === before) return [box.x + box.width / 2, box.y + box.height / 2];
        before = box.y;
        await page.waitForTimeout(200);
      }
    };
    // a busy browser may let a quick finger pass unseen
    const scrolled = async (): Promise<number> => {
      await swipe(session, await middle(), [0, -60]);
      await page.waitForTimeout(300);
      return page.locator(".params").evaluate((e) => e.scrollTop);
    };
    await expect.poll(scrolled).toBeGreaterThan(20);
    expect(await undoName(page)).toBe("Nothing to undo");
    await middle();
    await page.locator(".params").evaluate((e) => e.scrollTo(0, 0));
    const pulled = async (): Promise<string> => {
      await swipe(session, await middle(), [30, 2]);
      await page.waitForTimeout(300);
      return undoName(page);
    };
    await expect.poll(pulled).toMatch(/^Undo: lower arm/);
  });
});

describe("the page at any width", () => {
  it("is never wider than the window, from 320 px up, on no view", async () => {
    const { page } = await site.open({ viewport: { width: 320, height: 640 } });
    const wide: string[] = [];
    for (const view of PAGES) {
      await page.setViewportSize({ width: 320, height: 640 });
      await show(page, view);
      for (const width of [320, 340, 362, 390, 480, 640, 699, 700, 760, 860, 999, 1000, 1100, 1240, 1440]) {
        await page.setViewportSize({ width, height: 800 });
        await drawn(page);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (over > 0) wide.push(`${view}, ${width} px: ${over} px too wide`);
        // what cannot be scrolled to must not lie past the edge
        const cut = await page.locator("header *, main button, main select, main input, .foot-nav *").evaluateAll((all) =>
          all
            .filter((e) => {
              const r = e.getBoundingClientRect();
              if (r.width === 0 || r.height === 0 || !e.checkVisibility({ visibilityProperty: true })) return false;
              for (let p = e.parentElement; p; p = p.parentElement)
                if (/auto|scroll|hidden/.test(getComputedStyle(p).overflowX) && p !== document.body) return false;
              return r.right > window.innerWidth + 1 || r.left < -1;
            })
            .map((e) => e.outerHTML.slice(0, 90)),
        );
        wide.push(...cut.map((c) => `${view}, ${width} px: ${c}`));
      }
    }
    expect(wide).toEqual([]);
    await page.context().close();
  });

  it("made narrow leaves the words of the views at the window's foot, in sight and in reach, on every view", async () => {
    const { page } = await site.open();
    for (const view of PAGES) {
      await page.setViewportSize({ width: 1440, height: 900 });
      await show(page, view);
      await page.setViewportSize({ width: 390, height: 844 });
      const foot = async (): Promise<number> => {
        const box = await page.locator(".foot-nav").boundingBox();
        return Math.round((box?.y ?? 0) + (box?.height ?? 0));
      };
      await expect.poll(foot, { message: view }).toBe(844);
      for (const word of await page.locator(".foot-nav button").all()) {
        const box = await word.boundingBox();
        if (!box) throw new Error("the words of the views are not there");
        const on = await page.evaluate(
          ([x, y]) => document.elementFromPoint(x as number, y as number)?.closest(".foot-nav") !== null,
          [box.x + box.width / 2, box.y + box.height / 2],
        );
        expect(on, view).toBe(true);
      }
    }
    await page.context().close();
  });
});
