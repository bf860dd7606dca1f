import type { Answers } from "../state/answers.ts";
import type { Store } from "../state/store.ts";

/** A page beside the axle: takes the sheet while it is chosen. */
export interface PageEntry {
  key: string;
  words: string;
  /** the same where there is little room */
  short?: string;
  /** reached from elsewhere than the list of views */
  aside?: boolean;
  mount: MountPage;
}

/** Fills a region once; `update` is called again with every change while the page is shown. */
export type MountPage = (region: HTMLElement, store: Store, help: PageHelp) => { update(): void };

/** What a page has from the rest: the answers that the frame has worked out already, and the polite voice. */
export interface PageHelp {
  answers: Record<"a" | "b", Answers>;
  say(text: string): void;
}
