import "./css/sure.css";
import type { SamplingProgress } from "../view/sampling-words.ts";
import { h, setText } from "./dom.ts";

/** How far a sample is, with the press that stops it or lets it go on; its place stays while there is none (null). */
export function createSamplingProgress(act: string, hooks: { stop(): void; again(): void }): { el: HTMLElement; update(m: SamplingProgress | null): void } {
  const words = h("span");
  let next: SamplingProgress["act"] = "stop";
  const button = h("button", { type: "button", class: "link", "data-act": act, onclick: () => (next === "stop" ? hooks.stop() : hooks.again()) });
  const line = h("span", { class: "sure-line", "aria-hidden": "true" });
  const el = h("p", { class: "sure-progress off" }, words, " ", button, line);
  return {
    el,
    update(m) {
      el.classList.toggle("off", m === null);
      button.disabled = m === null;
      if (m) {
        next = m.act;
        setText(words, m.words);
        setText(button, next);
      }
      line.style.width = `${(100 * (m?.share ?? 0)).toFixed(1)}%`;
    },
  };
}
