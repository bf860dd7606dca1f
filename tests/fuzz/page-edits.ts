import { MATERIAL_NAMES } from "../../src/core/arm/materials.ts";
import { tracksOf } from "../../src/core/cornering.ts";
import { armLengthMm } from "../../src/core/design/corner-geometry.ts";
import { reshaped, SHAPE_WORDS } from "../../src/core/design/section-shapes.ts";
import { cornerOf } from "../../src/core/design/sides.ts";
import { ARM_LAYOUTS, JOINT_NAMES, type Load, type Scenario, SIDES } from "../../src/core/design/types.ts";
import type { Random } from "../../src/core/numerics/random.ts";
import { singleChanges } from "../../src/core/studies/change-list.ts";
import type { ArmHandleId } from "../../src/pages/arm/picture/handles.ts";
import {
  type ArmChoice,
  armOn,
  changeName,
  type Grid,
  KEEPS,
  madeAlike,
  relaid,
  stepOf,
  takesFromB,
  withArm,
  withMeasure,
} from "../../src/pages/arm/state/edits.ts";
import { createDragging, type Dragging } from "../../src/pages/axle/dragging.ts";
import { controlsOf } from "../../src/pages/axle/panels/fields.ts";
import { addBox, addOutline, addPoint, removePoint, removeWhole, setFit, setMustHold } from "../../src/pages/axle/state/fit-edits.ts";
import { controlWords, withControl } from "../../src/pages/axle/state/part-edits.ts";
import { addStage, dropStage, setCarMass, setDrive, setDriven, setStage, setWheelRadius } from "../../src/pages/map/state/drive-edits.ts";
import { CAPS } from "../../src/scenario/caps.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import type { Doc } from "../../src/state/document.ts";
import { freeName, withAt, withBump } from "../../src/state/edit.ts";
import { designs, keepDesign, removeDesign, type Shelf } from "../../src/state/persist.ts";
import type { Store } from "../../src/state/store.ts";
import { taken } from "../../src/state/take.ts";
import { differences, leaves } from "../../src/view/differences.ts";
import type { HandleId } from "../../src/view/handles.ts";
import type { FitHandleId } from "../../src/view/parts/fit.ts";
import { PARTS } from "../../src/view/pick.ts";
import { claim, pick } from "./fuzzer.ts";

/** What the hand works with: the page's own store and what its controls are joined to. */
export interface Desk {
  random: Random;
  store: Store;
  dragging: Dragging;
  shelf: Shelf;
  /** designs that may be opened */
  cars: readonly Scenario[];
  /** ms since the page began */
  clock: { now: number };
}

export type Edit = (desk: Desk) => void;

/** For edits that no design gives a reason to refuse. */
const passes = (refusal: string | null): void => claim(refusal === null, `refused without need: ${refusal}`);

/** A browser's store of strings without the browser. */
export function memoryShelf(): Shelf {
  const texts = new Map<string, string>();
  return {
    getItem: (key) => texts.get(key) ?? null,
    setItem: (key, value) => void texts.set(key, value),
    removeItem: (key) => void texts.delete(key),
    key: (i) => [...texts.keys()][i] ?? null,
    get length() {
      return texts.size;
    },
  };
}

/** The axle's handles, by the page's own dragging; moves are worked out at once and not held back where the axle finds no hold. */
export const handOn = (store: Store): Dragging =>
  createDragging({
    store,
    drawn: () => null,
    pxPerMm: () => 3,
    pxPerG: () => 60,
    within: (_from, doc) => ({ doc, end: null }),
    ended: () => {},
    noAnswer: () => null,
    lean: () => "",
    active: () => {},
    refused: () => {},
    say: () => {},
    tap: () => {},
    request: () => {},
  });

/** A number as it is set: within what the control offers, at an end of what may be, beyond it, or none at all. */
function numberFor(random: Random, offered: { min: number; max: number; step?: number }, allowed: { min: number; max: number; whole?: boolean }): number {
  const kind = random.next();
  if (kind < 0.5) {
    const v = random.between(offered.min, offered.max);
    const step = offered.step ?? 0;
    return step > 0 && random.next() < 0.8 ? Math.round(v / step) * step : v;
  }
  if (kind < 0.62) return pick(random, [allowed.min, allowed.max]);
  const inside = random.between(allowed.min, allowed.max);
  if (kind < 0.85) return allowed.whole ? Math.round(inside) : inside;
  const wide = allowed.max - allowed.min;
  return pick(random, [
    allowed.min - 1e-9,
    allowed.max + 1e-9 * Math.max(1, allowed.max),
    allowed.max + wide,
    allowed.min - wide,
    0,
    -0,
    1e-300,
    1e300,
    Number.NaN,
    Number.POSITIVE_INFINITY,
  ]);
}

