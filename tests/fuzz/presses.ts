import type { Browser, Page } from "playwright-core";
import type { Random } from "../../src/core/numerics/random.ts";
import { claim, type Fuzzer, fuzz, pick } from "./fuzzer.ts";

/** presses of one walk, each in a profile of its own */
export const PRESSES = 30;
const VIEWPORTS = [
  { width: 1440, height: 900 },
  { width: 900, height: 700 },
  { width: 390, height: 844 },
] as const;
/** the page keeps a change within half of this, ms */
const KEPT_MS = 700;
/** a page that answers nothing for so long hangs, ms: a machine that is busy otherwise is slow */
const HANGS_MS = 120_000;
/** letters of the bar, heads, the great number and notices that stand on every page at the least */
const LEAST_WORDS = 60;

const TYPED = ["0", "1", "-1", "3,5", "1e9", "−2", "", " 7 ", "abc", "0.05", "45", "120", "NaN", "🛞", "x".repeat(130)] as const;
const KEYS = [
  "Tab",
  "Tab",
  "Shift+Tab",
  "ArrowLeft",
  "ArrowUp",
  "Shift+ArrowRight",
  "ArrowDown",
  "Enter",
  "Space",
  "Escape",
  "Delete",
  "Insert",
  "Home",
  "PageUp",
  "Control+z",
  "Control+z",
  "Control+y",
] as const;

interface Target {
  x: number;
  y: number;
  words: string;
  /** text: something to type in */
  kind: "text" | "choice" | "handle" | "press";
}

/** Something that can be seen and pressed, brought into sight. File pickers, downloads and print are left out, and what leaves the page. */
function target(page: Page, at: number, only: string): Promise<Target | null> {
  return page.evaluate(
    ([share, selector]) => {
      const all = [...document.querySelectorAll<HTMLElement>(selector)].filter(
        (el) =>
          el.checkVisibility({ visibilityProperty: true }) &&
          !(el as HTMLButtonElement).disabled &&
          !el.closest("[inert]") &&
          !/\b(file|print|csv|json|png|svg|html)\b/i.test(`${el.textContent} ${el.getAttribute("aria-label")}`),
      );
      const el = all[Math.floor(share * all.length)];
      if (!el) return null;
      el.scrollIntoView({ block: "nearest", inline: "nearest", behavior: "instant" });
      const box = el.getBoundingClientRect();
      const kind = el.matches("[data-handle]")
        ? "handle"
        : el.matches("select")
          ? "choice"
          : el.matches("input[type=text], input[type=number], input:not([type])")
            ? "text"
            : "press";
      const words = `${el.tagName.toLowerCase()} ${el.getAttribute("data-handle") ?? el.getAttribute("aria-label") ?? el.textContent ?? ""}`.slice(0, 60);
      return { x: box.x + box.width / 2, y: box.y + box.height / 2, words, kind } as const;
    },
    [at, only] as const,
  );
}

const CONTROLS = "button, input, select, summary, [data-handle], [role=slider], [role=button]";

/** What is on the screen and must come back: names, page, what undo and redo say. */
const shown = (page: Page): Promise<Record<string, string | null>> =>
  page.evaluate(async () => {
    // the frame that answers the last press
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    const text = (selector: string): string | null => document.querySelector(selector)?.textContent ?? null;
    const label = (selector: string): string | null => document.querySelector(selector)?.getAttribute("aria-label") ?? null;
    return {
      a: text(".design-tab.a .design-name"),
      b: text(".design-tab.b .design-name"),
      undo: label(".undo:not(.redo)"),
      redo: label(".redo"),
      page: document.querySelector("[data-view][aria-current=page]")?.getAttribute("data-view") ?? null,
    };
  });

/** The document as it lies in the browser's store, in short; and the lean, where the axle is shown and has an answer. */
const kept = (page: Page): Promise<Record<string, string | null>> =>
  page.evaluate(async () => {
    const id = sessionStorage.getItem("wheelstay.tab");
    const text = localStorage.getItem(`wheelstay.session.${id}`);
    // in what order the fields stand is no part of a design
    const sorted = (_: string, v: unknown): unknown =>
      typeof v === "object" && v !== null && !Array.isArray(v) ? Object.fromEntries(Object.entries(v).sort(([x], [y]) => (x < y ? -1 : 1))) : v;
    const doc = text === null ? "nothing" : JSON.stringify(JSON.parse(text).doc, sorted);
    const hash = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(doc));
    const lean = document.querySelector<HTMLElement>(".hero-number");
    return {
      document: Array.from(new Uint8Array(hash), (b) => b.toString(16).padStart(2, "0")).join(""),
      // what stays pale on the page is the last that held, and no answer to this design
      lean: lean?.checkVisibility() && !lean.closest(".stale") ? lean.textContent || null : null,
    };
  });

/** Waits in the page's own time, behind what it has put off to do itself. */
const quietly = (page: Page): Promise<void> => page.evaluate((ms) => new Promise<void>((done) => setTimeout(done, ms)), KEPT_MS);

const ready = (page: Page): Promise<unknown> => page.waitForSelector("html[data-ready]", { state: "attached", timeout: HANGS_MS });

const dragFrom = async (page: Page, random: Random, [x, y]: readonly [number, number]): Promise<void> => {
  await page.mouse.move(x, y);
  await page.mouse.down();
  const far = pick(random, [15, 80, 300]);
  for (let n = random.whole(1, 3); n > 0; n--) await page.mouse.move(x + random.between(-far, far), y + random.between(-far, far), { steps: 2 });
};

