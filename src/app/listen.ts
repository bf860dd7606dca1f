import type { Theme } from "../state/document.ts";
import type { Store } from "../state/store.ts";
import { watchLook } from "../ui/watch-look.ts";
import type { Actions } from "./actions.ts";
import type { Layout } from "./layout.ts";

export interface PageHooks {
  layout: Layout;
  store: Store;
  actions: Actions;
  say(text: string): void;
  resized(): void;
  retone(): void;
}

/** What the whole page listens to: its size, theme, dropped files and the keys for undo. */
export function listenPage(hooks: PageHooks): void {
  const { layout, store, actions } = hooks;
  new ResizeObserver(() => hooks.resized()).observe(layout.axle.stage);
  let theme: Theme | null = null;
  const setTheme = (t: Theme): void => {
    if (t === theme) return;
    theme = t;
    if (t === "system") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = t;
    hooks.retone();
  };
  setTheme(store.get().view.theme);
  store.subscribe((s) => setTheme(s.view.theme));
  watchLook({ colours: () => hooks.retone(), pixels: () => hooks.resized() });

  window.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    const typing = e.target instanceof HTMLInputElement && e.target.type === "text";
    if (typing) return;
    const key = e.key.toLowerCase();
    if (key === "z" && !e.shiftKey) {
      e.preventDefault();
      hooks.say(`undone: ${store.undo() ?? "nothing"}`);
    } else if (key === "y" || (key === "z" && e.shiftKey)) {
      e.preventDefault();
      hooks.say(`done again: ${store.redo() ?? "nothing"}`);
    }
  });

  const carriesFile = (e: DragEvent): boolean => e.dataTransfer?.types.includes("Files") ?? false;
  window.addEventListener("dragover", (e) => {
    if (!carriesFile(e)) return;
    e.preventDefault();
    layout.axle.drawing.classList.add("drop-here");
  });
  window.addEventListener("dragleave", (e) => {
    if (e.relatedTarget === null) layout.axle.drawing.classList.remove("drop-here");
  });
  window.addEventListener("drop", (e) => {
    layout.axle.drawing.classList.remove("drop-here");
    if (!carriesFile(e) || !e.dataTransfer) return;
    e.preventDefault();
    const items = [...e.dataTransfer.items].filter((i) => i.kind === "file");
    void actions.openInto(
      "a",
      items.map((i) => ({ file: i.getAsFile(), isFolder: i.webkitGetAsEntry()?.isDirectory ?? false })),
    );
  });
}
