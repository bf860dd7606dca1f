import { h } from "./dom.ts";

/** The empty regions of the page; each is filled by its own part. */
export interface Layout {
  bar: HTMLElement;
  drawing: HTMLElement;
  stage: HTMLElement;
  firstLine: HTMLElement;
  nextLine: HTMLButtonElement;
  corner: HTMLElement;
  params: HTMLElement;
  switches: HTMLElement;
  notice: HTMLElement;
  rulers: HTMLElement;
  drawer: HTMLElement;
  reading: HTMLElement;
  other: HTMLElement;
  footNav: HTMLElement;
  live: HTMLElement;
}

export const FIRST_LINE = "Pull the arrow at the centre of gravity and watch the right wheel.";
/** where the first line goes on to */
export const NEXT_LINE = "Then see what to change first.";

export function buildLayout(root: HTMLElement): Layout {
  const bar = h("header", { class: "bar" });
  const stage = h("div", { class: "stage", "data-pan": true, "data-zoom": true });
  const nextLine = h("button", { type: "button", class: "link" }, NEXT_LINE);
  const firstLine = h("p", { class: "first-line" }, FIRST_LINE, " ", nextLine);
  const corner = h("p", { class: "corner-note" });
  const params = h("div", { class: "params" });
  const switches = h("div", { class: "switches", role: "group", "aria-label": "what is drawn" });
  const notice = h("div", { class: "notice", hidden: true });
  const drawing = h("section", { class: "drawing", "aria-label": "drawing of the axle, seen from behind" }, stage, firstLine, corner, params, notice, switches);
  const rulers = h("section", { class: "rulers", "aria-label": "load" });
  const drawer = h("section", { class: "drawer", "aria-label": "curves" });
  const reading = h("aside", { class: "reading", "aria-label": "reading" });
  const other = h("section", { class: "other", hidden: true });
  const footNav = h("nav", { class: "foot-nav", "aria-label": "views" });
  const live = h("p", { class: "sr", role: "status", "aria-live": "polite" });
  const sheet = h("main", { class: "sheet" }, drawing, rulers, drawer, reading, other);
  root.append(bar, sheet, footNav, live);
  return { bar, drawing, stage, firstLine, nextLine, corner, params, switches, notice, rulers, drawer, reading, other, footNav, live };
}

/** Speaks politely: the last of several words within a moment wins. */
export function createLive(el: HTMLElement): (text: string) => void {
  let timer = 0;
  return (text) => {
    window.clearTimeout(timer);
    timer = window.setTimeout(() => {
      el.textContent = text;
    }, 150);
  };
}
