import { h } from "./dom.ts";

/** Name of the attribute by which a page's points are found. */
export type PointKind = "data-handle" | "data-grip";

/** A point of a drawing that moves: the button that fingers press and keys find. */
export const pointButton = <T extends string>(
  kind: PointKind,
  id: T,
  key: (id: T, e: KeyboardEvent) => void,
  focus: (id: T | null) => void,
): HTMLButtonElement =>
  h("button", {
    type: "button",
    [kind]: id,
    "aria-roledescription": "point that moves",
    "aria-keyshortcuts": "ArrowLeft ArrowRight ArrowUp ArrowDown",
    onkeydown: (e: KeyboardEvent) => key(id, e),
    onfocus: () => focus(id),
    onblur: () => focus(null),
  });
