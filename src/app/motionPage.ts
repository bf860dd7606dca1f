import type { Store } from "../state/store.ts";
import { createMotionPage, type MotionPage } from "./motion/page.ts";
import type { ViewHelp } from "./views.ts";

/** a run and where it was stopped outlive the view, so that coming back shows it at once */
let page: MotionPage | null = null;

export function mountMotion(region: HTMLElement, store: Store, help: ViewHelp): { update(): void } {
  page ??= createMotionPage(store, help);
  page.show(region);
  return page;
}
