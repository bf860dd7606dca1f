import type { Store } from "../state/store.ts";
import type { Layout } from "../ui/layout.ts";
import { registeredViews, type ViewHelp } from "./views.ts";

/** Shows the page of the chosen view in place of the axle's sheet. */
export function createOthers(layout: Layout, store: Store, help: ViewHelp): { show(key: string): void; covers(key: string): boolean } {
  let shown = "axle";
  let update: (() => void) | null = null;
  return {
    covers: (key) => registeredViews().some((v) => v.key === key),
    show(key) {
      const page = registeredViews().find((v) => v.key === key);
      const now = page ? key : "axle";
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
