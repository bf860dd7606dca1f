import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { INITIAL_VIEW } from "../../src/state/document.ts";
import { toHash } from "../../src/state/link.ts";
import { named as namedFault } from "../support/faults.ts";
import { scenarioFile } from "../view/fixture.ts";
import { drag, drawn, kept, ready, type Site, startSite, undoName } from "./site.ts";

let site: Site;

beforeAll(async () => {
  site = await startSite();
});
afterAll(async () => {
  await site.close();
});

const load = { lateralG: 0.5, bumpLeftMm: 0, bumpRightMm: 0 };
const named = (name: string) => ({ a: { ...scenarioFile("heavy-straight"), name }, b: scenarioFile("asymmetric"), load });
const nameOf = (page: Page, which: "a" | "b"): Promise<string | null> => page.locator(`.design-tab.${which} .design-name`).textContent();
const notice = (page: Page) => page.locator(".page-notice .notice");

async function rename(page: Page, which: "a" | "b", name: string): Promise<void> {
  await page.locator(`.design-tab.${which}`).click();
  const field = page.locator(`.design-menu[aria-label="design ${which.toUpperCase()}"] input`);
  await field.fill(name);
  await field.press("Enter");
  await page.keyboard.press("Escape");
  await page.waitForFunction(([w, n]) => document.querySelector(`.design-tab.${w} .design-name`)?.textContent === n, [which, name]);
}
const tabOf = async (context: BrowserContext, hash = ""): Promise<Page> => {
  const page = await context.newPage();
  await page.goto(site.url + hash);
  await ready(page);
  return page;
};
/** A tab of the same origin without the program in it. */
async function emptyTab(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.route("**/empty", (r) => r.fulfill({ contentType: "text/html", body: "<p>empty" }));
  await page.goto(`${site.url}empty`);
  return page;
}

describe("a received link", () => {
  it(namedFault("a link is received while work lies here"), async () => {
    const { page } = await site.open();
    const context = page.context();
    await rename(page, "a", "my own car");
    await kept(page);
    await page.close();
    const link = await tabOf(context, `#${await toHash(named("a friend's car"))}`);
    await expect.poll(() => nameOf(link, "a")).toBe("a friend's car");
    await expect.poll(() => new URL(link.url()).hash).toBe("");
    await notice(link).getByRole("button", { name: "go back to my own car" }).click();
    await link.waitForFunction(() => document.querySelector(".design-tab.a .design-name")?.textContent === "my own car");
    await expect.poll(() => undoName(link)).toBe("Undo: rename A to my own car");
    await kept(link);
    await link.reload();
    await ready(link);
    await expect.poll(() => nameOf(link, "a")).toBe("my own car");
    await context.close();
  });

  it("lets later edits live on after a reload, those after Share too", async () => {
    const { page } = await site.open({ hash: await toHash(named("a friend's car")) });
    await rename(page, "a", "changed since");
    await kept(page);
    // twice: the first time the address may still hold the link
    for (let i = 0; i < 2; i++) {
      await page.reload();
      await ready(page);
      await expect.poll(() => nameOf(page, "a")).toBe("changed since");
    }
    await page.locator(".share").click();
    await rename(page, "a", "changed after Share");
    await kept(page);
    await page.reload();
    await ready(page);
    await expect.poll(() => nameOf(page, "a")).toBe("changed after Share");
    await page.context().close();
  });

  it(namedFault("a link is damaged"), async () => {
    const { page } = await site.open();
    await rename(page, "a", "mine before");
    await page.evaluate(
      (h) => {
        location.hash = h;
      },
      await toHash(named("pasted")),
    );
    await page.waitForFunction(() => document.querySelector(".design-tab.a .design-name")?.textContent === "pasted");
    await notice(page).getByRole("button", { name: "go back to mine before" }).click();
    await page.waitForFunction(() => document.querySelector(".design-tab.a .design-name")?.textContent === "mine before");
    const hash = await toHash(named("pasted"));
    await page.evaluate(
      (h) => {
        location.hash = h;
      },
      hash.slice(0, -9),
    );
    await notice(page).getByText("The link is cut short or changed; nothing was opened.").waitFor();
    await expect.poll(() => nameOf(page, "a")).toBe("mine before");
    await page.context().close();
  });
});

