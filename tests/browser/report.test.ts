import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { wholeReport } from "../../src/report/data.ts";
import { reportHtml } from "../../src/report/html.ts";
import { withFaces } from "../../src/view/faces.ts";
import { shipped } from "../support/shipped.ts";
import { type Site, startSite, watch, whole } from "./site.ts";

let site: Site;
/** one report for all that is looked at on a desk; a whole browser prints it */
let page: Page;
let complaints: string[];
beforeAll(async () => {
  site = await startSite(whole);
  ({ page, complaints } = await site.open({ acceptDownloads: true }));
  await openReport(page);
});
afterAll(async () => {
  await site.close();
});

/** Content width and height of the printed pages at margins of 13 mm, 15 mm below, CSS px. */
const PAPERS = [
  ["A4", (210 - 26) * (96 / 25.4), (297 - 28) * (96 / 25.4)],
  ["Letter", (215.9 - 26) * (96 / 25.4), (279.4 - 28) * (96 / 25.4)],
] as const;
const SECTIONS = [
  "What gives first",
  "How sure it is",
  "Why the wheels lean",
  "Along the road",
  "Building list",
  "Curves",
  "How fast through which curve",
  "What to change first",
  "A against B",
  "The drive",
  "Taken for granted",
];
/** Letters may stand this far over an edge without being cut, px: half of a hair line and what rounding leaves. */
const SLACK_PX = 1.5;

async function openReport(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Report" }).first().click();
  await page.locator(".report-button", { hasText: "Print" }).waitFor();
  await page.waitForFunction(() => !(document.querySelector(".report-button") as HTMLButtonElement).disabled, null, { timeout: 120_000 });
}

/** Pages of a PDF as the browser writes it: one page object each. */
const pagesOf = (pdf: Buffer): number => pdf.toString("latin1").match(/\/Type\s*\/Page(?![a-zA-Z])/g)?.length ?? 0;

/** Every text of the report that stands over the edge of its drawing or of the sheet, or does not fit its cell. */
function cutTexts(page: Page, slack: number): Promise<string[]> {
  return page.evaluate((most) => {
    const root = document.querySelector(".report-host")?.shadowRoot ?? document;
    const report = root.querySelector(".report") as HTMLElement;
    const home = report.getBoundingClientRect();
    const out: string[] = [];
    for (const svg of report.querySelectorAll("svg")) {
      const frame = svg.getBoundingClientRect();
      for (const t of svg.querySelectorAll("text")) {
        const b = t.getBoundingClientRect();
        if (b.left < frame.left - most || b.right > frame.right + most || b.top < frame.top - most || b.bottom > frame.bottom + most)
          out.push(`${svg.getAttribute("class")}: ${t.textContent}`);
      }
    }
    for (const el of report.querySelectorAll<HTMLElement>("h1,h2,h3,p,li,dt,dd,th,td,caption,figcaption")) {
      const b = el.getBoundingClientRect();
      if (b.left < home.left - most || b.right > home.right + most || el.scrollWidth > el.clientWidth + most) out.push(`${el.tagName}: ${el.textContent}`);
    }
    return out;
  }, slack);
}

