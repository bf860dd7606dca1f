import { pathName } from "../core/design/field-words.ts";
import type { Scenario } from "../core/design/types.ts";
import { CAPS } from "../scenario/caps.ts";
import type { Chosen } from "../scenario/read-file.ts";
import type { Doc } from "../state/document.ts";
import { freeName } from "../state/edit.ts";
import { toHash } from "../state/link.ts";
import { designs, keepDesign, removeDesign } from "../state/persist.ts";
import type { Store } from "../state/store.ts";
import { taken } from "../state/take.ts";
import { fromText, openChosen, pickFile, saveScenario, saveText } from "../ui/files.ts";
import type { NoticeAction } from "../ui/notice.ts";
import type { MenuHooks } from "./menu.ts";
import { type Keeper, openShelf } from "./sessions.ts";
import { shipped } from "./shipped.ts";

export interface ActionHooks {
  store: Store;
  keeper: Keeper;
  say(text: string): void;
  note(text: string): void;
  error(lines: readonly string[], more?: readonly NoticeAction[]): void;
  /** tells what happened, with a way on */
  news(lines: readonly string[], action?: NoticeAction): void;
  designsChanged(): void;
}

export interface Actions extends MenuHooks {
  openInto(which: "a" | "b", chosen: readonly Chosen[]): Promise<void>;
  takeFromB(path: string): void;
  keptNames(): string[];
  share(): Promise<void>;
}

const put = (doc: Doc, which: "a" | "b", scenario: Scenario): Doc => (which === "a" ? { ...doc, a: scenario } : { ...doc, b: scenario });

/** What buttons and menus do, each a named change or a file. */
export function createActions(hooks: ActionHooks): Actions {
  const { store } = hooks;
  const shelf = (): Storage | null => openShelf(() => window.localStorage);
  const gone = (what: string, back: () => boolean): void =>
    hooks.news([`${what} was removed from this browser.`], {
      words: "put it back",
      run: () => {
        if (!back()) hooks.error(["It could not be put back: this browser's store is full or shut."]);
        hooks.designsChanged();
      },
    });
  const open = (scenario: Scenario, which: "a" | "b", more = ""): void => {
    if (store.act(`open ${scenario.name} as ${which.toUpperCase()}`, (d) => put(d, which, scenario)) === null)
      hooks.say(`${scenario.name} opened as ${which.toUpperCase()}.${more}`);
  };
  const openInto = async (which: "a" | "b", chosen: readonly Chosen[]): Promise<void> => {
    const opened = await openChosen(chosen);
    if (!opened.ok) {
      hooks.error(opened.lines);
      return;
    }
    open(opened.scenario, which);
  };
  return {
    openInto,
    keptNames() {
      const home = shelf();
      return home ? Object.keys(designs(home)) : [];
    },
    async openEarlier(id) {
      const fault = await hooks.keeper.takeUp(id);
      if (fault) hooks.error([fault]);
      hooks.designsChanged();
    },
    saveEarlier(id) {
      const found = hooks.keeper.others().find((s) => s.id === id);
      if (found) saveText(found.name ?? "earlier work", found.text);
    },
    removeEarlier(id) {
      const back = hooks.keeper.remove(id);
      hooks.designsChanged();
      if (back) gone("Earlier work", back);
      else hooks.error(["It could not be removed: this browser's store is shut."]);
    },
    openDemo(key, which) {
      const scenario = shipped(key);
      open(scenario, which, ` ${scenario.teaches}`);
    },
    openKept(name, which) {
      const home = shelf();
      const kept = home ? designs(home)[name] : undefined;
      if (!kept) return;
      const read = fromText(kept.scenario, name);
      if (read.ok) open(read.scenario, which);
      else hooks.error(read.lines, [{ words: "save it as a file", run: () => saveText(name, JSON.stringify(kept.scenario, null, 2)) }]);
    },
    dropKept(name) {
      const home = shelf();
      const back = home ? removeDesign(home, name, Date.now()) : null;
      hooks.designsChanged();
      if (back) gone(name, back);
    },
    keep() {
      const home = shelf();
      const name = home ? keepDesign(home, store.settled().a, hooks.keeper.tab, Date.now()) : null;
      hooks.note(name ? `${name} kept in this browser` : "this browser keeps nothing: save a file instead");
      if (name && name !== store.settled().a.name) store.act(`rename A to ${name}`, (d) => ({ ...d, a: { ...d.a, name } }));
      hooks.designsChanged();
    },
    pickFile: (which) => pickFile((f) => void openInto(which, [{ file: f, isFolder: false }])),
    saveFile: (which) => saveScenario(store.settled()[which]),
    theme: (t) => store.setView({ theme: t }),
    rename(which, name) {
      const text = name.trim().slice(0, CAPS.nameLetters);
      if (!text) hooks.error([`A design needs a name; it is still ${store.settled()[which].name}.`]);
      else store.act(`rename ${which.toUpperCase()} to ${text}`, (d) => put(d, which, { ...d[which], name: text }));
    },
    describe(which, line) {
      const text = line.replace(/\s+/g, " ").trim();
      if (text !== store.settled()[which].teaches) store.act(`describe ${which.toUpperCase()}`, (d) => put(d, which, { ...d[which], teaches: text }));
    },
    startOwn: () => store.setView({ page: "ownCar" }),
    swap: () => store.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a })),
    copy(from) {
      if (from === "a") store.act("copy A to B", (d) => ({ ...d, b: { ...d.a, name: freeName(d.a.name, [d.a.name]) } }));
      else store.act("copy B to A", (d) => ({ ...d, a: { ...d.b, name: freeName(d.b.name, [d.b.name]) } }));
    },
    takeFromB(path) {
      const { a, b } = store.settled();
      const take = taken(a, b, path);
      store.act(`take ${pathName(take.path)} from B`, (d) => ({ ...d, a: take.scenario }));
    },
    async share() {
      const hash = await toHash(store.settled());
      const url = `${location.href.split("#")[0]}#${hash}`;
      try {
        await navigator.clipboard.writeText(url);
        hooks.note("link copied; it holds the design itself");
      } catch {
        hooks.news(["This is the link; it holds the design itself. Copy it:", url]);
      }
    },
  };
}
