import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { drag, type Site, startSite, stillPicture, undoName, violations } from "./site.ts";

/** a busy machine may take its time for a frame */
const WAIT = { timeout: 60_000 };
let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

describe("on the axle", () => {
  it("an opened limit tells why, and the parts off its way stand back", async () => {
    const { page, complaints } = await site.open();
    const row = page.locator("[data-limit=hubRetention]");
    const canvas = page.locator(".stage canvas").last();
    await page.mouse.move(5, 400);
    const calm = await stillPicture(canvas);
    await row.locator(".limit-fig").click();
    await expect.poll(() => row.locator(".limit-why").textContent(), WAIT).toContain("what helps this car");
    await page.mouse.move(5, 400);
    await expect.poll(async () => (await canvas.screenshot()).equals(calm), WAIT).toBe(false);
    await row.locator(".limit-fig").click();
    await expect.poll(() => row.locator(".limit-why").count(), WAIT).toBe(0);
    // how high it stands, and the packing that lets it stand as drawn: one press, one step to undo
    const stands = page.locator(".stands");
    await expect
      .poll(() => stands.textContent(), WAIT)
      .toMatch(/^At rest it stands \d\.\d.mm lower than built; pack the springs by 2\.5.mm to stand as drawn\.$/);
    await page.locator("[data-act=pack-springs]").click();
    await expect.poll(() => undoName(page), WAIT).toMatch(/^Undo: pack the springs by 2\.5.mm$/);
    await expect.poll(() => stands.innerText(), WAIT).toBe("At rest it stands as built.");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("the body's outline is dragged, given a point by key, and the tightest place follows", async () => {
    const { page, complaints } = await site.open();
    await page.locator("[data-show=fit]").check();
    await page.waitForSelector("[data-handle='fit.o.0.3']");
    await expect.poll(() => page.locator(".fit-tight").textContent(), WAIT).toMatch(/\d/);
    const before = await page.locator(".fit-tight").textContent();
    await drag(page, "fit.o.0.3", -6, 40);
    await expect.poll(() => undoName(page), WAIT).toBe("Undo: body shell, point 4");
    await expect.poll(() => page.locator(".fit-tight").textContent(), WAIT).not.toBe(before);
    // a touch is a caution, told in mm, that leaves what gives first alone until it must hold
    const row = page.locator("[data-limit=fit]");
    await expect.poll(() => row.textContent(), WAIT).toMatch(/Tyre touches.*right, body shell \(caution\).*touches, \d+\.\d.mm deep.*−\d+\.\d.mm$/);
    await expect.poll(() => page.locator("li[data-limit]").first().getAttribute("data-limit"), WAIT).toBe("hubRetention");
    await page.locator("[data-fit=must-hold]").check();
    await expect.poll(() => undoName(page), WAIT).toBe("Undo: the body must hold");
    await expect.poll(() => row.textContent(), WAIT).not.toContain("(caution)");
    const count = await page.locator("[data-handle^='fit.o.0.']").count();
    await page.locator("[data-handle='fit.o.0.3']").focus();
    await page.keyboard.press("Insert");
    await expect.poll(() => page.locator("[data-handle^='fit.o.0.']").count(), WAIT).toBe(count + 1);
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute("data-handle")), WAIT).toBe("fit.o.0.4");
    await page.keyboard.press("Delete");
    await expect.poll(() => page.locator("[data-handle^='fit.o.0.']").count(), WAIT).toBe(count);
    await page.locator("[data-fit=add-box]").click();
    await expect.poll(() => undoName(page), WAIT).toBe("Undo: add a box that stays free");
    expect(await violations(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
