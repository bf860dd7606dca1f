import "./css/stopped.css";
import { h, setText } from "./dom.ts";

/** What stopped, in a sentence, and the way to try again. */
export interface StoppedModel {
  words: string;
  again(): void;
}

export interface Stopped {
  el: HTMLElement;
  /** null: all is well, nothing is said */
  update(model: StoppedModel | null): void;
}

/** Stands where an answer should be and says why there is none. */
export function createStopped(): Stopped {
  const words = h("span");
  let model: StoppedModel | null = null;
  const again = h("button", { type: "button", class: "link", "data-act": "try-again", onclick: () => model?.again() }, "try again");
  const el = h("p", { class: "stopped", role: "status", hidden: true }, words, " ", again);
  return {
    el,
    update(next) {
      model = next;
      el.hidden = !next;
      setText(words, next?.words ?? "");
    },
  };
}