const someSide = (random: Random) => pick(random, SIDES);

const parts: Edit = ({ random, store }) => {
  const { a } = store.settled();
  const sides = pick(random, ["both", "both", ...SIDES] as const);
  const rows = controlsOf(pick(random, PARTS), cornerOf(a, sides === "left" ? "left" : "right"), a);
  const numbers = rows.filter((c) => c.kind === "number");
  // most of what a hand sets are numbers, and most that is refused
  const control = pick(random, random.next() < 0.7 && numbers.length > 0 ? numbers : rows);
  const path = control.root ? control.path : `corner.${control.path}`;
  let value: number | string = "";
  if (control.kind === "choice") value = random.next() < 0.97 ? pick(random, Object.values(control.options)) : "none such";
  else if (control.kind === "text") value = "x".repeat(random.whole(0, random.next() < 0.5 ? control.longest : 3 * control.longest));
  else if (control.kind === "number") {
    const times = control.times ?? 1;
    value = numberFor(random, { min: control.min / times, max: control.max / times, step: control.step / times }, rangeOf(path, a) ?? control);
  }
  store.actMerged(`param.${control.path}`, controlWords(a, control, sides, value), (d) => ({ ...d, a: withControl(d.a, control, sides, value) }));
};

/** A side gets a value of its own as files have it, so that edits meet designs whose sides differ. */
const ownSide: Edit = ({ random, store }) => {
  const side = someSide(random);
  const c = cornerOf(store.settled().a, side);
  const [path, value] = pick<readonly [string, unknown]>(random, [
    ["upperInner", { ...c.upperInner, zMm: c.upperInner.zMm + 2 }],
    ["lowerArm", c.lowerArm],
    ["hub.staticCamberDeg", c.hub.staticCamberDeg - 1],
    ["spring", c.spring],
    ["wheel.radiusMm", c.wheel.radiusMm + 1],
    ["tyre.seat", c.tyre.seat],
  ]);
  store.act(`${side} by itself`, (d) => ({ ...d, a: withAt(d.a, `${side}.${path}`, value) }));
};

function handles(doc: Doc): HandleId[] {
  const { fit } = doc.a;
  const out: HandleId[] = ["gravity", "gravity", "cornering"];
  for (const side of SIDES)
    out.push(`wheel.${side}`, `springTop.${side}`, `seat.${side}`, `road.${side}`, ...JOINT_NAMES.map((j): HandleId => `pin.${side}.${j}`));
  fit.outlines.slice(0, 4).forEach((o, i) => {
    o.points.slice(0, 5).forEach((_, j) => {
      out.push(`fit.o.${i}.${j}`);
    });
  });
  for (const i of fit.keepOut.slice(0, 4).keys()) out.push(`fit.b.${i}.${((i + 1) % 4) as 0}`);
  return out;
}

const drag: Edit = (desk) => {
  const { random, store, dragging } = desk;
  const id = pick(random, handles(store.settled()));
  dragging.command({ kind: "begin", id });
  const far = pick(random, [8, 60, 400, 4000]);
  for (let n = random.whole(1, 4); n > 0; n--) {
    const mods = { shift: random.next() < 0.2, alt: random.next() < 0.2 };
    dragging.command({ kind: "move", id, way: [random.between(-far, far), random.between(-far, far)], mods });
    if (random.next() < 0.8) dragging.flush();
    // the other hand is on the keyboard
    if (random.next() < 0.05) pick(random, [undo, redo, rename, look])(desk);
  }
  dragging.command({ kind: random.next() < 0.8 ? "commit" : "cancel", id });
};

const ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"] as const;

const nudge: Edit = ({ random, store, dragging, clock }) => {
  const id = pick(random, handles(store.settled()));
  const key = pick(random, ARROWS);
  for (let n = random.whole(1, 3); n > 0; n--) {
    const held = { altKey: random.next() < 0.2, ctrlKey: false, metaKey: false, shiftKey: random.next() < 0.2 };
    dragging.key(id, { key, ...held, timeStamp: clock.now, preventDefault: () => {} } as KeyboardEvent);
  }
};

