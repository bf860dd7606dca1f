import { h, s, setAttr, setText } from "../../../ui/dom.ts";
import { LESSON_STEPS, type Lesson, type LessonStep } from "../state/lesson.ts";

export interface LessonModel {
  lesson: Lesson;
  /** what to do now, and what is to be read off, for the running step */
  todo: string;
  reading: string;
  rigid: { on: boolean; busy: boolean };
  /** what it comes to for this arm, once all is done */
  end: string;
  /** lean with and without the bend of the arm, degrees; null: not at hand */
  lean: { now: number; rigid: number | null } | null;
}

export interface LessonHooks {
  go(step: LessonStep | null): void;
  rigid(on: boolean): void;
  again(): void;
}

const WORDS: Record<LessonStep, string> = {
  push: "Push the arm along the road",
  press: "Press it up and down",
  load: "Let the spring do the pressing",
  lean: "See where the wheel goes",
  fork: "Move the fork point",
  change: "Make one change that helps",
};

const tick = (): SVGSVGElement =>
  s("svg", { class: "lesson-tick", viewBox: "0 0 18 16", width: 18, height: 16, "aria-hidden": "true" }, s("path", { d: "M2 8L7 14L16 1" }));

/** Six steps on the design at hand: pressed, pulled and changed on the drawing itself; nothing stands in its way. */
export function createLesson(hooks: LessonHooks): { el: HTMLElement; update(m: LessonModel): void } {
  const rows = LESSON_STEPS.map((step, i) => {
    const done = h("span", { class: "sr" });
    const button = h(
      "button",
      { type: "button", class: "lesson-step", "data-step": step, onclick: () => hooks.go(step) },
      h("span", { class: "lesson-no" }, String(i + 1)),
      h("span", { class: "lesson-words" }, WORDS[step]),
      done,
      tick(),
    );
    return { step, button, done, li: h("li", {}, button) };
  });
  const sub = h("p", { class: "aside-term" });
  const todo = h("p", { class: "lesson-todo" });
  const reading = h("p", { class: "lesson-reading" });
  const rigid = h(
    "button",
    { type: "button", class: "lesson-rigid", onclick: () => hooks.rigid(rigid.getAttribute("aria-pressed") !== "true") },
    "Hold the arm rigid",
  );
  const wheel = leanPicture();
  const next = h("button", { type: "button", class: "solid" });
  const stop = h("button", { type: "button", class: "link small", onclick: () => hooks.go(null) }, "close");
  const again = h("button", { type: "button", class: "link small", onclick: () => hooks.again() }, "start again");
  const box = h("div", { class: "lesson-now" }, wheel.svg, h("div", { class: "lesson-text" }, todo, rigid, reading));
  const list = h("ol", { class: "lesson-steps" }, ...rows.map((r) => r.li));
  const end = h("p", { class: "lesson-end", role: "status" });
  const el = h(
    "section",
    { class: "lesson", "aria-label": "why one weak direction matters, six steps" },
    h("h2", {}, "Why one weak direction matters"),
    sub,
    list,
    end,
    h("div", { class: "lesson-foot" }, next, again, stop),
  );
  let shownAt = "";
  let onNext: () => void = () => undefined;
  next.addEventListener("click", () => onNext());

  return {
    el,
    update(m) {
      const { step, done } = m.lesson;
      const at = step ? LESSON_STEPS.indexOf(step) : -1;
      const all = done.length === LESSON_STEPS.length;
      setText(
        sub,
        step ? `step ${at + 1} of ${LESSON_STEPS.length}, on your own arm` : all ? "all six done, on your own arm" : "six short steps, on your own arm",
      );
      el.classList.toggle("running", step !== null);
      for (const r of rows) {
        const ticked = done.includes(r.step);
        setAttr(r.button, "aria-current", r.step === step ? "step" : null);
        r.li.classList.toggle("done", ticked);
        setText(r.done, ticked ? ", done" : "");
        if (r.step === step && box.parentElement !== r.li) {
          r.li.append(box);
          shownAt = "";
        }
      }
      if (step === null) box.remove();
      const ended = step === null && all;
      list.hidden = ended;
      end.hidden = !ended;
      setText(end, ended ? m.end : "");
      setText(todo, m.todo);
      setText(reading, m.reading);
      // what is to be read stays in sight where the list has a scroll of its own
      const told = `${step} ${m.reading.length > 0}`;
      if (step !== null && told !== shownAt) list.scrollTop += box.getBoundingClientRect().bottom - list.getBoundingClientRect().bottom;
      shownAt = told;
      rigid.hidden = step !== "lean";
      setAttr(rigid, "aria-pressed", String(m.rigid.on));
      setText(rigid, m.rigid.on ? "Let it bend again" : "Hold the arm rigid");
      wheel.svg.style.display = step === "lean" && m.lean ? "" : "none";
      if (m.lean) wheel.update(m.lean.now, m.rigid.on ? m.lean.rigid : null);
      const open = LESSON_STEPS.find((x) => !done.includes(x)) ?? null;
      // a step that was passed over is gone back to, so that the lesson can end
      const passed = open === step ? null : open;
      const after = step ? (LESSON_STEPS[at + 1] ?? passed) : open;
      const back = after ? LESSON_STEPS.indexOf(after) : -1;
      next.hidden = step === null ? all : after === null && !all;
      setText(next, step === null ? (done.length ? "Go on" : "Start") : after === null ? "Done" : back < at ? `Back to step ${back + 1}` : "Next step");
      next.classList.toggle("quiet", step !== null && !done.includes(step));
      onNext = () => hooks.go(step === null ? open : after);
      again.hidden = done.length === 0;
      stop.hidden = step === null;
    },
  };
}

/** the difference could not be seen at its true size */
const LEAN_DRAWN = 3;

/** The wheel beside its plumb line: as it leans, and as it would if the arm did not bend. */
function leanPicture(): { svg: SVGSVGElement; update(now: number, rigid: number | null): void } {
  const wedge = s("path", { class: "lean-wedge" });
  const ghost = s("rect", { class: "lean-ghost", x: 24, y: 20, width: 18, height: 52 });
  const wheel = s("rect", { class: "lean-wheel", x: 24, y: 20, width: 18, height: 52 });
  const svg = s(
    "svg",
    { class: "lean-picture", viewBox: "0 0 66 92", width: 66, height: 92, "aria-hidden": "true" },
    wedge,
    ghost,
    wheel,
    s("path", { class: "lean-string", d: "M26 4H40M33 4V44" }),
    s("path", { class: "lean-bob", d: "M33 50L29.5 42L31 40H35L36.5 42Z" }),
    s("path", { class: "lean-road", d: "M4 76H62" }),
    s("text", { class: "lean-note", x: 33, y: 90, "text-anchor": "middle" }, `lean ×${LEAN_DRAWN}`),
  );
  const LONG = 40;
  return {
    svg,
    update(now, rigid) {
      const deg = (v: number): number => v * LEAN_DRAWN;
      const top = (v: number): string => {
        const a = (deg(v) * Math.PI) / 180;
        return `${(33 + LONG * Math.sin(a)).toFixed(1)} ${(46 - LONG * Math.cos(a)).toFixed(1)}`;
      };
      setAttr(wheel, "transform", `rotate(${deg(rigid ?? now).toFixed(1)} 33 46)`);
      ghost.style.display = rigid === null ? "none" : "";
      setAttr(ghost, "transform", `rotate(${deg(now).toFixed(1)} 33 46)`);
      setAttr(wedge, "d", `M33 46L${top(now)}L${rigid === null ? "33 6" : top(rigid)}Z`);
    },
  };
}
