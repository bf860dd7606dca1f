import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { scenarioFile } from "../view/fixture.ts";
import { kept, ready, type Site, startSite } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

/** An upper arm whose legs stand on one point, with pins free about the arm: its frame can turn on the spot. */
const free = () => {
  const s = structuredClone(scenarioFile("heavy-forked"));
  s.corner.upperArm.spreadMm = 0;
  s.corner.upperArm.pivotFreeAboutArm = true;
  return { ...s, name: "free to turn" };
};

describe("a design that the mechanics cannot begin with", () => {
  it("is refused with its sentence before it is shown or kept", async () => {
    const { page, complaints } = await site.open();
    const text = JSON.stringify(free());
    await page.evaluate((t) => {
      const data = new DataTransfer();
      data.items.add(new File([t], "free.json", { type: "application/json" }));
      window.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, text);
    await expect.poll(() => page.locator(".page-notice .notice").textContent()).toMatch(/spreadMm is 0 mm|too little hold/);
    expect(await page.locator(".design-tab.a .design-name").textContent()).toBe("Heavy car, forked arms");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("that lies in the browser's store all the same does not shut the page", async () => {
    const { page } = await site.open();
    await kept(page);
    const key = await page.evaluate(() => Object.keys(localStorage).find((k) => k.startsWith("wheelstay.session.")) as string);
    const context = page.context();
    await page.goto("about:blank");
    const other = await context.newPage();
    await other.route("**/empty", (r) => r.fulfill({ contentType: "text/html", body: "<p>empty" }));
    await other.goto(`${site.url}empty`);
    await other.evaluate(
      ([k, a]) => {
        const value = JSON.parse(localStorage.getItem(k as string) as string);
        localStorage.setItem(k as string, JSON.stringify({ ...value, doc: { ...value.doc, a } }));
      },
      [key, free()] as const,
    );
    await page.goto(site.url);
    await ready(page);
    await expect.poll(() => page.locator(".page-notice .notice").textContent()).toMatch(/A part of your earlier work could not be read/);
    expect(await page.locator(".hero-number").first().textContent()).toMatch(/°/);
    expect(await page.evaluate((k) => localStorage.getItem(k) as string, key)).toContain("free to turn");
    await context.close();
  });
});
