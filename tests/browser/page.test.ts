import { readFileSync } from "node:fs";
import type { CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { drag, drawn, kept, lean, linkOf, middleOf, pictureOf, ready, type Site, startSite, takeBack, undoName, whole } from "./site.ts";

let site: Site;
/** one page for all that is done on a desk: each test begins where the opened page stood */
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite(whole);
  ({ page, complaints } = await site.open());
});
afterAll(async () => {
  await site.close();
});
beforeEach(() => takeBack(page));

describe("the page opens", () => {
  it("on the car that fails, says what to try first, and complains of nothing", async () => {
    expect(await page.locator(".first-line").textContent()).toBe(
      "Pull the arrow at the centre of gravity and watch the right wheel. Then see what to change first. Or start your own car.",
    );
    expect(await page.locator(".design-tab.a .design-name").textContent()).toBe("Heavy car, forked arms");
    expect(Math.abs(await lean(page))).toBeGreaterThan(1);
    expect(await page.locator(".limit-list li").first().locator(".limit-number").textContent()).toMatch(/^1\.\d\d$/);
    const png = await page.locator(".stage").screenshot();
    expect((await pictureOf(page, png)).colours).toBeGreaterThan(50);
    expect(await page.getByLabel("roll centre").isChecked()).toBe(false);
    expect(complaints).toEqual([]);
  });
});

describe("by mouse", () => {
  it("a dragged pivot answers while it is dragged and is one change to undo", async () => {
    const before = await lean(page);
    await drag(page, "pin.right.upperInner", -24, -20, false);
    await expect.poll(() => lean(page)).not.toBe(before);
    expect(await page.locator(".labels .value text").first().textContent()).toMatch(/^hole \d+(\.5)? out, \d+(\.5)? up$/);
    await page.mouse.up();
    await expect.poll(() => page.locator(".undo-words").first().textContent()).toMatch(/^Undo: upper inner pin/);
    await page.locator(".undo").first().click();
    await expect.poll(() => lean(page)).toBe(before);
  });

  it("Escape puts a dragged point back", async () => {
    const before = await lean(page);
    await drag(page, "wheel.right", 20, 0, false);
    await expect.poll(() => lean(page)).not.toBe(before);
    await page.keyboard.press("Escape");
    await page.mouse.up();
    await expect.poll(() => lean(page)).toBe(before);
    expect(await page.locator(".undo").first().isDisabled()).toBe(true);
  });

  it("a pin is pushed back out of the tyre, and the page says why", async () => {
    await drag(page, "pin.right.upperOuter", 75, -12, false);
    await expect.poll(() => page.locator(".drawing .notice").textContent()).toContain("would sit in the tyre");
    await page.mouse.up();
    await expect.poll(() => page.locator(".drawing .notice").isHidden()).toBe(true);
  });

  it("the arrow at the centre of gravity pulls the car harder into the curve", async () => {
    const g = async (): Promise<number> => Number(await page.locator(".cornering .ruler").getAttribute("aria-valuenow"));
    const before = await g();
    await drag(page, "cornering", -30, 0);
    await expect.poll(g).toBeLessThan(before - 0.1);
  });

  it("the cornering ruler changes the lean, and the posts stand where something gives", async () => {
    const before = await lean(page);
    const box = await page.locator(".cornering .ruler").boundingBox();
    if (!box) throw new Error("no ruler");
    await page.mouse.click(box.x + box.width * 0.25, box.y + 40);
    await expect.poll(() => lean(page)).toBeLessThan(before);
    // the curves that the posts are read from are worked out beside the page
    await expect.poll(() => page.locator(".cornering .posts text").allTextContents()).toContain("lip gives");
  });

  it("a load pulled past its end stops there, with its reason, and every number stays to be read", async () => {
    const g = (): Promise<number> => page.locator(".cornering .ruler").getAttribute("aria-valuenow").then(Number);
    const notice = page.locator(".drawing .notice");
    const struck = (): Promise<number> => page.locator(".reading.stale, .labels.pale").count();
    await drag(page, "cornering", 110, 0, false);
    await expect.poll(() => notice.textContent()).toMatch(/car slides here: the tyres let go at 1\.05 g/);
    await expect.poll(() => page.locator(".labels g.value").textContent()).toContain("the car slides here");
    await expect.poll(async () => [await g(), await struck()]).toEqual([1.05, 0]);
    // the same pull the other way leads back
    const [x, y] = await middleOf(page, "cornering");
    await page.mouse.move(x - 60, y);
    await expect.poll(() => notice.isHidden()).toBe(true);
    await expect.poll(g).toBeLessThan(1);
    await page.mouse.up();
    await page.locator(".cornering .ruler").focus();
    await page.keyboard.press("End");
    await expect.poll(g).toBe(1.05);
    await expect.poll(() => page.locator(".cornering .ruler").getAttribute("aria-valuetext")).toBe("1.05 g, the car slides here");
    await expect.poll(struck).toBe(0);
  });

  it("a part that lets go at the present load is said, and one press goes back to a load that holds", async () => {
    await page.locator(".part-choice").selectOption("tyre");
    const grip = page.locator(".params").getByRole("textbox", { name: /grip/ });
    await grip.fill("0.6");
    await grip.press("Enter");
    await expect.poll(() => page.locator(".drawing .notice").textContent()).toMatch(/at \d\.\d\d g/);
    await page.locator(".drawing .notice .link").click();
    await expect.poll(() => page.locator(".drawing .notice").isHidden()).toBe(true);
    await expect.poll(() => page.locator(".reading.stale").count()).toBe(0);
  });

  it("a slider of the chosen part changes the car", async () => {
    const before = await lean(page);
    await page.locator(".part-choice").selectOption("lowerArm");
    const input = page.locator(".params").getByRole("textbox", { name: /^leg height/ });
    await input.fill("9");
    await input.press("Enter");
    await expect.poll(() => lean(page)).not.toBe(before);
    await expect.poll(() => page.locator(".undo-words").first().textContent()).toMatch(/^Undo: lower arm leg height to 9/);
  });
});