const fit: Edit = ({ random, store }) => {
  const doc = store.settled();
  const id = pick(random, [...handles(doc).filter((h): h is FitHandleId => h.startsWith("fit.")), "fit.o.0.0", "fit.b.0.0"] as FitHandleId[]);
  const kind = random.whole(0, 6);
  if (kind === 0) store.act("add an outline", addOutline);
  else if (kind === 1) store.act("add a box that stays free", addBox);
  else if (kind === 2) store.act("add a point", (d) => addPoint(d, id));
  else if (kind === 3) passes(store.act("remove a point", (d) => removePoint(d, id)));
  else if (kind === 4) passes(store.act("remove it", (d) => removeWhole(d, id)));
  else if (kind === 5) store.act("must hold", (d) => setMustHold(d, !d.a.fit.mustHold));
  else store.actMerged("fit.clearance", "keep free", (d) => setFit(d, "clearanceMm", numberFor(random, { min: 0, max: 10, step: 0.5 }, { min: 0, max: 100 })));
};

/** Up to the most that may stand, and one more. */
const manyBoxes: Edit = ({ random, store }) => {
  const boxes = random.next() < 0.5;
  for (let n = random.whole(20, 52); n > 0; n--) if (store.act(boxes ? "add a box" : "add an outline", boxes ? addBox : addOutline) !== null) break;
};

const armChoice = (random: Random): ArmChoice => ({ name: pick(random, ["upper", "lower"] as const), side: pick(random, [null, null, ...SIDES]) });

const arm: Edit = ({ random, store }) => {
  const choice = armChoice(random);
  const doc = store.settled();
  const shown = choice.side ?? someSide(random);
  const mine = armOn(doc.a, shown, choice.name);
  const change = (name: string, a: Scenario): void => void (a !== doc.a && store.act(name, (d) => ({ ...d, a })));
  switch (random.whole(0, 4)) {
    case 0: {
      const made = relaid(doc.a, choice, mine, armLengthMm(cornerOf(doc.a, shown), choice.name), pick(random, ARM_LAYOUTS), pick(random, KEEPS));
      return change(made.name, made.scenario);
    }
    case 1: {
      const shape = pick(random, Object.keys(SHAPE_WORDS) as (keyof typeof SHAPE_WORDS)[]);
      return change("shape", withArm(doc.a, choice, "section", reshaped(mine.section, shape, doc.a.holePitchMm)));
    }
    case 2:
      return change("material", withArm(doc.a, choice, "material", pick(random, MATERIAL_NAMES)));
    case 3:
      return change("alike", madeAlike(doc.a, choice.name, mine));
    default: {
      const row = pick(random, takesFromB(doc, choice, shown));
      if (row.scenario) change(row.name, row.scenario);
    }
  }
};

const ARM_HANDLES: readonly ArmHandleId[] = ["fork", "spreadFront", "spreadRear", "height", "width"];

const armHandle: Edit = ({ random, store }) => {
  const choice = armChoice(random);
  const id = pick(random, ARM_HANDLES);
  const start = store.settled();
  const mine = armOn(start.a, choice.side ?? "right", choice.name);
  const lengthMm = random.between(20, 120);
  const grid = pick<Grid>(random, ["coarse", "half", "fine"]);
  const moved = (): Doc => {
    const a = withMeasure(start.a, choice, mine, lengthMm, id, random.between(-30, 160), stepOf(id, grid, start.a.holePitchMm));
    return a === start.a ? start : { ...start, a };
  };
  const last = (doc: Doc) => changeName(choice, armOn(doc.a, choice.side ?? "right", choice.name), lengthMm, id, doc.a.holePitchMm);
  if (random.next() < 0.4) {
    const next = moved();
    if (next !== start) store.actMerged(`arm.${id}`, last(next), () => next);
    return;
  }
  for (let n = random.whole(1, 3); n > 0; n--) store.preview(moved());
  if (random.next() < 0.8) store.commit(last(store.get().doc));
  else store.cancel();
};

