import type { Page } from "playwright-core";

/** A hand on the page of one's own car. */
export type Px = readonly [number, number];

export const textOf = async (page: Page, selector: string): Promise<string> => (await page.locator(selector).first().textContent()) ?? "";
export const told = (page: Page, key: string): Promise<string> => textOf(page, `[data-question="${key}"] .own-known`);
export const value = (page: Page, key: string): Promise<string> => page.locator(`[data-answer="${key}"]`).inputValue();
export const begin = async (page: Page): Promise<void> => {
  await page.locator("[data-act=own-car]").click();
  await page.locator("[data-act=own-start]").click();
  await page.locator('[data-answer="carMassKg"]').waitFor();
};
export const middle = async (page: Page, selector: string): Promise<Px> => {
  const box = await page.locator(selector).boundingBox();
  if (!box) throw new Error(`${selector} is not on the page`);
  return [box.x + box.width / 2, box.y + box.height / 2];
};
export async function pull(page: Page, selector: string, to: Px): Promise<void> {
  const [x, y] = await middle(page, selector);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + to[0]) / 2, (y + to[1]) / 2);
  await page.mouse.move(to[0], to[1]);
  await page.mouse.up();
}

type Touch = "touchStart" | "touchMove" | "touchEnd";
/** Fingers on the page, each at its place; none: they are lifted. */
export async function fingers(page: Page): Promise<(type: Touch, at: readonly Px[]) => Promise<unknown>> {
  const session = await page.context().newCDPSession(page);
  return (type, at) => session.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(([x, y], id) => ({ x, y, id })) });
}