describe("what is told", () => {
  it("goes with the chosen curve, and is the same whatever the car is called", async () => {
    const found = async (where: string, what: RegExp): Promise<string> =>
      what.exec((await page.locator(where).first().innerText()).replace(/\s+/g, " "))?.[1] ?? "";
    const heat = async (): Promise<number> => Number(await found(".reading", /Hub runs hot.*?(\d\.\d\d)/));
    const safe = (): Promise<string> => found(".rulers", /safe below ([\d.]+)/);
    await expect.poll(safe).toMatch(/^\d/);
    const [hot, below] = [await heat(), await safe()];
    await page.locator(".design-tab.a").click();
    const name = page.locator('.design-menu[aria-label="design A"] input').first();
    await name.fill("another name");
    await name.press("Enter");
    await page.keyboard.press("Escape");
    await expect.poll(() => page.locator(".design-tab.a .design-name").textContent()).toBe("another name");
    await lean(page);
    await expect.poll(safe).toMatch(/^\d/);
    await expect.poll(async () => [await heat(), await safe()]).toEqual([hot, below]);
    // friction heat grows as the speed, which for one cornering level grows as the root of the radius: 6 m, then 12 m
    await page.getByRole("button", { name: /km\/h at 6/ }).click();
    await expect.poll(heat).not.toBe(hot);
    expect((await heat()) / hot).toBeGreaterThan(1);
  });
});

