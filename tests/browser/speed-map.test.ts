import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shippedText } from "../support/shipped.ts";
import { type Site, startSite, takeBack, toMap, undoName, wholeMap } from "./site.ts";

/** a busy machine may take its time for a frame */
const WAIT = { timeout: 60_000 };
let site: Site;
/** one page for all that is done on a desk: each test begins with the whole map of the car that was opened */
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await site.open());
});
afterAll(async () => {
  await site.close();
});

const bobSays = async (page: Page): Promise<string> => (await page.locator(".map-bob").getAttribute("aria-label")) ?? "";
const place = async (page: Page): Promise<{ radiusM: number; kmh: number; g: number }> => {
  const m = /now: ([\d.]+) m, ([\d.]+) km\/h; ([\d.]+) g/.exec(await bobSays(page));
  if (!m) throw new Error(`no place in "${await bobSays(page)}"`);
  return { radiusM: Number(m[1]), kmh: Number(m[2]), g: Number(m[3]) };
};

/** The point of the picture at a share of the plot, px on the page; the plot begins where the lowest colour does. */
async function at(page: Page, across: number, up: number): Promise<[number, number]> {
  let box: { x: number; y: number; width: number; height: number } | null = null;
  // a newer map may just be taking the older one's place
  for (let i = 0; i < 50 && !box; i++) box = await page.locator(".map-ground .map-0").boundingBox();
  if (!box) throw new Error("no plot");
  return [box.x + across * box.width, box.y + (1 - up) * box.height];
}

const safeKmh = async (): Promise<number> => Number(await page.locator(".map-column .hero-number").textContent());

/** The curve of the page as it opens, m; which curve is looked at is no change of a design, and undo leaves it. */
const OPENED_RADIUS_M = 6;

/** The whole map of the car that was opened, at the place where it opened. */
async function afresh(): Promise<void> {
  await toMap(page);
  await page.locator(".map-bob").focus();
  for (let at = (await place(page)).radiusM; at !== OPENED_RADIUS_M; at = (await place(page)).radiusM) {
    await page.keyboard.press(at > OPENED_RADIUS_M ? "Home" : "End");
    await expect.poll(async () => (await place(page)).radiusM, WAIT).not.toBe(at);
  }
  await takeBack(page);
  await wholeMap(page);
}

describe("the speed map opens", () => {
  it("with areas, lines, the drive's reach, the safe speed that the axle's own ruler tells, and the changes, and complains of nothing", async () => {
    const row = page.locator(".compare tbody tr").filter({ hasText: /^Safe at/ });
    const told = async (): Promise<number> => Number.parseFloat((await row.locator("td").first().textContent()) ?? "");
    await expect.poll(told, WAIT).toBeGreaterThan(5);
    const ruler = await told();
    await toMap(page);
    for (const part of [".map-1", ".map-2", ".map-3", ".map-limit", ".map-drive", ".map-safe-b", ".map-lean"])
      await expect
        .poll(async () => (await page.locator(`.map-ground ${part}`).first().getAttribute("d"))?.length, { ...WAIT, message: part })
        .toBeGreaterThan(10);
    // the ruler's curve has 37 points, the map is right to its stated error
    await expect.poll(safeKmh, WAIT).toBeCloseTo(ruler, 0);
    await page.waitForSelector(".change-list li");
    await expect.poll(() => page.locator(".map-sentence").first().textContent(), WAIT).toMatch(/^Your drive reaches/);
    expect(complaints).toEqual([]);
  });

  it("has the same as a table, with the tracks", async () => {
    await page.locator(".map-table summary").click();
    const rows = page.locator(".map-table tbody tr");
    await expect.poll(() => rows.count(), WAIT).toBeGreaterThanOrEqual(5);
    expect((await rows.allTextContents()).some((r) => r.includes("car park"))).toBe(true);
  });
});

