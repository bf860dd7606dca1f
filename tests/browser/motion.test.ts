import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { SAMPLES_PER_SECOND } from "../../src/motion/settings.ts";
import { traceTable } from "../../src/motion/trace.ts";
import { numbersOf } from "../../src/pages/motion/run-fields.ts";
import { motionSlice } from "../../src/pages/motion/state/slice.ts";
import { toHash } from "../../src/state/link.ts";
import { weakBands } from "../pages/motion/recorded.ts";
import { simulateAll } from "../support/whole-run.ts";
import { scenarioFile } from "../view/fixture.ts";
import { drag, drawn, middleOf, type Site, startSite, violations } from "./site.ts";

const WAIT_MS = 60_000;
let site: Site;
/** one page for all runs on a desk */
let page: Page;
let complaints: string[];

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await openMotion());
});
afterAll(async () => {
  await site.close();
});

const settled = (page: Page): Promise<unknown> => page.waitForSelector('.motion-sheet[aria-busy="false"] .story-row', { timeout: WAIT_MS });

async function openMotion(options: Parameters<Site["open"]>[0] = {}): Promise<{ page: Page; complaints: string[] }> {
  const { page, complaints } = await site.open(options);
  const narrow = (page.viewportSize()?.width ?? 1440) < 700;
  await page.locator(`${narrow ? ".foot-nav" : ".views"} button`, { hasText: "Motion" }).click();
  await settled(page);
  return { page, complaints };
}

const timeOf = async (page: Page): Promise<number> => Number(await page.locator(".time-axis").getAttribute("aria-valuenow"));

async function seek(page: Page, timeS: number): Promise<void> {
  await page.locator(".time-axis").focus();
  await page.keyboard.press("Home");
  for (let i = 0; i < Math.floor(timeS * 10 + 1e-6); i++) await page.keyboard.press("PageUp");
  await expect.poll(() => timeOf(page)).toBeCloseTo(Math.floor(timeS * 10 + 1e-6) / 10, 3);
}