describe("by keyboard alone", () => {
  it("a pin is reached, moved by a hole and by a tenth of a millimetre, and the change is spoken", async () => {
    const handle = page.locator('[data-handle="pin.right.lowerInner"]');
    const before = (await handle.getAttribute("aria-label")) ?? "";
    expect(before).toMatch(/^lower inner pin, right, hole/);
    await handle.focus();
    await page.keyboard.press("ArrowLeft");
    const hole = (t: string): number => Number(/hole ([\d.]+) out/.exec(t)?.[1]);
    await expect.poll(async () => hole((await handle.getAttribute("aria-label")) ?? "")).toBe(hole(before) - 1);
    expect(await page.evaluate(() => document.activeElement?.getAttribute("data-handle"))).toBe("pin.right.lowerInner");
    await page.keyboard.press("Control+ArrowLeft");
    await expect.poll(async () => hole((await handle.getAttribute("aria-label")) ?? "")).toBeCloseTo(hole(before) - 1 - 0.1 / 8, 2);
    await expect.poll(() => page.locator(".undo-words").first().textContent()).toMatch(/^Undo: lower inner pin (8|0)\.1 mm in$/);
    for (let i = 0; i < 9 && (await undoName(page)) !== "Nothing to undo"; i++) await page.keyboard.press("Control+z");
    await expect.poll(() => handle.getAttribute("aria-label")).toBe(before);
    await expect.poll(() => page.locator("[role=status].sr").textContent()).toContain("undone");
  });

  it("every handle is a named control in reach of Tab", async () => {
    const names = await page
      .locator(".handle")
      .evaluateAll((all) => all.map((b) => [b.tagName, b.getAttribute("aria-label") ?? "", (b as HTMLButtonElement).tabIndex]));
    expect(names.length).toBe(18);
    expect(names.every(([tag, name, tab]) => tag === "BUTTON" && (name as string).length > 8 && tab === 0)).toBe(true);
  });
});

describe("by touch", () => {
  let phone: Page;
  let session: CDPSession;
  beforeAll(async () => {
    ({ page: phone } = await site.open({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }));
    session = await phone.context().newCDPSession(phone);
  });
  afterAll(() => phone.context().close());
  beforeEach(() => takeBack(phone));

  it("a finger drags the cornering arrow on a narrow screen", async () => {
    const before = await lean(phone);
    const [x, y] = await middleOf(phone, "cornering");
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", px: number): Promise<unknown> =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x: px, y }] });
    // a busy browser may let a quick finger pass unseen
    const pulled = async (): Promise<number> => {
      await touch("touchStart", x);
      for (let i = 1; i <= 8; i++) await touch("touchMove", x - i * 2);
      await touch("touchEnd", x - 16);
      return lean(phone);
    };
    await expect.poll(pulled).toBeLessThan(before);
  });

  it("two fingers pull the sheet larger about their middle and push it smaller again", async () => {
    const apart = async (): Promise<number> => (await middleOf(phone, "wheel.right"))[0] - (await middleOf(phone, "wheel.left"))[0];
    const [x, y] = await middleOf(phone, "gravity");
    const fingers = async (from: number, to: number): Promise<void> => {
      const at = (gap: number) => [
        { x: x - gap, y: y - 60, id: 0 },
        { x: x + gap, y: y - 60, id: 1 },
      ];
      await session.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(from) });
      for (let i = 1; i <= 6; i++) await session.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(from + ((to - from) * i) / 6) });
      await session.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
      await drawn(phone);
    };
    // on the whole sheet places to press move aside where they crowd; nearer by a half they stand where they belong
    await fingers(30, 45);
    const near = await apart();
    await fingers(30, 45);
    expect((await apart()) / near).toBeCloseTo(1.5, 1);
    await fingers(45, 30);
    expect((await apart()) / near).toBeCloseTo(1, 1);
  });

  it("targets are at least 44 px wide on a narrow screen", async () => {
    const sizes = await phone.locator(".handle").evaluateAll((all) => all.map((b) => b.getBoundingClientRect().width));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(40);
  });
});

