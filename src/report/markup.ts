/** Text as markup: strings only, so that the same report is made in a page, in a worker and on the command line. */
const ESCAPES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

export const esc = (text: string): string => text.replace(/[&<>"']/g, (c) => ESCAPES[c] as string);

export type Attrs = Readonly<Record<string, string | number | null | undefined>>;

/** An element; `inside` is markup already. Attributes that are null are left out. */
export function el(name: string, attrs: Attrs = {}, ...inside: readonly string[]): string {
  let head = name;
  for (const [key, value] of Object.entries(attrs)) if (value !== null && value !== undefined) head += ` ${key}="${esc(String(value))}"`;
  return `<${head}>${inside.join("")}</${name}>`;
}

/** The same with plain text inside. */
export const say = (name: string, attrs: Attrs, text: string): string => el(name, attrs, esc(text));

export const paragraph = (text: string, className?: string): string => say("p", { class: className }, text);
export const list = (items: readonly string[]): string => el("ul", {}, ...items.map((i) => say("li", {}, i)));

/** A cell: plain text, or markup. */
export type Cell = string | { markup: string };
const inner = (c: Cell): string => (typeof c === "string" ? esc(c) : c.markup);

export interface TableSpec {
  caption?: string;
  head: readonly string[];
  rows: readonly (readonly Cell[])[];
  /** columns of words, at the left; the first cell of a row is its head */
  words: readonly number[];
  className?: string;
}

/** A table with no more rows than these is kept on one page. */
const SHORT_ROWS = 14;

/** A table; columns that hold numbers stand to the right. */
export function table(t: TableSpec): string {
  const isWords = (i: number): boolean => t.words.includes(i);
  // a head without words is no head to a screen reader
  const head = t.head.map((h, i) => (h === "" ? el("td") : say("th", { scope: "col", class: isWords(i) ? null : "n" }, h)));
  const rows = t.rows.map((row) =>
    el("tr", {}, ...row.map((c, i) => el(i === 0 ? "th" : "td", { scope: i === 0 ? "row" : null, class: isWords(i) ? null : "n" }, inner(c)))),
  );
  const caption = t.caption ? say("caption", {}, t.caption) : "";
  return el(
    "div",
    { class: t.rows.length <= SHORT_ROWS ? "wide short" : "wide" },
    el("table", { class: t.className }, caption, el("thead", {}, el("tr", {}, ...head)), el("tbody", {}, ...rows)),
  );
}

/** Coordinates in CSS px: a tenth is finer than any printer shows. */
export const at = (v: number): string => {
  const text = v.toFixed(1);
  return text.endsWith(".0") ? text.slice(0, -2) : text;
};