async function saved(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent("download"), press()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** Numbers of a drawn path, to tell whether a picture changed. */
const wheelLabels = (page: Page): Promise<string> => page.locator(".motion-drawing .labels").innerHTML();

describe("a run", () => {
  it("is recorded, names what came off with its numbers, says it once, and complains of nothing", async () => {
    expect(await page.locator(".motion-title").textContent()).toBe("One bump");
    expect(await page.locator(".motion-hero .hero-number").textContent()).toMatch(/^×\d\.\d$/);
    const loud = page.locator(".story-row.loud").first();
    await expect.poll(() => loud.textContent()).toMatch(/^\d\.\d\dsright wheel came off: hub lip, \d+\u2009N, holds 85\u2009N$/);
    await expect.poll(() => page.locator(".sr[role=status]").textContent()).toMatch(/^The right wheel came off at \d\.\d\d s: hub lip/);
    await expect.poll(() => page.locator(".motion-drawing .label.gives text").first().textContent()).toBe("right wheel came off");
    expect(complaints).toEqual([]);
  });

  it("is scrubbed by keys, sample by sample, to both ends", async () => {
    const axis = page.locator(".time-axis");
    await axis.focus();
    await page.keyboard.press("Home");
    await expect.poll(() => timeOf(page)).toBe(0);
    const atStart = await wheelLabels(page);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => timeOf(page)).toBeCloseTo(1 / 240, 3);
    await page.keyboard.press("PageUp");
    await expect.poll(() => timeOf(page)).toBeCloseTo(0.1 + 1 / 240, 2);
    await page.keyboard.press("End");
    const end = Number(await axis.getAttribute("aria-valuemax"));
    await expect.poll(() => timeOf(page)).toBeCloseTo(end, 3);
    await expect.poll(() => wheelLabels(page)).not.toBe(atStart);
  });

  it("plays, pauses, and steps by its buttons; the clock stands still while it is paused", async () => {
    const play = page.locator(".transport.play");
    await page.locator(".time-axis").focus();
    await page.keyboard.press("Home");
    await play.click();
    await expect.poll(() => timeOf(page)).toBeGreaterThan(0.002);
    await expect.poll(() => play.getAttribute("aria-label")).toBe("pause");
    await play.click();
    await expect.poll(() => play.getAttribute("aria-label")).toBe("play");
    await drawn(page);
    const stopped = await timeOf(page);
    const frames = await page.evaluate(() => performance.getEntriesByName("wheelstay-motion-frame").length);
    await page.waitForTimeout(300);
    expect(await timeOf(page)).toBe(stopped);
    expect(await page.evaluate(() => performance.getEntriesByName("wheelstay-motion-frame").length)).toBe(frames);
    await page.getByRole("button", { name: "one sample on" }).click();
    await expect.poll(() => timeOf(page)).toBeGreaterThan(stopped);
  });

  it("is dragged along by the mouse, and goes to an event that is pressed", async () => {
    const box = (await page.locator(".time-axis").boundingBox())!;
    await page.locator(".time-axis").focus();
    await page.keyboard.press("Home");
    await expect.poll(() => timeOf(page)).toBe(0);
    await page.mouse.move(box.x + 160, box.y + 26);
    await page.mouse.down();
    await page.mouse.move(box.x + 420, box.y + 26, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => timeOf(page)).toBeGreaterThan(0.05);
    const row = page.locator(".story-row").first();
    await row.click();
    await expect.poll(() => timeOf(page)).toBeCloseTo(Number(await row.locator("b").textContent()), 1);
  });

  it("hands its road shock to the speed map", async () => {
    const said = (await page.locator(".motion-hero .hero-number").textContent())!.slice(1);
    const use = page.locator(".use-shock");
    await expect.poll(() => use.textContent()).toBe(`Use ×${said} on the speed map`);
    await use.click();
    await expect.poll(() => use.textContent()).toBe(`The speed map counts with ×${said}`);
    await page.locator(".views button", { hasText: "Speed map" }).click();
    const ruler = page.getByRole("slider", { name: /road shock/ });
    await expect.poll(() => ruler.getAttribute("aria-valuenow")).toBe(String(Number(said)));
    await page.locator(".views button", { hasText: "Motion" }).click();
    await settled(page);
  });
});

