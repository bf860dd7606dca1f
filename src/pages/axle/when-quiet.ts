import type { Store } from "../../state/store.ts";

/**
 * Does `now` at each change and at once, and `later` when the hand has rested for so long, ms: what is worth working out does not keep a hand
 * waiting that goes on.
 */
export function whenQuiet(store: Store, quietMs: number, now: () => void, later: () => void): void {
  let timer = 0;
  const soon = (): void => {
    now();
    window.clearTimeout(timer);
    timer = window.setTimeout(later, quietMs);
  };
  store.subscribe(soon);
  soon();
}
