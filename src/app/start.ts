import type { Drawing } from "../draw/stage.ts";
import { mountAxle } from "../pages/axle/mount.ts";
import { lastOf } from "../pages/bench/state/kept.ts";
import { benchSlice } from "../pages/bench/state/slice.ts";
import { mapSlice } from "../pages/map/state/slice.ts";
import type { Store } from "../state/store.ts";
import { setText } from "../ui/dom.ts";
import { saveScenario, saveText } from "../ui/files.ts";
import { createMemo } from "../view/marks.ts";
import { createActions } from "./actions.ts";
import { createBar } from "./bar.ts";
import { createChosenPage } from "./chosen-page.ts";
import { createLive, type Layout } from "./layout.ts";
import { listenPage } from "./listen.ts";
import { createMenus } from "./menu.ts";
import { createNews, type News } from "./news.ts";
import { AXLE, PAGES } from "./page-list.ts";
import type { Keeper, Kept } from "./sessions.ts";
import { FIRST_A, SHIPPED } from "./shipped.ts";

/** Frames the pages: bar, menus, keys, files and keeping; every part hears of changes through one frame. */
export function startApp(layout: Layout, store: Store, drawing: Drawing, keeper: Keeper): News {
  const say = createLive(layout.live);
  const memo = createMemo();
  let kept: Kept = "kept";
  let keptSaid = false;
  const news = createNews(layout.notice, store, () => axle.schedule());
  const actions = createActions({ store, keeper, say, note: news.note, error: news.error, news: news.news, designsChanged: () => updateMenus() });
  const menus = createMenus(actions);
  const updateMenus = (): void => {
    const s = store.get();
    menus.update({
      demos: SHIPPED.map((d) => ({ key: d.key, name: d.scenario.name, teaches: d.scenario.teaches })),
      kept: actions.keptNames().map((name) => ({ name })),
      earlier: keeper.others(),
      theme: s.view.theme,
      aName: s.doc.a.name,
      bName: s.doc.b.name,
      aTeaches: s.doc.a.teaches,
      bTeaches: s.doc.b.teaches,
    });
  };
  const bar = createBar(layout.bar, layout.footNav, {
    menu: () => menus.main,
    help: () => menus.help,
    designMenu: (which) => menus.design(which),
    menuOpens: updateMenus,
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
    toBench: (kind) => {
      const { doc, view } = store.get();
      store.setView({ page: "bench", ...benchSlice.patched(view, { part: "tests", kind, test: lastOf(doc.a, kind) }) });
    },
    surround: {
      covers: (page) => PAGES.some((p) => p.key === page),
      update: (state) => {
        const { doc, view, undoName, redoName } = state;
        bar.update({
          aName: doc.a.name,
          bName: doc.b.name,
          undoName,
          redoName,
          saved: news.quiet(),
          view: view.page,
          views: [AXLE, ...PAGES.filter((p) => !p.aside)],
        });
        memo("menus", [doc.a.name, doc.b.name, view.theme], () => updateMenus());
        news.update(state);
        setText(layout.notKept, NOT_KEPT[kept] ?? "");
        layout.notKept.hidden = NOT_KEPT[kept] === null;
        chosen.show(view.page);
      },
    },
  });
  const chosen = createChosenPage(layout, store, { answers: axle.answers, say });
  listenPage({ layout, store, actions, say, resized: () => axle.resized(), retone: () => drawing.retone() });
  store.subscribe(() => axle.schedule());
  keeper.watch(
    store,
    (now) => {
      const changed = kept !== now;
      kept = now;
      if (now === "kept" && (changed || !keptSaid) && store.get().undoName) {
        news.note("kept in this browser");
        keptSaid = true;
      }
      if (changed) axle.schedule();
    },
    () => news.news(["Another tab went on with this work while this one slept. This tab goes on with a copy of its own; both are kept."]),
  );
  for (const u of keeper.unreadable) news.error([u.message], [{ words: "save it as a file", run: () => saveText("unreadable work", u.text) }]);
  axle.resized();
  try {
    axle.now();
  } catch (e) {
    // what cannot be shown must not shut the page: it would not open again
    const { a, b } = store.settled();
    news.error(
      [
        `This design cannot be shown: ${e instanceof Error ? e.message : String(e)}.`,
        "It is kept as it is. Take one step back, save it as a file, or open an invented car.",
      ],
      [
        { words: `undo ${store.get().undoName ?? "nothing"}`, run: () => void store.undo() },
        { words: "save A and B as files", run: () => [a, b].forEach(saveScenario) },
        { words: "open an invented car as A", run: () => actions.openDemo(FIRST_A, "a") },
      ],
    );
  }
  return news;
}

const NOT_KEPT: Record<Kept, string | null> = {
  kept: null,
  full: "not kept: this browser's store is full. Save a file, or remove earlier work in the menu.",
  shut: "not kept: this browser keeps nothing here. Save a file.",
};
