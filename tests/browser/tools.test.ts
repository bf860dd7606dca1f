import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { parseScenario } from "../../src/scenario/parse.ts";
import { launchBrowser } from "../support/browser.ts";
import { drag, kept as keptByPage, lean, middleOf, pictureOf, ready, type Site, startSite, takeBack, undoName } from "./site.ts";

let site: Site;
/** one page for what no reload asks for: each test begins with the car that was opened */
let page: Page;

beforeAll(async () => {
  site = await startSite();
  ({ page } = await site.open());
});
afterAll(async () => {
  await site.close();
});
beforeEach(() => takeBack(page));

async function downloaded(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent("download"), press()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

describe("files", () => {
  it("a saved design opens again as the same car", async () => {
    await page.locator(".design-tab.a").click();
    const line = page.getByLabel("description of design A");
    await expect.poll(() => line.inputValue()).toMatch(/^Invented 1:8 car/);
    await line.fill("My car\n after the   new arms.");
    await line.blur();
    await page.keyboard.press("Escape");
    await expect.poll(() => undoName(page)).toBe("Undo: describe A");
    await page.locator(".brand").click();
    const file = await downloaded(page, () => page.locator('[data-act="save-a"]').click());
    expect(file.name).toBe("heavy-car-forked-arms.json");
    const read = parseScenario(file.bytes.toString("utf8"), file.name);
    expect(read.ok && [read.scenario.name, read.scenario.teaches]).toEqual(["Heavy car, forked arms", "My car after the new arms."]);
  });

  it("every curve is saved as SVG, PNG and CSV", async () => {
    // drawn once they were worked out beside the page
    await page.locator(".rulers:not(.lag)").waitFor({ state: "attached" });
    const box = page.locator('[data-chart="lean"]');
    await expect.poll(() => box.locator(".chart-curves path").count()).toBe(2);
    await box.hover();
    const save = (kind: string): Promise<{ name: string; bytes: Buffer }> =>
      downloaded(page, () => box.locator(`.chart-saves button:text-is("${kind}")`).click());
    const csv = (await save("CSV")).bytes.toString("utf8").split("\n");
    expect(csv[0]).toBe("cornering (g),A (°),B (°)");
    expect(csv.length).toBeGreaterThan(10);
    const svg = (await save("SVG")).bytes.toString("utf8");
    expect(svg).toContain("<svg");
    expect(svg).toContain("Lean of the outer wheel");
    // its texts are as wide elsewhere: the faces that it names are inside
    const faces = new Set([...svg.matchAll(/font-family="(?:&quot;)?([^,"&]+)/g)].map((m) => m[1]));
    expect([...faces].sort()).toEqual(["Arimo", "Roboto Condensed"]);
    for (const name of faces) expect(svg).toContain(`@font-face{font-family:"${name}"`);
    const png = (await save("PNG")).bytes;
    expect(png.subarray(1, 4).toString("latin1")).toBe("PNG");
  });

  it("a design is kept under its name, opened again and forgotten", async () => {
    const before = await lean(page);
    await page.locator(".brand").click();
    await page.locator('[data-act="keep"]').click();
    await drag(page, "gravity", 0, 25);
    await expect.poll(() => lean(page)).not.toBe(before);
    await page.locator(".brand").click();
    const kept = page.locator(".main-menu .menu-list").nth(1);
    await kept.locator(".menu-item").first().click();
    await expect.poll(() => lean(page)).toBe(before);
    await page.locator(".brand").click();
    await kept.locator(".link").first().click();
    await expect.poll(() => kept.locator("li").count()).toBe(0);
    await page.keyboard.press("Escape");
  });
});

describe("the drawer of curves", () => {
  it("is pulled up to half of the page by its edge, by mouse and keys, and stays so after a reload", async () => {
    const { page } = await site.open();
    const tall = async (): Promise<number> => (await page.locator(".drawer").boundingBox())?.height ?? 0;
    await expect.poll(tall).toBeGreaterThan(0);
    const first = await tall();
    const edge = (await page.locator(".drawer-edge").boundingBox())!;
    await page.mouse.move(edge.x + edge.width / 2, edge.y + 4);
    await page.mouse.down();
    await page.mouse.move(edge.x + edge.width / 2, edge.y - 96, { steps: 4 });
    await page.mouse.up();
    await expect.poll(tall).toBeCloseTo(first + 100, 0);
    expect((await page.locator(".chart").first().boundingBox())!.height).toBeGreaterThan(first);
    await page.locator(".drawer-edge").focus();
    await page.keyboard.press("End");
    await expect.poll(tall).toBe(450);
    await page.keyboard.press("ArrowDown");
    await expect.poll(tall).toBe(426);
    expect(await page.locator(".drawer-edge").getAttribute("aria-valuenow")).toBe("426");
    await keptByPage(page);
    await page.reload();
    await ready(page);
    await expect.poll(tall).toBe(426);
    await page.context().close();
  });
});

