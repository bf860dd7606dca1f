import { h } from "../../ui/dom.ts";

/** The empty regions of the axle's sheet; each is filled by its own panel. */
export interface AxleRegions {
  drawing: HTMLElement;
  stage: HTMLElement;
  firstLine: HTMLElement;
  nextLine: HTMLButtonElement;
  ownLine: HTMLButtonElement;
  corner: HTMLElement;
  params: HTMLElement;
  switches: HTMLElement;
  notice: HTMLElement;
  rulers: HTMLElement;
  drawer: HTMLElement;
  reading: HTMLElement;
}

const FIRST_LINE = "Pull the arrow at the centre of gravity and watch the right wheel.";
/** where the first line goes on to */
const NEXT_LINE = "Then see what to change first.";
const OWN_LINE = "Or start your own car.";

export function buildAxleRegions(): AxleRegions {
  const stage = h("div", { class: "stage", "data-pan": true, "data-zoom": true });
  const nextLine = h("button", { type: "button", class: "link" }, NEXT_LINE);
  const ownLine = h("button", { type: "button", class: "link", "data-act": "own-car" }, OWN_LINE);
  const firstLine = h("p", { class: "first-line" }, FIRST_LINE, " ", nextLine, " ", ownLine);
  const corner = h("p", { class: "corner-note" });
  const params = h("div", { class: "params" });
  const switches = h("div", { class: "switches", role: "group", "aria-label": "what is drawn" });
  const notice = h("div", { class: "notice", hidden: true });
  const title = h("h1", { class: "sr" }, "The axle, seen from behind");
  const drawing = h(
    "section",
    { class: "drawing", "aria-label": "drawing of the axle, seen from behind" },
    title,
    stage,
    firstLine,
    corner,
    params,
    notice,
    switches,
  );
  const rulers = h("section", { class: "rulers", "aria-label": "load" });
  const drawer = h("section", { class: "drawer", "aria-label": "curves" });
  const reading = h("aside", { class: "reading", "aria-label": "reading" });
  return { drawing, stage, firstLine, nextLine, ownLine, corner, params, switches, notice, rulers, drawer, reading };
}
