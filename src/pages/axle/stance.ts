import type { Scenario } from "../../core/design/types.ts";
import { packedAsDrawn, type Stance, stanceOf } from "../../core/studies/ride-height.ts";
import type { Store } from "../../state/store.ts";
import { h, setText } from "../../ui/dom.ts";
import { stanceWords } from "../../view/stance.ts";
import { whenQuiet } from "./when-quiet.ts";

export interface StanceHooks {
  store: Store;
  /** the section that it ends */
  within: Element;
  /** whether the axle's sheet is seen */
  seen(): boolean;
  say(text: string): void;
}

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 200;

const same = (a: Scenario, b: Scenario): boolean =>
  a.corner === b.corner && a.left === b.left && a.right === b.right && a.body === b.body && a.antiRollBar === b.antiRollBar;

/** How high the car stands at rest against how it is drawn, with the packing that makes it stand there as one press. Worked out when the hand rests. */
export function createStance(hooks: StanceHooks): void {
  const { store } = hooks;
  const stands = h("span");
  const button = h("button", { type: "button", class: "link", "data-act": "pack-springs", onclick: () => pack() });
  const rest = h("span");
  const el = h("p", { class: "stands" }, stands, button, rest);
  hooks.within.append(el);
  let last: { scenario: Scenario; stance: Stance | null } | null = null;

  const pack = (): void => {
    const s = store.settled().a;
    if (!last?.stance || !same(last.scenario, s)) return;
    const next = packedAsDrawn(s, last.stance);
    const { act } = stanceWords(s, last.stance);
    if (!next || !act) return;
    store.act(act, (d) => ({ ...d, a: packedAsDrawn(d.a, last?.stance as Stance) ?? d.a }));
    hooks.say(act);
  };
  const write = (): void => {
    const s = store.get().doc.a;
    // what is told is of the car that is shown, or nothing is
    const now = last && same(last.scenario, s) ? last : null;
    el.classList.toggle("waits", !now);
    if (!now) return;
    el.hidden = !now.stance;
    if (!now.stance) return;
    const { sentence, act } = stanceWords(s, now.stance);
    const [before = "", behind = ""] = act ? sentence.split(act) : [sentence];
    setText(stands, before);
    setText(button, act ?? "");
    button.hidden = !act;
    setText(rest, behind);
  };
  const ask = (): void => {
    const { dragging, doc } = store.get();
    if (dragging || !hooks.seen()) return;
    if (!last || !same(last.scenario, doc.a)) last = { scenario: doc.a, stance: stanceOf(doc.a) };
    write();
  };
  whenQuiet(store, QUIET_MS, write, ask);
}
