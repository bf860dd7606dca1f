import "../styles/motion.css";
import "../styles/column.css";
import "../styles/narrow.css";
import type { Side } from "../../../core/design/types.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { createKnownHero } from "../../../ui/known-hero.ts";
import { createRuns, type RunsHooks, type RunsModel } from "./runs.ts";
import { createScrubber, type Scrubber, type ScrubberHooks } from "./scrubber.ts";
import { createTracks, type Tracks, type TracksHooks } from "./tracks.ts";

export interface HeroModel {
  title: string;
  aside: string;
  number: string;
  list: readonly string[];
  words: string;
  /** null: nothing to hand over */
  use: { words: string; done: boolean } | null;
}

export interface StoryRow {
  key: string;
  timeS: number;
  words: string;
  loud: boolean;
}

export interface MotionSheetModel {
  /** on which the run rests */
  guesses: number;
  title: string;
  lines: readonly string[];
  hero: HeroModel;
  story: readonly StoryRow[];
  storyTitle: string;
  runs: RunsModel;
  /** whose curves are drawn; null: the worst wheel's */
  wheel: Side | null;
  /** share of the run that is worked out; null: done */
  work: number | null;
  /** a sentence in place of the run */
  fault: string | null;
  note: string;
}

export interface MotionHooks extends RunsHooks, ScrubberHooks, Omit<TracksHooks, "seek"> {
  use(): void;
  wheel(side: Side | null): void;
}

export interface MotionSheet {
  root: HTMLElement;
  stage: HTMLElement;
  titleBox: HTMLElement;
  scrubber: Scrubber;
  tracks: Tracks;
  update(model: MotionSheetModel): void;
  /** which of the story's rows lie behind the playhead */
  at(timeS: number): void;
}

const WHEELS: { side: Side | null; words: string }[] = [
  { side: null, words: "worst wheel" },
  { side: "left", words: "left" },
  { side: "right", words: "right" },
];

/** The motion page's regions: drawing, rows of the trace, time axis, and the reading column; `stopped` says why a run stays away. */
export function createMotionSheet(stopped: HTMLElement, hooks: MotionHooks): MotionSheet {
  const stage = h("div", { class: "stage", "data-pan": true });
  const title = h("h1", { class: "motion-title" });
  const lines = h("p", { class: "motion-lines" });
  const titleBox = h("div", { class: "motion-head" }, title, lines);
  const work = h("div", { class: "motion-work", "aria-hidden": "true" });
  const fault = h("p", { class: "motion-fault" });
  const drawing = h(
    "section",
    { class: "motion-drawing", "aria-label": "drawing of the moving axle, seen from behind" },
    stage,
    titleBox,
    work,
    fault,
    stopped,
  );
  const scrubber = createScrubber(hooks);
  const tracks = createTracks({ ...hooks, seek: (clientX) => hooks.seek(scrubber.timeAt(clientX)) });
  const wheels = h(
    "div",
    { class: "wheel-choice", role: "group", "aria-label": "curves of which wheel" },
    ...WHEELS.map((w) => h("button", { type: "button", class: "word-switch", onclick: () => hooks.wheel(w.side) }, w.words)),
  );
  const curves = h("section", { class: "motion-curves", "aria-label": "curves over time" }, tracks.el, tracks.tools, wheels);

  const heroTitle = h("h2", { class: "hero-title" });
  const heroAside = h("span", { class: "aside-term" });
  const heroNumber = h("b", { class: "hero-number" });
  const heroList = h("div", { class: "hero-list" });
  const heroWords = h("p", { class: "hero-words" });
  const known = createKnownHero("p");
  const use = h("button", { type: "button", class: "use-shock", onclick: () => hooks.use() });
  const hero = h(
    "section",
    { class: "motion-hero" },
    h("div", { class: "head-row" }, heroTitle, heroAside),
    h("div", { class: "hero-row" }, heroNumber, heroList),
    heroWords,
    known.el,
    use,
  );
  const storyTitle = h("h2");
  const storyList = h("ol", { class: "story" });
  const story = h("section", { class: "motion-story" }, storyTitle, storyList);
  const runs = createRuns(hooks);
  const note = h("p", { class: "caution" });
  const column = h("aside", { class: "motion-column", "aria-label": "reading" }, hero, story, runs.el, note);
  let rows: readonly StoryRow[] = [];
  const root = h("div", { class: "motion-sheet" }, drawing, curves, scrubber.el, column);

  return {
    root,
    stage,
    titleBox,
    scrubber,
    tracks,
    update(m) {
      setText(title, m.title);
      keyed(
        lines,
        m.lines.map((text, i) => ({ text, key: String(i) })),
        (l) => l.key,
        () => h("span"),
        (el, l) => setText(el, l.text),
      );
      setText(heroTitle, m.hero.title);
      setText(heroAside, m.hero.aside);
      setText(heroNumber, m.hero.number);
      keyed(
        heroList,
        m.hero.list.map((text, i) => ({ text, key: String(i) })),
        (l) => l.key,
        () => h("p"),
        (el, l) => setText(el, l.text),
      );
      setText(heroWords, m.hero.words);
      use.hidden = m.hero.use === null;
      setText(use, m.hero.use?.words ?? "");
      use.classList.toggle("done", m.hero.use?.done ?? false);
      setText(storyTitle, m.storyTitle);
      story.hidden = m.story.length === 0;
      keyed(
        storyList,
        m.story,
        (r) => r.key,
        (r) =>
          h(
            "li",
            {},
            h("button", { type: "button", class: "story-row", onclick: () => hooks.seek(r.timeS) }, h("b"), h("span", { class: "story-unit" }, "s"), h("span")),
          ),
        (li, r) => {
          const b = li.firstElementChild as Element;
          setText(b.children[0] as Element, r.timeS.toFixed(2));
          setText(b.children[2] as Element, r.words);
        },
      );
      rows = m.story;
      known.show(m.guesses);
      runs.update(m.runs);
      [...wheels.children].forEach((b, i) => {
        setAttr(b, "aria-pressed", String(WHEELS[i]?.side === m.wheel));
      });
      work.style.width = m.work === null ? "0" : `${(100 * m.work).toFixed(0)}%`;
      root.setAttribute("aria-busy", String(m.work !== null));
      fault.hidden = m.fault === null;
      setText(fault, m.fault ?? "");
      setText(note, m.note);
    },
    at(timeS) {
      rows.forEach((r, i) => {
        const button = storyList.children[i]?.firstElementChild;
        if (button) setAttr(button, "class", `story-row${r.loud ? " loud" : ""}${r.timeS > timeS + 1e-6 ? " ahead" : ""}`);
      });
    },
  };
}
