import "./css/origin.css";
import type { Origin } from "../core/design/types.ts";
import { MARK_SIGNS, originWords } from "../view/origin-words.ts";
import { h, setAttr, setText } from "./dom.ts";

/** Beside a value: that it is a guess, or measured, by shape and in words; nothing beside what is entered. */
export interface KnownSign {
  el: HTMLElement;
  show(path: string, origin: Origin | undefined): void;
}

export function createKnownSign(): KnownSign {
  const el = h("span", { class: "origin-sign", role: "img", hidden: true });
  return {
    el,
    show(path, origin) {
      el.hidden = origin === undefined;
      if (!origin) return;
      const words = originWords(path, origin);
      setAttr(el, "data-how", origin.how);
      setAttr(el, "title", words);
      setAttr(el, "aria-label", words);
      setText(el, MARK_SIGNS[origin.how]);
    },
  };
}