describe("what comes off", () => {
  const tags = (page: Page): Promise<string[]> => page.locator(".motion-drawing .label.gives text:first-of-type").allTextContents();
  /** What is painted at a point of the drawing: its opacity, 0 to 255. */
  const paintAt = (page: Page, x: number, y: number): Promise<number> =>
    page
      .locator(".motion-drawing .stage > canvas")
      .last()
      .evaluate(
        (el, [px, py]) => {
          const c = el as HTMLCanvasElement;
          const copy = document.createElement("canvas").getContext("2d", { willReadFrequently: true })!;
          const scale = c.width / c.clientWidth;
          copy.drawImage(c, Math.round(px! * scale), Math.round(py! * scale), 1, 1, 0, 0, 1, 1);
          return copy.getImageData(0, 0, 1, 1).data[3]!;
        },
        [x, y],
      );

  it("as a wheel: both are marked on the curves, and tagged on the sheet to the end, when they have long rolled off it", async () => {
    const { page, complaints } = await openMotion({ reducedMotion: "no-preference" });
    await expect.poll(() => page.locator(".track-posts .loud text").allTextContents()).toEqual(["right wheel off", "left wheel off"]);
    await page.locator(".time-axis").focus();
    await page.keyboard.press("End");
    await expect.poll(async () => (await tags(page)).sort()).toEqual(["left wheel came off", "right wheel came off"]);
    const sheet = (await page.locator(".motion-drawing").boundingBox())!;
    for (const box of await page.locator(".motion-drawing .box.gives").all()) {
      const b = (await box.boundingBox())!;
      expect(b.x).toBeGreaterThanOrEqual(sheet.x);
      expect(b.x + b.width).toBeLessThanOrEqual(sheet.x + sheet.width);
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("as a tyre: it lies beside its rim, with moment and cause in the list, on the curves, in the tag and said", async () => {
    const a = weakBands();
    const hash = await toHash({ a, b: a, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } });
    const { page, complaints } = await site.open({ hash, reducedMotion: "no-preference" });
    await page.locator(".views button", { hasText: "Motion" }).click();
    await page.locator('[data-run="steeringStep"]').click();
    await expect
      .poll(() => page.locator(".story-row.loud").allTextContents(), { timeout: WAIT_MS })
      .toEqual([
        expect.stringMatching(/^0\.\d\ds?right tyre came off its rim, 9\.8\u2009N, holds 9\.8\u2009N$/),
        expect.stringMatching(/^0\.\d\ds?left tyre came off its rim, 9\.8\u2009N, holds 9\.8\u2009N$/),
      ]);
    await expect.poll(() => page.locator(".track-posts .loud text").allTextContents()).toEqual(["right tyre off", "left tyre off"]);
    await seek(page, 0.4);
    await expect.poll(async () => (await tags(page)).sort()).toEqual(["left tyre came off", "right tyre came off"]);
    await expect.poll(() => page.locator(".sr[role=status]").textContent()).toMatch(/tyre came off its rim at 0\.\d\d s/);
    // the left tag's line ends on the tyre, where nothing was before it came off
    const ends = await page
      .locator(".motion-drawing .leader.gives")
      .evaluateAll((all) => all.map((l) => [Number(l.getAttribute("x1")), Number(l.getAttribute("y1"))]));
    const [x, y] = ends.sort((p, q) => p[0]! - q[0]!)[0] as [number, number];
    await expect.poll(() => paintAt(page, x, y)).toBeGreaterThan(200);
    await seek(page, 0.1);
    await expect.poll(() => tags(page)).toEqual([]);
    await expect.poll(() => paintAt(page, x, y)).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("the curves over time", () => {
  it("have tables", async () => {
    const row = page.locator('[data-track="retentionN"]');
    await row.locator("summary").focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => row.locator("caption").textContent()).toMatch(/^Pull on hub lip, right wheel, over the run; limit 85\.0\u2009N/);
    expect(await row.locator("thead th").allTextContents()).toEqual(["time, s", "A, N", "A if all held, N", "B, N", "what happens"]);
    expect(await row.locator("tbody tr").count()).toBeGreaterThan(8);
    expect(await row.locator("tbody td:last-child").allTextContents()).toContain("right wheel off");
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press("Enter");
  });

  it("are saved one by one as SVG and PNG", async () => {
    await page.locator(".motion-curves .tracks").hover({ position: { x: 400, y: 60 } });
    const svg = await saved(page, () => page.getByRole("button", { name: "save Lean as SVG" }).click());
    expect(svg.name).toBe("one-bump-lean-right-wheel.svg");
    const text = svg.bytes.toString("utf8");
    expect(text).toMatch(/^<svg[^>]*viewBox="0 [\d.-]+ \d+ [\d.]+"/);
    expect(text).toContain("right wheel off");
    expect(text).toContain("limit 8.0°");
    expect(text).not.toContain("Wheel travel");
    const png = await saved(page, () => page.getByRole("button", { name: "save Lean as PNG" }).click());
    expect(png.bytes.subarray(1, 4).toString()).toBe("PNG");
    const width = (await page.locator(".motion-curves .tracks").boundingBox())!.width;
    expect(png.bytes.readUInt32BE(16)).toBe(3 * Math.round(width));
    expect(await page.locator(".motion-curves .tracks").count()).toBe(1);
  });

  it("are saved all together as the command line tells them", async () => {
    const csv = await saved(page, () => page.getByRole("button", { name: /^save the run as CSV/ }).click());
    expect(csv.name).toBe("heavy-car-forked-arms-one-bump.csv");
    const run = simulateAll(scenarioFile("heavy-forked"), "singleBump", numbersOf(motionSlice.initial, "singleBump"));
    if (!run.ok) throw new Error(run.reason.message);
    const { head, rows } = traceTable(run.trace);
    const [names, ...have] = csv.bytes
      .toString("utf8")
      .trim()
      .split("\n")
      .map((l) => l.split(","));
    expect(names).toEqual(head);
    expect(have.length).toBe(rows.length);
    // two engines may round their sines differently
    for (const i of [0, 1, 19, have.length - 1]) have[i]!.forEach((v, k) => expect(Number(v), head[k]).toBeCloseTo(rows[i]![k]!, 1));
  });
});

describe("another run", () => {
  it("changes with its numbers, and another one can be chosen", async () => {
    const before = await page.locator(".motion-hero .hero-number").textContent();
    await page.locator('[data-number="heightMm"]').fill("1");
    await expect.poll(() => page.locator(".motion-hero .hero-number").textContent(), { timeout: WAIT_MS }).not.toBe(before);
    await page.locator('[data-run="steeringStep"]').click();
    await expect.poll(() => page.locator(".story-row").first().textContent(), { timeout: WAIT_MS }).toContain("steered");
    await expect.poll(() => page.locator(".motion-title").textContent()).toBe("Steer into a curve");
  });
});

async function playFreely(page: Page): Promise<void> {
  await page.locator('[data-run="free"]').click();
  await page.locator('.motion-sheet [data-handle="road.right"]').waitFor({ state: "attached", timeout: WAIT_MS });
  await expect.poll(() => page.locator(".motion-hero .hero-number").textContent(), { timeout: WAIT_MS }).toMatch(/°$/);
}
const leanNow = async (page: Page): Promise<number> =>
  Number(((await page.locator(".motion-hero .hero-number").textContent()) ?? "").replace("°", "").replace("\u2212", "-"));
/** Where the clock of free play was halted, s; NaN while it goes. */
const haltedAt = async (page: Page): Promise<number> => Number(/halted at ([\d.]+)/.exec((await page.locator(".motion-lines").textContent()) ?? "")?.[1]);

/** The same once the answer that was under way has come. */
async function halted(page: Page): Promise<number> {
  await expect.poll(() => haltedAt(page)).toBeGreaterThanOrEqual(0);
  await page.waitForTimeout(300);
  return haltedAt(page);
}
/** Whole samples that have passed since a time. */
const samplesSince = async (page: Page, at: number): Promise<number> => Math.round(((await haltedAt(page)) - at) * SAMPLES_PER_SECOND);

describe("free play", () => {
  // begun anew each time: another run stands between
  beforeEach(async () => {
    await page.locator('[data-run="singleBump"]').click();
    await settled(page);
    await playFreely(page);
    if ((await page.locator(".transport.slow").getAttribute("aria-pressed")) === "true") await page.locator(".transport.slow").click();
    if (!Number.isNaN(await haltedAt(page))) await page.locator(".transport.play").click();
    await expect.poll(() => haltedAt(page)).toBeNaN();
  });

  it("is halted, stepped and slowed by its buttons", async () => {
    const [play, on, back, slow] = [".play", "[aria-label='one sample on']", "[aria-label='one sample back']", ".slow"].map((c) =>
      page.locator(`.transport${c}`),
    );
    await expect.poll(() => back!.isDisabled()).toBe(true);
    await play!.click();
    const at = await halted(page);
    await page.locator('.motion-sheet [data-handle="road.right"]').focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowUp");
    await page.waitForTimeout(300);
    const lean = await leanNow(page);
    expect(await haltedAt(page)).toBe(at);
    await on!.click();
    await expect.poll(() => samplesSince(page, at)).toBe(1);
    await slow!.click();
    await expect.poll(() => slow!.getAttribute("aria-pressed")).toBe("true");
    await play!.click();
    await expect.poll(() => page.locator(".motion-lines").textContent()).toContain("shown at 1/10 speed");
    await expect.poll(() => leanNow(page), { timeout: WAIT_MS }).not.toBe(lean);
    expect(await violations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it("is halted and stepped by keys at a point that is in hand", async () => {
    await page.locator('.motion-sheet [data-handle="gravity"]').focus();
    await page.keyboard.press("Space");
    const at = await halted(page);
    await page.keyboard.press(".");
    await page.keyboard.press(".");
    await expect.poll(() => samplesSince(page, at)).toBe(2);
    await page.keyboard.press("Space");
    await expect.poll(() => page.locator(".motion-lines").textContent()).not.toContain("halted");
  });

  it("answers a body that is pulled down by the mouse, and lets it swing back", async () => {
    const before = await leanNow(page);
    // not so far that an arm breaks when a busy machine makes one jerk of it
    await drag(page, "gravity", 0, 60, false);
    await expect.poll(async () => Math.abs((await leanNow(page)) - before), { timeout: WAIT_MS }).toBeGreaterThan(0.25);
    await page.mouse.up();
    await expect.poll(async () => Math.abs((await leanNow(page)) - before), { timeout: WAIT_MS }).toBeLessThan(0.15);
    expect(complaints).toEqual([]);
  });

  it("answers a road that is raised by key, and can be put back", async () => {
    const road = page.locator('.motion-sheet [data-handle="road.right"]');
    const lean = page.locator(".motion-hero .hero-number");
    const before = await lean.textContent();
    await road.focus();
    // one by one: by one jerk of a busy machine a wheel comes off
    for (const mm of ["2.0", "4.0", "6.0"]) {
      await page.keyboard.press("ArrowUp");
      await expect.poll(() => page.locator(".motion-hero .hero-list").textContent()).toContain(`road right ${mm}`);
    }
    await expect.poll(() => lean.textContent(), { timeout: WAIT_MS }).not.toBe(before);
    await expect.poll(() => page.locator(".motion-hero .hero-list").textContent()).toContain("road right 6.0");
    await page.locator(".run-action").click();
    await expect.poll(() => page.locator(".motion-hero .hero-list").textContent(), { timeout: WAIT_MS }).toContain("road right 0.0");
    expect(complaints).toEqual([]);
  });
});

describe("free play on a narrow screen", () => {
  it("answers a finger that raises the road under a wheel on a narrow screen", async () => {
    // the other page's play would take the processor's time
    await page.locator('[data-run="singleBump"]').click();
    const { page: phone } = await openMotion({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
    await playFreely(phone);
    const before = await leanNow(phone);
    const session = await phone.context().newCDPSession(phone);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", x: number, y: number): Promise<unknown> =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
    const road = async (): Promise<number> => Number(/road right ([\d.]+)/.exec((await phone.locator(".motion-hero .hero-list").textContent()) ?? "")?.[1]);
    // a busy browser may let a quick finger pass unseen, scroll by it, or make one jerk of it, by which the car may come apart
    const raised = async (): Promise<number> => {
      if (Number.isNaN(await road())) await phone.locator(".run-action").click();
      await phone.evaluate(() => window.scrollTo(0, 0));
      const [x, y] = await middleOf(phone, "road.right");
      await touch("touchStart", x, y);
      // a finger rests on a point before it takes it
      await phone.waitForTimeout(350);
      for (let i = 1; i <= 8; i++) await touch("touchMove", x, y - i * 2);
      await touch("touchEnd", x, y - 16);
      await phone.waitForTimeout(300);
      return road();
    };
    await expect.poll(raised).toBeGreaterThan(5);
    await expect.poll(async () => Math.abs((await leanNow(phone)) - before), { timeout: WAIT_MS }).toBeGreaterThan(1);
    expect(await phone.evaluate(() => window.scrollY)).toBe(0);
    await phone.context().close();
  });
});