/** Reloads, sometimes at once, sometimes once all is kept, sometimes with a handle in the hand; what was on the screen comes back. */
async function reload(page: Page, random: Random): Promise<string> {
  const quiet = random.next() < 0.5;
  const inHand = !quiet && random.next() < 0.3;
  // a number that is being typed is none yet
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  if (quiet) await quietly(page);
  const before = { ...(await shown(page)), ...(quiet ? await kept(page) : {}) };
  if (inHand) {
    const handle = await target(page, random.next(), "[data-handle]");
    if (handle) await dragFrom(page, random, [handle.x, handle.y]);
  }
  await page.reload();
  await ready(page);
  if (inHand) await page.mouse.up();
  if (quiet) await quietly(page);
  const after = { ...(await shown(page)), ...(quiet ? await kept(page) : {}) };
  const lost = Object.keys(before).filter((k) => (before as Record<string, string | null>)[k] !== (after as Record<string, string | null>)[k]);
  claim(
    lost.length === 0,
    `a reload ${quiet ? "in quiet" : inHand ? "in a drag" : "at once"} lost ${lost.join(", ")}: ${JSON.stringify(before)} came back as ${JSON.stringify(after)}`,
  );
  return `reload${quiet ? " in quiet" : inHand ? " in a drag" : " at once"}`;
}

/** One press of any kind; gives back what was done, in words. */
async function press(page: Page, random: Random): Promise<string> {
  const kind = random.next();
  if (kind < 0.08) return reload(page, random);
  if (kind < 0.14) {
    const viewport = pick(random, VIEWPORTS);
    await page.setViewportSize(viewport);
    return `window ${viewport.width} wide`;
  }
  if (kind < 0.26) {
    const key = pick(random, KEYS);
    await page.keyboard.press(key);
    return `key ${key}`;
  }
  const size = page.viewportSize() ?? VIEWPORTS[0];
  const anywhere = [random.between(0, size.width), random.between(0, size.height)] as const;
  if (kind < 0.31) {
    await page.mouse.move(...anywhere);
    await page.mouse.wheel(0, random.between(-400, 400));
    return "wheel";
  }
  if (kind < 0.36) {
    await dragFrom(page, random, anywhere);
    await page.mouse.up();
    return `drag from ${anywhere.map(Math.round)}`;
  }
  const only = kind < 0.46 ? "[data-handle]" : kind < 0.54 ? "[data-view]" : kind < 0.66 ? "input" : CONTROLS;
  const found = (await target(page, random.next(), only)) ?? (await target(page, random.next(), CONTROLS));
  if (!found) return "nothing there";
  const { x, y, words } = found;
  switch (found.kind) {
    case "handle":
      await dragFrom(page, random, [x, y]);
      if (random.next() < 0.15) await page.keyboard.press("Escape");
      await page.mouse.up();
      return `drag ${words}`;
    case "text": {
      const typed = pick(random, TYPED);
      await page.mouse.click(x, y, { clickCount: 3 });
      await page.keyboard.insertText(typed);
      await page.keyboard.press(pick(random, ["Enter", "Tab", "Escape", "ArrowUp"]));
      return `type ${typed.slice(0, 9)} into ${words}`;
    }
    case "choice":
      await page.mouse.click(x, y);
      await page.keyboard.press(pick(random, ["ArrowDown", "ArrowUp", "End"]));
      await page.keyboard.press("Enter");
      return `choose in ${words}`;
    default:
      await page.mouse.click(x, y);
      return `press ${words}`;
  }
}

const within = <T>(work: Promise<T>, what: () => string): Promise<T> => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, no) => {
    timer = setTimeout(() => no(new Error(`${what()}: no answer`)), HANGS_MS);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
};

async function walk(browser: Browser, url: string, random: Random): Promise<Record<string, number>> {
  const context = await browser.newContext({ viewport: pick(random, VIEWPORTS), reducedMotion: "reduce", acceptDownloads: false });
  const ends: Record<string, number> = {};
  const done: string[] = [];
  try {
    await context.addInitScript(() => {
      window.print = () => {};
    });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("console", (m) => {
      if (m.type() === "error" || m.type() === "warning") complaints.push(m.text());
    });
    page.on("pageerror", (e) => complaints.push(e.message));
    // whatever opens a file picker is left without an answer
    page.on("filechooser", () => {});
    page.on("dialog", (d) => void d.dismiss());
    await page.goto(url);
    await ready(page);
    for (let n = 0; n < PRESSES; n++) {
      const what = await within(press(page, random), () => done.at(-1) ?? "the start");
      done.push(what);
      const kind = what.startsWith("reload") ? what : what.split(" ")[0]!;
      ends[kind] = (ends[kind] ?? 0) + 1;
      claim(page.url().split("#")[0] === url, `${what} leads away, to ${page.url()}`);
      claim(complaints.length === 0, `${what}: ${complaints.slice(0, 2).join(" | ")}`);
      const words = await within(
        page.evaluate(() => {
          const seen = [...document.querySelectorAll<HTMLElement>(".bar, h1, h2, .hero-number, .notice")].filter((el) => el.checkVisibility());
          return seen.reduce((sum, el) => sum + (el.textContent ?? "").length, 0);
        }),
        () => what,
      );
      claim(words >= LEAST_WORDS, `${what}: the page is blank`);
    }
    return ends;
  } catch (e) {
    throw new Error(`${String((e as Error).message)} || after ${done.slice(-8).join("; ")}`);
  } finally {
    await context.close();
  }
}

/** Random presses with reloads on the built page, each case a walk of 30 of them. Pictures come when they come: a seed makes the same presses again, not always the same moment. */
export const fuzzPresses =
  (browser: Browser, url: string): Fuzzer =>
  (seed, count) =>
    fuzz("presses", seed, count, { make: (random) => random, check: (random) => walk(browser, url, random) });
