import "./css/origin.css";
import { restsWords } from "../view/guess-words.ts";
import { MARK_SIGNS } from "../view/origin-words.ts";
import { h, setText } from "./dom.ts";
import { term } from "./help.ts";

/** Beside a big number: on how many guesses it rests; nothing where it rests on none. */
export function createKnownHero(tag: "li" | "p" = "li"): { el: HTMLElement; show(guesses: number): void } {
  const words = h("span");
  const sign = h("span", { class: "origin-sign", "data-how": "guess", "aria-hidden": "true" }, MARK_SIGNS.guess);
  const el = h(tag, { class: "hero-known", hidden: true }, sign, term("guess", words));
  return {
    el,
    show(guesses) {
      el.hidden = guesses === 0;
      setText(words, restsWords(guesses));
    },
  };
}
