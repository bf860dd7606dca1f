import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { createDriveAtMost } from "../../../ui/drive-at-most.ts";
import { term } from "../../../ui/help.ts";
import { createKnownHero } from "../../../ui/known-hero.ts";
import { setLines } from "../../../ui/lines.ts";
import { createSamplingProgress } from "../../../ui/sampling-progress.ts";
import { createStopped, type StoppedModel } from "../../../ui/stopped.ts";
import { restsWords } from "../../../view/guess-words.ts";
import { type How, MARK_SIGNS } from "../../../view/origin-words.ts";
import type { PartName } from "../../../view/pick.ts";
import type { SureModel } from "../picture/sure-model.ts";
import { partOfPath } from "../state/known-edits.ts";

export interface SurePanelHooks {
  /** shows where it is told how a value is known */
  open(path: string, part: PartName): void;
  turnTo(of: "lean" | "safe"): void;
  chance(percent: number): void;
  stopSampling(): void;
  sampleAgain(): void;
}

export interface SurePanel {
  update(model: SureModel): void;
  stopped(model: StoppedModel | null): void;
  samplingStopped(model: StoppedModel | null): void;
  /** it is within the window */
  inSight(): boolean;
}

const sign = (how: How): HTMLElement => h("span", { class: "origin-sign", "data-how": how, "aria-hidden": "true" }, MARK_SIGNS[how]);
const OF_WORDS = { lean: "for the lean", safe: "for the safe speed" } as const;

/** How sure the answer is: its numbers with their bands, and the inputs that those are made of. */
export function createSurePanel(reading: HTMLElement, hooks: SurePanelHooks): SurePanel {
  const hero = createKnownHero();
  reading.querySelector(".hero-list")?.append(hero.el);
  const count = h("span");
  const measured = h("span");
  const measuredTerm = h("span", {}, sign("measured"), term("measured", measured));
  const guessTerm = h("span", {}, sign("guess"), term("guess", count));
  const counts = h("p", { class: "known-counts" }, guessTerm, measuredTerm);
  const numbers = h("tbody");
  const way = h("p", { class: "sure-way" });
  const kinds = (["lean", "safe"] as const).map((of) =>
    h("button", { type: "button", class: "word-switch", "data-sure-of": of, onclick: () => hooks.turnTo(of) }, OF_WORDS[of]),
  );
  const differs = h("ul", { class: "sure-differs" });
  const progress = createSamplingProgress("sampling", { stop: () => hooks.stopSampling(), again: () => hooks.sampleAgain() });
  const most = createDriveAtMost((percent) => hooks.chance(percent));
  const rows = h("ol", { class: "known-rows" });
  const rest = h("p", { class: "known-rest" });
  const stopped = createStopped();
  const samplingStopped = createStopped();
  const el = h(
    "section",
    { class: "known sure" },
    h("div", { class: "head-row" }, h("h2", {}, term("plusMinus", "How sure")), h("span", { class: "aside-term" }, "how far it may be off")),
    counts,
    h(
      "table",
      { class: "sure-numbers" },
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col" }, h("span", { class: "sr" }, "number")),
          h("th", { scope: "col" }, h("span", { class: "sr" }, "value")),
          h("th", { scope: "col" }, term("plusMinus", "±")),
          h("th", { scope: "col" }, term("band", "90 % range")),
        ),
      ),
      numbers,
    ),
    way,
    progress.el,
    differs,
    most.el,
    stopped.el,
    samplingStopped.el,
    h("div", { class: "head-row sure-head" }, h("h3", {}, term("share", "What it hangs on")), h("span", { class: "aside-term" }, ...kinds)),
    rows,
    rest,
  );
  reading.insertBefore(el, reading.querySelector(".compare"));
  let inSight = false;
  new IntersectionObserver((entries) => {
    inSight = entries.at(-1)?.isIntersecting ?? false;
  }).observe(el);
  return {
    inSight: () => inSight,
    stopped: stopped.update,
    samplingStopped: samplingStopped.update,
    update(m) {
      hero.show(m.guesses);
      counts.hidden = m.guesses === 0 && m.measured === 0;
      guessTerm.hidden = m.guesses === 0;
      setText(count, `the answer ${restsWords(m.guesses)}`);
      measuredTerm.hidden = m.measured === 0;
      setText(measured, `${m.measured} ${m.measured === 1 ? "value is" : "values are"} measured`);
      keyed(
        numbers,
        m.numbers,
        (n) => n.key,
        () => h("tr", {}, h("th", { scope: "row" }), h("td"), h("td"), h("td")),
        (tr, n) => {
          const [name, value, sure, range] = tr.children as unknown as [Element, Element, Element, Element];
          setText(name, n.name);
          setText(value, n.value);
          setText(sure, n.sure);
          setText(range, n.range);
        },
      );
      setText(way, m.way);
      progress.update(m.progress);
      setLines(differs, m.differs);
      most.update(m);
      for (const k of kinds) setAttr(k, "aria-pressed", String(k.getAttribute("data-sure-of") === m.of));
      setAttr(el, "aria-busy", String(m.inputs === null));
      keyed(
        rows,
        m.inputs ?? [],
        (r) => r.key,
        (r) => {
          const part = partOfPath(r.path);
          const name = part ? h("button", { type: "button", class: "link", onclick: () => hooks.open(r.path, part) }) : h("span");
          return h(
            "li",
            {},
            name,
            h("b", { class: "known-share" }),
            h("span", { class: "known-sure" }, h("span", { class: "origin-sign", "aria-hidden": "true" }), h("span")),
          );
        },
        (li, r) => {
          const [name, share, sure] = li.children as unknown as [Element, Element, Element];
          setText(name, r.name);
          setText(share, r.share);
          const [mark, words] = sure.children as unknown as [Element, Element];
          setAttr(mark, "data-how", r.how);
          setText(mark, MARK_SIGNS[r.how]);
          setText(words, `${r.sure}${r.why ? `: ${r.why}` : ""}`);
        },
      );
      setText(rest, m.rest);
      rest.hidden = m.rest === "";
    },
  };
}
