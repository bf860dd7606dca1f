import "../../ui/css/help.css";
import "./styles/own-car.css";
import "./styles/picture.css";
import type { PointSZ, Scenario } from "../../core/design/types.ts";
import { G } from "../../core/units.ts";
import type { V2 } from "../../core/vec.ts";
import type { Answers } from "../../scenario/own-car/answers.ts";
import { answered, isTold, leftOut, missing, startedCar } from "../../scenario/own-car/own-car.ts";
import type { Doc } from "../../state/document.ts";
import type { Store } from "../../state/store.ts";
import { h } from "../../ui/dom.ts";
import type { PageHelp } from "../../ui/page.ts";
import { projector } from "../../view/camera.ts";
import { fixed } from "../../view/format.ts";
import { createMemo } from "../../view/marks.ts";
import { createAnswer } from "./panels/answer.ts";
import { createPicture, type Grip, type Mods } from "./panels/picture.ts";
import { createQuestions } from "./panels/questions.ts";
import { builtShapes } from "./picture/as-built.ts";
import { carBounds, createSheetView } from "./sheet-view.ts";
import { onGrid, type PlaceId, placeOf, placesOf, placeWords, withPlace } from "./state/places.ts";
import { answerName, type Question } from "./state/questions.ts";
import { type OwnCarView, ownCarSlice } from "./state/slice.ts";

export interface OwnCarPage {
  show(region: HTMLElement): void;
  update(): void;
}

/** what a reading of a ruler by eye is sure to, mm */
const RULER_MM = 0.5;
const FINE_MM = 0.1;
/** the curve that the first answer is told for, g */
const FIRST_G = 0.6;
const START = "start your own car";

