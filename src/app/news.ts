import type { State, Store } from "../state/store.ts";
import { createNotice, type NoticeAction, type NoticeModel } from "../ui/notice.ts";

/** What the page has to tell, on whichever page is shown: refusals, faults, and what happened with a way back. */
export interface News {
  error(lines: readonly string[], more?: readonly NoticeAction[]): void;
  news(lines: readonly string[], action?: NoticeAction): void;
  /** said quietly in the bar, for a moment */
  note(text: string): void;
  quiet(): string;
  update(state: State): void;
}

const NOTE_MS = 4000;

export function createNews(root: HTMLElement, store: Store, redraw: () => void): News {
  const show = createNotice(root);
  /** the newest last; a mere sentence goes with the next change of the work that it was about */
  let waiting: { model: NoticeModel; about: unknown }[] = [];
  let note = "";
  let timer = 0;
  const refresh = (): void => update(store.get());
  const tell = (model: Omit<NoticeModel, "close">): void => {
    const whole: NoticeModel = {
      ...model,
      close: () => {
        waiting = waiting.filter((m) => m.model !== whole);
        refresh();
      },
    };
    const closing = (a: NoticeAction): NoticeAction => ({
      ...a,
      run: () => {
        a.run();
        whole.close?.();
      },
    });
    if (whole.action) whole.action = closing(whole.action);
    // the same thing said again takes the place of what stands there
    waiting = [...waiting.filter((m) => m.model.lines.join() !== whole.lines.join()), { model: whole, about: store.settled() }];
    refresh();
  };
  const update = ({ refusal }: State): void => {
    waiting = waiting.filter((m) => m.model.action || m.model.more || m.about === store.settled());
    show(refusal === null ? (waiting.at(-1)?.model ?? null) : { kind: "error", lines: [refusal, "Your design is unchanged."], close: () => store.dismiss() });
  };
  return {
    error: (lines, more) => tell({ kind: "error", lines, ...(more ? { more } : {}) }),
    news: (lines, action) => tell({ kind: "news", lines, ...(action ? { action } : {}) }),
    note(text) {
      note = text;
      window.clearTimeout(timer);
      timer = window.setTimeout(() => {
        note = "";
        redraw();
      }, NOTE_MS);
      redraw();
    },
    quiet: () => note,
    update,
  };
}
