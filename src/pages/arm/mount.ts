import { speedInCurve } from "../../core/cornering.ts";
import { alike } from "../../core/design/alike.ts";
import { materialWords } from "../../core/design/field-names.ts";
import { reshaped, SHAPE_WORDS } from "../../core/design/section-shapes.ts";
import type { Scenario, Side } from "../../core/design/types.ts";
import type { NoEquilibrium } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { goTo, lastThatHolds } from "../../state/answers.ts";
import { cannotBuild } from "../../state/cannot-build.ts";
import type { Doc } from "../../state/document.ts";
import { createWithinHold, type LoadEnd, pullLoad } from "../../state/load-end.ts";
import { chosenTrack } from "../../state/road.ts";
import type { Store } from "../../state/store.ts";
import type { NoticeModel } from "../../ui/notice.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createStopped } from "../../ui/stopped.ts";
import { isNarrow } from "../../ui/widths.ts";
import { degrees, fixed } from "../../view/format.ts";
import { createMemo } from "../../view/marks.ts";
import { outerSide } from "../../view/poses.ts";
import { createArmModel, HAND_MOST_N, PX_PER_N } from "./model.ts";
import { type GripHooks, keyOf, type Mods } from "./panels/grip.ts";
import { type ArmSheetModel, createArmSheet, type GripId } from "./panels/sheet.ts";
import { type ArmFacts, armFacts } from "./picture/facts.ts";
import { type ArmHandleId, boundsOf, measureOf, measureWords } from "./picture/handles.ts";
import { lessonWords } from "./picture/lesson-words.ts";
import type { PlanView } from "./picture/plan.ts";
import { bendAndShift, lessonEnd, way } from "./picture/words.ts";
import { type ArmChoice, armOn, armWords, changeName, type Grid, madeAlike, relaid, stepOf, withArm, withMeasure } from "./state/edits.ts";
import { begun, type LessonFacts, type LessonStep, NEW_LESSON, watched } from "./state/lesson.ts";
import type { ArmView } from "./state/slice.ts";
import { armSlice } from "./state/slice.ts";
import { createTrials } from "./trials.ts";

interface Held {
  id: GripId;
  start: Doc;
  last: Doc;
  startMm: number;
  mmPerPx: number;
  view: PlanView;
  touch: boolean;
  startN: number;
}

/** The two numbers that a change of the arm trades. */
function tradeWords(f: ArmFacts): string[] {
  const both = bendAndShift(f);
  return [...(both ? [`spring bends it ${way(both.bendMm)}`] : []), `${f.drive.own ? "push" : "drive"} shifts it ${way(f.drive.shiftMm)}`];
}

