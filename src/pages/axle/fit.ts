import type { Store } from "../../state/store.ts";
import { type FitHandleId, fitPart, isFitHandle, tightestResult, tightestWords } from "../../view/parts/fit.ts";
import type { Drawn } from "../../view/scene.ts";
import { createFitPanel } from "./panels/fit-panel.ts";
import {
  addBox,
  addOutline,
  addPoint,
  fitMoveName,
  fitWordsOf,
  mustHoldWords,
  removePoint,
  removeWhole,
  setEdge,
  setFit,
  setMustHold,
  setPoint,
  setWhole,
} from "./state/fit-edits.ts";

export interface FitDesk {
  /** a point of the fit was taken in hand or has the focus */
  choose(id: string | null): void;
  /** Delete takes a point away, Insert puts one after it; true when the key was one of them */
  key(id: string, e: KeyboardEvent): boolean;
}

export interface FitHooks {
  store: Store;
  drawing: HTMLElement;
  say(text: string): void;
  focus(id: FitHandleId): void;
  drawn(): Drawn | null;
}

/** Outlines and boxes of a body that must not change: the row that adds and removes them, and the point that is chosen. */
export function createFit(hooks: FitHooks): FitDesk {
  const { store } = hooks;
  let chosen: FitHandleId | null = null;

  const nameOf = (id: FitHandleId): string => {
    const part = fitPart(id);
    const { fit } = store.settled().a;
    return (part.kind === "outline" ? fit.outlines[part.index]?.name : fit.keepOut[part.index]?.name) ?? "";
  };
  /** the handle exists only after the next frame has drawn it */
  const focusSoon = (id: FitHandleId): void => {
    chosen = id;
    requestAnimationFrame(() => requestAnimationFrame(() => hooks.focus(id)));
  };
  const insert = (id: FitHandleId): void => {
    const part = fitPart(id);
    if (part.kind !== "outline") return;
    const name = `add a point to ${nameOf(id)}`;
    store.act(name, (d) => addPoint(d, id));
    hooks.say(name);
    focusSoon(`fit.o.${part.index}.${part.point + 1}`);
  };
  const remove = (id: FitHandleId, whole: boolean): void => {
    const name = `remove ${whole ? "" : "a point of "}${nameOf(id)}`;
    chosen = null;
    store.act(name, (d) => (whole ? removeWhole(d, id) : removePoint(d, id)));
    hooks.say(name);
  };
  const ofChosen = (run: (id: FitHandleId) => void) => (): void => {
    if (chosen) run(chosen);
  };
  const panel = createFitPanel({
    addOutline: () => {
      store.act("add an outline", addOutline);
      focusSoon(`fit.o.${store.settled().a.fit.outlines.length - 1}.0`);
    },
    addBox: () => {
      store.act("add a box that stays free", addBox);
      focusSoon(`fit.b.${store.settled().a.fit.keepOut.length - 1}.1`);
    },
    addPoint: ofChosen(insert),
    removePoint: ofChosen((id) => remove(id, false)),
    removeWhole: ofChosen((id) => remove(id, true)),
    number: (key, mm) => store.actMerged(`fit.${key}`, `${fitWordsOf(key)} to ${mm} mm`, (d) => setFit(d, key, mm)),
    point: (key, mm) => ofChosen((id) => void store.actMerged(`${id}.${key}`, `${fitMoveName(store.settled(), id)} moved`, (d) => setPoint(d, id, key, mm)))(),
    edge: (edge, mm) =>
      ofChosen((id) => void store.actMerged(`${id}.${edge}`, `${nameOf(id)}, an edge moved`, (d) => setEdge(d, fitPart(id).index, edge, mm)))(),
    whole: (patch, words) => ofChosen((id) => void store.act(`${nameOf(id)}: ${words}`, (d) => setWhole(d, id, patch)))(),
    mustHold: (on) => store.act(mustHoldWords(on), (d) => setMustHold(d, on)),
  });
  hooks.drawing.after(panel.el);
  const update = (): void => {
    const s = store.get();
    const drawn = hooks.drawn();
    const found = drawn && s.view.show.fit ? tightestResult(drawn.report.limits) : null;
    const words = found?.place && drawn ? tightestWords(found) : null;
    panel.update({ open: s.view.show.fit === true, scenario: s.doc.a, chosen, tightest: words ? `tightest: ${found?.wheel} ${words.join(", ")}` : "" });
  };
  let waiting = false;
  const soon = (): void => {
    panel.el.hidden = store.get().view.show.fit !== true;
    if (waiting) return;
    waiting = true;
    // the frame that answers a change comes first
    requestAnimationFrame(() =>
      requestAnimationFrame(() => {
        waiting = false;
        update();
      }),
    );
  };
  store.subscribe(soon);
  soon();

  return {
    choose(id) {
      if (!id || !isFitHandle(id) || id === chosen) return;
      chosen = id;
      update();
    },
    key(id, e) {
      if (!isFitHandle(id) || (e.key !== "Delete" && e.key !== "Insert")) return false;
      e.preventDefault();
      if (e.key === "Insert") insert(id);
      else remove(id, fitPart(id).kind === "box");
      return true;
    },
  };
}