describe("the report in the page", () => {
  it("is made beside the page, holds every section, and complains of nothing", async () => {
    await expect.poll(() => page.locator(".report h2").allTextContents()).toEqual(SECTIONS);
    expect(await page.locator(".report h1").textContent()).toBe("Heavy car, forked arms");
    expect(await page.locator(".report svg.axle path").count()).toBeGreaterThan(30);
    expect(complaints).toEqual([]);
  });

  it.each(PAPERS)("prints on %s: the summary on one page, a sensible number of pages, nothing cut off", async (format, widthPx, heightPx) => {
    const pdf = await page.pdf({ format });
    expect(pagesOf(pdf)).toBeGreaterThanOrEqual(8);
    expect(pagesOf(pdf)).toBeLessThanOrEqual(12);
    await page.emulateMedia({ media: "print" });
    await page.setViewportSize({ width: Math.floor(widthPx), height: 1000 });
    expect(await page.locator("header.bar").isVisible()).toBe(false);
    expect(await page.locator(".report-tools").isVisible()).toBe(false);
    const first = await page.locator(".report .summary").evaluate((el) => {
      const bottoms = [...el.querySelectorAll("*")].map((e) => e.getBoundingClientRect().bottom);
      return {
        height: Math.max(...bottoms) - el.getBoundingClientRect().top,
        breaks: getComputedStyle(el).breakAfter,
        pictures: el.querySelectorAll("svg").length,
      };
    });
    expect(first).toMatchObject({ breaks: "page", pictures: 1 });
    expect(first.height).toBeLessThanOrEqual(heightPx);
    expect(await cutTexts(page, SLACK_PX)).toEqual([]);
    await page.emulateMedia({ media: "screen" });
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it("fits each paper as a file of its own, with two maps, two sides and a B", async () => {
    const made = wholeReport({
      scenario: shipped("asymmetric.json"),
      b: shipped("twin-tube-hub-spring.json"),
      load: { lateralG: -0.4, bumpLeftMm: 0, bumpRightMm: 2 },
      caseName: null,
      radiusM: 6,
      trackName: "car park",
      shock: 1.4,
      date: "2026-02-03",
    });
    if (!made.ok) throw new Error(made.reason.message);
    const alone = await site.browser.newPage();
    await alone.setContent(withFaces(reportHtml(made.data)));
    await alone.emulateMedia({ media: "print" });
    expect(await alone.locator("svg.map").count()).toBe(2);
    for (const [format, widthPx] of PAPERS) {
      await alone.setViewportSize({ width: Math.floor(widthPx), height: 1000 });
      expect(await cutTexts(alone, SLACK_PX), format).toEqual([]);
      expect(pagesOf(await alone.pdf({ format })), format).toBeLessThanOrEqual(15);
    }
    // the finder itself: a word that is too long for its cell, and one that leaves its drawing
    await alone.evaluate(() => {
      const cell = document.querySelector("td") as HTMLElement;
      cell.innerHTML = '<span style="display:inline-block;width:2000px">wide</span>';
      (document.querySelector("svg.chart text") as SVGTextElement).setAttribute("x", "-40");
    });
    const found = await cutTexts(alone, SLACK_PX);
    expect(found.some((t) => t === "TD: wide")).toBe(true);
    expect(found.some((t) => t.startsWith("chart: "))).toBe(true);
    await alone.close();
  });

  it("saves a page of its own that opens and prints anywhere, JSON and a table", async () => {
    const saved = async (kind: string): Promise<string> => {
      const [file] = await Promise.all([page.waitForEvent("download"), page.locator(`[data-save="${kind}"]`).click()]);
      expect(file.suggestedFilename()).toBe(`heavy-car-forked-arms-report.${kind}`);
      return file.path();
    };
    const json = JSON.parse(readFileSync(await saved("json"), "utf8")) as { format: string; scenario: { name: string } };
    expect([json.format, json.scenario.name]).toEqual(["wheelstay-report", "Heavy car, forked arms"]);
    expect(readFileSync(await saved("csv"), "utf8").split("\n")[0]).toBe("section,what,where,at,at unit,value,unit");
    const html = readFileSync(await saved("html"), "utf8");
    const alone = await page.context().newPage();
    const said = watch(alone);
    const asked: string[] = [];
    alone.on("request", (r) => asked.push(r.url()));
    await alone.setContent(html);
    expect(await alone.locator("h2").allTextContents()).toEqual(SECTIONS);
    const pdf = await alone.pdf({ format: "A4" });
    expect(pagesOf(pdf)).toBeGreaterThanOrEqual(8);
    expect(pagesOf(pdf)).toBeLessThanOrEqual(12);
    expect(asked.filter((u) => !u.startsWith("data:"))).toEqual([]);
    expect(said).toEqual([]);
    await alone.close();
  });

  it("leaves B out when that is asked for, and is made again when the load changes", async () => {
    await page.getByRole("button", { name: "With B" }).click();
    await page.waitForFunction(() => !document.querySelector(".report-host")?.shadowRoot?.textContent?.includes("A against B"), null, { timeout: 120_000 });
    const before = await page.locator(".report header .strong").textContent();
    await page.getByRole("button", { name: "Axle" }).first().click();
    await page.locator('[data-handle="gravity"]').waitFor();
    await page
      .getByRole("slider", { name: /cornering/ })
      .first()
      .focus();
    await page.keyboard.press("ArrowLeft");
    await page.getByRole("button", { name: "Report" }).first().click();
    await page.waitForFunction((old) => document.querySelector(".report-host")?.shadowRoot?.querySelector("header .strong")?.textContent !== old, before, {
      timeout: 120_000,
    });
  });
});
