import type { Drawing } from "../draw/stage.ts";
import { mountAxle } from "../pages/axle/mount.ts";
import { mapSlice } from "../pages/map/state/slice.ts";
import { designs } from "../state/persist.ts";
import type { Store } from "../state/store.ts";
import { createMemo } from "../view/marks.ts";
import { createActions } from "./actions.ts";
import { createBar } from "./bar.ts";
import { createChosenPage } from "./chosen-page.ts";
import { createLive, type Layout } from "./layout.ts";
import { listenPage } from "./listen.ts";
import { createMenus } from "./menu.ts";
import { AXLE, PAGES } from "./page-list.ts";
import type { Keeper } from "./sessions.ts";
import { SHIPPED } from "./shipped.ts";

/** Frames the pages: bar, menus, keys, files and keeping; every part hears of changes through one frame. */
export function startApp(layout: Layout, store: Store, drawing: Drawing, keeper: Keeper): { error(lines: string[]): void } {
  const say = createLive(layout.live);
  const memo = createMemo();
  const actions = createActions({
    store,
    tabId: keeper.id,
    say,
    note: (text) => axle.note(text),
    error: (lines) => axle.error(lines),
    designsChanged: () => updateMenus(),
  });
  const menus = createMenus(actions);
  const updateMenus = (): void => {
    let kept: string[] = [];
    try {
      kept = Object.keys(designs(window.localStorage));
    } catch {
      // no store in this browser: nothing is kept
    }
    const s = store.get();
    menus.update({
      demos: SHIPPED.map((d) => ({ key: d.key, name: d.scenario.name, teaches: d.scenario.teaches })),
      kept: kept.map((name) => ({ name })),
      theme: s.view.theme,
      aName: s.doc.a.name,
      bName: s.doc.b.name,
    });
  };
  const bar = createBar(layout.bar, layout.footNav, {
    menu: () => menus.main,
    designMenu: (which) => menus.design(which),
    undo: () => say(`undone: ${store.undo() ?? "nothing"}`),
    redo: () => say(`done again: ${store.redo() ?? "nothing"}`),
    view: (key) => store.setView({ page: key }),
    share: () => void actions.share(),
  });
  const axle = mountAxle(layout.axle, store, drawing, {
    say,
    swap: () => actions.swap(),
    copyAToB: () => actions.copy("a"),
    takeFromB: (path) => actions.takeFromB(path),
    whatToChange: (aim) => store.setView({ page: "speedMap", ...mapSlice.patched(store.get().view, { aim, toChanges: true }) }),
    surround: {
      covers: (page) => PAGES.some((p) => p.key === page),
      update: ({ doc, view, undoName, redoName }, note) => {
        bar.update({ aName: doc.a.name, bName: doc.b.name, undoName, redoName, saved: note, view: view.page, views: [AXLE, ...PAGES] });
        memo("menus", [doc.a.name, doc.b.name, view.theme], () => updateMenus());
        chosen.show(view.page);
      },
    },
  });
  const chosen = createChosenPage(layout, store, { answers: axle.answers, say });
  listenPage({ layout, store, actions, say, resized: () => axle.resized(), retone: () => drawing.retone() });
  let keptSaid = false;
  keeper.watch(store, (ok) => {
    if (!ok) axle.note("not kept: this browser's store is full");
    else if (!keptSaid) axle.note("kept in this browser");
    keptSaid = ok;
  });
  store.subscribe(() => axle.schedule());
  axle.resized();
  axle.now();
  return { error: (lines) => axle.error(lines) };
}