describe("by mouse", () => {
  beforeEach(afresh);

  it("a press tells of its place and moves nothing; 'use this load' moves, as one change that undo takes back", async () => {
    const before = await place(page);
    const use = page.locator(".map-use");
    await page.mouse.click(...(await at(page, 0.8, 0.3)));
    await expect.poll(() => page.locator(".map-pin.on .strong").textContent(), WAIT).toMatch(/^1\d m, 1\d\.\d km\/h$/);
    expect([await place(page), await page.locator(".undo").first().isDisabled()]).toEqual([before, true]);
    // where the car finds no hold there is no load to use
    await page.mouse.click(...(await at(page, 0.1, 0.95)));
    await expect.poll(() => use.isHidden(), WAIT).toBe(true);
    await page.mouse.click(...(await at(page, 0.8, 0.3)));
    await use.waitFor(WAIT);
    await use.click();
    await expect.poll(async () => (await place(page)).radiusM, WAIT).toBeGreaterThan(before.radiusM);
    await expect.poll(() => page.locator(".map-pin.on").count(), WAIT).toBe(0);
    const after = await place(page);
    expect(after.kmh).toBeLessThan(before.kmh);
    expect(after.g).toBeCloseTo((after.kmh / 3.6) ** 2 / (9.80665 * after.radiusM), 1);
    await expect.poll(() => undoName(page), WAIT).toMatch(/^Undo: speed to [\d.]+ km\/h on [\d.]+ m$/);
    await page.locator("[data-view=axle]:visible").click();
    const ruler = async (): Promise<number> => Number(await page.locator(".cornering .ruler").getAttribute("aria-valuenow"));
    await expect.poll(ruler, WAIT).toBeCloseTo(after.g, 2);
    await page.locator(".undo").first().click();
    await expect.poll(ruler, WAIT).toBeCloseTo(before.g, 2);
  });

  it("a drag answers all the way, and Escape puts it back", async () => {
    const before = await bobSays(page);
    const bob = await page.locator(".map-bob").boundingBox();
    if (!bob) throw new Error("no bob");
    const [x0, y0] = [bob.x + bob.width / 2, bob.y + bob.height / 2];
    await page.mouse.move(x0, y0);
    await page.mouse.down();
    let last = before;
    for (let i = 1; i <= 4; i++) {
      await page.mouse.move(x0 + 20 * i, y0 + 12 * i);
      await expect.poll(() => bobSays(page), WAIT).not.toBe(last);
      last = await bobSays(page);
    }
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await expect.poll(() => bobSays(page), WAIT).toBe(before);
    expect(await undoName(page)).toBe("Nothing to undo");
  });

  it("hovering reads values and changes nothing", async () => {
    const before = await bobSays(page);
    await page.mouse.move(...(await at(page, 0.9, 0.2)));
    await expect.poll(() => page.locator(".map-read text").first().textContent(), WAIT).toMatch(/^[\d.]+ m, 7\.\d km\/h$/);
    expect(await bobSays(page)).toBe(before);
  });

  it("the other hand turns the load over", async () => {
    await page.locator("[data-hand=right]").click();
    await expect.poll(() => page.locator("[data-hand=right]").getAttribute("aria-pressed"), WAIT).toBe("true");
    await page.locator("[data-view=axle]:visible").click();
    await expect.poll(() => page.locator(".load.cornering .load-name .link").first().textContent(), WAIT).toBe("right-hand curve");
  });
});

describe("by touch", () => {
  it("a tap tells of its place, a second one uses it, the bob can be dragged by itself", async () => {
    const { page: phone } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
    await toMap(phone);
    const before = await place(phone);
    await phone.touchscreen.tap(...(await at(phone, 0.85, 0.25)));
    await phone.locator(".map-use").waitFor(WAIT);
    expect(await place(phone)).toEqual(before);
    await phone.locator(".map-use").tap();
    await expect.poll(async () => (await place(phone)).radiusM, WAIT).toBeGreaterThan(12);
    const tapped = await place(phone);
    const client = await phone.context().newCDPSession(phone);
    const box = await phone.locator(".map-bob").boundingBox();
    if (!box) throw new Error("no bob");
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", px: number, py: number): Promise<unknown> =>
      client.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x: px, y: py }] });
    await touch("touchStart", x, y);
    // a finger rests on a point before it takes it
    await phone.waitForTimeout(350);
    for (let i = 1; i <= 5; i++) await touch("touchMove", x - 20 * i, y);
    await touch("touchEnd", 0, 0);
    await expect.poll(async () => (await place(phone)).radiusM, WAIT).toBeLessThan(tapped.radiusM - 3);
    await expect.poll(() => undoName(phone), WAIT).toMatch(/^Undo: speed to/);
    const dragged = await place(phone);
    expect(Math.abs(dragged.kmh - tapped.kmh)).toBeLessThan(1.5);
    await phone.context().close();
  });
});

