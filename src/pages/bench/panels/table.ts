import { CAPS } from "../../../scenario/caps.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { cellAt, cellFault, type Place, type Rows, shownRows, stepFrom } from "../state/table.ts";

interface TableColumn {
  key: string;
  words: string;
  units: readonly string[];
  signs: "both" | "positive";
}

/** What stands behind a row: how far it lies off the line, or why it is not used. */
interface RowNote {
  ok: boolean;
  words: string;
}

export interface TableModel {
  /** names the test: another one begins with no cell in hand */
  key: string;
  columns: readonly TableColumn[];
  /** columns that are shown: what was pasted behind those of the test stays to be seen */
  wide: number;
  units: readonly string[];
  rows: Rows;
  /** as many as there are rows; null: nothing to say */
  notes: readonly (RowNote | null)[];
  /** what the numbers behind the rows are */
  noteHead: string;
  /** empty rows that are shown at the least */
  least: number;
}

export interface TableHooks {
  type(at: Place, text: string): void;
  unit(column: number, unit: string): void;
  /** a table was pasted with this cell in hand; false: it is a text for the cell alone */
  paste(at: Place, text: string): boolean;
  addRow(at: number): void;
  removeRow(at: number): void;
  undo(): void;
  redo(): void;
  /** opens the place where a table can be put in as text */
  openPaste(): void;
}

const KEYS: Readonly<Record<string, "up" | "down" | "left" | "right">> = {
  ArrowUp: "up",
  ArrowDown: "down",
  Enter: "down",
  ArrowLeft: "left",
  ArrowRight: "right",
};

const noteId = (row: number): string => `bench-note-${row}`;

interface CellInput extends HTMLInputElement {
  at: Place;
}

