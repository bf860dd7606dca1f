import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import { answered, startedCar } from "../../src/scenario/own-car/own-car.ts";
import { answersOn } from "../support/paper-sheets.ts";
import { begin, fingers, middle, textOf, told, value } from "./own-car-hand.ts";
import { bothThemes, lean, type Site, startSite, undoName } from "./site.ts";

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

const FIRST_G = 0.6;

/** Goes on with Tab until a control has the focus, as a hand without a mouse does. */
async function tabTo(page: Page, selector: string): Promise<void> {
  for (let i = 0; i < 160; i++) {
    if (await page.evaluate((s) => document.activeElement?.matches(s) ?? false, selector)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`${selector} is not reached by Tab`);
}
/** The lean that the page tells, °. */
const firstAnswer = async (page: Page): Promise<number> => Number((await textOf(page, ".own-number")).replace("°", "").replace("−", "-"));
describe("from an empty car to a first answer", () => {
  it("with pins and weight alone, by keyboard alone; it comes back, and goes back step by step", async () => {
    const { page, complaints } = await site.open();
    await tabTo(page, "[data-act=own-car]");
    await page.keyboard.press("Enter");
    await tabTo(page, "[data-act=own-start]");
    await page.keyboard.press("Enter");
    const answers = answersOn("pins-and-weight");
    await tabTo(page, '[data-answer="carMassKg"]');
    await page.keyboard.type("4000 g");
    await page.keyboard.press("Enter");
    await expect.poll(() => value(page, "carMassKg")).toBe("4");
    expect(await textOf(page, ".own-answer-head")).toBe("Still wanted for an answer");
    await page.keyboard.press("Shift+Tab");
    await tabTo(page, "[data-step=pins]");
    await page.keyboard.press("Enter");
    const { carMassKg: _, ...pins } = answers;
    for (const [key, mm] of Object.entries(pins)) {
      await tabTo(page, `[data-answer="${key}"]`);
      await page.keyboard.type(String(mm));
      await page.keyboard.press("Enter");
    }
    // the same car worked out here
    const found = analyze(answered(startedCar(), answers), { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!found.ok) throw new Error(found.reason.message);
    await expect.poll(() => firstAnswer(page)).toBeCloseTo(found.report.right.camberDeg, 1);

    // the same places in holes of 8 mm
    await tabTo(page, ".own-units .word-switch:last-child");
    await page.keyboard.press("Enter");
    await expect.poll(() => value(page, "upperInner.up")).toBe("9.5");
    await page.keyboard.press("Shift+Tab");
    await page.keyboard.press("Enter");

    // an arrow key moves a pin by half a hole
    await tabTo(page, '[data-grip="upperInner"]');
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => value(page, "upperInner.up")).toBe("80");
    expect(await undoName(page)).toBe("Undo: upper inner pin to 56.0 mm out, 80.0 mm up");

    // away and back, and after a reload, it is where it was
    await page.locator("[data-view=axle]:visible").click();
    await page.waitForTimeout(300);
    await page.reload();
    await page.waitForSelector("html[data-ready]", { state: "attached" });
    await page.locator("[data-act=own-car]").click();
    await expect.poll(() => value(page, "upperInner.up")).toBe("80");
    await page.locator("[data-step=size]").click();
    expect(await told(page, "carMassKg")).toBe("told");
    expect(await told(page, "axleMassKg")).toBe("guess");

    // ten answers and the start, back one by one
    for (let n = 0; n < 11; n++) await page.locator(".bar .undo").first().click();
    expect(await undoName(page)).toBe("Nothing to undo");
    expect(await textOf(page, ".design-tab.a .design-name")).toBe("Heavy car, forked arms");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("with everything on a sheet filled in, it is the sheet's car", async () => {
    const { page, complaints } = await site.open();
    await begin(page);
    const answers = answersOn("small-all-told");
    const steps = ["size", "wheels", "pins", "arms", "springs", "hub", "drive"];
    for (const step of steps) {
      await page.locator(`[data-step=${step}]`).click();
      // a choice brings up the questions that go with it
      for (const kind of ["select", "input"])
        for (const [key, v] of Object.entries(answers)) {
          const field = page.locator(`${kind}[data-answer="${key}"]:visible`);
          if ((await field.count()) === 0) continue;
          if (kind === "select") await field.selectOption(String(v));
          else {
            await field.fill(String(v));
            await field.press("Enter");
          }
        }
    }
    const found = analyze(answered(startedCar(), answers), { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!found.ok) throw new Error(found.reason.message);
    await expect.poll(() => firstAnswer(page)).toBeCloseTo(found.report.right.camberDeg, 1);
    expect(await textOf(page, "[data-step=pins] small")).toBe("8 of 8 told");
    await page.locator("[data-act=own-to-axle]").click();
    expect(await lean(page)).toBeCloseTo(found.report.right.camberDeg, 1);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("by thumb at 390 by 844: a ring is pulled, a weight on the spring tells its rate, and an answer is left out again", async () => {
    const { page, complaints } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.locator("[data-act=own-car]").tap();
    await page.locator("[data-act=own-start]").tap();
    await page.locator("[data-step=pins]").tap();
    const before = Number((await page.locator('[data-answer="lowerOuter.out"]').getAttribute("placeholder"))?.replace("\u2248 ", ""));
    const touch = await fingers(page);
    const [x, y] = await middle(page, '[data-grip="lowerOuter"]');
    await touch("touchStart", [[x, y]]);
    for (let i = 1; i <= 6; i++) await touch("touchMove", [[x - 3 * i, y]]);
    await touch("touchEnd", []);
    await expect.poll(() => told(page, "lowerOuter.out")).toBe("told");
    const after = Number(await value(page, "lowerOuter.out"));
    expect(after).toBeLessThan(before - 4);
    expect(after % 4).toBe(0);
    await page.locator('[data-question="lowerOuter.out"] .own-known').tap();
    await expect.poll(() => told(page, "lowerOuter.out")).toBe("guess");

    await page.locator("[data-step=springs]").tap();
    await page.locator("[data-sink=mass]").fill("0,5");
    await page.locator("[data-sink=mm]").fill("3.5");
    await page.keyboard.press("Enter");
    // by hand: 0.5 · 9.80665 / 3.5 = 1.401 N/mm, and half a mm of 3.5 is ± 0.2
    await expect.poll(async () => Number(await value(page, "springRateNPerMm"))).toBeCloseTo(1.401, 3);
    expect(await told(page, "springRateNPerMm")).toMatch(/^sank 3.5 mm under 0.5 kg \u00b10.2$/);
    for (const width of [320, 390]) {
      await page.setViewportSize({ width, height: 844 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
    }
    expect(await bothThemes(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
