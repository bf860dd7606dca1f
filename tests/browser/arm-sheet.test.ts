import type { BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { bothThemes, drawn, kept, ready, type Site, startSite, takeBack, undoName, violations } from "./site.ts";

let site: Site;
/** one sheet for all that is done on a desk: each test begins with the car that was opened */
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await openSheet());
});
beforeEach(() => takeBack(page));
afterAll(async () => {
  await site.close();
});

async function openSheet(options: BrowserContextOptions = {}): Promise<{ page: Page; complaints: string[] }> {
  const opened = await site.open(options);
  await opened.page.locator('[data-view="arm"]:visible').first().click();
  await opened.page.locator(".arm-grip").first().waitFor();
  await drawn(opened.page);
  return opened;
}

const number = async (page: Page, grip: string): Promise<number> => Number(await page.locator(`[data-grip="${grip}"]`).getAttribute("aria-valuenow"));
const hero = async (page: Page): Promise<string> => (await page.locator(".arm-hero .hero-number").textContent()) ?? "";

async function drag(page: Page, grip: string, dx: number, dy: number, finish = true): Promise<void> {
  const el = page.locator(`[data-grip="${grip}"]`);
  await el.scrollIntoViewIfNeeded();
  const box = await el.boundingBox();
  if (!box) throw new Error(`${grip} is not on the page`);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 6; i++) await page.mouse.move(x + (dx * i) / 6, y + (dy * i) / 6);
  await drawn(page);
  if (finish) await page.mouse.up();
}

describe("the arm sheet opens", () => {
  it("with both arms, the big number and what can be taken from B, and complains of nothing", async () => {
    await expect.poll(() => hero(page)).toMatch(/^\d+(\.\d)?×$/);
    await expect.poll(() => page.locator(".arm-says").textContent()).toContain("% of the lean under load comes from here");
    await page.waitForFunction(() => document.querySelector(".take b")?.textContent?.match(/lean .* → -?[\d.−]+°/));
    expect(await page.locator(".arm-take .take").count()).toBe(3);
    expect(await page.locator(".arm-texts").first().textContent()).toContain("spring pushes here");
    expect(complaints).toEqual([]);
  });

  it("with no violation in either theme while the lesson runs, and not over its edge, wide, middle and narrow", async () => {
    const { page } = await openSheet();
    for (const [width, height] of [
      [1440, 900],
      [860, 1100],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height });
      // the lesson that runs goes on
      if (width === 1440) await page.locator(".lesson .solid").click();
      await page.locator('.lesson-step[data-step="push"][aria-current=step]').waitFor({ state: "attached" });
      await drawn(page);
      expect(await bothThemes(page), `${width} px`).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth), `${width} px`).toBeLessThanOrEqual(0);
    }
    await page.context().close();
  });
});

