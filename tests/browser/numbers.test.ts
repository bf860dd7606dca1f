import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { drawn, type Site, startSite, takeBack, undoName } from "./site.ts";

let site: Site;
/** one page for all tests: each begins with the car that was opened */
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await site.open());
});
afterAll(async () => {
  await site.close();
});
beforeEach(() => takeBack(page));

async function type(label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  // a panel is filled in the frame after it is opened
  await field.waitFor();
  await drawn(page);
  await field.fill(text);
  await field.press("Enter");
}
const valueIn = (label: string): Promise<string> => page.getByLabel(label, { exact: true }).inputValue();

describe("numbers in the parts panel", () => {
  it("are read as people type them, with comma or point and with a unit behind", async () => {
    await page.locator(".part-choice").selectOption("body");
    const label = "whole car, kg; Body";
    for (const [text, shown] of [
      ["1,8", "1.8"],
      ["1,65 kg", "1.65"],
      ["2100 g", "2.1"],
      ["1.9", "1.9"],
    ] as const) {
      await type(label, text);
      await expect.poll(() => valueIn(label), { message: text }).toBe(shown);
    }
    await expect.poll(() => undoName(page)).toMatch(/1\.9 kg$/);
    // the car is asked for as the scale shows it: the axle by its share or by its reading, the drive counts with the same car
    await expect.poll(() => valueIn("on this axle, %; Body")).toBe("58");
    await expect.poll(() => valueIn("on this axle, kg; Body")).toBe("1.102");
    await type("on this axle, kg; Body", "950 g");
    await expect.poll(() => valueIn("on this axle, %; Body")).toBe("50");
    expect(await valueIn(label)).toBe("1.9");
    await page.locator(".part-choice").selectOption("hub");
    await drawn(page);
    const holds = (await page.locator(".params input[aria-label*=', N;']").last().getAttribute("aria-label")) as string;
    await type(holds, "8 kg");
    await expect.poll(() => valueIn(holds)).toBe("78.4532");
    await page.locator("[data-view=speedMap]:visible").click();
    await page.locator(".drive summary").click();
    await expect.poll(() => valueIn("whole car, kg")).toBe("1.9");
    await page.locator("[data-view=axle]:visible").click();
    await page.locator(".part-choice").waitFor();
    expect(complaints).toEqual([]);
  });

  it("out of range, of another kind, or no number at all are refused with what is allowed, and the old value stays", async () => {
    await page.locator(".part-choice").selectOption("body");
    const label = "whole car, kg; Body";
    await expect.poll(() => valueIn(label)).toMatch(/^\d/);
    const before = await valueIn(label);
    const fault = page.locator(".params .number-fault:not(:empty)");
    for (const [text, said] of [
      ["4500", /^allowed: [\d.]+ to [\d.]+ kg; it stays /],
      ["8 N", /^“N” is no unit here; kg, g; it stays /],
      ["heavy", /^“heavy” is no number; it stays /],
      ["", /^a number is wanted; it stays /],
    ] as const) {
      await type(label, text);
      const told = async (): Promise<string> => (await fault.allTextContents()).join(" | ").replaceAll("\u2009", " ");
      await expect.poll(told, { message: text }).toMatch(said);
      await expect.poll(() => valueIn(label)).toBe(before);
    }
    expect(await undoName(page)).toBe("Nothing to undo");
    await type(label, "1.5");
    await expect.poll(() => fault.count()).toBe(0);
  });

  it("count in wholes where halves make no sense", async () => {
    await page.locator(".part-choice").selectOption("spring");
    await drawn(page);
    const label = (await page.locator(".params .lil-controller", { hasText: "side by side" }).locator("input").first().getAttribute("aria-label")) as string;
    await type(label, "1,5");
    const told = async (): Promise<string> => (await page.locator(".params .number-fault:not(:empty)").allTextContents()).join(" | ").replaceAll("\u2009", " ");
    await expect.poll(told).toMatch(/^allowed: a whole number, 1 to \d+; it stays 1$/);
  });
});
