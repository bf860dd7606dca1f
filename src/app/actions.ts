import { pathName } from "../core/design/field-words.ts";
import type { Scenario } from "../core/design/types.ts";
import type { Doc } from "../state/document.ts";
import { at, freeName, withAt } from "../state/edit.ts";
import { toHash } from "../state/link.ts";
import { designs, dropDesign, keepDesign } from "../state/persist.ts";
import type { Store } from "../state/store.ts";
import { openFile, pickFile, saveScenario } from "../ui/files.ts";
import type { MenuHooks } from "./menu.ts";
import { shipped } from "./shipped.ts";

export interface ActionHooks {
  store: Store;
  tabId: string;
  say(text: string): void;
  note(text: string): void;
  error(lines: string[]): void;
  designsChanged(): void;
}

export interface Actions extends MenuHooks {
  openInto(which: "a" | "b", file: File): Promise<void>;
  takeFromB(path: string): void;
  share(): Promise<void>;
}

const put = (doc: Doc, which: "a" | "b", scenario: Scenario): Doc => (which === "a" ? { ...doc, a: scenario } : { ...doc, b: scenario });

/** What buttons and menus do, each a named change or a file. */
export function createActions(hooks: ActionHooks): Actions {
  const { store } = hooks;
  const shelf = (): Storage | null => {
    try {
      return window.localStorage;
    } catch {
      return null;
    }
  };
  const openInto = async (which: "a" | "b", file: File): Promise<void> => {
    const opened = await openFile(file);
    if (!opened.ok) {
      hooks.error(opened.lines);
      return;
    }
    store.act(`open ${opened.scenario.name} as ${which.toUpperCase()}`, (d) => put(d, which, opened.scenario));
    hooks.say(`${opened.scenario.name} opened as ${which.toUpperCase()}`);
  };
  return {
    openInto,
    openDemo(key, which) {
      const scenario = shipped(key);
      store.act(`open ${scenario.name} as ${which.toUpperCase()}`, (d) => put(d, which, scenario));
      hooks.say(`${scenario.name} opened as ${which.toUpperCase()}. ${scenario.teaches}`);
    },
    openKept(name, which) {
      const home = shelf();
      const kept = home ? designs(home)[name] : undefined;
      if (kept) store.act(`open ${name} as ${which.toUpperCase()}`, (d) => put(d, which, kept.scenario));
    },
    dropKept(name) {
      const home = shelf();
      if (home) dropDesign(home, name);
      hooks.designsChanged();
    },
    keep() {
      const home = shelf();
      const name = home ? keepDesign(home, store.settled().a, hooks.tabId, Date.now()) : null;
      hooks.note(name ? `${name} kept in this browser` : "this browser keeps nothing: save a file instead");
      if (name && name !== store.settled().a.name) store.act(`rename A to ${name}`, (d) => ({ ...d, a: { ...d.a, name } }));
      hooks.designsChanged();
    },
    pickFile: (which) => pickFile((f) => void openInto(which, f)),
    saveFile: (which) => saveScenario(store.settled()[which]),
    theme: (t) => store.setView({ theme: t }),
    rename(which, name) {
      const text = name.trim().slice(0, 80);
      if (text) store.act(`rename ${which.toUpperCase()} to ${text}`, (d) => put(d, which, { ...d[which], name: text }));
    },
    swap: () => store.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a })),
    copy(from) {
      if (from === "a") store.act("copy A to B", (d) => ({ ...d, b: { ...d.a, name: freeName(d.a.name, [d.a.name]) } }));
      else store.act("copy B to A", (d) => ({ ...d, a: { ...d.b, name: freeName(d.b.name, [d.b.name]) } }));
    },
    takeFromB(path) {
      store.act(`take ${pathName(path)} from B`, (d) => ({ ...d, a: withAt(d.a, path, at(d.b, path)) }));
    },
    async share() {
      const hash = await toHash(store.settled());
      const url = `${location.href.split("#")[0]}#${hash}`;
      history.replaceState(null, "", `#${hash}`);
      try {
        await navigator.clipboard.writeText(url);
        hooks.note("link copied; it holds the design itself");
      } catch {
        hooks.note("the link stands in the address bar; it holds the design itself");
      }
    },
  };
}
