import type { Store } from "../../state/store.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createMotionPage, type MotionPage } from "./motion-page.ts";

/** a run and where it was stopped outlive the view, so that coming back shows it at once */
let page: MotionPage | null = null;

export function mountMotion(region: HTMLElement, store: Store, help: PageHelp): { update(): void } {
  page ??= createMotionPage(store, help);
  page.show(region);
  return page;
}
