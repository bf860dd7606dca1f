import { h, keyed, setText } from "../../../ui/dom.ts";
import { createStopped, type StoppedModel } from "../../../ui/stopped.ts";
import type { BetterLine } from "../../../view/better-words.ts";

export interface BetterModel {
  /** empty: not known yet */
  lines: readonly BetterLine[];
  /** it is at work or was stopped; null: neither */
  progress: { share: number; act: "stop" | "go on" } | null;
  /** A and B are the same car: nothing is to be said */
  alike: boolean;
}

/** Below the table of A against B: how likely B is the better one. */
export function createBetter(
  within: Element,
  hooks: { stop(): void; again(): void },
): { update(m: BetterModel): void; stopped(model: StoppedModel | null): void } {
  const list = h("ul", { class: "better-lines" });
  const words = h("span");
  let act: "stop" | "go on" = "stop";
  const button = h("button", { type: "button", class: "link", "data-act": "paired", onclick: () => (act === "stop" ? hooks.stop() : hooks.again()) });
  const line = h("span", { class: "sure-line" });
  const progress = h("p", { class: "sure-progress off" }, words, " ", button, line);
  const stopped = createStopped();
  const el = h("div", { class: "better" }, list, progress, stopped.el);
  within.querySelector("table")?.after(el);
  return {
    stopped: stopped.update,
    update(m) {
      el.hidden = m.alike;
      keyed(
        list,
        m.lines,
        (l) => l.key,
        () => h("li", {}, h("b"), " ", h("span")),
        (li, l) => {
          setText(li.firstElementChild!, l.verdict);
          setText(li.lastElementChild!, l.words);
        },
      );
      progress.classList.toggle("off", m.progress === null);
      button.disabled = m.progress === null;
      if (!m.progress) return;
      act = m.progress.act;
      setText(words, act === "stop" ? "setting both against each other" : "stopped");
      setText(button, act);
      line.style.width = `${(100 * m.progress.share).toFixed(1)}%`;
    },
  };
}
