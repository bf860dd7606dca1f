import { curveRadiusM, speedInCurve } from "../../core/cornering.ts";
import { alike } from "../../core/design/alike.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import type { PairedTold } from "../../core/doubt/paired.ts";
import { USUAL_DRAW } from "../../core/doubt/usual.ts";
import { carId } from "../../state/car-id.ts";
import type { Store } from "../../state/store.ts";
import { betterLines } from "../../view/better-words.ts";
import { connectPaired } from "../../worker/doubt-paired-client.ts";
import { createBetter } from "./panels/better.ts";
import { curveOf } from "./picture/sure-model.ts";
import { whenQuiet } from "./when-quiet.ts";

export interface RivalHooks {
  store: Store;
  /** the section of A against B that it ends the table of */
  within: Element;
  radiusM(): number;
  /** whether the axle's sheet is seen */
  seen(): boolean;
  /** whether another sample is at work: they take turns */
  busy(): boolean;
}

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 1000;
/** it looks so often whether the other sample has ended, ms */
const LOOK_MS = 500;

interface Question {
  a: Scenario;
  b: Scenario;
  load: Load;
  radiusM: number;
}

const sameCar = (x: Scenario, y: Scenario): boolean => carId(x) === carId(y) && alike(x.origins, y.origins);
const same = (x: Question, y: Question): boolean => x.radiusM === y.radiusM && alike(x.load, y.load) && sameCar(x.a, y.a) && sameCar(x.b, y.b);

/** The chance that B is better than A, both in the same cars. Worked out while the comparison is in sight and the hand rests. */
export function createRival(hooks: RivalHooks): void {
  const { store } = hooks;
  const panel = createBetter(hooks.within, { stop: () => stop(), again: () => begin() });
  const client = connectPaired();
  client.watch(panel.stopped);
  let inSight = false;
  let asked: Question | null = null;
  let told: { of: Question; told: PairedTold | null } | null = null;
  let running: { share: number } | null = null;
  let byHand = false;
  let timer = 0;

  const now = (): Question => {
    const { doc } = store.get();
    return { a: doc.a, b: doc.b, load: doc.load, radiusM: hooks.radiusM() };
  };
  const write = (): void => {
    const q = now();
    const known = told && same(told.of, q) ? told.told : null;
    panel.update({
      lines: known ? betterLines(known) : [],
      progress: running ? { share: running.share, act: "stop" } : byHand ? { share: 0, act: "go on" } : null,
      alike: sameCar(q.a, q.b),
    });
  };
  const begin = (): void => {
    const q = now();
    const { a, b, load, radiusM } = q;
    asked = q;
    byHand = false;
    running = { share: 0 };
    client.ask(
      {
        a,
        b,
        ...USUAL_DRAW,
        curve: { radiusM, overM: null, options: curveOf(load) },
        at: { load, speedMps: speedInCurve(load.lateralG, curveRadiusM(a, radiusM)), shock: 1 },
      },
      (share) => {
        running = { share };
        write();
      },
      (answer) => {
        running = null;
        told = { of: q, told: answer };
        write();
      },
    );
    write();
  };
  const stop = (): void => {
    client.stop();
    running = null;
    byHand = true;
    write();
  };
  /** what is at work and not asked any more ends; what is told is of what is shown, or nothing is */
  const endStale = (): void => {
    if (asked && (!hooks.seen() || !same(asked, now()))) {
      if (running) client.stop();
      asked = null;
      running = null;
      byHand = false;
    }
    write();
  };
  const ask = (): void => {
    window.clearTimeout(timer);
    if (!inSight || store.get().dragging || !hooks.seen() || document.visibilityState !== "visible") return;
    const q = now();
    if (sameCar(q.a, q.b) || (asked && same(asked, q)) || (told && same(told.of, q))) return;
    if (hooks.busy()) {
      timer = window.setTimeout(ask, LOOK_MS);
      return;
    }
    begin();
  };
  new IntersectionObserver((entries) => {
    inSight = entries.at(-1)?.isIntersecting ?? false;
    window.clearTimeout(timer);
    if (inSight) timer = window.setTimeout(ask, QUIET_MS);
  }).observe(hooks.within);
  whenQuiet(store, QUIET_MS, endStale, ask);
}