describe("by mouse", () => {
  it("the fork point goes from hole to hole, answers while it is dragged, and is one change to undo", async () => {
    const before = await number(page, "fork");
    const said = await page.locator(".arm-says").textContent();
    await drag(page, "fork", -70, 0, false);
    await expect.poll(() => page.locator(".arm-tag").textContent()).toMatch(/% of the way out.*holesspring bends it .*mmdrive shifts it .*mm$/);
    await expect.poll(() => page.locator(".arm-says").textContent()).not.toBe(said);
    await page.mouse.up();
    await expect.poll(() => undoName(page)).toMatch(/^Undo: lower arm, fork point/);
    const after = await number(page, "fork");
    expect(after).toBeLessThan(before);
    expect(after % 8).toBe(0);
    await page.locator(".bar .undo").first().click();
    await expect.poll(() => number(page, "fork")).toBe(before);
    await expect.poll(() => page.locator(".arm-says").textContent()).toBe(said);
    const field = page.getByLabel("fork point, mm from the inner pins");
    await field.fill("5,6 cm");
    await field.press("Enter");
    await expect.poll(() => undoName(page)).toBe("Undo: lower arm, fork point 78 % out");
    await expect.poll(() => number(page, "fork")).toBeCloseTo(56, 3);
  });

  it("the spread opens to both sides alike", async () => {
    await drag(page, "spreadFront", 0, -20);
    await expect.poll(() => number(page, "spreadFront")).toBe(64);
    await expect.poll(() => number(page, "spreadRear")).toBe(64);
  });

  it("a taller leg leans less, and Escape puts it back", async () => {
    const before = await number(page, "height");
    const text = await hero(page);
    await drag(page, "height", 0, -14, false);
    await expect.poll(() => number(page, "height")).toBeGreaterThan(before);
    await expect.poll(() => hero(page)).not.toBe(text);
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await expect.poll(() => number(page, "height")).toBe(before);
    expect(await undoName(page)).toBe("Nothing to undo");
  });

  it("taking the whole arm from B makes the two alike under one named change, with the lean it promised", async () => {
    const whole = page.locator('[data-take="whole"]');
    await page.waitForFunction(() => document.querySelector('[data-take="whole"] b')?.textContent?.match(/→ [−\d]/));
    const promised = (await whole.locator("b").textContent())?.split("→ ")[1];
    await whole.click();
    await expect.poll(() => hero(page)).toBe("1×");
    await expect.poll(() => undoName(page)).toBe("Undo: whole lower arm from B");
    await expect.poll(() => whole.locator("b").textContent()).toBe("the same already");
    await page.locator('[data-view="axle"]:visible').first().click();
    await expect.poll(() => page.locator(".reading:not(.arm-reading) .hero-number").textContent()).toBe(promised);
    await page.locator('[data-view="arm"]:visible').first().click();
    await page.locator(".arm-grip").first().waitFor();
  });

  it("a change for one side leaves the other, and one press makes them alike again", async () => {
    await page.getByRole("group", { name: "which side is changed" }).getByRole("button", { name: "right" }).click();
    await drag(page, "spreadFront", 0, -20);
    await expect.poll(() => undoName(page)).toMatch(/^Undo: right lower arm/);
    await page.getByRole("group", { name: "which side is changed" }).getByRole("button", { name: "left" }).click();
    await expect.poll(() => number(page, "spreadFront")).toBe(56);
    await page.getByRole("button", { name: "make both sides alike" }).click();
    const both = await undoName(page);
    expect(both).not.toMatch(/^Undo: right lower arm/);
    await page.getByRole("group", { name: "which side is changed" }).getByRole("button", { name: "right" }).click();
    await expect.poll(() => page.getByRole("button", { name: "make both sides alike" }).isHidden()).toBe(true);
    await expect.poll(() => number(page, "spreadFront")).toBe(56);
    await page.getByRole("group", { name: "which side is changed" }).getByRole("button", { name: "both" }).click();
  });

  it("a shape, a section and a material are chosen, each a named change", async () => {
    await page.getByLabel("shape of the arm").selectOption("straight bar");
    await expect.poll(() => undoName(page)).toBe("Undo: lower arm, straight, the same bar");
    await expect
      .poll(() => page.locator(".arm-compared").textContent())
      .toMatch(/^Compared at the same section of a bar: fork .* g before, one bar .* g now\.$/);
    await page.locator(".bar .undo").first().click();
    const same = page.locator('[data-take="plastic"]');
    await page.waitForFunction(() => document.querySelector('[data-take="plastic"] b')?.textContent?.match(/→ [−\d]/));
    const promised = (await same.locator("b").textContent())?.split("→ ")[1] ?? "?";
    await same.click();
    await page.locator(".arm-compared", { hasText: "the same mass of material" }).waitFor();
    await expect.poll(() => page.locator('[data-take="whole"] b').textContent()).toContain(`lean ${promised} →`);
    await expect.poll(() => page.locator('[data-grip="fork"]').count()).toBe(0);
    await page.getByLabel("section of the arm").selectOption("round");
    await expect.poll(() => undoName(page)).toBe("Undo: lower arm, round bar");
    await page.getByLabel("material of the arm").selectOption("aluminium");
    await expect.poll(() => undoName(page)).toBe("Undo: lower arm, aluminium");
    await expect.poll(() => page.locator('.arm-close [data-limit="armSet"]').count()).toBe(0);
  });

  it("the upper arm carries no spring and says so without a broken number", async () => {
    await page.getByRole("group", { name: "which arm" }).getByRole("button", { name: "upper" }).click();
    await expect.poll(() => page.locator(".arm-directions").textContent()).toContain("swings");
    expect(await page.locator(".arm-sheet").textContent()).not.toMatch(/NaN|Infinity|undefined/);
    await page.getByRole("group", { name: "which arm" }).getByRole("button", { name: "lower" }).click();
    expect(complaints).toEqual([]);
  });
});

describe("by touch", () => {
  it("a finger drags the fork point and the leg's height, and the page does not scroll away", async () => {
    const { page } = await openSheet({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
    const client = await page.context().newCDPSession(page);
    const swipe = async (grip: string, dx: number, dy: number): Promise<void> => {
      const box = await page.locator(`[data-grip="${grip}"]`).boundingBox();
      if (!box) throw new Error(`${grip} is not on the page`);
      expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(44);
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      await client.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x, y }] });
      // a finger rests on a point before it takes it
      await page.waitForTimeout(350);
      for (let i = 1; i <= 6; i++)
        await client.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: [{ x: x + (dx * i) / 6, y: y + (dy * i) / 6 }] });
      await page.waitForTimeout(100);
      await client.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
      await drawn(page);
    };
    /** a busy browser may let a quick finger pass unseen */
    const swiped = async (grip: string, dx: number, dy: number): Promise<number> => {
      await swipe(grip, dx, dy);
      return number(page, grip);
    };
    const fork = await number(page, "fork");
    await expect.poll(() => swiped("fork", -40, 0)).toBeLessThan(fork);
    const height = await number(page, "height");
    await expect.poll(() => swiped("height", 0, -12)).toBeGreaterThan(height);
    expect(await page.evaluate(() => window.scrollY)).toBe(0);
    await expect.poll(() => undoName(page)).toMatch(/^Undo: lower arm, height/);
    await page.context().close();
  });
});

