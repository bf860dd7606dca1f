import { type AxleRegions, buildAxleRegions } from "../pages/axle/regions.ts";
import { h } from "../ui/dom.ts";

/** The frame of the page: the bar, the axle's sheet, room for the other pages, the foot's navigation and the polite voice. */
export interface Layout {
  bar: HTMLElement;
  notice: HTMLElement;
  /** why what is on the sheet is not kept, for as long as it is not */
  notKept: HTMLElement;
  axle: AxleRegions;
  other: HTMLElement;
  footNav: HTMLElement;
  live: HTMLElement;
}

export function buildLayout(root: HTMLElement): Layout {
  const bar = h("header", { class: "bar" });
  const notice = h("div", { class: "notice", hidden: true });
  const notKept = h("p", { class: "not-kept", role: "status", hidden: true });
  const axle = buildAxleRegions();
  const other = h("section", { class: "other", hidden: true });
  const footNav = h("nav", { class: "foot-nav", "aria-label": "views" });
  const live = h("p", { class: "sr", role: "status", "aria-live": "polite" });
  const sheet = h("main", { class: "sheet" }, axle.drawing, axle.rulers, axle.drawer, axle.reading, other);
  root.append(bar, notKept, h("div", { class: "page-notice" }, notice), sheet, footNav, live);
  return { bar, notice, notKept, axle, other, footNav, live };
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
