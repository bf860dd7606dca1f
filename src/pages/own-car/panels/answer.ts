import { guesses } from "../../../core/design/origins.ts";
import type { Scenario } from "../../../core/design/types.ts";
import type { NumberKey } from "../../../scenario/own-car/answers.ts";
import type { Answer } from "../../../state/answers.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { fixed } from "../../../view/format.ts";
import { restsWords } from "../../../view/guess-words.ts";
import { headline, limitRows } from "../../../view/reading.ts";
import { STEPS } from "../state/questions.ts";

export interface AnswerModel {
  scenario: Scenario;
  missing: readonly NumberKey[];
  /** null: not yet asked for */
  answer: Answer | null;
}

const listed = (words: readonly string[]): string => (words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`);

/** What is still wanted, one place each: "the weight", "lower inner pin". */
function wantedWords(missing: readonly NumberKey[]): string {
  const all = STEPS.flatMap((s) => s.questions);
  const words = missing.map((key) => (key === "carMassKg" ? "the weight of the whole car" : (all.find((q) => q.key === key)?.words.split(",")[0] ?? key)));
  return listed([...new Set(words)].map((w) => w.charAt(0).toLowerCase() + w.slice(1)));
}

/** The first answer, or what it still waits for. */
export function createAnswer(hooks: { toAxle(): void }): { el: HTMLElement; badge: HTMLElement; update(m: AnswerModel): void } {
  const head = h("h2", { class: "own-answer-head" });
  const number = h("b", { class: "own-number" });
  const words = h("p", { class: "own-answer-words" });
  const rests = h("p", { class: "own-rests" });
  const go = h("button", { type: "button", class: "own-turn", "data-act": "own-to-axle", onclick: () => hooks.toAxle() }, "See it on the axle's sheet");
  // on the picture, where the answer itself lies below the fold
  const badgeNumber = h("span");
  const badgeWords = h("small");
  const badge = h("p", { class: "own-badge", "aria-hidden": "true" }, badgeNumber, badgeWords);
  const el = h("section", { class: "own-answer", "aria-label": "answer", "aria-live": "polite" }, head, number, words, rests, go);
  return {
    el,
    badge,
    update({ scenario, missing, answer }) {
      const waits = missing.length > 0;
      go.hidden = waits;
      badge.hidden = true;
      rests.hidden = waits;
      setAttr(el, "data-state", waits ? "waits" : answer?.analysis.ok ? "answer" : "none");
      setText(rests, `The answer ${restsWords(guesses(scenario).length)}; on the axle's sheet you see which matter most.`);
      if (waits) {
        setText(head, "Still wanted for an answer");
        setText(number, "");
        setText(words, `${wantedWords(missing)}. All else is guessed for the size of the car until you tell it.`);
        return;
      }
      if (!answer?.analysis.ok) {
        setText(head, "No answer yet");
        setText(number, "");
        setText(
          words,
          !answer || answer.analysis.ok || answer.analysis.reason.kind === "stopped"
            ? "Still searching for how this car stands."
            : answer.analysis.reason.message,
        );
        return;
      }
      const { report } = answer.analysis;
      const top = headline(report, scenario.limits.camberDeg);
      const first = limitRows(report, 1)[0];
      setText(head, `${top.title} at ${fixed(Math.abs(report.lateralG), 2)} g`);
      setText(number, top.number);
      badge.hidden = false;
      setText(badgeNumber, top.number);
      setText(badgeWords, `the outer wheel leans, ${fixed(Math.abs(report.lateralG), 2)} g`);
      setText(
        words,
        `${top.way}.${first ? ` Nearest to its end: ${first.words.charAt(0).toLowerCase()}${first.words.slice(1)}, ${first.where}: ${first.demand}.` : ""}`,
      );
    },
  };
}
