import { h, setAttr, setText } from "../../../ui/dom.ts";

export type SaveKind = "html" | "json" | "csv";

export interface ReportHooks {
  print(): void;
  save(kind: SaveKind): void;
  toggleB(): void;
  stop(): void;
}

export type ReportState =
  | { kind: "working"; done: number; words: string; leftS: number | null }
  | { kind: "ready" }
  | { kind: "stopped" }
  /** no report at this load: why */
  | { kind: "none"; message: string };

interface ReportModel {
  state: ReportState;
  /** the report's content; the newest one that there is, pale while another is made */
  body: string | null;
  withB: boolean;
  /** the two designs differ, so that B can be set against A */
  canB: boolean;
}

export interface ReportSheet {
  el: HTMLElement;
  update(m: ReportModel): void;
}

const SAVES: readonly [SaveKind, string][] = [
  ["html", "Save as HTML"],
  ["json", "Save JSON"],
  ["csv", "Save CSV"],
];

/**
 * The report as it will be printed, in a root of its own so that its styles are those of the saved file. `css` is the report's look, `pageCss` the
 * printed page's margins; `stopped` says why the report stays away.
 */
export function createReportSheet(css: string, pageCss: string, stopped: HTMLElement, hooks: ReportHooks): ReportSheet {
  // the report brings its own title
  const title = h("h1", { class: "sr" }, "Report");
  const print = h("button", { type: "button", class: "report-button strong", onclick: () => hooks.print() }, "Print");
  const saves = SAVES.map(([kind, words]) =>
    h("button", { type: "button", class: "report-button", "data-save": kind, onclick: () => hooks.save(kind) }, words),
  );
  const withB = h("button", { type: "button", class: "report-button report-b", onclick: () => hooks.toggleB() }, "With B");
  const line = h("span", { class: "report-line" });
  const words = h("span", { role: "status" });
  const stop = h("button", { type: "button", class: "link small", onclick: () => hooks.stop() }, "stop");
  const progress = h("p", { class: "report-progress" }, words, " ", stop, line);
  const tools = h("div", { class: "report-tools", role: "group", "aria-label": "report" }, title, print, ...saves, withB, stopped, progress);
  const host = h("div", { class: "report-host" });
  const root = host.attachShadow({ mode: "open" });
  const look = new CSSStyleSheet();
  look.replaceSync(css);
  root.adoptedStyleSheets = [look];
  const margins = new CSSStyleSheet();
  margins.replaceSync(pageCss);
  const paper = h("div", { class: "report-paper", tabindex: 0, role: "region", "aria-label": "the report as it will be printed" }, host);
  const el = h("div", { class: "report-view" }, tools, paper);
  let shown: string | null = null;
  // what scrolls sideways on a narrow page must be in reach of the keys
  const reachWide = (): void => {
    for (const box of root.querySelectorAll<HTMLElement>(".wide, figure")) {
      const scrolls = box.scrollWidth > box.clientWidth;
      setAttr(box, "tabindex", scrolls ? 0 : null);
      setAttr(box, "role", scrolls && box.tagName === "DIV" ? "group" : null);
      setAttr(box, "aria-label", scrolls ? `${box.querySelector("caption, figcaption")?.textContent ?? "table"} (scrolls sideways)` : null);
    }
  };
  new ResizeObserver(reachWide).observe(host);

  return {
    el,
    update(m) {
      if (!document.adoptedStyleSheets.includes(margins)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, margins];
      const { state } = m;
      const ready = state.kind === "ready";
      for (const b of [print, ...saves]) b.disabled = !ready;
      withB.hidden = !m.canB;
      setAttr(withB, "aria-pressed", String(m.withB));
      stop.hidden = state.kind !== "working";
      setText(words, wordsOf(state));
      progress.classList.toggle("bad", state.kind === "none");
      line.style.width = state.kind === "working" ? `${(100 * state.done).toFixed(1)}%` : "0";
      host.classList.toggle("stale", !ready && m.body !== null);
      title.hidden = m.body !== null;
      if (m.body !== shown) {
        shown = m.body;
        root.innerHTML = m.body ?? "";
        paper.scrollTop = 0;
        reachWide();
      }
    },
  };
}

const TELL_LEFT_S = 10;

function wordsOf(s: ReportState): string {
  if (s.kind === "ready") return "";
  if (s.kind === "stopped") return "Stopped. Any change starts it again.";
  if (s.kind === "none") return `No report at this load: ${s.message}`;
  const left = s.leftS !== null && s.leftS >= TELL_LEFT_S ? `, ${Math.ceil(s.leftS)} s left` : "";
  return `${Math.floor(100 * s.done)} % ${s.words}${left}`;
}