describe("by keyboard", () => {
  beforeEach(afresh);

  it("arrows change speed and radius, Home and End go to the next track", async () => {
    await page.locator(".map-bob").focus();
    const start = await place(page);
    await page.keyboard.press("ArrowUp");
    await expect.poll(async () => (await place(page)).kmh, WAIT).toBeCloseTo(start.kmh + 1, 1);
    await page.keyboard.press("End");
    await expect.poll(async () => (await place(page)).radiusM, WAIT).toBe(12);
    await page.keyboard.press("ArrowLeft");
    await expect.poll(async () => (await place(page)).radiusM, WAIT).toBeLessThan(12);
  });

  it("the road's shock lowers the safe speed", async () => {
    const before = await safeKmh();
    await page.locator(".map-shock .ruler").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    await expect.poll(() => page.locator(".map-sub").textContent(), WAIT).toContain("road shock ×1.5");
    await expect.poll(safeKmh, WAIT).toBeLessThan(before - 1);
    await page.keyboard.press("Home");
    await expect.poll(safeKmh, WAIT).toBe(before);
  });
});

describe("changes", () => {
  beforeEach(afresh);

  it("try as B with one click, named in undo, and B's safe line follows", async () => {
    await page.waitForFunction(
      () => document.querySelector(".change-list li") !== null && document.querySelector(".map-changes .map-progress")?.hasAttribute("hidden"),
      undefined,
      { timeout: 120_000 },
    );
    const row = page.locator(".change-list li").first();
    const title = await row.locator(".change-title").textContent();
    const to = Number((await row.locator(".change-bar text").textContent())?.replace("to ", ""));
    const safe = await safeKmh();
    expect(to).toBeGreaterThan(safe);
    await row.getByRole("button").click();
    await expect.poll(() => undoName(page), WAIT).toBe(`Undo: try as B: ${title}`);
    await page.waitForFunction((n) => Number(document.querySelector(".map-column .hero-b")?.textContent?.replace(/[^\d.]/g, "")) > n, to - 0.6);
    // both numbers are rounded to a tenth
    const b = async (): Promise<number> => Number((await page.locator(".map-column .hero-b").textContent())?.replace(/[^\d.]/g, ""));
    await expect.poll(async () => Math.abs((await b()) - to), WAIT).toBeLessThan(0.25);
  });

  it("a new design ends the older study, and the new map is told alone", async () => {
    await page.locator(".drive summary").click();
    const radius = page.getByLabel("wheel radius, mm");
    await expect.poll(() => radius.inputValue(), WAIT).toMatch(/^\d/);
    const before = await page.locator(".map-column .hero-number").textContent();
    for (const mm of ["46", "47", "45"]) {
      await radius.fill(mm);
      await radius.press("Enter");
      await expect.poll(() => undoName(page), WAIT).toContain(`to ${mm} mm`);
    }
    await expect.poll(() => page.locator(".map-column .hero-number").textContent()).not.toBe(before);
    await wholeMap(page);
    await page.waitForFunction(() => !document.querySelector(".map-picture.pale, .map-column.stale"));
    expect(complaints).toEqual([]);
  });
});

