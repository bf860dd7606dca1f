import "../../ui/css/help.css";
import "./styles/own-car.css";
import "./styles/picture.css";
import type { PointSZ, Scenario } from "../../core/design/types.ts";
import { G } from "../../core/units.ts";
import type { V2 } from "../../core/vec.ts";
import type { Answers } from "../../scenario/own-car/answers.ts";
import { answered, leftOut, missing, startedCar } from "../../scenario/own-car/own-car.ts";
import type { ShelfKind } from "../../scenario/shelf-kinds.ts";
import type { Doc } from "../../state/document.ts";
import type { Store } from "../../state/store.ts";
import { h } from "../../ui/dom.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createShelfHand } from "../../ui/shelf-hand.ts";
import { todayHere } from "../../ui/today.ts";
import { unprojector } from "../../view/camera.ts";
import { fixed } from "../../view/format.ts";
import { createMemo } from "../../view/marks.ts";
import { createAnswer } from "./panels/answer.ts";
import { createPhotoPanel } from "./panels/photo.ts";
import { createPicture, type Mods } from "./panels/picture.ts";
import { createQuestions } from "./panels/questions.ts";
import { createPhotoHand } from "./photo-hand.ts";
import { carPicture, markPicture } from "./picture/model.ts";
import { carBounds, createSheetView, type SheetView } from "./sheet-view.ts";
import { isMark, type MarkId, marksOf, withMark } from "./state/marks.ts";
import { onGrid, type PlaceId, type PlaceKnown, placeOf, placeWords, tracedOutline, withOutlinePoint, withoutOutlinePoint, withPlace } from "./state/places.ts";
import { answerName, type Question } from "./state/questions.ts";
import { type OwnCarView, ownCarSlice, type PhotoView } from "./state/slice.ts";

export interface OwnCarPage {
  show(region: HTMLElement): void;
  update(): void;
}

/** what a reading of a ruler by eye is sure to, mm */
const RULER_MM = 0.5;
const FINE_MM = 0.1;
/** steps back that a photo's marks are kept for */
const MOST_EARLIER = 99;
/** the curve that the first answer is told for, g */
const FIRST_G = 0.6;
/** parts of the shelf that go with a step */
const SHELF: Readonly<Record<string, readonly ShelfKind[]>> = { arms: ["bar"], springs: ["spring"], hub: ["hold", "hub", "tyre"], drive: ["motor"] };
const START = "start your own car";