describe("by keyboard alone", () => {
  it("every grip has a name, a value and a range, and arrow keys move it by a hole or by 0.1 mm", async () => {
    for (const grip of await page.locator(".arm-grip").all()) {
      expect(await grip.getAttribute("role")).toBe("slider");
      expect(await grip.getAttribute("aria-label")).toMatch(/\w/);
      expect(await grip.getAttribute("aria-valuetext")).toMatch(/\d/);
      const [now, min, max] = await Promise.all(["now", "min", "max"].map(async (k) => Number(await grip.getAttribute(`aria-value${k}`))));
      expect(now).toBeGreaterThanOrEqual(min as number);
      expect(now).toBeLessThanOrEqual(max as number);
    }
    await page.locator('[data-grip="spreadFront"]').focus();
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => number(page, "spreadFront")).toBe(64);
    await page.keyboard.press("Alt+ArrowDown");
    await expect.poll(() => number(page, "spreadFront")).toBeCloseTo(63.9, 6);
    await page.keyboard.press("Control+z");
    await expect.poll(() => number(page, "spreadFront")).toBe(56);
  });

  it("the lesson is done step by step, and its ticks are there after a reload", async () => {
    const { page, complaints } = await openSheet();
    const ticks = (): Promise<number> => page.locator(".lesson li.done").count();
    const next = async (): Promise<void> => {
      await page.locator(".lesson .solid").focus();
      await page.keyboard.press("Enter");
      await drawn(page);
    };
    const press = async (selector: string, key: string, times: number): Promise<void> => {
      await page.locator(selector).focus();
      for (let i = 0; i < times; i++) await page.keyboard.press(key);
      await drawn(page);
    };
    await next();
    await expect.poll(() => page.locator('.lesson-step[data-step="push"]').getAttribute("aria-current")).toBe("step");
    await press('[data-grip="push"]', "ArrowUp", 4);
    expect(await ticks()).toBe(0);
    await press('[data-grip="push"]', "ArrowUp", 1);
    await expect.poll(ticks).toBe(1);
    await expect.poll(() => page.locator(".lesson-reading").textContent()).toMatch(/^5\u2009N move A .*mm, B .*mm\.$/);
    await next();
    await press('[data-grip="press"]', "ArrowDown", 6);
    await expect.poll(ticks).toBe(2);
    await next();
    await press(".arm-cornering .ruler", "ArrowLeft", 2);
    await expect.poll(ticks).toBe(3);
    await next();
    await page.locator(".lesson-rigid").focus();
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelectorAll(".lesson li.done").length === 4);
    await expect.poll(() => page.locator(".lesson-reading").textContent()).toMatch(/^lean .*° → .*°$/);
    await next();
    await press('[data-grip="fork"]', "ArrowLeft", 1);
    await expect.poll(ticks).toBe(5);
    await expect.poll(() => page.locator(".lesson-reading").textContent()).toMatch(/^The drive shifts it .* → .*, the spring bends it .* → .*\.$/);
    await next();
    await press('[data-grip="height"]', "ArrowUp", 3);
    await expect.poll(ticks).toBe(6);
    await next();
    await expect.poll(() => page.locator(".lesson-end").textContent()).toMatch(/^On your fork the drive's .*, .* times as far while the wheel leans .*: .*\.$/);
    await kept(page);
    await page.reload();
    await ready(page);
    await page.locator(".lesson li.done").first().waitFor({ state: "attached" });
    await expect.poll(ticks).toBe(6);
    await page.locator(".lesson-end").waitFor();
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("help", () => {
  it("a term explains itself with a drawing, by keyboard, and Escape closes it", async () => {
    const word = page.locator(".arm-sheet .term", { hasText: "Three directions" });
    await word.focus();
    await page.keyboard.press("Enter");
    const pop = page.getByRole("tooltip");
    await pop.waitFor();
    expect(await pop.locator("b").textContent()).toBe("Stiffness, N/mm");
    expect(await pop.locator("svg path").count()).toBeGreaterThan(2);
    expect(await pop.locator("p").textContent()).toContain("newtons");
    expect(await violations(page, "#help-pop")).toEqual([]);
    await page.keyboard.press("Escape");
    await page.locator("#help-pop").waitFor({ state: "hidden" });
    expect(await word.evaluate((e) => e === document.activeElement)).toBe(true);
  });
});
