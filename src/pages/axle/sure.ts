import type { AxleReport } from "../../core/analysis.ts";
import { curveRadiusM, speedInCurve } from "../../core/cornering.ts";
import { alike } from "../../core/design/alike.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import { USUAL_DRAW } from "../../core/doubt/usual.ts";
import { carId } from "../../state/car-id.ts";
import type { Store } from "../../state/store.ts";
import { CHANCES, sureSlice } from "../../state/sure.ts";
import type { Doubts } from "../../view/doubt-words.ts";
import type { PartName } from "../../view/pick.ts";
import { type BandsQuestion, connectDoubt } from "../../worker/doubt-client.ts";
import { createSampling, type SamplingQuestion } from "../../worker/doubt-sampling.ts";
import type { SamplesTold } from "../../worker/doubt-told.ts";
import { createSurePanel } from "./panels/sure-panel.ts";
import { curveOf, doubtsOf, type FirstOrder, sureModel } from "./picture/sure-model.ts";
import { whenQuiet } from "./when-quiet.ts";

export interface SureHooks {
  store: Store;
  /** the column that it stands in */
  reading: HTMLElement;
  radiusM(): number;
  /** whether the axle's sheet is seen */
  seen(): boolean;
  /** shows where it is told how a value is known */
  open(path: string, part: PartName): void;
  /** something newer is told: another frame must come */
  onNew(): void;
}

/** How sure the answer at hand is. Worked out beside the page: while a hand drags what was told last stands about the values at hand. */
export interface Sure {
  /** the doubts of this frame; asks for newer ones while a hand drags */
  of(scenario: Scenario, load: Load, inHand: boolean): Doubts | null;
  /** counts what is new of what the panel shows */
  version(): number;
  /** the panel is within the window */
  inSight(): boolean;
  /** a sample is at work */
  busy(): boolean;
  /** @param safeKmh null: not known yet, or nothing gives */
  write(report: AxleReport, safeKmh: number | null): void;
}

/** a hand that goes on is not kept waiting by it, ms: first what is quick, then sampling */
const QUIET_MS = 500;
const SAMPLE_AFTER_MS = 1000;
/** of so many questions of a drag one is for the safe speed, which costs as much as the rest together */
const SAFE_EVERY = 3;

interface Told extends FirstOrder {
  of: BandsQuestion;
}

/** The same car, its values known alike, on the same curve under the same load. */
const same = (a: BandsQuestion, b: BandsQuestion): boolean =>
  a.radiusM === b.radiusM && alike(a.load, b.load) && carId(a.scenario) === carId(b.scenario) && alike(a.scenario.origins, b.scenario.origins);

export function createSure(hooks: SureHooks): Sure {
  const { store } = hooks;
  const panel = createSurePanel(hooks.reading, {
    open: hooks.open,
    turnTo: (of) => store.setView(sureSlice.patched(store.get().view, { of })),
    chance: (chancePercent) => store.setView(sureSlice.patched(store.get().view, { chancePercent })),
    stopSampling: () => sampling.stop(),
    sampleAgain: () => sampling.again(),
  });
  let first: Told | null = null;
  let asked: BandsQuestion | null = null;
  let version = 0;
  let turn = 0;
  const news = (): void => {
    version++;
    hooks.onNew();
  };
  const client = connectDoubt((of, answer) => {
    const before = first?.of.scenario.name === of.scenario.name ? first : null;
    // what is dear to tell stands as it was while a hand drags
    first = {
      of,
      sd: new Map([...(before?.sd ?? []), ...(answer.sd ?? [])]),
      safe: answer.safe ?? before?.safe ?? null,
      rows: answer.rows ?? before?.rows ?? null,
    };
    news();
  });
  client.watch(panel.stopped);
  const sampling = createSampling(client, news);
  sampling.watch(panel.samplingStopped);

  const question = (scenario: Scenario, load: Load, inHand: BandsQuestion["inHand"]): BandsQuestion => ({
    scenario,
    load,
    radiusM: hooks.radiusM(),
    options: curveOf(load),
    inHand,
  });
  const now = (): BandsQuestion => question(store.get().doc.a, store.get().doc.load, null);
  const idle = (): boolean => !store.get().dragging && hooks.seen() && document.visibilityState === "visible";
  /** the question that the present sample is of */
  let sampled: { of: BandsQuestion; key: string } | null = null;
  let count = 0;

  const askFirst = (): void => {
    if (!idle()) return;
    const q = now();
    if (asked && asked.inHand === null && same(asked, q)) return;
    asked = q;
    client.bands(q);
  };
  const askSample = (): void => {
    if (!idle()) return;
    const q = now();
    if (!sampled || !same(sampled.of, q)) sampled = { of: q, key: String(++count) };
    sampling.ask(sampled.key, samplingOf(q));
  };
  const endStale = (): void => {
    if (sampling.state().kind === "running" && sampled && (!hooks.seen() || !same(sampled.of, now()))) sampling.end();
  };
  whenQuiet(store, QUIET_MS, endStale, askFirst);
  whenQuiet(store, SAMPLE_AFTER_MS, () => undefined, askSample);

  /** the sample of just this moment */
  const sampleNow = (scenario: Scenario, load: Load): SamplesTold | null =>
    sampled && sampled.of.scenario === scenario && sampled.of.radiusM === hooks.radiusM() && alike(sampled.of.load, load) ? sampling.of(sampled.key) : null;
  let shown: { first: Told | null; sample: SamplesTold | null; percent: number; doubts: Doubts | null } | null = null;

  return {
    version: () => version,
    inSight: panel.inSight,
    busy: () => sampling.state().kind === "running",
    of(scenario, load, inHand) {
      if (inHand) {
        asked = question(scenario, load, turn++ % SAFE_EVERY === SAFE_EVERY - 1 ? "safe" : "answer");
        client.bands(asked);
      }
      // of another car nothing is known yet
      const told = first?.of.scenario.name === scenario.name ? first : null;
      const sample = inHand ? null : sampleNow(scenario, load);
      const { chancePercent } = sureSlice.of(store.get().view);
      if (shown?.first !== told || shown.sample !== sample || shown.percent !== chancePercent)
        shown = { first: told, sample, percent: chancePercent, doubts: told && doubtsOf(told, sample, chancePercent) };
      return shown.doubts;
    },
    write(report, safeKmh) {
      const { doc, view } = store.get();
      panel.update(sureModel(doc.a, report, safeKmh, shown ?? { first: null, sample: null, doubts: null }, sampling.state(), sureSlice.of(view)));
    },
  };
}

const samplingOf = ({ scenario, load, radiusM, options }: BandsQuestion): SamplingQuestion => ({
  scenario,
  ...USUAL_DRAW,
  curve: { radiusM, overM: null, options },
  at: { load, speedMps: speedInCurve(load.lateralG, curveRadiusM(scenario, radiusM)), shock: 1 },
  chances: CHANCES.map((percent) => percent / 100),
  lines: [],
});
