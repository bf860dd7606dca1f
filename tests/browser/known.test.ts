import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ready, type Site, startSite, undoName } from "./site.ts";

/** How values are known, and the shelf of parts: on a desk and under a thumb. */

let site: Site;
beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

describe("how values are known", () => {
  it("is marked by shape, told beside the answer, set, undone and kept; parts lie on a shelf of one's own", async () => {
    const { page, complaints } = await site.open();
    const panel = page.locator(".params");
    const mark = (label: RegExp) => panel.getByLabel(label).and(page.locator(".origin-mark"));
    const rate = mark(/; rate; Spring/);
    await page.locator(".part-choice").selectOption("spring");
    expect(await rate.getAttribute("data-how")).toBe("entered");
    expect(await page.locator(".known-counts").isHidden()).toBe(true);
    await panel.locator(".shelf-open").click();
    await panel.locator('[data-take="firm spring, long"]').click();
    await expect.poll(() => rate.getAttribute("data-how")).toBe("guess");
    expect(await rate.textContent()).toBe("?");
    expect(await undoName(page)).toBe("Undo: take firm spring, long from the shelf");
    await expect.poll(() => page.locator(".hero-known").textContent()).toContain("rests on 8 guesses");
    // told beside the page: what the answer's doubt comes from, with its ±
    await expect
      .poll(() => page.locator(".known-rows li").allTextContents(), { timeout: 60_000 })
      .toContainEqual(expect.stringMatching(/^spring, .*%\?± .* N\/mm$/));

    // a number that is typed is entered; one step back it is a guess again
    await panel.getByLabel(/^rate, N\/mm;/).fill("3");
    await panel.getByLabel(/^rate, N\/mm;/).press("Enter");
    await expect.poll(() => rate.getAttribute("data-how")).toBe("entered");
    await expect.poll(() => page.locator(".hero-known").textContent()).toContain("rests on 7 guesses");

    await rate.click();
    await panel.locator('.origin-ways [data-how="measured"]').click();
    await panel.getByLabel(/^sure to plus or minus/).fill("0,05");
    await panel.getByLabel(/^sure to plus or minus/).press("Enter");
    await panel.getByLabel(/^how it was measured/).fill("three weights");
    await panel.getByLabel(/^how it was measured/).press("Enter");
    await expect.poll(() => rate.getAttribute("title")).toMatch(/^measured on \d{4}-\d\d-\d\d, ± 0\.05 N\/mm: three weights$/);
    expect(await rate.textContent()).toBe("±");

    await panel.locator(".shelf-put input").fill("front spring");
    await panel.locator('[data-put="spring"]').click();
    await expect.poll(() => panel.locator('[data-take="front spring"]').count()).toBe(1);
    const [file] = await Promise.all([page.waitForEvent("download"), panel.locator('[data-act="save-shelf"]').click()]);
    const path = join(mkdtempSync(join(tmpdir(), "wheelstay-shelf-")), "shelf.json");
    await file.saveAs(path);
    expect(readFileSync(path, "utf8")).toContain("three weights");
    await panel.locator('[data-remove="front spring"]').click();
    await expect.poll(() => panel.locator('[data-take="front spring"]').count()).toBe(0);
    await panel.getByText("put it back").click();
    await expect.poll(() => panel.locator('[data-take="front spring"]').count()).toBe(1);
    writeFileSync(path, readFileSync(path, "utf8").replace('"rateNPerMm": 3', '"rateNPerMm": 999'));
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), panel.locator('[data-act="open-shelf"]').click()]);
    await chooser.setFiles(path);
    await expect
      .poll(() => panel.locator(".shelf-status").textContent())
      .toMatch(/"front spring": rateNPerMm is 999 N\/mm; allowed 0\.05 to 200 N\/mm\. Your shelf is unchanged\./);

    await expect.poll(() => page.evaluate(() => Object.values(localStorage).some((t) => t.includes("three weights") && t.includes("doc")))).toBe(true);
    await page.reload();
    await ready(page);
    await expect.poll(() => rate.getAttribute("title")).toMatch(/three weights/);
    await panel.locator(".shelf-open").click();
    expect(await panel.locator('[data-take="front spring"]').count()).toBe(1);
    // the name of what matters leads to where it is told
    await page.locator(".known-rows li", { hasText: "rounded at its last digit" }).locator(".link").first().click();
    await expect.poll(() => panel.locator(".origin-editor").count()).toBe(1);
    // and says what is assumed while no ± is told
    await expect.poll(() => panel.locator(".origin-assumed:visible").textContent()).toMatch(/^assumed ± /);
    expect(complaints).toEqual([]);
  });

  it("is told with a thumb, too", async () => {
    const { page, complaints } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true });
    await page.locator(".open-params").tap();
    await page.locator(".part-choice").selectOption("tyre");
    const mark = page.locator(".params .origin-mark").first();
    await expect.poll(async () => (await mark.boundingBox())?.height).toBeGreaterThanOrEqual(40);
    await mark.tap();
    await page.locator('.origin-ways [data-how="guess"]').tap();
    await expect.poll(() => mark.getAttribute("data-how")).toBe("guess");
    await page.locator(".params .shelf-open").tap();
    await page.locator('.params [data-take="foam rubber, glued"]').tap();
    await expect.poll(() => mark.getAttribute("title")).toMatch(/shelf: foam rubber, glued$/);
    await page.locator(".fold").tap();
    await expect.poll(() => page.locator(".hero-known").textContent()).toMatch(/rests on 1\d guesses/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    expect(complaints).toEqual([]);
  });
});