const drive: Edit = ({ random, store }) => {
  const { drive: now } = store.settled().a;
  const index = random.whole(0, Math.max(0, now.stages.length - 1));
  const number = (path: string) => numberFor(random, rangeOf(path) as { min: number; max: number }, rangeOf(path) as { min: number; max: number });
  const kind = random.whole(0, 5);
  if (kind === 0) for (let n = random.whole(1, 11); n > 0; n--) store.act("add a gear stage", addStage);
  else if (kind === 1) passes(store.act("remove a gear stage", (d) => dropStage(d, index)));
  else if (kind === 2) {
    const key = pick(random, ["drivingTeeth", "drivenTeeth", "efficiency"] as const);
    store.actMerged(`drive.stage.${index}.${key}`, key, (d) => setStage(d, index, key, number(`drive.stages[0].${key}`)));
  } else if (kind === 3) store.actMerged("drive.wheel", "wheel radius", (d) => setWheelRadius(d, number("corner.wheel.radiusMm")));
  else {
    if (random.next() < 0.15) {
      store.actMerged("drive.car", "whole car", (d) => setCarMass(d, number("body.carMassKg")));
      return;
    }
    if (random.next() < 0.15) {
      store.actMerged("drive.driven", "top speed driven", (d) => setDriven(d, random.next() < 0.3 ? null : number("drive.topSpeedDrivenKmh")));
      return;
    }
    const keys = ["drivenWheels", "motorsPerWheel", "stallTorqueNmm", "noLoadRpm", "rollingResistance", "dragNPerMps2"] as const;
    const key = pick(random, keys);
    store.actMerged(`drive.${key}`, key, (d) => setDrive(d, key, number(`drive.${key}`)));
  }
};

const load: Edit = ({ random, store }) => {
  const g = numberFor(random, { min: -1.2, max: 1.2, step: 0.01 }, { min: -3, max: 3 });
  const mm = numberFor(random, { min: -12, max: 12, step: 0.5 }, { min: -60, max: 60 });
  const withG = (d: Doc): Doc => ({ ...d, load: { ...d.load, lateralG: g } });
  const side = someSide(random);
  switch (random.whole(0, 4)) {
    case 0:
      store.actMerged("cornering", `cornering to ${g} g`, withG);
      return;
    case 1:
      store.actMerged(`bump.${side}`, `road under the ${side} wheel`, (d) => ({ ...d, load: withBump(d.load, side, mm) }));
      return;
    case 2:
      passes(store.act("turn the other way", (d) => ({ ...d, load: { ...d.load, lateralG: -d.load.lateralG } })));
      return;
    case 3: {
      const to: Load = { lateralG: g, bumpLeftMm: mm, bumpRightMm: -mm };
      store.act("back to a load", (d) => ({ ...d, load: to }));
      return;
    }
    default:
      store.preview(withG(store.settled()));
      if (random.next() < 0.7) store.commit("cornering");
      else store.cancel();
  }
};

const takeFromB: Edit = ({ random, store }) => {
  const { a, b } = store.settled();
  const all = differences(a, b).flatMap((d) => (random.next() < 0.5 ? leaves(d) : [d]));
  if (all.length === 0) return;
  const take = taken(a, b, pick(random, all).path);
  store.act(`take ${take.path} from B`, (d) => ({ ...d, a: take.scenario }));
};

const swap: Edit = ({ store }) => passes(store.act("swap A and B", (d) => ({ ...d, a: d.b, b: d.a })));

const copy: Edit = ({ random, store }) => {
  const [from, to] = random.next() < 0.5 ? (["a", "b"] as const) : (["b", "a"] as const);
  // a copy's name grows by its number
  const long = "x".repeat(random.whole(117, 120));
  if (random.next() < 0.5) passes(store.act("a long name", (d) => ({ ...d, [from]: { ...d[from], name: long } })));
  passes(store.act(`copy ${from} to ${to}`, (d) => ({ ...d, [to]: { ...d[from], name: freeName(d[from].name, [d[from].name]) } })));
  claim(store.settled().a.name !== store.settled().b.name, "the copy bears the name of what was copied");
};

const LETTERS = ["a", "ö", "🛞", "\u202e", "\u0000", "\\", '"', "\u2028", " ", "(2)"] as const;

