import type { Store } from "../state/store.ts";

/** A page beside the axle: takes the sheet while it is chosen. */
export interface PageView {
  key: string;
  words: string;
  /** fills its region once; called again with every change while it is shown */
  mount(region: HTMLElement, store: Store): { update(): void };
}

const pages: PageView[] = [];

/** The axle's own sheet is always first; other pages announce themselves here. */
export function registerView(page: PageView): void {
  pages.push(page);
}

export const registeredViews = (): readonly PageView[] => pages;

export const viewList = (): { key: string; words: string }[] => [{ key: "axle", words: "Axle" }, ...pages.map((p) => ({ key: p.key, words: p.words }))];
