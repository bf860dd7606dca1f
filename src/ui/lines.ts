import { h, keyed, setText } from "./dom.ts";

/** The points of a list, each a line of text. */
export const setLines = (list: Element, texts: readonly string[]): void =>
  keyed(
    list,
    texts.map((text, i) => ({ text, key: String(i) })),
    (t) => t.key,
    () => h("li"),
    (li, t) => setText(li, t.text),
  );
