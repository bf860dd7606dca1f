import { h, setText } from "../../../ui/dom.ts";

export interface PasteModel {
  open: boolean;
  text: string;
  /** why it was not taken, or what was made of it */
  told: string;
  fault: boolean;
}

/** Where a table is put in as text: by hand where nothing can be pasted into a cell, and to be seen and mended where it was not taken. */
export function createPaste(hooks: { put(text: string): void; type(text: string): void; close(): void; open(): void }): {
  el: HTMLElement;
  update(m: PasteModel): void;
  focus(): void;
} {
  const told = h("span", { role: "status" });
  const see = h("button", { type: "button", class: "link small", "data-act": "see-paste", onclick: () => hooks.open() }, "see what was pasted");
  const line = h("p", { class: "bench-told" }, told, " ", see);
  const area = h("textarea", {
    rows: 6,
    spellcheck: "false",
    autocomplete: "off",
    "data-paste": "text",
    "aria-label": "table as text",
    oninput: () => hooks.type(area.value),
  });
  const box = h(
    "div",
    { class: "bench-paste-box" },
    h(
      "p",
      { class: "aside-term" },
      "Paste rows from a spreadsheet, or type them: cells parted by tabs, semicolons or commas; a line of headings with units may stand on top.",
    ),
    area,
    h(
      "p",
      { class: "bench-acts" },
      h("button", { type: "button", class: "bench-act strong", "data-act": "put-paste", onclick: () => hooks.put(area.value) }, "put it into the table"),
      h("button", { type: "button", class: "bench-act", "data-act": "close-paste", onclick: () => hooks.close() }, "close"),
    ),
  );
  const el = h("section", { class: "bench-paste", "aria-label": "pasted table" }, line, box);
  return {
    el,
    focus: () => area.focus(),
    update(m) {
      box.hidden = !m.open;
      line.hidden = m.told === "";
      line.classList.toggle("fault", m.fault);
      see.hidden = m.open;
      setText(told, m.told);
      if (area.value !== m.text) area.value = m.text;
    },
  };
}
