import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { BENCH_TESTS } from "../../src/core/bench/definitions.ts";
import { BENCH_KINDS, type BenchKind } from "../../src/core/design/tried.ts";
import { drawn, kept, ready, type Site, startSite, takeBack, undoName } from "./site.ts";

let site: Site;
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  // one page for mouse, keys and fingers
  ({ page, complaints } = await site.open({ hasTouch: true }));
  await page.locator("[data-view=bench]:visible").click();
  await page.locator("[data-kind=armHang]").waitFor();
});
// each test begins with the car that was opened, also after one that failed
beforeEach(() => takeBack(page));
afterAll(async () => {
  expect(complaints).toEqual([]);
  await site.close();
});

const cell = (row: number, column: number): string => `[data-cell="${row}.${column}"]`;
const texts = (selector: string): Promise<string[]> => page.locator(selector).allTextContents();
const noteOf = async (row: number): Promise<string> => (await page.locator(`[data-row="${row}"] .bench-note`).textContent()) ?? "";
const result = async (path: string): Promise<string> => ((await page.locator(`[data-result="${path}"]`).textContent()) ?? "").replace(/\u2009/g, " ");
const value = (row: number, column: number): Promise<string> => page.locator(cell(row, column)).inputValue();

/** Pastes into the cell that has the focus, as a spreadsheet's text comes. */
const paste = (text: string): Promise<void> =>
  page.evaluate((t) => {
    const data = new DataTransfer();
    data.setData("text/plain", t);
    document.activeElement?.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }));
  }, text);
const open = (kind: BenchKind): Promise<void> => page.evaluate((k) => document.querySelector<HTMLElement>(`button[data-kind="${k}"]`)?.click(), kind);

async function tabTo(selector: string): Promise<void> {
  for (let i = 0; i < 120; i++) {
    if (await page.evaluate((s) => document.activeElement?.matches(s) ?? false, selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`${selector} is not reached by Tab`);
}

describe("a test from its set-up to the design", () => {
  it("by mouse: a spring pressed on a scale", async () => {
    await page.locator("button[data-kind=springPress]").click();
    await page.locator('.bench-settings [data-setting="packingMm"]').fill("0");
    await page.locator('[data-unit="0"]').selectOption("N");
    // by hand: 5 mm less for each 10 N are 2 N/mm, from 60 mm without a load
    const read = [
      ["0", "60"],
      ["10", "55,1"],
      ["20", "50"],
      ["30", "44,9"],
      ["20", "50.1"],
      ["10", "54.9"],
    ];
    for (const [row, cells] of read.entries())
      for (const [column, text] of cells.entries()) {
        await page.locator(cell(row, column)).click();
        await page.keyboard.type(text);
      }
    await expect.poll(() => result("corner.spring.rateNPerMm")).toMatch(/(1\.9\d|2\.0\d)\d? ± 0\.0\d+ N\/mm/);
    expect(await result("corner.spring.freeLengthMm")).toMatch(/(59\.9|60\.0|60\.1)\d* ± 0?\.\d+ mm/);
    expect(await page.locator(".bench-points").first().locator("path").count()).toBe(6);
    expect(await page.locator(".bench-point.down").count()).toBeGreaterThan(0);
    await page.locator("[data-act=put-in]").click();
    await expect.poll(() => page.locator("[data-act=put-in]").textContent()).toBe("It stands in the design");
    expect(await undoName(page)).toBe("Undo: spring pressed on a scale: put into the design");
    const sign = page.locator('[data-result="corner.spring.rateNPerMm"] .origin-sign');
    expect(await sign.getAttribute("data-how")).toBe("measured");
    expect(await sign.getAttribute("aria-label")).toContain("bench");
    await page.locator(".bar .undo").first().click();
    await expect.poll(() => page.locator("[data-act=put-in]").textContent()).toBe("Put into the design");
    await takeBack(page);
  });

  it("by keyboard alone: a tyre pressed flat", async () => {
    await page.locator("[data-kind='']").focus();
    await tabTo("[data-kind=tyrePress]");
    await page.keyboard.press("Enter");
    await tabTo(cell(0, 0));
    // by hand: 1 mm for each 981 g is 9.62 N/mm
    for (let i = 0; i < 5; i++) {
      await page.keyboard.type(String(981 * i));
      await page.keyboard.press("Tab");
      await page.keyboard.type((i + (i % 2 ? 0.02 : -0.02)).toFixed(2));
      await page.keyboard.press("Enter");
      await page.keyboard.press("ArrowLeft");
    }
    await expect.poll(() => result("corner.tyre.verticalNPerMm")).toMatch(/9\.[5-7]\d* ± 0\.\d+/);
    await page.keyboard.press("ArrowUp");
    expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).value)).toBe("3924");
    // a step back from within a cell
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+y");
    await tabTo("[data-act=put-in]");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator("[data-act=put-in]").textContent()).toBe("It stands in the design");
  });

  it("by thumb at 390 by 844: a wheel pulled off its hub", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    const list = page.locator("[data-act=bench-list]");
    if (await list.isVisible()) await list.tap();
    await page.locator("button[data-kind=hubPullOff]").tap();
    await page.locator('[data-unit="0"]').selectOption("N");
    // by hand: their mean is 85.4 N
    for (const [row, text] of ["85", "88", "79", "91", "84"].entries()) {
      await page.locator(cell(row, 0)).tap();
      await page.keyboard.type(text);
    }
    await expect.poll(async () => (await texts(".bench-facts li")).join()).toMatch(/5 samples: mean 85\.4/);
    await page.locator("[data-act=put-in]").tap();
    await expect.poll(() => page.locator("[data-act=put-in]").textContent()).toBe("It stands in the design");
    await page.locator("[data-act=bench-list]").tap();
    await expect.poll(() => page.locator(".bench-kept-open").textContent()).toContain("5 rows");
    await page.setViewportSize({ width: 1440, height: 900 });
  });
});

