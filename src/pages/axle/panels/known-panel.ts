import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createKnownHero } from "../../../ui/known-hero.ts";
import { createStopped, type StoppedModel } from "../../../ui/stopped.ts";
import { type GuessesTold, restsWords } from "../../../view/guess-words.ts";
import { MARK_SIGNS } from "../../../view/origin-words.ts";
import type { PartName } from "../../../view/pick.ts";
import { partOfPath } from "../state/known-edits.ts";

interface KnownModel {
  guesses: number;
  measured: number;
  /** null: they are being weighed */
  told: GuessesTold | null;
}

export interface KnownPanel {
  update(model: KnownModel): void;
  stopped(model: StoppedModel | null): void;
}

const sign = (how: "guess" | "measured"): HTMLElement => h("span", { class: "origin-sign", "data-how": how, "aria-hidden": "true" }, MARK_SIGNS[how]);

/** On how many guesses the answer rests: beside the headline in a few words, and below with those that matter most. Nothing where all is entered. */
export function createKnownPanel(reading: HTMLElement, open: (path: string, part: PartName) => void): KnownPanel {
  const hero = createKnownHero();
  reading.querySelector(".hero-list")?.append(hero.el);
  const count = h("span");
  const measured = h("span");
  const measuredTerm = h("span", {}, sign("measured"), term("measured", measured));
  const guessTerm = h("span", {}, sign("guess"), term("guess", count));
  const lead = h("p", { class: "known-lead" });
  const rows = h("ol", { class: "known-rows" });
  const rest = h("p", { class: "known-rest" });
  const stopped = createStopped();
  const el = h(
    "section",
    { class: "known", hidden: true },
    h("h2", {}, "How its values are known"),
    h("p", { class: "known-counts" }, guessTerm, measuredTerm),
    lead,
    rows,
    rest,
    stopped.el,
  );
  const before = reading.querySelector(".compare");
  reading.insertBefore(el, before);
  return {
    stopped: stopped.update,
    update({ guesses, measured: m, told }) {
      hero.show(guesses);
      el.hidden = guesses === 0 && m === 0;
      if (el.hidden) return;
      guessTerm.hidden = guesses === 0;
      setText(count, `the answer ${restsWords(guesses)}`);
      measuredTerm.hidden = m === 0;
      setText(measured, `${m} ${m === 1 ? "value is" : "values are"} measured`);
      const waits = guesses > 0 && !told;
      setAttr(el, "aria-busy", String(waits));
      setText(
        lead,
        waits ? "Weighing them: each is tried a plausible step higher and lower." : told?.now ? `What one plausible step of each makes of ${told.now}:` : "",
      );
      lead.hidden = lead.textContent === "" || guesses === 0;
      keyed(
        rows,
        guesses > 0 ? (told?.rows ?? []) : [],
        (r) => r.path,
        (r) => {
          const part = partOfPath(r.path);
          const name = part ? h("button", { type: "button", class: "link", onclick: () => open(r.path, part) }) : h("span");
          return h("li", {}, name, h("span", { class: "known-step" }), h("b", { class: "known-effect" }));
        },
        (li, r) => {
          const [name, step, effect] = li.children as unknown as [Element, Element, Element];
          setText(name, r.name);
          setText(step, r.step);
          setAttr(step, "title", r.why);
          setText(effect, r.effect);
        },
      );
      setText(rest, guesses > 0 ? (told?.rest ?? "") : "");
      rest.hidden = rest.textContent === "";
    },
  };
}