/** A table to type into like a spreadsheet; what is typed stays as it is typed, and what a cell cannot hold stays to be seen. */
export function createTable(hooks: TableHooks): { el: HTMLElement; update(m: TableModel): void } {
  const head = h("tr");
  const body = h("tbody");
  const table = h("table", { class: "bench-table" }, h("caption", { class: "sr" }, "what you read"), h("thead", {}, head), body);
  const add = h("button", { type: "button", class: "bench-act", "data-act": "add-row", onclick: () => addRow() }, "add a row");
  const remove = h("button", { type: "button", class: "bench-act", "data-act": "remove-row", onclick: () => removeRow() }, "remove row 1");
  const paste = h("button", { type: "button", class: "bench-act", "data-act": "open-paste", onclick: () => hooks.openPaste() }, "paste a table …");
  const el = h("div", { class: "bench-table-box" }, h("div", { class: "bench-table-scroll" }, table), h("p", { class: "bench-acts" }, add, remove, paste));

  let model: TableModel | null = null;
  let inHand: Place = { row: 0, column: 0 };
  /** texts that their cells cannot hold, by place: they stay to be seen until they are mended */
  const tooLong = new Map<string, string>();
  const keyOf = (p: Place): string => `${p.row}.${p.column}`;
  const input = (p: Place): CellInput | null => body.querySelector<CellInput>(`[data-cell="${keyOf(p)}"]`);
  const go = (to: Place): void => {
    const next = input(to);
    next?.focus();
    next?.select();
  };
  const count = (): number => (model ? shownRows(model.rows, model.least) : 0);

  /** Texts that are not kept go along with their rows. */
  const shift = (from: number, by: 1 | -1): void => {
    const moved = [...tooLong].map(([key, text]) => {
      const [row, column] = key.split(".").map(Number) as [number, number];
      return [keyOf({ row: row >= from ? row + by : row, column }), text] as const;
    });
    tooLong.clear();
    for (const [key, text] of moved) tooLong.set(key, text);
  };
  const addRow = (): void => {
    if (!model) return;
    const at = Math.min(inHand.row + 1, model.rows.length);
    shift(at, 1);
    hooks.addRow(at);
    go({ row: at, column: 0 });
  };
  const removeRow = (): void => {
    const { row, column } = inHand;
    for (const key of [...tooLong.keys()]) if (key.startsWith(`${row}.`)) tooLong.delete(key);
    shift(row + 1, -1);
    hooks.removeRow(row);
    go({ row, column });
  };

  const typed = (e: Event): void => {
    const el = e.target as CellInput;
    const text = el.value;
    const fault = cellFault(text);
    if (fault) {
      tooLong.set(keyOf(el.at), text);
      if (model) write(model);
      return;
    }
    tooLong.delete(keyOf(el.at));
    hooks.type(el.at, text);
  };
  body.addEventListener("input", typed);
  body.addEventListener("focusin", (e) => {
    const { at } = e.target as CellInput;
    if (!at) return;
    inHand = at;
    setText(remove, `remove row ${at.row + 1}`);
  });
  body.addEventListener("paste", (e) => {
    const { at } = e.target as CellInput;
    const text = e.clipboardData?.getData("text/plain") ?? "";
    if (at && hooks.paste(at, text)) e.preventDefault();
  });
  body.addEventListener("keydown", (e) => {
    const el = e.target as CellInput;
    if (!el.at || !model) return;
    const key = e.key.toLowerCase();
    if ((e.ctrlKey || e.metaKey) && !e.altKey && (key === "z" || key === "y")) {
      e.preventDefault();
      if (key === "y" || e.shiftKey) hooks.redo();
      else hooks.undo();
      return;
    }
    const way = e.key === "Enter" && e.shiftKey ? "up" : KEYS[e.key];
    if (!way || e.ctrlKey || e.metaKey || e.altKey) return;
    // within a cell the arrows go from letter to letter first
    const { selectionStart: from, selectionEnd: to, value } = el;
    const all = from === 0 && to === value.length;
    if (e.key === "ArrowLeft" && !(all || (from === 0 && to === 0))) return;
    if (e.key === "ArrowRight" && !(all || (from === value.length && to === value.length))) return;
    if (e.key.startsWith("Arrow") && e.shiftKey) return;
    const next = stepFrom(way, el.at, count(), model.wide);
    e.preventDefault();
    if (next) go(next);
  });

  const more = (m: TableModel): number[] => Array.from({ length: m.wide - m.columns.length }, (_, i) => m.columns.length + i);
  const wordsOf = (m: TableModel, column: number): string => m.columns[column]?.words ?? "remark";
  const makeHead = (m: TableModel): void => {
    head.replaceChildren(
      h("th", { scope: "col", class: "bench-row-head" }, h("span", { class: "sr" }, "row")),
      ...m.columns.map((c, i) =>
        h(
          "th",
          { scope: "col" },
          h("span", { class: "bench-column" }, c.words),
          c.units.length > 1
            ? h(
                "select",
                { "data-unit": i, "aria-label": `unit of ${c.words}`, onchange: (e: Event) => hooks.unit(i, (e.target as HTMLSelectElement).value) },
                ...c.units.map((u) => h("option", { value: u }, u)),
              )
            : h("span", { class: "bench-unit" }, c.units[0] ?? ""),
        ),
      ),
      ...more(m).map(() => h("th", { scope: "col" }, h("span", { class: "bench-column" }, "remark"))),
      h("th", { scope: "col", class: "bench-note-head" }),
    );
  };
  const makeRow = (m: TableModel, row: number): HTMLTableRowElement =>
    h(
      "tr",
      { "data-row": row },
      h("th", { scope: "row", class: "bench-row-head" }, String(row + 1)),
      ...[...m.columns.keys(), ...more(m)].map((column) => {
        // the pad of figures of a phone has no minus
        const pad = m.columns[column]?.signs === "positive" ? "decimal" : "text";
        const cell = h("input", {
          type: "text",
          inputmode: pad,
          autocomplete: "off",
          spellcheck: "false",
          enterkeyhint: "next",
          "data-cell": `${row}.${column}`,
        }) as CellInput;
        cell.at = { row, column };
        return h("td", {}, cell);
      }),
      h("td", { class: "bench-note", id: noteId(row) }),
    );

  const write = (m: TableModel): void => {
    const n = count();
    keyed(
      body,
      Array.from({ length: n }, (_, row) => row),
      (row) => `${m.columns.map((c) => c.key).join()}.${m.wide}.${row}`,
      (row) => makeRow(m, row),
      (tr, row) => {
        let fault: string | null = null;
        for (let column = 0; column < m.wide; column++) {
          const cell = tr.children[column + 1]!.firstElementChild as CellInput;
          const overlong = tooLong.get(keyOf({ row, column }));
          const text = overlong ?? cellAt(m.rows, { row, column });
          if (cell.value !== text) cell.value = text;
          setAttr(cell, "aria-label", `row ${row + 1}, ${wordsOf(m, column)}`);
          if (overlong !== undefined) fault ??= cellFault(overlong);
        }
        const note = fault ? { ok: false, words: fault } : (m.notes[row] ?? null);
        const bad = note?.ok === false;
        tr.classList.toggle("bad", bad);
        for (let column = 0; column < m.wide; column++) {
          const cell = tr.children[column + 1]!.firstElementChild as CellInput;
          setAttr(cell, "aria-invalid", bad ? "true" : null);
          setAttr(cell, "aria-describedby", bad ? noteId(row) : null);
        }
        setText(tr.lastElementChild as Element, note?.words ?? "");
      },
    );
  };

  return {
    el,
    update(m) {
      if (m.key !== model?.key) {
        tooLong.clear();
        inHand = { row: 0, column: 0 };
        setText(remove, "remove row 1");
      }
      const columns = (t: TableModel | null): string => JSON.stringify([t?.wide, t?.columns.map((c) => [c.key, c.words, c.units])]);
      if (columns(m) !== columns(model)) makeHead(m);
      model = m;
      for (const select of head.querySelectorAll("select")) {
        const unit = m.units[Number(select.dataset.unit)] ?? "";
        if (select.value !== unit) select.value = unit;
      }
      setText(head.lastElementChild as Element, m.noteHead);
      remove.disabled = m.rows.length === 0;
      add.disabled = m.rows.length >= CAPS.benchRows;
      write(m);
    },
  };
}
