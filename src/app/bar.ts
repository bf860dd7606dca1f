import { h, s, setAttr, setText } from "../ui/dom.ts";

interface BarModel {
  aName: string;
  bName: string;
  undoName: string | null;
  redoName: string | null;
  saved: string;
  view: string;
  views: readonly { key: string; words: string; short?: string }[];
}

export interface BarHooks {
  menu(): HTMLElement;
  help(): HTMLElement;
  designMenu(which: "a" | "b"): HTMLElement;
  /** a menu is about to be seen */
  menuOpens(): void;
  undo(): void;
  redo(): void;
  view(key: string): void;
  share(): void;
}

export interface Bar {
  update(model: BarModel): void;
}

const mark = (): SVGSVGElement =>
  s(
    "svg",
    { class: "mark", viewBox: "0 0 26 36", width: 26, height: 36, "aria-hidden": "true" },
    s("path", { class: "mark-top", d: "M4 1.5H22" }),
    s("path", { class: "mark-line", d: "M13 1.5V14" }),
    s("path", { class: "mark-wheel", d: "M9.5 5.5L21 7.5L16.5 34.5L5 32.5Z" }),
    s("path", { class: "mark-bob", d: "M13 25L9.5 16L11 13.5H15L16.5 16Z" }),
  );

const sample = (which: "a" | "b"): SVGSVGElement =>
  s("svg", { class: `sample ${which}`, viewBox: "0 0 30 6", width: 30, height: 6, "aria-hidden": "true" }, s("path", { d: "M0 3H30" }));

/** Says that a press opens a list. */
const chevron = (): SVGSVGElement =>
  s("svg", { class: "chevron", viewBox: "0 0 10 6", width: 10, height: 6, "aria-hidden": "true" }, s("path", { d: "M1 1L5 5L9 1" }));

let count = 0;

/** A button that opens a panel below it. */
function opener(className: string, panel: HTMLElement, ...children: (Node | string)[]): HTMLButtonElement {
  const id = panel.id || `panel-${++count}`;
  panel.id = id;
  panel.setAttribute("popover", "auto");
  panel.setAttribute("role", "dialog");
  panel.classList.add("menu-panel");
  const button = h("button", { type: "button", class: className, popovertarget: id, "aria-haspopup": "dialog" }, ...children);
  panel.addEventListener("beforetoggle", () => {
    const r = button.getBoundingClientRect();
    panel.style.left = `${Math.max(0, Math.min(r.left, window.innerWidth - 380))}px`;
    panel.style.top = `${r.bottom}px`;
  });
  return button;
}

/** The words of a view; in the bar the style sheet chooses which, by the room there is. */
function viewWords({ words, short }: BarModel["views"][number], foot: boolean): (Node | string)[] {
  if (foot || short === undefined) return [foot ? (short ?? words) : words];
  return [h("span", { class: "view-long" }, words), h("span", { class: "view-short" }, short)];
}

/** The bar: mark and name, designs A and B, undo with the name of what it undoes, the views there are, share. */
export function createBar(root: HTMLElement, footNav: HTMLElement, hooks: BarHooks): Bar {
  const aName = h("span", { class: "design-name" });
  const bName = h("span", { class: "design-name" });
  const menu = hooks.menu();
  const aMenu = hooks.designMenu("a");
  const bMenu = hooks.designMenu("b");
  const helpPanel = hooks.help();
  for (const panel of [menu, aMenu, bMenu]) panel.addEventListener("beforetoggle", () => hooks.menuOpens());
  const brand = opener("brand", menu, mark(), h("span", {}, "Wheelstay"), h("span", { class: "menu-word" }, "menu"), chevron());
  const help = opener("help-open", helpPanel, "Help");
  const a = opener("design-tab a current", aMenu, sample("a"), h("b", {}, "A"), " ", aName);
  const b = opener("design-tab b", bMenu, sample("b"), h("b", {}, "B"), " ", bName);
  const undoWords = h("span", { class: "undo-words" });
  const undo = h(
    "button",
    { type: "button", class: "undo", onclick: () => hooks.undo() },
    s("svg", { viewBox: "0 0 18 16", width: 18, height: 16, "aria-hidden": "true" }, s("path", { d: "M2 5H10A4.5 4.5 0 0 1 10 14H6M2 5L6 1M2 5L6 9" })),
    undoWords,
  );
  const redo = h(
    "button",
    { type: "button", class: "undo redo", onclick: () => hooks.redo() },
    s("svg", { viewBox: "0 0 18 16", width: 18, height: 16, "aria-hidden": "true" }, s("path", { d: "M16 5H8A4.5 4.5 0 0 0 8 14H12M16 5L12 1M16 5L12 9" })),
  );
  const saved = h("span", { class: "saved" });
  const nav = h("nav", { class: "views", "aria-label": "views" });
  const share = h("button", { type: "button", class: "share", onclick: () => hooks.share() }, "Share");
  root.append(brand, h("div", { class: "designs", role: "group", "aria-label": "designs" }, a, b), undo, redo, saved, nav, help, share);
  document.body.append(menu, aMenu, bMenu, helpPanel);
  return {
    update(m) {
      setText(aName, m.aName);
      setText(bName, m.bName);
      setText(undoWords, m.undoName ? `Undo: ${m.undoName}` : "");
      setAttr(undo, "aria-label", m.undoName ? `Undo: ${m.undoName}` : "Nothing to undo");
      undo.disabled = !m.undoName;
      setAttr(redo, "aria-label", m.redoName ? `Redo: ${m.redoName}` : "Nothing to redo");
      redo.title = m.redoName ? `Redo: ${m.redoName}` : "";
      redo.hidden = !m.redoName;
      setText(saved, m.saved);
      for (const host of [nav, footNav]) {
        if (host.childElementCount !== m.views.length)
          host.replaceChildren(
            ...m.views.map((v) => h("button", { type: "button", "data-view": v.key, onclick: () => hooks.view(v.key) }, ...viewWords(v, host === footNav))),
          );
        for (const child of host.children) setAttr(child, "aria-current", child.getAttribute("data-view") === m.view ? "page" : null);
      }
      footNav.hidden = m.views.length < 2;
    },
  };
}