describe("the sheet", () => {
  it("pans with the mouse, zooms with the wheel about the pointer, and fits again", async () => {
    const home = await middleOf(page, "gravity");
    await page.mouse.move(600, 120);
    await page.mouse.down();
    await page.mouse.move(640, 150, { steps: 4 });
    await page.mouse.up();
    const at = (): Promise<[number, number]> => middleOf(page, "gravity");
    await expect.poll(async () => (await at())[0] - home[0]).toBeCloseTo(40, 0);
    const panned = await at();
    expect(panned[1] - home[1]).toBeCloseTo(30, 0);
    await page.mouse.move(panned[0], panned[1] + 60);
    await page.mouse.wheel(0, -300);
    await expect.poll(async () => (await at())[1]).toBeLessThan(panned[1] - 5);
    await page.locator(".fit").click();
    await expect.poll(async () => (await at())[0]).toBeCloseTo(home[0], 0);
  });

  it("a press on a part opens its parameters", async () => {
    const [x, y] = await middleOf(page, "wheel.right");
    await page.mouse.click(x + 4, y + 95);
    await expect.poll(() => page.locator(".part-choice").inputValue()).toBe("tyre");
    await page.locator(".fold").click();
    await expect.poll(() => page.locator(".open-params").isVisible()).toBe(true);
    await page.locator(".open-params").click();
  });

  it("the road under a wheel is pulled up by its edge", async () => {
    await drag(page, "road.right", 0, -14);
    await expect.poll(() => page.locator('[data-handle="road.right"]').getAttribute("aria-label")).toMatch(/^road under the right wheel, [3-9]/);
  });

  it("each word explains itself where it stands", async () => {
    await page.locator('.term:text-is("What gives first")').click();
    await expect.poll(() => page.locator("#help-pop").textContent()).toContain("over what it can take");
    await page.keyboard.press("Escape");
    await page.locator("#help-pop").waitFor({ state: "hidden" });
  });
});

describe("with a graphics card", () => {
  it("the same drawing comes out of WebGL", async () => {
    const gl = await startSite(async () => (await launchBrowser({ webgl: true })).browser);
    try {
      const context = await gl.browser.newContext({ viewport: { width: 1000, height: 700 } });
      context.setDefaultTimeout(60_000);
      const page = await context.newPage();
      // a drawing in software is taken for what it is and left to the plain canvas: here it claims to be a card
      await page.addInitScript(() => {
        for (const kind of [WebGLRenderingContext, WebGL2RenderingContext]) {
          const old = kind.prototype.getParameter;
          kind.prototype.getParameter = function (this: WebGLRenderingContext, name: number): unknown {
            return name === 0x9246 ? "some card" : old.call(this, name);
          };
        }
      });
      await page.goto(gl.url);
      await ready(page);
      await lean(page);
      const kinds = (): Promise<boolean[]> =>
        page.locator(".stage canvas").evaluateAll((all) => all.map((c) => Boolean((c as HTMLCanvasElement).getContext("webgl2"))));
      // below the car lie the holes of the paper and the other design, on canvases of their own
      await expect.poll(kinds).toEqual([false, false, true]);
      const [x, y] = await middleOf(page, "pin.right.upperInner");
      const darkShare = async (): Promise<number> =>
        (await pictureOf(page, await page.screenshot({ clip: { x: x - 14, y: y - 14, width: 28, height: 28 } }))).darkShare;
      // the joint's eye and the arm cover about a fifth of the clip
      await expect.poll(darkShare).toBeGreaterThan(0.05);
      expect(await darkShare()).toBeLessThan(0.7);
      await context.close();
    } finally {
      await gl.close();
    }
  });
});