describe("a road shock that a motion run handed on", () => {
  /** Runs the landing from a height and hands its factor on; gives the factor. */
  async function handOn(dropMm: number): Promise<number> {
    await page.locator("[data-view=motion]:visible").click();
    await page.locator('[data-run="landing"]').click();
    const height = page.locator('[data-number="dropMm"]');
    await expect.poll(() => height.inputValue(), WAIT).toMatch(/^\d/);
    await page.locator('.motion-sheet[aria-busy="false"]').waitFor(WAIT);
    const hero = page.locator(".motion-hero .hero-number");
    const before = await hero.textContent();
    if ((await height.inputValue()) !== String(dropMm)) {
      await height.fill(String(dropMm));
      await expect.poll(() => hero.textContent(), WAIT).not.toBe(before);
      await page.locator('.motion-sheet[aria-busy="false"]').waitFor(WAIT);
    }
    const said = (await hero.textContent()) ?? "";
    await page.locator(".use-shock").click();
    await expect.poll(() => page.locator(".use-shock").textContent(), WAIT).toContain("The speed map counts with");
    await toMap(page);
    return Number(said.slice(1));
  }

  it("stands on the ruler, and the map counts with it", async () => {
    const shock = await handOn(60);
    expect(shock).toBeGreaterThan(2.5);
    const ruler = page.getByRole("slider", { name: /road shock/ });
    await expect.poll(() => ruler.getAttribute("aria-valuenow"), WAIT).toBe(String(shock));
    expect(Number(await ruler.getAttribute("aria-valuemax"))).toBeGreaterThanOrEqual(shock);
    await expect.poll(() => page.locator(".map-sub").textContent(), WAIT).toContain(`road shock ×${shock.toFixed(1)}`);
    await expect.poll(() => page.locator(".map-shock-beyond").isHidden(), WAIT).toBe(true);
    for (const part of [".map-1", ".map-2", ".map-3"])
      await expect
        .poll(async () => (await page.locator(`.map-ground ${part}`).first().getAttribute("d"))?.length, { ...WAIT, message: part })
        .toBeGreaterThan(10);
    expect(complaints).toEqual([]);
  });

  it("is said where it lies past the ruler's end", async () => {
    const shock = await handOn(300);
    const ruler = page.getByRole("slider", { name: /road shock/ });
    await expect.poll(() => ruler.getAttribute("aria-valuetext"), WAIT).toBe(`×${shock.toFixed(1)}`);
    const most = Number(await ruler.getAttribute("aria-valuemax"));
    expect(shock).toBeGreaterThan(most);
    await expect
      .poll(() => page.locator(".map-shock-beyond").textContent(), WAIT)
      .toBe(`×${shock.toFixed(1)} lies beyond the end of this ruler. The map counts with all of it.`);
    await expect.poll(() => page.locator(".map-sub").textContent(), WAIT).toContain(`road shock ×${shock.toFixed(1)}`);
    await ruler.focus();
    await page.keyboard.press("End");
    await expect
      .poll(() => page.locator(".map-shock-beyond").textContent(), WAIT)
      .toBe(`The last motion run gave ×${shock.toFixed(1)}, beyond the end of this ruler.`);
    expect(await page.locator(".map-sentence").first().textContent()).toMatch(/\.$/);
    expect(complaints).toEqual([]);
  });
});

describe("runs that stand in the file", () => {
  it("are marks on the map with the safe line that they would make, and one press takes what they tell", async () => {
    // a shock that the motion handed on to this page would leave no safe speed
    await toMap(page);
    await page.getByRole("slider", { name: /road shock/ }).focus();
    await page.keyboard.press("Home");
    await expect.poll(safeKmh, WAIT).toBeGreaterThan(0);
    const folder = mkdtempSync(join(tmpdir(), "wheelstay-runs-"));
    try {
      const car = JSON.parse(shippedText("heavy-forked.json"));
      const on = { radiusM: 6, date: "2026-11-21" };
      car.runs = [
        { ...on, pace: { by: "speed", kmh: 15 } },
        { ...on, pace: { by: "speed", kmh: 18 }, gave: [{ limit: "hubRetention", side: "right" }] },
      ];
      writeFileSync(join(folder, "runs.json"), JSON.stringify(car));
      const session = await page.context().newCDPSession(page);
      const data = { items: [], files: [join(folder, "runs.json")], dragOperationsMask: 1 };
      for (const type of ["dragEnter", "dragOver", "drop"] as const) await session.send("Input.dispatchDragEvent", { type, x: 500, y: 400, data });
      await toMap(page);
      const line = page.locator(".map-safe-known");
      await expect.poll(async () => (await line.getAttribute("d"))?.length, WAIT).toBeGreaterThan(50);
      expect([await page.locator(".map-run.held").count(), await page.locator(".map-run.gave").count()]).toEqual([1, 1]);
      const before = await safeKmh();
      const told = /safe below ([\d.]+)/.exec((await page.locator(".map-runs").textContent()) ?? "")?.[1];
      expect(Number(told)).toBeLessThan(before);
      await page.locator("[data-act=take-runs]").click();
      await expect.poll(() => undoName(page), WAIT).toBe("Undo: take what the runs tell");
      await expect.poll(safeKmh, WAIT).toBe(Number(told));
      await expect.poll(() => line.getAttribute("d"), WAIT).toBe("");
      await expect.poll(() => page.locator(".map-runs .aside-term").textContent(), WAIT).toBe("2 runs, all taken");
      expect(complaints).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