describe("tables from a spreadsheet", () => {
  it("go into each of the 14 tests, with their headings and units", async () => {
    for (const kind of BENCH_KINDS) {
      await open(kind);
      await page.locator(".bench-drawing").waitFor();
      await page.locator(cell(0, 0)).focus();
      const { columns } = BENCH_TESTS[kind];
      const line = (cells: readonly string[]): string => cells.join("\t");
      const numbers = [1, 2, 3, 4].map((n) =>
        line(columns.map((c) => String(c.quantity === "turning" ? 9000 + 10 * n : c.quantity === "angle" || c.quantity === "tilt" ? n + 0.1 : 100 * n))),
      );
      await paste([line(columns.map((c) => `${c.words} (${c.units[0]})`)), ...numbers].join("\n"));
      await expect.poll(() => page.locator(".bench-told span").textContent(), { message: kind }).toMatch(/^4 rows put in from row 1 on\. Headings read/);
      expect(await value(3, 0), kind).not.toBe("");
      expect(await value(3, columns.length - 1), kind).not.toBe("");
      expect(await page.locator(".bench-table .bad").count(), kind).toBe(0);
      expect(await page.locator(".bench-points").first().locator("path").count(), kind).toBeGreaterThan(0);
    }
    expect(await page.locator(".bench-kept-open").count()).toBe(BENCH_KINDS.length);
  });

  it("nonsense is named beside its row and stays; too much is told and stays to be seen; all of it comes back after a reload, and goes back step by step", async () => {
    await open("armHang");
    await page.locator(cell(0, 0)).focus();
    const odd = ["−5\t0.4", "abc\t1", "200 furlong\t1.2", "100 g\t", "0.3 kg\t1,3"];
    await paste(odd.join("\n"));
    await expect.poll(() => noteOf(1)).toContain("abc");
    expect(await noteOf(2)).toContain("furlong");
    expect(await noteOf(3)).toContain("nothing stands there");
    expect(await value(2, 0)).toBe("200 furlong");
    expect(await page.locator(".bench-table .bad").count()).toBe(3);
    // a table of a thousand rows
    await page.locator(cell(5, 0)).focus();
    await paste(Array.from({ length: 995 }, (_, i) => `${i % 300}\t${((i % 300) * 0.004).toFixed(2)}`).join("\n"));
    await expect.poll(() => page.locator("[data-row]").count()).toBe(1000);
    expect(await value(999, 0)).toBe("94");
    // letters that a cell does not hold stay where they are
    await page.locator(cell(0, 1)).fill("z".repeat(30));
    await expect.poll(() => noteOf(0)).toBe("not kept: it has 30 letters, a cell holds up to 24");
    expect(await value(0, 1)).toBe("z".repeat(30));
    await page.locator(cell(0, 1)).fill("0.5");
    await page.locator(cell(999, 0)).focus();
    await paste("1\t2\n3\t4");
    await expect.poll(() => page.locator(".bench-told").textContent()).toContain("The table would have 1001 rows; allowed are up to 1000.");
    expect(await page.locator("[data-paste]").inputValue()).toBe("1\t2\n3\t4");
    await kept(page);
    await page.reload();
    await ready(page);
    await expect.poll(() => page.locator("[data-row]").count()).toBe(1000);
    expect(await value(2, 0)).toBe("200 furlong");
    expect(await value(0, 1)).toBe("0.5");
    await page.locator(".bar .undo").first().click();
    await expect.poll(() => value(0, 1)).toBe("0.4");
    await page.locator(".bar .undo").first().click();
    await expect.poll(() => page.locator("[data-row]").count()).toBeLessThan(12);
  });
});