const rename: Edit = ({ random, store }) => {
  const which = pick(random, ["a", "b"] as const);
  const long = random.next() < 0.5;
  const letters = Array.from({ length: random.whole(1, 6) }, () => pick(random, LETTERS)).join("");
  const text = (long ? "x".repeat(random.whole(112, 121)) + letters : letters).trim().slice(0, CAPS.nameLetters);
  if (text) passes(store.act(`rename ${which.toUpperCase()} to ${text}`, (d) => ({ ...d, [which]: { ...d[which], name: text } })));
  if (long) passes(store.act(`describe ${which.toUpperCase()}`, (d) => ({ ...d, [which]: { ...d[which], teaches: letters.repeat(random.whole(0, 30)) } })));
};

const open: Edit = ({ random, store, cars }) => {
  const scenario = pick(random, cars);
  const which = pick(random, ["a", "b"] as const);
  passes(store.act(`open ${scenario.name} as ${which.toUpperCase()}`, (d) => ({ ...d, [which]: scenario })));
};

const keep: Edit = ({ random, store, shelf, clock }) => {
  const name = keepDesign(shelf, store.settled().a, pick(random, ["this tab", "another tab"]), clock.now);
  if (name && name !== store.settled().a.name) passes(store.act(`rename A to ${name}`, (d) => ({ ...d, a: { ...d.a, name } })));
  if (random.next() < 0.3) {
    const back = removeDesign(shelf, pick(random, Object.keys(designs(shelf))), clock.now);
    if (random.next() < 0.5) back?.();
  }
};

const tracks: Edit = ({ random, store }) => {
  const now = store.settled().a.tracks;
  const radiusM = numberFor(random, { min: 1, max: 20, step: 0.05 }, { min: 0.1, max: 1000 });
  if (random.next() < 0.6 || now.length === 0)
    store.act("keep a track", (d) => ({ ...d, a: { ...d.a, tracks: [...d.a.tracks, { name: `${radiusM.toFixed(2)} m`, radiusM }] } }));
  else {
    const gone = pick(random, now);
    store.act(`drop the track ${gone.name}`, (d) => ({ ...d, a: { ...d.a, tracks: d.a.tracks.filter((t) => t !== gone) } }));
  }
};

const tryAsB: Edit = ({ random, store }) => {
  const change = pick(random, singleChanges(store.settled().a));
  store.act(`try as B: ${change.title}`, (d) => ({ ...d, b: change.scenario }));
};

const undo: Edit = ({ store }) => void store.undo();
const redo: Edit = ({ store }) => void store.redo();

const LOOKS = ["axle", "arm", "speedMap", "motion", "report"] as const;

/** What is not undone: the page, the curve, which arm, how far the lesson is. */
const look: Edit = ({ random, store }) => {
  const { view, doc } = store.get();
  const lesson = {
    step: pick(random, [null, "push", "lean"] as const),
    done: ["push"],
    base: { lateralG: doc.load.lateralG, leanDeg: 1.5, arms: JSON.stringify(doc.a.corner.lowerArm) },
  };
  store.setView({
    page: pick(random, LOOKS),
    show: { ...view.show, bend: pick(random, [1, 3, 10] as const), fit: random.next() < 0.5 },
    selection: pick(random, [null, ...PARTS]),
    drawerPx: random.whole(60, 800),
    road: { ...view.road, track: random.whole(0, tracksOf(doc.a).length), radiusM: pick(random, [null, 0.1, 7.35, 1000]), shock: pick(random, [1, 1.8, 12]) },
    pages: { ...view.pages, arm: { name: "upper", side: pick(random, [null, "left"]), pushN: random.whole(-1000, 1000), pressN: 3, lesson } },
  });
};

/** Edits of all pages by name, each with how often it comes. */
export const EDITS: readonly (readonly [name: string, often: number, edit: Edit])[] = [
  ["part", 9, parts],
  ["own side", 1, ownSide],
  ["drag", 6, drag],
  ["nudge", 4, nudge],
  ["fit", 3, fit],
  ["many boxes", 0.05, manyBoxes],
  ["arm", 4, arm],
  ["arm handle", 3, armHandle],
  ["drive", 3, drive],
  ["load", 4, load],
  ["take", 5, takeFromB],
  ["swap", 1, swap],
  ["copy", 1, copy],
  ["rename", 1, rename],
  ["open", 1.5, open],
  ["keep", 0.5, keep],
  ["track", 1, tracks],
  ["try as B", 1, tryAsB],
  ["undo", 4, undo],
  ["redo", 3, redo],
  ["look", 1, look],
];
