import { cornerOf } from "../../src/core/design/sides.ts";
import { JOINT_NAMES, type Load, SIDES } from "../../src/core/design/types.ts";
import { controlsOf } from "../../src/pages/axle/panels/fields.ts";
import { addBox, addOutline, addPoint, removePoint, removeWhole, setFit, setMustHold } from "../../src/pages/axle/state/fit-edits.ts";
import { controlWords, withControl } from "../../src/pages/axle/state/part-edits.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import type { Doc } from "../../src/state/document.ts";
import { withAt, withBump, withPedal } from "../../src/state/edit.ts";
import type { HandleId } from "../../src/view/handles.ts";
import type { FitHandleId } from "../../src/view/parts/fit.ts";
import { PARTS } from "../../src/view/pick.ts";
import { type Edit, numberFor, passes, someSide } from "./desk.ts";
import { look, redo, rename, undo } from "./document-edits.ts";
import { pick } from "./fuzzer.ts";

export const parts: Edit = ({ random, store }) => {
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
export const ownSide: Edit = ({ random, store }) => {
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

export const drag: Edit = (desk) => {
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

export const nudge: Edit = ({ random, store, dragging, clock }) => {
  const id = pick(random, handles(store.settled()));
  const key = pick(random, ARROWS);
  for (let n = random.whole(1, 3); n > 0; n--) {
    const held = { altKey: random.next() < 0.2, ctrlKey: false, metaKey: false, shiftKey: random.next() < 0.2 };
    dragging.key(id, { key, ...held, timeStamp: clock.now, preventDefault: () => {} } as KeyboardEvent);
  }
};

export const fit: Edit = ({ random, store }) => {
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
export const manyBoxes: Edit = ({ random, store }) => {
  const boxes = random.next() < 0.5;
  for (let n = random.whole(20, 52); n > 0; n--) if (store.act(boxes ? "add a box" : "add an outline", boxes ? addBox : addOutline) !== null) break;
};

export const load: Edit = ({ random, store }) => {
  const g = numberFor(random, { min: -1.2, max: 1.2, step: 0.01 }, { min: -3, max: 3 });
  const mm = numberFor(random, { min: -12, max: 12, step: 0.5 }, { min: -60, max: 60 });
  const withG = (d: Doc): Doc => ({ ...d, load: { ...d.load, lateralG: g } });
  const side = someSide(random);
  const pedal = pick(random, ["throttle", "brakeG"] as const);
  const pressed = numberFor(random, { min: 0, max: 1, step: 0.1 }, { min: 0, max: pedal === "throttle" ? 1 : 3 });
  switch (random.whole(0, 5)) {
    case 5:
      store.actMerged(`pedal.${pedal}`, `${pedal} to ${pressed}`, (d) => ({ ...d, load: withPedal(d.load, pedal, pressed) }));
      return;
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