describe("work is not lost", () => {
  it("two tabs keep their own work, and a reload brings it back", async () => {
    const { page } = await site.open();
    const opened = await lean(page);
    const other = await page.context().newPage();
    await other.goto(site.url);
    await ready(other);
    // a tab behind another draws nothing
    await page.bringToFront();
    await drag(page, "gravity", 0, 25);
    await expect.poll(() => lean(page)).not.toBe(opened);
    const mine = await lean(page);
    await kept(page);
    await other.bringToFront();
    const theirs = await lean(other);
    expect(theirs).not.toBe(mine);
    await other.reload();
    await ready(other);
    expect(await lean(other)).toBe(theirs);
    await page.bringToFront();
    await page.reload();
    await ready(page);
    expect(await lean(page)).toBe(mine);
    await page.context().close();
  });

  it("a broken file leaves the work as it is and says what is wrong where", async () => {
    const before = await lean(page);
    const drop = (name: string, text: string): Promise<void> =>
      page.evaluate(
        ([n, t]) => {
          const data = new DataTransfer();
          data.items.add(new File([t as string], n as string, { type: "application/json" }));
          window.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
        },
        [name, text],
      );
    const car = JSON.parse(readFileSync(new URL("../../scenarios/heavy-straight.json", import.meta.url), "utf8")) as {
      corner: { wheel: { radiusMm: number } };
    };
    car.corner.wheel.radiusMm = 480;
    await drop("car.json", JSON.stringify(car));
    await expect.poll(() => page.locator(".page-notice .notice").textContent()).toContain("wheel.radiusMm is 480 mm");
    expect(await page.locator(".page-notice .notice").textContent()).toContain("Your design is unchanged.");
    expect(await lean(page)).toBe(before);
    await drop("cut.json", '{ "format": "wheelstay-');
    await expect.poll(() => page.locator(".page-notice .notice").textContent()).toContain("cut.json: line 1");
    expect(await lean(page)).toBe(before);
    car.corner.wheel.radiusMm = 48;
    await drop("whole.json", JSON.stringify(car));
    await expect.poll(() => page.locator(".design-tab.a .design-name").textContent()).toBe("Heavy car, straight arms");
  });

  it("a link holds the design itself", async () => {
    const before = await lean(page);
    await drag(page, "gravity", 0, 25);
    await expect.poll(() => lean(page)).not.toBe(before);
    const mine = await lean(page);
    await page.locator(".share").click();
    const link = await linkOf(page);
    expect(new URL(link).origin).toBe(new URL(site.url).origin);
    const hash = new URL(link).hash.slice(1);
    expect(hash).toMatch(/^w2\./);
    const { page: other } = await site.open({ hash });
    expect(await lean(other)).toBe(mine);
    await other.context().close();
  });
});

describe("A against B", () => {
  it("swaps, copies and takes a single value from the other", async () => {
    const a = await lean(page);
    await page.locator('[data-act="swap"]').click();
    await expect.poll(() => lean(page)).not.toBe(a);
    await expect.poll(() => page.locator(".design-tab.a .design-name").textContent()).toBe("Heavy car, straight arms, pinned wheel");
    await page.locator(".undo").first().click();
    await expect.poll(() => lean(page)).toBe(a);
    await page.locator(".difference-box summary").click();
    await expect.poll(() => page.locator(".differences li").count()).toBeGreaterThan(0);
    const count = await page.locator(".differences li").count();
    // plain names and choices, no word of the file
    const rows = await page.locator(".differences li").allTextContents();
    expect(rows).toContain("lower arm, shapefork (one stem, two legs)straight (one bar)take B's");
    for (const row of rows) expect(row).not.toMatch(/Mm\b|NPer|corner\.|[a-z][A-Z][a-z]/);
    await page.locator(".differences li .link").first().click();
    await expect.poll(() => page.locator(".undo").first().getAttribute("aria-label")).toBe("Undo: take upper arm, shape from B");
    await expect.poll(() => page.locator(".differences li").count()).toBe(count - 1);
    await page.locator('[data-act="copy"]').click();
    await expect.poll(() => page.locator(".difference-box summary").textContent()).toBe("A and B are the same car");
  });
});

describe("for everyone", () => {
  it("the curves have tables", async () => {
    const box = page.locator('[data-chart="lean"]');
    await box.hover();
    await box.locator("summary").click();
    // the table is filled once it is open, and browsers tell of that a moment later
    await expect.poll(() => box.locator("tbody tr").count()).toBeGreaterThan(5);
    expect(await box.locator("caption").textContent()).toContain("cornering");
  });
});
