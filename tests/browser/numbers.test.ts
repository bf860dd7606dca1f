import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Site, startSite, undoName } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

async function type(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press("Enter");
}
const valueIn = (page: Page, label: string): Promise<string> => page.getByLabel(label, { exact: true }).inputValue();

describe("numbers in the parts panel", () => {
  it("are read as people type them, with comma or point and with a unit behind", async () => {
    const { page, complaints } = await site.open();
    await page.locator(".part-choice").selectOption("body");
    const label = "whole car, kg; Body";
    for (const [text, shown] of [
      ["1,8", "1.8"],
      ["1,65 kg", "1.65"],
      ["2100 g", "2.1"],
      ["1.9", "1.9"],
    ] as const) {
      await type(page, label, text);
      expect(await valueIn(page, label), text).toBe(shown);
    }
    await expect.poll(() => undoName(page)).toMatch(/1\.9 kg$/);
    // the car is asked for as the scale shows it: the axle by its share or by its reading, the drive counts with the same car
    expect(await valueIn(page, "on this axle, %; Body")).toBe("58");
    expect(await valueIn(page, "on this axle, kg; Body")).toBe("1.102");
    await type(page, "on this axle, kg; Body", "950 g");
    await expect.poll(() => valueIn(page, "on this axle, %; Body")).toBe("50");
    expect(await valueIn(page, label)).toBe("1.9");
    await page.locator(".part-choice").selectOption("hub");
    const holds = (await page.locator(".params input[aria-label*=', N;']").last().getAttribute("aria-label")) as string;
    await type(page, holds, "8 kg");
    expect(await valueIn(page, holds)).toBe("78.4532");
    await page.locator("[data-view=speedMap]:visible").click();
    await page.locator(".drive summary").click();
    await expect.poll(() => valueIn(page, "whole car, kg")).toBe("1.9");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("out of range, of another kind, or no number at all are refused with what is allowed, and the old value stays", async () => {
    const { page } = await site.open();
    await page.locator(".part-choice").selectOption("body");
    const label = "whole car, kg; Body";
    const before = await valueIn(page, label);
    const fault = page.locator(".params .number-fault:not(:empty)");
    for (const [text, said] of [
      ["4500", /^allowed: [\d.]+ to [\d.]+ kg; it stays /],
      ["8 N", /^“N” is no unit here; kg, g; it stays /],
      ["heavy", /^“heavy” is no number; it stays /],
      ["", /^a number is wanted; it stays /],
    ] as const) {
      await type(page, label, text);
      expect((await fault.textContent())?.replaceAll("\u2009", " "), text).toMatch(said);
      expect(await valueIn(page, label)).toBe(before);
    }
    expect(await undoName(page)).toBe("Nothing to undo");
    await type(page, label, "1.5");
    expect(await fault.count()).toBe(0);
    await page.context().close();
  });

  it("count in wholes where halves make no sense", async () => {
    const { page } = await site.open();
    await page.locator(".part-choice").selectOption("spring");
    const label = (await page.locator(".params .lil-controller", { hasText: "side by side" }).locator("input").first().getAttribute("aria-label")) as string;
    await type(page, label, "1,5");
    expect((await page.locator(".params .number-fault:not(:empty)").textContent())?.replaceAll("\u2009", " ")).toMatch(
      /^allowed: a whole number, 1 to \d+; it stays 1$/,
    );
    await page.context().close();
  });
});
