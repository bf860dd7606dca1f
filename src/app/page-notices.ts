import "./styles/page-notices.css";
import { h } from "../ui/dom.ts";
import { createNotice, type NoticeModel } from "../ui/notice.ts";

/** A tag at the foot of the page, whatever is shown on it. */
export function createPageNotice(name: string): (model: NoticeModel | null) => void {
  const root = h("div", { hidden: true });
  const home = document.querySelector(".page-notices") ?? document.body.appendChild(h("section", { class: "page-notices", "aria-label": "notices" }));
  home.append(root);
  root.dataset.notice = name;
  return createNotice(root);
}

/** What the browser says where nothing went wrong: a size is told one frame later. */
const HARMLESS = /^ResizeObserver loop/;

/** Tells a fault of the page that nobody else has told, once, and leaves everything as it stands. */
export function tellFaults(): void {
  const tell = createPageNotice("fault");
  const report = (why: unknown): void => {
    const words = why instanceof Error ? why.message : String(why);
    if (HARMLESS.test(words)) return;
    tell({
      kind: "error",
      lines: [`Something in this page went wrong: ${words}`, "Your work is as it was. If something looks wrong now, load the page again."],
      action: { words: "load the page again", run: () => location.reload() },
    });
  };
  window.addEventListener("error", (e) => report(e.error ?? e.message));
  window.addEventListener("unhandledrejection", (e) => report(e.reason));
}
