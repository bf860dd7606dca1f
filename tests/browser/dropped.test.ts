import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Fault, named } from "../support/faults.ts";
import { type Site, startSite } from "./site.ts";

let site: Site;
/** one page: nothing that is dropped changes it */
let page: Page;
let complaints: string[];
const folder = mkdtempSync(join(tmpdir(), "wheelstay-drop-"));
const place = (name: string): string => join(folder, name);

beforeAll(async () => {
  site = await startSite();
  ({ page, complaints } = await site.open());
  mkdirSync(place("my cars"));
  writeFileSync(place("one.json"), "{}");
  writeFileSync(place("two.json"), "{}");
  // the eight bytes that every PNG begins with (W3C, PNG specification, 5.2), and what follows
  writeFileSync(place("photo.png"), Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]));
  writeFileSync(place("late.json"), "{}");
});
afterAll(async () => {
  await site.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Files of this machine dropped in the middle of the page, as the browser itself hears of them. */
async function drop(page: Page, files: readonly string[], before: () => void = () => {}): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const data = { items: [], files: [...files], dragOperationsMask: 1 };
  for (const type of ["dragEnter", "dragOver"] as const) await session.send("Input.dispatchDragEvent", { type, x: 500, y: 400, data });
  before();
  await session.send("Input.dispatchDragEvent", { type: "drop", x: 500, y: 400, data });
}

const ROWS: readonly (readonly [Fault, readonly string[], string])[] = [
  ["a folder is dropped", ["my cars"], "my cars: this is a folder; a scenario file can be opened."],
  ["a dropped file has vanished", ["late.json"], "late.json: cannot be read; it was moved, changed or removed since it was chosen, or it is a folder."],
  ["two files are dropped at once", ["one.json", "two.json"], "2 files at once: one scenario file at a time can be opened."],
  ["a picture is dropped", ["photo.png"], "photo.png: this is a picture, not a Wheelstay file."],
];

describe("what is dropped and cannot be opened", () => {
  it.each(ROWS.map(([fault, files, sentence]) => [named(fault), files, sentence] as const))("%s", async (_, files, sentence) => {
    const name = await page.locator(".design-tab.a .design-name").textContent();
    await drop(page, files.map(place), () => rmSync(place("late.json"), { force: true }));
    const lines = page.locator(".page-notice .notice p");
    await expect.poll(() => lines.allTextContents()).toEqual([sentence, "Your design is unchanged."]);
    expect(await page.locator(".design-tab.a .design-name").textContent()).toBe(name);
    expect(await page.locator(".undo").first().getAttribute("aria-label")).toBe("Nothing to undo");
    expect(complaints).toEqual([]);
  });
});
