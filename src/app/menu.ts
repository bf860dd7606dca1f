import { CAPS } from "../scenario/caps.ts";
import type { Theme } from "../state/document.ts";
import type { Stored } from "../state/persist.ts";
import { h, keyed, setAttr } from "../ui/dom.ts";
import { helpList } from "../ui/help.ts";

interface MenuModel {
  demos: readonly { key: string; name: string; teaches: string }[];
  kept: readonly { name: string }[];
  /** other work in this browser, the newest first */
  earlier: readonly Stored[];
  theme: Theme;
  aName: string;
  bName: string;
  aTeaches: string;
  bTeaches: string;
}

export interface MenuHooks {
  openDemo(key: string, which: "a" | "b"): void;
  openKept(name: string, which: "a" | "b"): void;
  dropKept(name: string): void;
  openEarlier(id: string): Promise<void>;
  saveEarlier(id: string): void;
  removeEarlier(id: string): void;
  keep(): void;
  pickFile(which: "a" | "b"): void;
  saveFile(which: "a" | "b"): void;
  theme(t: Theme): void;
  rename(which: "a" | "b", name: string): void;
  describe(which: "a" | "b", line: string): void;
  startOwn(): void;
  swap(): void;
  share(): Promise<void>;
  copy(from: "a" | "b"): void;
}

export interface Menus {
  main: HTMLElement;
  help: HTMLElement;
  design(which: "a" | "b"): HTMLElement;
  update(model: MenuModel): void;
}

const close = (el: Element): void => {
  const panel = el.closest<HTMLElement>("[popover]");
  panel?.hidePopover();
};

const act = (words: string, run: () => void, extra: Record<string, string> = {}): HTMLButtonElement => {
  const b = h("button", { type: "button", class: "menu-item", ...extra }, words);
  b.addEventListener("click", () => {
    close(b);
    run();
  });
  return b;
};

