import type { Store } from "../state/store.ts";
import type { PageHelp } from "../ui/page.ts";
import type { Layout } from "./layout.ts";
import { AXLE, PAGES } from "./page-list.ts";

/** Shows the chosen page in place of the axle's sheet. */
export function createChosenPage(layout: Layout, store: Store, help: PageHelp): { show(key: string): void } {
  let shown = AXLE.key;
  let update: (() => void) | null = null;
  return {
    show(key) {
      const page = PAGES.find((p) => p.key === key);
      const now = page ? key : AXLE.key;
      document.title = `${(page ?? AXLE).words} – Wheelstay`;
      if (now !== shown) {
        shown = now;
        layout.other.replaceChildren();
        // on a narrow sheet a page begins at its top, not where the last one was left
        window.scrollTo(0, 0);
        layout.other.hidden = !page;
        layout.other.parentElement?.classList.toggle("elsewhere", Boolean(page));
        update = page ? page.mount(layout.other, store, help).update : null;
      }
      update?.();
    },
  };
}