function today(): string {
  const now = new Date();
  const two = (v: number): string => String(v).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export function createOwnCarPage(store: Store, help: PageHelp): OwnCarPage {
  const memo = createMemo();
  let active: string | null = null;
  let held: { id: PlaceId; start: Doc; from: PointSZ; pxPerMm: number } | null = null;

  const view = (): OwnCarView => ownCarSlice.of(store.get().view);
  const setView = (patch: Partial<OwnCarView>): void => store.setView(ownCarSlice.patched(store.get().view, patch));
  const sheet = createSheetView(() => carBounds(store.get().doc.a));
  const change = (name: string, next: (a: Scenario) => Scenario, kind?: string): void => {
    const edit = (d: Doc): Doc => ({ ...d, a: next(d.a) });
    const refusal = kind ? store.actMerged(kind, name, edit) : store.act(name, edit);
    help.say(refusal ?? name);
  };

  const questions = createQuestions({
    tell: (q: Question, value) => {
      const next = answered(store.settled().a, { [q.key]: value } as Answers);
      change(answerName(next, q), (a) => answered(a, { [q.key]: value } as Answers));
    },
    leaveOut: (q) => change(`leave out: ${q.words.toLowerCase()}`, (a) => leftOut(a, q.key)),
    step: (key) => {
      if (key === "done") toAxle();
      else {
        setView({ step: key });
        window.scrollTo(0, 0);
      }
    },
    places: (places) => setView({ places }),
    name: (text) => {
      const name = text.trim();
      if (name) change(`rename A to ${name}`, (a) => ({ ...a, name }));
    },
    sunk: (massKg, mm) => {
      const rate = (massKg * G) / mm;
      const rounded = Math.round(rate * 1e4) / 1e4;
      const origin = { how: "measured", plusMinus: (rounded * RULER_MM) / mm, date: today(), note: `sank ${mm} mm under ${massKg} kg` } as const;
      change(`spring ${fixed(rate, 2)} N/mm, from how far it sank`, (a) => answered(a, { springRateNPerMm: rounded }, origin));
    },
  });
  const toAxle = (): void => store.setView({ page: "axle" });
  const answer = createAnswer({ toAxle });

  /** Where a held or nudged place goes, on the grid that the hand asked for. */
  const snapped = (id: PlaceId, p: PointSZ, mods: Mods): PointSZ => {
    const pitch = store.settled().a.holePitchMm;
    const grid = mods.fine || id === "seat" || id.startsWith("outline") ? FINE_MM : mods.coarse ? pitch : pitch / 2;
    return { sMm: onGrid(p.sMm, grid), zMm: onGrid(p.zMm, grid) };
  };
  const moved = (a: Scenario, id: PlaceId, to: PointSZ): Scenario => withPlace(a, id, to, null);
  const moveName = (a: Scenario, id: PlaceId): string => {
    const p = placeOf(a, id);
    return `${placeWords(id)} to ${fixed(p.sMm, 1)} mm out, ${fixed(p.zMm, 1)} mm up`;
  };

  const canvas = h("canvas", { class: "own-photo", "aria-hidden": "true" });
  const picture = createPicture(canvas, {
    start(id) {
      const start = store.settled();
      held = { id: id as PlaceId, start, from: placeOf(start.a, id as PlaceId), pxPerMm: sheet.camera().scale };
      active = id;
      update();
    },
    move(way, mods) {
      if (!held) return;
      const to = snapped(held.id, { sMm: held.from.sMm + way[0] / held.pxPerMm, zMm: held.from.zMm - way[1] / held.pxPerMm }, mods);
      const { start, id } = held;
      store.preview({ ...start, a: moved(start.a, id, to) });
    },
    end() {
      const last = held;
      held = null;
      if (!last) return;
      const now = store.get().doc;
      if (now.a === last.start.a) store.cancel();
      else {
        const name = moveName(now.a, last.id);
        store.commit(name);
        help.say(name);
      }
    },
    cancel() {
      held = null;
      store.cancel();
      help.say("put back");
    },
    key(id, way, mods) {
      const a = store.settled().a;
      const step = mods.fine ? FINE_MM : mods.coarse ? a.holePitchMm : a.holePitchMm / 2;
      const p = placeOf(a, id as PlaceId);
      const to = { sMm: p.sMm + way[0] * step, zMm: p.zMm + way[1] * step };
      const next = moved(a, id as PlaceId, to);
      change(moveName(next, id as PlaceId), (now) => moved(now, id as PlaceId, to), `own.${id}`);
    },
    focus(id) {
      active = id;
      update();
    },
    tap() {},
    pan(way) {
      sheet.pan(way);
      update();
    },
    zoom(factor, at) {
      sheet.zoom(factor, at);
      update();
    },
    fit() {
      sheet.fit();
      update();
    },
    resized() {
      const { clientWidth: w, clientHeight: hh } = picture.stage;
      if (w < 2 || hh < 2) return;
      sheet.resize(w, hh);
      update();
    },
  });

  const begin = (fresh: boolean): void => {
    if (fresh) {
      const s = startedCar();
      const refusal = store.act(START, (d) => ({ ...d, a: s, load: { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 } }));
      if (refusal) return;
      sheet.fit();
      // another car behind one's own, which is only told in part yet, would be taken for it
      store.setView({ show: { ...store.get().view.show, designB: false } });
    }
    setView({ begun: true, ...(fresh ? { step: "size", photo: null } : {}) });
  };
  const goOn = h("button", { type: "button", class: "own-turn", onclick: () => begin(false) });
  const startPanel = h(
    "section",
    { class: "own-start", "aria-label": "start" },
    h("h1", {}, "Start your own car"),
    h(
      "p",
      {},
      "Put it on the table, with a kitchen scale and a ruler. Only the weight and the places of the pins are needed for a first answer; everything else is guessed for its size, and marked as a guess, until you tell it.",
    ),
    h("p", {}, "The car becomes design A. What is there now comes back with Undo; what you tell is kept in this browser as you go."),
    h(
      "p",
      { class: "own-turns" },
      h("button", { type: "button", class: "own-turn strong", "data-act": "own-start", onclick: () => begin(true) }, "Start with an empty car"),
      goOn,
    ),
  );
  const anew = h("button", { type: "button", class: "link small own-anew", onclick: () => setView({ begun: false }) }, "start anew, or with another design");
  const work = h(
    "div",
    { class: "own-work" },
    h("h1", { class: "sr" }, "Your own car"),
    picture.el,
    h("div", { class: "own-column" }, questions.el, answer.el, anew),
  );
  const root = h("div", { class: "own-car" }, startPanel, work);

  const gripsOf = (s: Scenario, px: (p: V2) => V2): Grip[] =>
    placesOf(s).map((id): Grip => {
      const p = placeOf(s, id);
      const key =
        id === "wheel"
          ? "trackMm"
          : id === "seat"
            ? "springSeatPercent"
            : id === "springTop"
              ? "springTop.out"
              : id.startsWith("outline")
                ? null
                : (`${id}.out` as "lowerInner.out");
      const told = key === null || isTold(s, key);
      return {
        id,
        at: px([p.sMm, p.zMm]),
        name: placeWords(id),
        value: `${fixed(p.sMm, 1)} mm out, ${fixed(p.zMm, 1)} mm up${told ? "" : ", a guess"}`,
        look: told ? "told" : "guess",
      };
    });

  function update(): void {
    const state = store.get();
    const { doc } = state;
    const v = view();
    startPanel.hidden = v.begun;
    work.hidden = !v.begun;
    goOn.textContent = `Go on with ${doc.a.name}`;
    if (!v.begun) return;
    const camera = memo("camera", [sheet.camera().scale, ...sheet.camera().centre, sheet.camera().widthPx, sheet.camera().heightPx], () => sheet.camera());
    const wanted = memo("missing", [doc.a], () => missing(doc.a));
    questions.update({ scenario: doc.a, step: v.step, places: v.places, missing: wanted });
    const grips = memo("grips", [doc.a, camera], () => gripsOf(doc.a, projector(camera)));
    const inHand = grips.find((g) => g.id === active);
    picture.update({
      shapes: memo("shapes", [doc.a, camera], () => builtShapes(doc.a, camera)),
      rules: [],
      grips,
      active,
      photo: null,
      pointing: false,
      zoomed: sheet.isOwn,
      note: inHand ? `${inHand.name}: ${inHand.value}` : "Dashed is guessed. Pull a ring, or move it with the arrow keys.",
    });
    const waits = wanted.length > 0 || state.dragging;
    answer.update({ scenario: doc.a, missing: wanted, answer: waits ? help.answers.a.known(doc.a, doc.load) : help.answers.a.at(doc.a, doc.load, "live") });
  }
  return {
    show: (region) => region.replaceChildren(root),
    update,
  };
}
