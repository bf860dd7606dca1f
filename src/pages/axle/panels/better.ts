import { h, keyed, setText } from "../../../ui/dom.ts";
import { createSamplingProgress } from "../../../ui/sampling-progress.ts";
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
  const progress = createSamplingProgress("paired", hooks);
  const stopped = createStopped();
  const el = h("div", { class: "better" }, list, progress.el, stopped.el);
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
      progress.update(m.progress && { ...m.progress, words: m.progress.act === "stop" ? "setting both against each other" : "stopped" });
    },
  };
}