export function mountArmSheet(region: HTMLElement, store: Store, help: PageHelp): { update(): void } {
  const memo = createMemo();
  const build = createArmModel();
  let held: Held | null = null;
  let refused: string | null = null;
  let waiting: { way: V2; mods: Mods } | null = null;
  let rigid = false;
  let notice: string | null = null;
  let ended: LoadEnd | null = null;
  let noticeDoc: Doc | null = null;
  /** what the layout that was chosen last was compared by, for as long as its design stands */
  let compared: { doc: Doc; text: string } | null = null;
  let size: { plan: V2; behind: V2; narrow: boolean } | null = null;
  let shown: ArmSheetModel | null = null;
  let lastFacts: LessonFacts | null = null;

  const look = (): ArmView => armSlice.of(store.get().view);
  const setLook = (patch: Partial<ArmView>): void => store.setView(armSlice.patched(store.get().view, patch));
  const choice = (): ArmChoice => ({ name: look().name, side: look().side });
  const shownSide = (doc: Doc): Side => look().side ?? outerSide(doc.load.lateralG);
  const again = (): void => store.setView({});
  const within = createWithinHold(help.answers.a, () => chosenTrack(store.get().doc.a, store.get().view.road).radiusM);
  const stopped = createStopped();
  const trials = createTrials(again, stopped.update);

  /** why a changed design cannot stand, in one sentence */
  const fault = (next: Doc): string | null => {
    const cannot = cannotBuild(next.a);
    if (cannot) return cannot;
    const { analysis } = help.answers.a.at(next.a, next.load, "live");
    // what is still searched for may stand
    return analysis.ok || analysis.reason.kind === "stopped" ? null : analysis.reason.message;
  };
  const tell = (text: string | null): void => {
    notice = text;
    noticeDoc = store.settled();
    if (text) help.say(text);
    again();
  };
  const change = (name: string, next: (a: Scenario) => Scenario, compare?: string): void => {
    const doc = store.settled();
    const a = next(doc.a);
    if (a === doc.a) return;
    const why = fault({ ...doc, a });
    if (why) {
      tell(why);
      return;
    }
    notice = null;
    const refusal = store.act(name, (d) => ({ ...d, a }));
    if (compare && refusal === null) {
      compared = { doc: store.settled(), text: compare };
      again();
    }
    help.say(name);
  };

  const gridOf = (mods: Mods): Grid => (mods.alt ? "fine" : mods.shift ? "half" : "coarse");
  const lengthOf = (): number => shown?.plan.a.lengthMm ?? 1;
  const moved = (start: Doc, id: ArmHandleId, mm: number, grid: Grid): Doc => {
    const a = withMeasure(start.a, choice(), armOn(start.a, shownSide(start), choice().name), lengthOf(), id, mm, stepOf(id, grid, start.a.holePitchMm));
    return a === start.a ? start : { ...start, a };
  };
  const nameOf = (doc: Doc, id: ArmHandleId): string => changeName(choice(), armOn(doc.a, shownSide(doc), choice().name), lengthOf(), id, doc.a.holePitchMm);
  const setHand = (id: "push" | "press", newton: number): void => {
    const n = Math.max(-HAND_MOST_N, Math.min(HAND_MOST_N, Math.round(newton)));
    setLook(id === "push" ? { pushN: n } : { pressN: n });
  };
  const handN = (id: "push" | "press"): number => (id === "push" ? look().pushN : look().pressN);

  /** one move of the hand per frame */
  const flush = (): void => {
    if (!held || !waiting) return;
    const { way, mods } = waiting;
    waiting = null;
    const h = held;
    if (h.id === "push" || h.id === "press") {
      setHand(h.id, h.startN - way[1] / PX_PER_N);
      return;
    }
    const across = h.id === "fork" || h.id === "width";
    const next = moved(h.start, h.id, h.startMm + (across ? way[0] : -way[1]) * h.mmPerPx, gridOf(mods));
    if (next === h.last) return;
    const why = next === h.start ? null : fault(next);
    refused = why;
    if (!why) h.last = next;
    store.preview(h.last);
  };

  const grip = (id: GripId): GripHooks => ({
    start(touch) {
      const doc = store.settled();
      const view = shown?.plan.view;
      if (!view) return;
      const hand = id === "push" || id === "press";
      const arm = armOn(doc.a, shownSide(doc), choice().name);
      held = {
        id,
        start: doc,
        last: doc,
        startMm: hand ? 0 : measureOf(id, arm, lengthOf()),
        mmPerPx: hand ? 0 : (sheet.mmPerPx(id) ?? 0),
        view,
        touch,
        startN: hand ? handN(id) : 0,
      };
      refused = null;
    },
    move(way, mods) {
      if (!waiting) requestAnimationFrame(flush);
      waiting = { way, mods };
    },
    end() {
      flush();
      const h = held;
      held = null;
      refused = null;
      if (!h) return;
      if (h.id === "push" || h.id === "press") again();
      else if (h.last === h.start) store.cancel();
      else {
        const name = nameOf(h.last, h.id);
        store.preview(h.last);
        store.commit(name);
        help.say(name);
      }
    },
    cancel() {
      const h = held;
      waiting = null;
      held = null;
      refused = null;
      if (h && (h.id === "push" || h.id === "press")) setHand(h.id, h.startN);
      else store.cancel();
      help.say("put back");
    },
    key(e) {
      const asked = keyOf(e);
      if (asked === null || held) return;
      e.preventDefault();
      if (id === "push" || id === "press") {
        setHand(id, typeof asked === "string" ? 0 : handN(id) + asked.way * (asked.far ? 5 : 1));
        return;
      }
      const doc = store.settled();
      const arm = armOn(doc.a, shownSide(doc), choice().name);
      const grid = gridOf({ shift: e.shiftKey, alt: e.altKey || e.ctrlKey || e.metaKey });
      const step = stepOf(id, grid, doc.a.holePitchMm);
      const now = measureOf(id, arm, lengthOf());
      const next = moved(
        doc,
        id,
        typeof asked === "string" ? boundsOf(id, arm, lengthOf()).min : now + asked.way * step * (asked.far ? 5 : 1),
        grid === "coarse" ? grid : "fine",
      );
      if (next === doc) return;
      const why = fault(next);
      if (why) tell(why);
      else {
        notice = null;
        store.actMerged(`arm.${id}`, nameOf(next, id), () => next);
      }
    },
  });

  const go = (step: LessonStep | null): void => {
    rigid = false;
    const facts = lastFacts;
    const { lesson } = look();
    setLook({ pushN: 0, pressN: 0, lesson: step === null || !facts ? { ...lesson, step, base: null } : begun(lesson, step, facts) });
  };

  const sheet = createArmSheet(region, stopped.el, {
    grip,
    arm: (name) => setLook({ name }),
    side: (side) => setLook({ side }),
    alike: () => change(`${choice().name} arm alike on both sides`, (a) => madeAlike(a, choice().name, armOn(a, shownSide(store.settled()), choice().name))),
    layout: (l, keep) => {
      const doc = store.settled();
      const made = relaid(doc.a, choice(), armOn(doc.a, shownSide(doc), choice().name), lengthOf(), l, keep);
      change(made.name, () => made.scenario, made.compared);
    },
    shape: (s) =>
      change(`${armWords(choice())}, ${SHAPE_WORDS[s]}`, (a) =>
        withArm(a, choice(), "section", reshaped(armOn(a, shownSide(store.settled()), choice().name).section, s, a.holePitchMm)),
      ),
    fork: (mm) => {
      const doc = store.settled();
      const next = moved(doc, "fork", mm, "fine");
      if (next !== doc) change(nameOf(next, "fork"), () => next.a);
    },
    material: (m) => m && change(`${armWords(choice())}, ${materialWords(m)}`, (a) => withArm(a, choice(), "material", m)),
    bend: (n) => store.setView({ show: { ...store.get().view.show, bend: n } }),
    cornering: (g, phase) => {
      ended = pullLoad(store, within, {
        kind: "cornering",
        name: (d) => `cornering to ${fixed(d.load.lateralG, 2)} g`,
        change: (d) => ({ ...d, load: { ...d.load, lateralG: g } }),
        phase,
      });
      if (ended && phase !== "move") help.say(ended.text);
      again();
    },
    take: (t) => {
      const { doc } = store.get();
      const row = trials.at(doc, choice(), shownSide(doc), null, false).rows.find((r) => r.take === t);
      const next = row?.scenario;
      if (row && next) change(row.name, () => next, row.compared);
    },
    go,
    rigid: (on) => {
      rigid = on;
      again();
    },
    again: () => setLook({ pushN: 0, pressN: 0, lesson: NEW_LESSON }),
    resized: () => {
      const box = (el: HTMLElement): V2 => [el.clientWidth, el.clientHeight];
      if (sheet.plan.clientWidth < 2 || sheet.behind.clientHeight < 2) return;
      size = { plan: box(sheet.plan), behind: box(sheet.behind), narrow: isNarrow() };
      again();
    },
  });

  /** what ended the load, for as long as it stands there */
  const endHere = (doc: Doc): LoadEnd | null => (ended && ended.scenario === doc.a && alike(ended.load, doc.load) ? ended : null);
  const noticeOf = (doc: Doc, reason: NoEquilibrium | null): NoticeModel | null => {
    const text = notice ?? endHere(doc)?.text;
    if (!reason) return !text ? null : { kind: "refused", lines: [text] };
    if (reason.kind === "stopped") return { kind: "noAnswer", lines: ["Still searching for how this car stands; the axle's page can stop that."] };
    const { radiusM } = chosenTrack(doc.a, store.get().view.road);
    const holds = memo("holds", [doc.a, reason], () => lastThatHolds(help.answers.a, radiusM, doc.a, reason));
    return { kind: "noAnswer", lines: [reason.message], ...(holds ? { action: goTo(store, holds.state.load) } : {}) };
  };

  const update = (): void => {
    if (!size) return;
    const state = store.get();
    const { doc } = state;
    const side = shownSide(doc);
    const { name } = look();
    const a = help.answers.a.at(doc.a, doc.load, "live");
    const b = help.answers.b.at(doc.b, doc.load, "live");
    const factsA = memo("a", [a, side, name], () =>
      armFacts(a.bench, a.analysis.ok ? a.analysis.state : null, speedInCurve(doc.load.lateralG, a.radiusM), side, name),
    );
    const factsB = memo("b", [b, side, name], () =>
      armFacts(b.bench, b.analysis.ok ? b.analysis.state : null, speedInCurve(doc.load.lateralG, b.radiusM), side, name),
    );
    const lean = a.analysis.ok ? a.analysis.report[side].camberDeg : null;
    const tried = trials.at(doc, choice(), side, lean, state.dragging);
    const model = build({ state, a, b, factsA, factsB, side, size, heldView: held?.view ?? null });

    const arms = memo("arms", [doc.a], () => JSON.stringify((["left", "right"] as const).flatMap((s) => [armOn(doc.a, s, "lower"), armOn(doc.a, s, "upper")])));
    lastFacts = {
      pushN: look().pushN,
      pressN: look().pressN,
      lateralG: doc.load.lateralG,
      leanDeg: lean ?? 0,
      forkMm: factsA.arm.layout === "split" ? measureOf("fork", factsA.arm, factsA.lengthMm) : null,
      bendMm: bendAndShift(factsA)?.bendMm ?? null,
      shiftMm: factsA.drive.shiftMm,
      arms,
      rigidSeen: rigid && tried.rigidDeg !== null,
    };
    const { lesson } = look();
    const settledLesson = state.dragging || lean === null ? lesson : watched(lesson, lastFacts);
    if (noticeDoc !== store.settled()) notice = null;

    shown = {
      ...model,
      column: { ...model.column, takes: tried.models, compared: compared && compared.doc.a === doc.a ? compared.text : "" },
      lesson: {
        lesson: settledLesson,
        end: lessonEnd(factsA, factsB, lean),
        ...lessonWords({ lesson: settledLesson, look: look(), a: factsA, b: factsB, leanDeg: lean, rigidDeg: rigid ? tried.rigidDeg : null, rigidOn: rigid }),
        rigid: { on: rigid, busy: tried.rigidDeg === null },
        lean: lean === null ? null : { now: lean, rigid: tried.rigidDeg },
      },
      tag:
        held && held.id !== "push" && held.id !== "press"
          ? {
              id: held.id,
              lines: refused
                ? [refused]
                : [
                    ...measureWords(held.id, factsA.arm, factsA.lengthMm, doc.a.holePitchMm)
                      .split(/, (.*)/s)
                      .filter(Boolean),
                    ...tradeWords(factsA),
                  ],
              refused: refused !== null,
              touch: held.touch,
            }
          : null,
      notice: noticeOf(doc, a.analysis.ok ? null : a.analysis.reason),
    };
    sheet.update(shown);
    if (settledLesson !== lesson) {
      if (settledLesson.done.length > lesson.done.length) help.say(`step ${settledLesson.done.length} done${lean === null ? "" : `, lean ${degrees(lean)}`}`);
      // not while the page is being put together from this very state
      queueMicrotask(() => look().lesson === lesson && setLook({ lesson: settledLesson }));
    }
  };
  return { update };
}