/** Panels behind the mark and the two design tabs: designs, files, theme, help. */
export function createMenus(hooks: MenuHooks): Menus {
  const demoLists: { el: HTMLUListElement; which: "a" | "b" }[] = [];
  const keptLists: { el: HTMLUListElement; which: "a" | "b" }[] = [];
  const list = (store: typeof demoLists, which: "a" | "b"): HTMLUListElement => {
    const el = h("ul", { class: "menu-list" });
    store.push({ el, which });
    return el;
  };
  const themes = (["system", "light", "dark"] as const).map((t) =>
    h("button", { type: "button", class: "word-switch", "data-theme-choice": t, onclick: () => hooks.theme(t) }, t === "system" ? "as the system" : t),
  );
  const earlier = h("ul", { class: "menu-list" });
  const earlierBox = h(
    "section",
    { class: "earlier" },
    h("h2", {}, "Earlier work in this browser"),
    h("p", { class: "menu-note" }, "Kept by itself, one for each tab, both designs together. It stays until you remove it."),
    earlier,
  );
  const main = h(
    "div",
    { class: "main-menu", "aria-label": "designs, files, theme and help" },
    act("help: what the words mean", () => help.showPopover(), { "data-act": "help" }),
    act("start your own car", () => hooks.startOwn(), { "data-view": "ownCar" }),
    h("h2", {}, "Open an invented car as A"),
    list(demoLists, "a"),
    h("h2", {}, "Designs you kept by name"),
    list(keptLists, "a"),
    act("keep A under its name", () => hooks.keep(), { "data-act": "keep" }),
    earlierBox,
    h("h2", {}, "Files"),
    act("open a file as A", () => hooks.pickFile("a"), { "data-act": "open-a" }),
    act("save A as a file", () => hooks.saveFile("a"), { "data-act": "save-a" }),
    act("share A and B by a link", () => void hooks.share(), { "data-act": "share" }),
    h("p", { class: "menu-note" }, "You can also drop a file on the sheet."),
    h("h2", {}, "Light"),
    h("p", { class: "theme-row" }, ...themes),
    h(
      "p",
      { class: "menu-note" },
      h("a", { class: "link", href: "./licences.txt", target: "_blank", rel: "noopener" }, "licences of what this page is made of (in a tab of their own)"),
    ),
    h(
      "p",
      { class: "caution" },
      "For models only. Parts fly off at speed: eye protection, distance, a cleared track. Batteries and hot motors: follow the maker's instructions. Printed and moulded parts scatter and age: test on the bench before you trust a number.",
    ),
  );
  const help = h(
    "div",
    { class: "help-page", "aria-label": "help: what the words mean" },
    h("h2", {}, "What the words mean"),
    h("p", { class: "menu-note" }, "Dotted words on the page say the same where they stand: point at one, or press it."),
    helpList(),
    act("close the help", () => {}),
  );
  const names: { which: "a" | "b"; input: HTMLInputElement; line: HTMLTextAreaElement }[] = [];
  const design = (which: "a" | "b"): HTMLElement => {
    const input = h("input", {
      type: "text",
      maxlength: 80,
      "aria-label": `name of design ${which.toUpperCase()}`,
      onchange: (e: Event) => hooks.rename(which, (e.target as HTMLInputElement).value),
    });
    const line = h("textarea", {
      rows: 3,
      maxlength: CAPS.descriptionLetters,
      "aria-label": `description of design ${which.toUpperCase()}`,
      onchange: (e: Event) => hooks.describe(which, (e.target as HTMLTextAreaElement).value),
    });
    names.push({ which, input, line });
    const acts =
      which === "a"
        ? [
            act("start your own car, or go on with it", () => hooks.startOwn()),
            act("copy A to B", () => hooks.copy("a")),
            act("swap A and B", () => hooks.swap()),
            act("open a file as A", () => hooks.pickFile("a")),
            act("save A as a file", () => hooks.saveFile("a")),
          ]
        : [
            act("work on B (swap A and B)", () => hooks.swap()),
            act("copy B to A", () => hooks.copy("b")),
            act("open a file as B", () => hooks.pickFile("b")),
            act("save B as a file", () => hooks.saveFile("b")),
          ];
    return h(
      "div",
      { class: "design-menu", "aria-label": `design ${which.toUpperCase()}` },
      h("label", { class: "menu-name" }, `Name of ${which.toUpperCase()}`, input),
      h("label", { class: "menu-name" }, `Description of ${which.toUpperCase()}, one line, kept in its file`, line),
      ...acts,
      h("h2", {}, `Open as ${which.toUpperCase()}`),
      list(demoLists, which),
      h("h2", {}, "Designs you kept by name"),
      list(keptLists, which),
    );
  };
  return {
    main,
    help,
    design,
    update(m) {
      for (const { el, which } of demoLists)
        keyed(
          el,
          m.demos,
          (d) => d.key,
          (d) =>
            h(
              "li",
              {},
              act(d.name, () => hooks.openDemo(d.key, which), { title: d.teaches, "data-demo": d.key }),
            ),
          () => {},
        );
      for (const { el, which } of keptLists) {
        keyed(
          el,
          m.kept,
          (d) => d.name,
          (d) =>
            h(
              "li",
              {},
              act(d.name, () => hooks.openKept(d.name, which)),
              h("button", { type: "button", class: "link small", "aria-label": `remove ${d.name}`, onclick: () => hooks.dropKept(d.name) }, "remove"),
            ),
          () => {},
        );
        el.classList.toggle("empty", m.kept.length === 0);
      }
      earlierBox.hidden = m.earlier.length === 0;
      keyed(
        earlier,
        m.earlier,
        (e) => e.id,
        (e) =>
          h(
            "li",
            {},
            e.name === null ? h("span", {}, earlierWords(e)) : act(earlierWords(e), () => void hooks.openEarlier(e.id)),
            h(
              "button",
              { type: "button", class: "link small", "aria-label": `save ${earlierWords(e)} as a file`, onclick: () => hooks.saveEarlier(e.id) },
              "save",
            ),
            h("button", { type: "button", class: "link small", "aria-label": `remove ${earlierWords(e)}`, onclick: () => hooks.removeEarlier(e.id) }, "remove"),
          ),
        () => {},
      );
      for (const t of themes) setAttr(t, "aria-pressed", String(t.getAttribute("data-theme-choice") === m.theme));
      for (const n of names) {
        const name = n.which === "a" ? m.aName : m.bName;
        if (document.activeElement !== n.input && n.input.value !== name) n.input.value = name;
        const line = n.which === "a" ? m.aTeaches : m.bTeaches;
        if (document.activeElement !== n.line && n.line.value !== line) n.line.value = line;
      }
    },
  };
}

/** "Heavy car, 3 May 14:20, 24 kB"; where it cannot be read, that. */
function earlierWords(e: Stored): string {
  const when = e.savedAt > 0 ? `, ${new Date(e.savedAt).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })}` : "";
  return `${e.name ?? "cannot be read"}${when}, ${Math.ceil(e.letters / 1000)} kB`;
}
