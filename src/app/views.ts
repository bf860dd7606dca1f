import type { Store } from "../state/store.ts";
import type { Answers } from "./answers.ts";

/** A page beside the axle: takes the sheet while it is chosen. */
export interface PageView {
  key: string;
  words: string;
  /** the same where there is little room */
  short?: string;
  /** fills its region once; called again with every change while it is shown */
  mount(region: HTMLElement, store: Store, help: ViewHelp): { update(): void };
}

/** What a page has from the rest: the answers that the frame has worked out already, and the polite voice. */
export interface ViewHelp {
  answers: Record<"a" | "b", Answers>;
  say(text: string): void;
}

const pages: PageView[] = [];

/** The axle's own sheet is always first; other pages announce themselves here. */
export function registerView(page: PageView): void {
  pages.push(page);
}

export const registeredViews = (): readonly PageView[] => pages;

export const viewList = (): { key: string; words: string; short?: string }[] => [{ key: "axle", words: "Axle" }, ...pages];
