import { createChartTable, type SaveKind, saveButtons } from "../../../ui/chart-tools.ts";
import { h, keyed, setText } from "../../../ui/dom.ts";
import { trackTable } from "../picture/tables.ts";
import type { TracksModel } from "../picture/tracks.ts";

export interface TrackToolHooks {
  /** one row of the trace as a file */
  save(key: string, kind: SaveKind): void;
  /** the whole run as a table of all channels */
  saveRun(): void;
}

export interface TrackTools {
  el: HTMLElement;
  /** `tops`: where each row begins, px; `run`: there is a whole run to save */
  update(model: TracksModel | null, tops: readonly number[], run: boolean): void;
  /** the row under the pointer shows its tools */
  near(index: number | null): void;
}

/** Table and files of each row of the trace, and of the whole run: over the rows where there is a mouse, else as a list. */
export function createTrackTools(hooks: TrackToolHooks): TrackTools {
  const list = h("ul", { class: "track-tool-list" });
  const csv = h(
    "button",
    { type: "button", class: "link small", "aria-label": "save the run as CSV, all channels", onclick: () => hooks.saveRun() },
    "run as CSV",
  );
  const whole = h("div", { class: "track-run-save" }, csv);
  const el = h("div", { class: "track-tools" }, whole, list);
  const tables = new Map<string, () => void>();
  let model: TracksModel | null = null;
  return {
    el,
    update(next, tops, run) {
      model = next;
      el.hidden = !next;
      whole.hidden = !run;
      keyed(
        list,
        next?.tracks ?? [],
        (t) => t.key,
        (t) => {
          const table = createChartTable(t.title, () => {
            const track = model?.tracks.find((o) => o.key === t.key) ?? t;
            return model ? trackTable(track, model) : { caption: "", head: [], rows: [] };
          });
          tables.set(t.key, table.update);
          const saves = saveButtons(t.title, ["svg", "png"], (kind) => hooks.save(t.key, kind));
          return h("li", { class: "track-tool", "data-track": t.key }, h("span", { class: "track-tool-name", "aria-hidden": "true" }), saves, table.el);
        },
        (li, t, i) => {
          li.style.setProperty("--at", `${(tops[i] ?? 0).toFixed(1)}px`);
          setText(li.firstElementChild as Element, t.title);
          tables.get(t.key)?.();
        },
      );
    },
    near(index) {
      [...list.children].forEach((li, i) => {
        li.classList.toggle("near", i === index);
      });
    },
  };
}