describe("the log of runs", () => {
  it("keeps what was told, comes back after a reload, is changed and taken out", async () => {
    await page.locator("[data-part=runs]").click();
    await page.locator("[data-act=new-run]").click();
    const speed = page.locator('.bench-run input[aria-label="speed, km/h"]');
    expect(await page.locator("[data-act=keep-run]").getAttribute("aria-disabled")).toBe("true");
    await page.locator('.bench-run input[aria-label="radius of the curve, m"]').fill("6");
    await speed.fill("24");
    await page.keyboard.press("Enter");
    // by hand: (24 / 3.6)² / (6 · 9.80665) = 0.76 g
    await expect.poll(() => page.locator(".bench-pace").textContent()).toBe("24.0\u2009km/h, 0.76\u2009g");
    await page.locator("[data-gave=hubRetention]").check();
    await page.locator("[data-gave-side=hubRetention]").selectOption("right");
    await kept(page);
    // what is told and not kept yet comes back as well
    await page.reload();
    await ready(page);
    await expect.poll(() => page.locator("[data-gave-side=hubRetention]").inputValue()).toBe("right");
    await page.locator("[data-act=keep-run]").click();
    await expect.poll(() => page.locator(".bench-run-open.broke .bench-gave").textContent()).toBe("hub pulled off (right)");
    // what it tells is worked out beside the page, and goes into the design in one step
    await page.locator('.bench-told-list svg[aria-label^="wheel on its hub"]').waitFor();
    await page.locator("[data-act=take-runs]").click();
    await expect.poll(() => page.locator(".bench-gave").first().textContent()).toBe("hub pulled off (right); taken into the design");
    expect(await page.locator(".bench-told-note").textContent()).toBe("What these runs told stands in the design.");
    expect(await undoName(page)).toBe("Undo: take what the runs tell");
    await page.locator(".bar .undo").first().click();
    await expect.poll(() => page.locator(".bench-gave").first().textContent()).toBe("hub pulled off (right)");
    await page.locator('[data-run-field="by"]').selectOption("lap");
    await expect.poll(() => page.locator('.bench-run input[aria-label="lap time, s"]').inputValue()).toBe("5.655");
    await page.locator("[data-gave=hubRetention]").uncheck();
    await expect.poll(() => page.locator(".bench-gave").first().textContent()).toBe("all held");
    await page.locator("[data-act=remove-run]").click();
    await expect.poll(() => page.locator(".bench-run-open").count()).toBe(0);
    expect(await undoName(page)).toMatch(/^Undo: run of .* removed$/);
    await takeBack(page);
    await page.locator("[data-part=tests]").click();
  });
});

describe("the way to the bench", () => {
  it("leads from what gives first to its test", async () => {
    await page.locator("[data-view=axle]:visible").click();
    await page.locator('.limit-list li[data-limit^="hubRetention"] .limit-fig').first().click();
    await page.locator("[data-bench-for]").click();
    await drawn(page);
    await expect.poll(() => page.locator(".bench-head h2").textContent()).toBe("Wheel pulled off its hub");
  });
});
