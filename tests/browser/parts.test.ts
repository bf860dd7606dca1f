import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Site, startSite, undoName } from "./site.ts";

let site: Site;
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await site.open());
});
afterAll(async () => {
  await site.close();
});

const part = (name: string): Promise<unknown> => page.locator(".part-choice").selectOption(name);
const field = (label: RegExp) => page.locator(".params").getByLabel(label);
async function type(label: RegExp, text: string): Promise<void> {
  await field(label).fill(text);
  await field(label).press("Enter");
}
const sides = (which: string): Promise<void> => page.locator(`[data-sides="${which}"]`).click();

describe("the parts panel", () => {
  it("chooses what holds the wheel as a whole, and shows the fields of that kind", async () => {
    await part("hub");
    await field(/^wheel held by;/).selectOption("crossPin");
    await expect.poll(() => undoName(page)).toBe("Undo: wheel on its hub, held by: a cross-pin");
    await type(/^cross-pin, mm;/, "2,5");
    await expect.poll(() => undoName(page)).toMatch(/cross-pin to 2\.5 mm$/);
    expect(await page.locator(".params").textContent()).not.toContain("lip holds");
  });

  it("sets one side alone, says what differs, and sets both alike again", async () => {
    await part("spring");
    await sides("left");
    await type(/^rate, N\/mm;/, "3");
    await expect.poll(() => undoName(page)).toBe("Undo: left spring rate to 3 N/mm");
    await sides("both");
    await expect.poll(() => page.locator(".param-differ:not(:empty)").allTextContents()).toEqual(["left 3, right 2.4"]);
    await type(/^rate, N\/mm;/, "2,8");
    await expect.poll(() => page.locator(".param-differ:not(:empty)").count()).toBe(0);
    await sides("left");
    expect(await field(/^rate, N\/mm;/).inputValue()).toBe("2.8");
  });

  it("has the places of the pins in holes and mm, with their zero drawn", async () => {
    await part("pins");
    await type(/^out, holes; Pins, lower inner pin/, "5,5");
    await expect.poll(() => field(/^out, mm; Pins, lower inner pin/).inputValue()).toBe("44");
    await type(/^up, mm; Pins, lower inner pin/, "4 holes");
    await expect.poll(() => field(/^up, holes; Pins, lower inner pin/).inputValue()).toBe("4");
    const zero = page.locator(".labels text", { hasText: "0: places count from here" });
    await expect.poll(() => zero.count()).toBe(1);
    await part("tyre");
    await expect.poll(() => zero.count()).toBe(0);
  });

  it("cuts no word off", async () => {
    const cut: string[] = [];
    for (const p of await page.locator(".part-choice option").evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value))) {
      await part(p);
      // the panel is built anew in the next frame
      await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
      await page.evaluate(() => document.querySelector<HTMLElement>(".params .more:not([hidden])")?.click());
      cut.push(
        ...(await page
          .locator(".params .lil-name, .params .param-words, .params .param-group")
          .evaluateAll((all) =>
            all.filter((e) => e.scrollWidth > e.clientWidth + 1 || getComputedStyle(e).textOverflow === "ellipsis").map((e) => e.textContent ?? ""),
          )),
      );
    }
    expect(cut).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it("explains its words under the pointer, with the focus and pressed, and Escape closes them", async () => {
    await part("hub");
    const pop = page.locator("#help-pop");
    const word = page.locator(".params .term", { hasText: "bearing play" });
    await word.hover();
    await expect.poll(() => pop.isVisible()).toBe(true);
    expect(await pop.textContent()).toMatch(/^Play \(clearance\), mm or °/);
    // what is shown may be read with the pointer on it
    await pop.hover();
    await page.waitForTimeout(250);
    expect(await pop.isVisible()).toBe(true);
    await page.keyboard.press("Escape");
    await expect.poll(() => pop.isVisible()).toBe(false);
    await page
      .locator(".params")
      .getByLabel(/^bearing, N·mm/)
      .focus();
    await page.keyboard.press("Tab");
    await expect.poll(() => pop.isVisible()).toBe(true);
    await page.keyboard.press("Tab");
    await expect.poll(() => pop.isVisible()).toBe(false);
    await page.locator(".limit-words").first().click();
    await page.mouse.move(700, 880);
    await page.waitForTimeout(250);
    expect(await pop.isVisible()).toBe(true);
    await page.mouse.click(700, 880);
    await expect.poll(() => pop.isVisible()).toBe(false);
  });

  it("has one button for help with all words, and one that is clearly a menu", async () => {
    await page.getByRole("button", { name: "Help", exact: true }).click();
    const help = page.locator(".help-page");
    expect(await help.textContent()).toContain("Play (clearance), mm or °");
    await help.getByRole("button", { name: "close the help" }).click();
    expect(await help.isVisible()).toBe(false);
    await page.getByRole("button", { name: /^Wheelstay\s*menu$/ }).click();
    expect(await page.locator(".main-menu").isVisible()).toBe(true);
    await page.keyboard.press("Escape");
  });

  it("names an outline and moves its point by numbers; motors come in wholes", async () => {
    await page.getByRole("checkbox", { name: "body fit" }).check();
    await page.locator('[data-handle="fit.o.0.1"]').focus();
    const panel = page.locator(".fit-panel");
    await panel.getByLabel("out, mm").fill("100");
    await panel.getByLabel("out, mm").press("Enter");
    await expect.poll(() => page.locator('[data-handle="fit.o.0.1"]').getAttribute("aria-label")).toContain("100\u2009mm out");
    await page.locator('[data-view="speedMap"]').first().click();
    await page.locator(".drive summary").click();
    const motors = page.getByLabel("motors in the whole car");
    await expect.poll(() => motors.inputValue()).toMatch(/^\d/);
    await motors.fill("2,5");
    await motors.press("Enter");
    await expect.poll(() => page.locator(".drive .number-fault:not(:empty)").textContent()).toContain("a whole number");
    await motors.fill("2");
    await motors.press("Enter");
    await expect.poll(() => undoName(page)).toBe("Undo: 2 motors in the whole car");
  });
});