describe("an edit that may not stand", () => {
  it(namedFault("an edit may not stand"), async () => {
    const { page } = await site.open();
    const before = await undoName(page);
    for (const view of ["axle", "arm", "speedMap"]) {
      await page.locator(`[data-view=${view}]:visible`).click();
      await rename(page, "b", "x").catch(() => {});
      await page.locator(".design-tab.a").click();
      const field = page.locator(`.design-menu[aria-label="design A"] input`);
      await field.evaluate((el: HTMLInputElement) => {
        el.value = "  ";
        el.dispatchEvent(new Event("change"));
      });
      await page.keyboard.press("Escape");
      await notice(page).getByText("A design needs a name; it is still Heavy car, forked arms.").waitFor();
      await notice(page).getByRole("button", { name: "close" }).click();
    }
    expect(before).toBe("Nothing to undo");
    await expect.poll(() => nameOf(page, "a")).toBe("Heavy car, forked arms");
    await page.context().close();
  });

  it(namedFault("a value of B's does not fit into A alone"), async () => {
    const { page, complaints } = await site.open();
    const many = async (): Promise<number> => Number.parseInt((await page.locator(".difference-box summary").textContent()) ?? "0", 10);
    await expect.poll(many).toBeGreaterThan(10);
    const all = await many();
    await page.locator(".difference-box summary").click();
    for (let i = 0; i < all; i++) {
      const names = await page.locator(".differences li .link").evaluateAll((links) => links.map((b) => b.getAttribute("aria-label")));
      if (names.length === 0) break;
      const button = page.locator(".differences li .link").nth(i % names.length);
      await button.evaluate((b: HTMLElement) => b.click());
      await drawn(page);
    }
    await kept(page);
    const a = await nameOf(page, "a");
    const undo = await undoName(page);
    await page.reload();
    await ready(page);
    await expect.poll(async () => [await nameOf(page, "a"), await undoName(page)]).toEqual([a, undo]);
    expect(await page.locator(".page-notice .notice").isVisible()).toBe(false);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("what lies in the browser's store", () => {
  it(namedFault("the page is closed or loaded again"), async () => {
    const { page } = await site.open();
    await rename(page, "a", "first name");
    await drag(page, "gravity", 0, 25);
    await expect.poll(() => undoName(page)).toMatch(/^Undo: centre of gravity/);
    await rename(page, "b", "other name");
    await page.keyboard.press("Control+z");
    await expect.poll(() => page.locator(".redo").getAttribute("aria-label")).toBe("Redo: rename B to other name");
    await page.locator("[data-view=arm]:visible").click();
    await expect.poll(() => page.locator(".views [aria-current=page] .view-long").textContent()).toBe("Arm sheet");
    await kept(page);
    const seen = async () => [
      await nameOf(page, "a"),
      await nameOf(page, "b"),
      await undoName(page),
      await page.locator(".redo").getAttribute("aria-label"),
      await page.locator(".views [aria-current=page] .view-long").textContent(),
    ];
    const before = await seen();
    expect(before[3]).toBe("Redo: rename B to other name");
    await page.reload();
    await ready(page);
    await expect.poll(seen).toEqual(before);
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    await expect.poll(() => undoName(page)).toBe("Nothing to undo");
    await expect.poll(() => nameOf(page, "a")).toBe("Heavy car, forked arms");
    await page.context().close();
  });

  it("is kept while one change follows the other without a rest", async () => {
    const { page } = await site.open();
    await kept(page);
    // more often than the page waits for a rest
    await page.evaluate(() => {
      const choices = [...document.querySelectorAll<HTMLButtonElement>("button")].filter((b) => /^×(1|3)$/.test(b.textContent ?? "") && b.checkVisibility());
      let n = 0;
      setInterval(() => choices[n++ % choices.length]!.click(), 150);
    });
    await rename(page, "a", "no rest");
    const stored = () => page.evaluate(() => localStorage.getItem(`wheelstay.session.${sessionStorage.getItem("wheelstay.tab")}`) ?? "");
    await expect.poll(stored).toContain('"no rest"');
    await page.context().close();
  });

  it(namedFault("kept work cannot be read"), async () => {
    const { page } = await site.open();
    const context = page.context();
    await rename(page, "a", "soon broken");
    await kept(page);
    const key = await page.evaluate(() => Object.keys(localStorage).find((k) => k.startsWith("wheelstay.session.")) as string);
    await page.goto("about:blank");
    const other = await emptyTab(context);
    const broken = await other.evaluate((k) => {
      const text = (localStorage.getItem(k) as string).slice(0, 900);
      localStorage.setItem(k, text);
      return text;
    }, key);
    await page.goto(site.url);
    await ready(page);
    await notice(page)
      .getByText(/could not be read: it is cut short or changed\. It stays in this browser as it is\./)
      .waitFor();
    const [file] = await Promise.all([page.waitForEvent("download"), notice(page).getByRole("button", { name: "save it as a file" }).click()]);
    const stream = await file.createReadStream();
    let text = "";
    for await (const part of stream) text += part;
    expect(text).toBe(broken);
    await rename(page, "a", "new work");
    await kept(page);
    expect(await page.evaluate((k) => localStorage.getItem(k), key)).toBe(broken);
    await context.close();
  });

  it(namedFault("a kept view is broken"), async () => {
    const { page } = await site.open();
    await rename(page, "a", "with a broken view");
    await kept(page);
    const key = await page.evaluate(() => Object.keys(localStorage).find((k) => k.startsWith("wheelstay.session.")) as string);
    const context = page.context();
    await page.close();
    for (const view of [null, { ...INITIAL_VIEW, show: 7, road: "x", pages: { map: 3, arm: { lesson: [] }, motion: { numbers: 4 } }, page: "speedMap" }]) {
      const other = await emptyTab(context);
      await other.evaluate(
        ([k, v]) => {
          const value = JSON.parse(localStorage.getItem(k as string) as string);
          localStorage.setItem(k as string, JSON.stringify({ ...value, view: v }));
        },
        [key, view] as const,
      );
      await other.goto(site.url);
      await ready(other);
      await expect.poll(() => nameOf(other, "a")).toBe("with a broken view");
      await other.close();
    }
    await context.close();
  });

  it(namedFault("the browser's store is full or shut"), async () => {
    const context = await site.browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" });
    context.setDefaultTimeout(60_000);
    await context.addInitScript(() => {
      const real = Storage.prototype.setItem;
      (window as unknown as { full: boolean }).full = true;
      Storage.prototype.setItem = function (k: string, v: string) {
        if ((window as unknown as { full: boolean }).full && this === localStorage) throw new DOMException("full", "QuotaExceededError");
        real.call(this, k, v);
      };
    });
    const page = await tabOf(context);
    const words = page.locator(".not-kept");
    // on the phone too
    for (const width of [1440, 390]) {
      await page.setViewportSize({ width, height: 844 });
      await words.waitFor();
      await expect.poll(() => words.textContent()).toMatch(/^not kept: this browser's store is full/);
    }
    await page.evaluate(() => {
      (window as unknown as { full: boolean }).full = false;
    });
    await words.waitFor({ state: "hidden", timeout: 60_000 });
    await context.close();
    const shut = await site.browser.newContext({ viewport: { width: 1440, height: 900 } });
    shut.setDefaultTimeout(60_000);
    await shut.addInitScript(() => {
      Object.defineProperty(window, "localStorage", {
        get: () => {
          throw new DOMException("shut", "SecurityError");
        },
      });
    });
    const blind = await tabOf(shut);
    for (const width of [1440, 390]) {
      await blind.setViewportSize({ width, height: 844 });
      await blind.locator(".not-kept").waitFor();
      await expect.poll(() => blind.locator(".not-kept").textContent()).toMatch(/^not kept: this browser keeps nothing here/);
    }
    await expect.poll(() => blind.locator(".hero-number").first().textContent()).toMatch(/°/);
    await shut.close();
  });

  it(namedFault("a tab is duplicated"), async () => {
    const { page } = await site.open();
    const context = page.context();
    await rename(page, "a", "in the first tab");
    await kept(page);
    // a duplicated tab brings the first one's own mark along
    const mark = await page.evaluate(() => sessionStorage.getItem("wheelstay.tab") as string);
    const twin = await context.newPage();
    await twin.addInitScript((m) => {
      if (!sessionStorage.getItem("wheelstay.tab")) sessionStorage.setItem("wheelstay.tab", m);
    }, mark);
    await twin.goto(site.url);
    await ready(twin);
    await expect.poll(() => nameOf(twin, "a")).toBe("in the first tab");
    await rename(twin, "a", "in the twin");
    await rename(page, "a", "still in the first");
    await kept(page);
    await twin.reload();
    await ready(twin);
    await page.reload();
    await ready(page);
    await expect.poll(async () => [await nameOf(page, "a"), await nameOf(twin, "a")]).toEqual(["still in the first", "in the twin"]);
    await context.close();
  });

  it(namedFault("another tab went on with this work in its sleep"), async () => {
    const { page } = await site.open();
    await rename(page, "a", "before sleep");
    await kept(page);
    await page.evaluate(() => {
      const key = Object.keys(localStorage).find((k) => k.startsWith("wheelstay.session.")) as string;
      localStorage.setItem(key, (localStorage.getItem(key) as string).replace(/"writer":"[^"]*"/, '"writer":"another"'));
    });
    await rename(page, "a", "after sleep");
    await notice(page)
      .getByText(/both are kept/)
      .waitFor();
    const names = await page.evaluate(() =>
      Object.keys(localStorage)
        .filter((k) => k.startsWith("wheelstay.session."))
        .map((k) => JSON.parse(localStorage.getItem(k) as string).doc.a.name as string)
        .sort(),
    );
    expect(names).toEqual(["after sleep", "before sleep"]);
    await page.context().close();
  });

  it(namedFault("kept work is removed by mistake"), async () => {
    const { page } = await site.open();
    await page.locator(".brand").click();
    await page.locator("[data-act=keep]").click();
    const item = page.locator(".main-menu").getByRole("button", { name: "remove Heavy car, forked arms" });
    await page.locator(".brand").click();
    await item.click();
    await page.keyboard.press("Escape");
    await notice(page).getByRole("button", { name: "put it back" }).click();
    await page.locator(".brand").click();
    await item.waitFor();
    await page.context().close();
  });
});