export function createOwnCarPage(store: Store, help: PageHelp): OwnCarPage {
  const memo = createMemo();
  let active: string | null = null;
  let held: { id: PlaceId; start: Doc; from: PointSZ; pxPerMm: number } | null = null;
  let heldMark: { id: MarkId; start: PhotoView; from: V2; pxPerPx: number } | null = null;
  /** taps on the picture put points of the body's outline */
  let pointing = false;

  const view = (): OwnCarView => ownCarSlice.of(store.get().view);
  const setView = (patch: Partial<OwnCarView>): void => store.setView(ownCarSlice.patched(store.get().view, patch));
  const carSheet = createSheetView(() => carBounds(store.get().doc.a));
  const photoSheet = createSheetView(() => ({ left: 0, right: view().photo?.widthPx ?? 100, bottom: -(view().photo?.heightPx ?? 100), top: 0 }));
  /** a photo whose marks are being put is looked at as it is */
  const marking = (): PhotoView | null => {
    const { photo } = view();
    return photo && !photo.locked ? photo : null;
  };
  /** a photo that lies under the drawing, seen and to scale */
  const under = (): PhotoView | null => {
    const { photo } = view();
    return photo?.locked && !photo.hidden && hand.isThere(photo) && hand.map(photo).ok ? photo : null;
  };
  const sheet = (): SheetView => (marking() ? photoSheet : carSheet);
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
      const origin = { how: "measured", plusMinus: (rounded * RULER_MM) / mm, date: todayHere(), note: `sank ${mm} mm under ${massKg} kg` } as const;
      change(`spring ${fixed(rate, 2)} N/mm, from how far it sank`, (a) => answered(a, { springRateNPerMm: rounded }, origin));
    },
  });
  const toAxle = (): void => store.setView({ page: "axle" });
  const answer = createAnswer({ toAxle });

  /** Where a held or nudged place goes, on the grid that the hand asked for. */
  const snapped = (id: PlaceId, p: PointSZ, mods: Mods): PointSZ => {
    const pitch = store.settled().a.holePitchMm;
    const grid = mods.fine || under() || id === "seat" || id.startsWith("outline") ? FINE_MM : mods.coarse ? pitch : pitch / 2;
    return { sMm: onGrid(p.sMm, grid), zMm: onGrid(p.zMm, grid) };
  };
  const moved = (a: Scenario, id: PlaceId, to: PointSZ): Scenario => withPlace(a, id, to, knownAt(to));
  const moveName = (a: Scenario, id: PlaceId): string => {
    const p = placeOf(a, id);
    return `${placeWords(id)} to ${fixed(p.sMm, 1)} mm out, ${fixed(p.zMm, 1)} mm up`;
  };

  const canvas = h("canvas", { class: "own-photo", "aria-hidden": "true" });
  const setPhoto = (photo: PhotoView): void => setView({ photo });
  /** the photo as it was before each change of its marks, and before it was removed: what the page is looked at by is no part of a design's history */
  let earlier: PhotoView[] = [];
  const remember = (photo: PhotoView): void => {
    if (earlier.at(-1) !== photo) earlier = [...earlier.slice(-MOST_EARLIER), photo];
  };
  const hand = createPhotoHand(canvas, {
    put: (photo) => {
      earlier = [];
      photoSheet.fit();
      pointing = false;
      setView({ photo, step: "pins" });
      help.say("the photo is here: put its marks");
    },
    changed: () => update(),
  });
  const patchPhoto = (patch: (p: PhotoView) => PhotoView, ofMarks = true): void => {
    const { photo } = view();
    if (!photo) return;
    if (ofMarks) remember(photo);
    setPhoto(patch(photo));
  };
  const knownAt = (to: PointSZ): PlaceKnown | null => {
    const photo = under();
    return photo && hand.known(photo, to, carSheet.camera().scale, todayHere());
  };
  const addPoint = (to: PointSZ): void => {
    const p = { sMm: onGrid(Math.abs(to.sMm), FINE_MM), zMm: onGrid(to.zMm, FINE_MM) };
    change("a point of the body's outline", (a) => withOutlinePoint(a, p, knownAt(p)));
  };
  const photoPanel = createPhotoPanel({
    file: (file) => void hand.take(file, file.name),
    remove: () => {
      const { photo } = view();
      if (photo) remember(photo);
      setView({ photo: null });
    },
    back: () => {
      const last = earlier.at(-1);
      earlier = earlier.slice(0, -1);
      if (!last) return;
      setPhoto(last);
      help.say("the photo is as it was before");
    },
    save: () => {
      const { photo } = view();
      if (photo) void hand.save(photo, store.settled().a.name);
    },
    set: (patch) => patchPhoto((p) => ({ ...p, ...patch }), "straighten" in patch),
    distance: (mm) => patchPhoto((p) => (p.marks.distance ? { ...p, marks: { ...p.marks, distance: { ...p.marks.distance, mm } } } : p)),
    levelHeight: (heightMm) => patchPhoto((p) => ({ ...p, marks: { ...p.marks, level: { ...p.marks.level, heightMm } } })),
    rectangle: (key, mm) => patchPhoto((p) => ({ ...p, corners: { ...p.corners, [key]: mm } })),
    middle: (on) =>
      patchPhoto((p) => {
        const { left, right } = p.marks.level;
        return { ...p, marks: { ...p.marks, middle: on ? [(left[0] + right[0]) / 2, (left[1] + right[1]) / 2] : null } };
      }),
    pointing: (on) => {
      pointing = on;
      update();
    },
    addPoint: () => {
      const last = tracedOutline(store.settled().a)?.points.at(-1);
      const c = store.settled().a.corner;
      addPoint(last ? { sMm: last.sMm + 10, zMm: last.zMm } : { sMm: c.lowerInner.sMm, zMm: c.spring.top.zMm + 20 });
    },
    takeBack: () => change("without the outline's last point", withoutOutlinePoint),
  });
  questions.extra.append(photoPanel.el);
  const shelf = createShelfHand({ store, say: (text) => help.say(text), resized: () => update() });
  questions.shelf.append(shelf.el);

  const picture = createPicture(canvas, {
    start(id) {
      active = id;
      const photo = marking();
      if (photo && isMark(id)) {
        const from = marksOf(photo).find((m) => m.id === id)?.at;
        if (from) heldMark = { id, start: photo, from, pxPerPx: photoSheet.camera().scale };
      } else if (!isMark(id)) {
        const start = store.settled();
        held = { id: id as PlaceId, start, from: placeOf(start.a, id as PlaceId), pxPerMm: carSheet.camera().scale };
      }
      update();
    },
    move(way, mods) {
      if (heldMark) {
        const { start, id, from, pxPerPx } = heldMark;
        setPhoto(withMark(start, id, [from[0] + way[0] / pxPerPx, from[1] + way[1] / pxPerPx]));
        return;
      }
      if (!held) return;
      const to = snapped(held.id, { sMm: held.from.sMm + way[0] / held.pxPerMm, zMm: held.from.zMm - way[1] / held.pxPerMm }, mods);
      const { start, id } = held;
      store.preview({ ...start, a: moved(start.a, id, to) });
    },
    end() {
      if (heldMark) {
        if (view().photo !== heldMark.start) remember(heldMark.start);
        heldMark = null;
        update();
        return;
      }
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
      if (heldMark) setPhoto(heldMark.start);
      heldMark = null;
      if (held) store.cancel();
      held = null;
      help.say("put back");
    },
    key(id, way, mods) {
      const photo = marking();
      if (isMark(id)) {
        const at = photo && marksOf(photo).find((m) => m.id === id)?.at;
        const by = mods.coarse ? 10 : 1;
        if (photo && at) remember(photo);
        if (photo && at) setPhoto(withMark(photo, id, [at[0] + by * way[0], at[1] - by * way[1]]));
        return;
      }
      const a = store.settled().a;
      const step = mods.fine || (under() && !mods.coarse) ? FINE_MM : under() ? 1 : mods.coarse ? a.holePitchMm : a.holePitchMm / 2;
      const p = placeOf(a, id as PlaceId);
      const to = { sMm: onGrid(p.sMm + way[0] * step, 1e-3), zMm: onGrid(p.zMm + way[1] * step, 1e-3) };
      const next = moved(a, id as PlaceId, to);
      change(moveName(next, id as PlaceId), (now) => moved(now, id as PlaceId, to), `own.${id}`);
    },
    focus(id) {
      active = id;
      update();
    },
    tap(at) {
      if (!pointing || marking()) return;
      const p = unprojector(carSheet.camera())(at);
      addPoint({ sMm: p[0], zMm: p[1] });
    },
    pan(way) {
      sheet().pan(way);
      update();
    },
    zoom(factor, at) {
      sheet().zoom(factor, at);
      update();
    },
    fit() {
      sheet().fit();
      update();
    },
    resized() {
      const { clientWidth: w, clientHeight: hh } = picture.stage;
      if (w < 2 || hh < 2) return;
      carSheet.resize(w, hh);
      photoSheet.resize(w, hh);
      update();
    },
  });

  picture.el.append(answer.badge);

  const begin = (fresh: boolean): void => {
    if (fresh) {
      const s = startedCar();
      const refusal = store.act(START, (d) => ({ ...d, a: s, load: { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0, brakeG: 0 } }));
      if (refusal) return;
      carSheet.fit();
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

  function update(): void {
    const state = store.get();
    const { doc } = state;
    const v = view();
    startPanel.hidden = v.begun;
    work.hidden = !v.begun;
    goOn.textContent = `Go on with ${doc.a.name}`;
    if (!v.begun) return;
    const wanted = memo("missing", [doc.a], () => missing(doc.a));
    questions.update({ scenario: doc.a, step: v.step, places: v.places, missing: wanted });
    hand.bring(v.photo);
    const now = sheet().camera();
    const camera = memo("camera", [now.scale, ...now.centre, now.widthPx, now.heightPx], () => now);
    const photo = marking();
    const lies = under();
    const map = lies && hand.map(lies);
    const drawn = photo
      ? markPicture(photo, camera, hand.isThere(photo), active)
      : memo("car", [doc.a, camera, lies, active], () =>
          carPicture(doc.a, camera, lies && map?.ok ? { toMm: map.toMm, strength: lies.strength } : null, active),
        );
    picture.update({ ...drawn, zoomed: sheet().isOwn, active, pointing: pointing && !photo });
    photoPanel.el.hidden = v.photo === null && v.step !== "pins";
    root.classList.toggle("with-photo", v.photo !== null);
    shelf.update({ kinds: SHELF[v.step] ?? [], sides: "both", ...(v.step === "arms" ? { place: "lowerArm" } : {}) });
    photoPanel.update({
      photo: v.photo,
      pitchMm: doc.a.holePitchMm,
      canGoBack: earlier.length > 0,
      fault: hand.fault(),
      told: v.photo ? hand.told(v.photo, v.photo.locked ? camera.scale : carSheet.camera().scale) : "",
      pointing,
      points: tracedOutline(doc.a)?.points.length ?? 0,
    });
    const waits = wanted.length > 0 || state.dragging;
    answer.update({ scenario: doc.a, missing: wanted, answer: waits ? help.answers.a.known(doc.a, doc.load) : help.answers.a.at(doc.a, doc.load, "live") });
  }
  const isPicture = (t: DataTransfer | null): File | null => [...(t?.files ?? [])].find((f) => f.type.startsWith("image/")) ?? null;
  root.addEventListener("drop", (e) => {
    const file = isPicture(e.dataTransfer);
    if (!file || !view().begun) return;
    // this page's own: elsewhere a dropped file is opened as a design
    e.preventDefault();
    e.stopPropagation();
    void hand.take(file, file.name);
  });
  window.addEventListener("paste", (e) => {
    const file = isPicture(e.clipboardData);
    if (!file || !root.isConnected || !view().begun) return;
    e.preventDefault();
    void hand.take(file, file.name || "pasted picture");
  });
  return {
    show: (region) => region.replaceChildren(root),
    update,
  };
}
