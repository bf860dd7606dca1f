import { h, setAttr, setText } from "../../../ui/dom.ts";
import { createNumber, type NumberField, type NumberSpec } from "../../../ui/number-field.ts";
import type { PhotoView } from "../state/slice.ts";

export interface PhotoHooks {
  file(file: File): void;
  remove(): void;
  /** one change of the photo or its marks back */
  back(): void;
  save(): void;
  set(patch: Partial<PhotoView>): void;
  distance(mm: number): void;
  levelHeight(mm: number): void;
  rectangle(key: "widthMm" | "heightMm", mm: number): void;
  middle(on: boolean): void;
  pointing(on: boolean): void;
  addPoint(): void;
  takeBack(): void;
}

export interface PhotoModel {
  photo: PhotoView | null;
  /** hole pitch of the design, so that distances may be typed in holes, mm */
  pitchMm: number;
  /** a change of the photo can be taken back */
  canGoBack: boolean;
  /** what is wrong with the file or the marks; empty: nothing */
  fault: string;
  /** scale and sureness in words */
  told: string;
  pointing: boolean;
  points: number;
}

/** A photo of the axle from behind: where it comes from, its marks, and how it lies under the drawing. */
export function createPhotoPanel(hooks: PhotoHooks): { el: HTMLElement; update(m: PhotoModel): void } {
  const chooser = (words: string, camera: boolean): HTMLElement => {
    const input = h("input", {
      type: "file",
      accept: "image/*",
      class: "sr",
      ...(camera ? { capture: "environment" } : {}),
      "data-act": camera ? "photo-take" : "photo-choose",
      "aria-label": words,
    });
    input.addEventListener("change", () => {
      const file = input.files?.[0];
      input.value = "";
      if (file) hooks.file(file);
    });
    return h("label", { class: "own-turn own-file" }, words, input);
  };
  const act = (key: string, words: string, run: () => void): HTMLButtonElement =>
    h("button", { type: "button", class: "link", "data-act": key, onclick: run }, words);
  const tick = (key: string, words: string, run: (on: boolean) => void): { el: HTMLElement; input: HTMLInputElement } => {
    const input = h("input", { type: "checkbox", "data-act": key, onchange: () => run(input.checked) });
    return { el: h("label", { class: "own-tick" }, input, words), input };
  };
  const rules: NumberSpec[] = [];
  const number = (words: string, min: number, max: number, onSet: (v: number) => void): NumberField => {
    const spec: NumberSpec = { words, unit: "mm", min, max, whole: false, onSet };
    rules.push(spec);
    return createNumber(spec);
  };
  const distance = number("the two upper marks are apart", 0.5, 5000, hooks.distance);
  const level = number("the level line lies above the table", -500, 500, hooks.levelHeight);
  const width = number("the rectangle is wide", 0.5, 5000, (v) => hooks.rectangle("widthMm", v));
  const height = number("and high", 0.5, 5000, (v) => hooks.rectangle("heightMm", v));
  const straighten = tick("photo-straighten", "take the perspective out by the corners of a known rectangle", (on) => hooks.set({ straighten: on }));
  const middle = tick("photo-middle", "mark the middle of the car (else: middle of the level line)", hooks.middle);
  const hidden = tick("photo-hide", "hide the photo", (on) => hooks.set({ hidden: on }));
  const strength = h("input", {
    type: "range",
    min: 0.1,
    max: 1,
    step: 0.05,
    "aria-label": "strength of the photo",
    oninput: () => hooks.set({ strength: Number(strength.value) }),
  });
  const marking = h(
    "button",
    { type: "button", class: "word-switch", "data-act": "photo-mark", onclick: () => hooks.set({ locked: false }) },
    "1 put the marks",
  );
  const tracing = h(
    "button",
    { type: "button", class: "word-switch", "data-act": "photo-lock", onclick: () => hooks.set({ locked: true, hidden: false }) },
    "2 lock them and trace",
  );
  const fault = h("p", { class: "own-fault", role: "alert" });
  const told = h("p", { class: "own-told", role: "status" });
  const putBack = act("photo-put-back", "put the removed photo back", () => hooks.back());
  const back = act("photo-back", "take the last mark back", () => hooks.back());
  const none = h(
    "div",
    { class: "own-none" },
    h("p", {}, "Or trace a photo of the axle from behind: drop it on the page, paste it, or"),
    h("p", { class: "own-turns-inline" }, chooser("choose a photo", false), chooser("take a photo", true)),
    h(
      "p",
      { class: "own-small" },
      "It stays in this browser: no link and no saved design holds it. Best from far away with the zoom, the camera as high as the axle.",
    ),
    putBack,
  );
  const marks = h(
    "div",
    { class: "own-marks" },
    h(
      "p",
      { class: "own-small" },
      "Pull the two upper marks onto two points whose distance you know (a ruler; a row of holes, typed as 12 holes), and the level line onto the table, from one tyre to the other. Arrow keys move by a pixel; come nearer with +.",
    ),
    distance.el,
    level.el,
    straighten.el,
    width.el,
    height.el,
    middle.el,
  );
  const point = tick("photo-points", "tap the picture to put points of the body's outline", hooks.pointing);
  const addPoint = act("photo-add-point", "add a point", () => hooks.addPoint());
  const takeBack = act("photo-take-back", "take the last one back", () => hooks.takeBack());
  const under = h(
    "div",
    { class: "own-under" },
    h(
      "p",
      { class: "own-small" },
      "Pull the rings onto the photo: pins, wheel, spring. The right-hand side of the photo counts; both sides are taken as alike.",
    ),
    h("label", { class: "own-tick" }, "strength", strength),
    hidden.el,
    point.el,
    h("p", { class: "own-acts" }, addPoint, takeBack),
  );
  const there = h(
    "div",
    { class: "own-there" },
    h("p", { class: "own-modes", role: "group", "aria-label": "photo" }, marking, tracing),
    told,
    marks,
    under,
    h(
      "p",
      { class: "own-acts" },
      back,
      act("photo-save", "save the photo as a file", () => hooks.save()),
      act("photo-remove", "remove the photo", () => hooks.remove()),
    ),
  );
  const el = h("section", { class: "own-photo-panel", "aria-label": "photo" }, h("h3", {}, "Trace a photo"), fault, none, there);
  return {
    el,
    update(m) {
      const p = m.photo;
      setText(fault, m.fault);
      none.hidden = p !== null;
      there.hidden = p === null;
      putBack.hidden = back.hidden = !m.canGoBack;
      if (!p) return;
      setText(told, m.told);
      setAttr(marking, "aria-pressed", String(!p.locked));
      setAttr(tracing, "aria-pressed", String(p.locked));
      for (const rule of rules) rule.pitchMm = m.pitchMm;
      marks.hidden = p.locked;
      under.hidden = !p.locked;
      distance.update(p.marks.distance?.mm ?? Number.NaN);
      level.update(p.marks.level.heightMm);
      width.el.hidden = height.el.hidden = !p.straighten;
      width.update(p.corners.widthMm);
      height.update(p.corners.heightMm);
      straighten.input.checked = p.straighten;
      middle.input.checked = p.marks.middle !== null;
      hidden.input.checked = p.hidden;
      if (document.activeElement !== strength) strength.value = String(p.strength);
      point.input.checked = m.pointing;
      takeBack.hidden = m.points === 0;
    },
  };
}
