import type { AxleReport } from "../../core/analysis.ts";
import { alike } from "../../core/design/alike.ts";
import { pedals } from "../../core/design/load.ts";
import { guesses } from "../../core/design/origins.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import type { OutputKey } from "../../core/doubt/outputs.ts";
import type { CurveOptions } from "../../core/studies/curve-options.ts";
import { restsOn } from "../../core/studies/guesses.ts";
import { mpsToKmh } from "../../core/units.ts";
import { carId } from "../../state/car-id.ts";
import type { Store } from "../../state/store.ts";
import { sureSlice } from "../../state/sure.ts";
import type { Doubts } from "../../view/doubt-words.ts";
import type { PartName } from "../../view/pick.ts";
import { outerSide } from "../../view/poses.ts";
import type { BandsTold, SafeSpread } from "../../worker/doubt-bands.ts";
import { type BandsQuestion, connectBands } from "../../worker/doubt-bands-client.ts";
import { createSurePanel } from "./panels/sure-panel.ts";
import { choiceWords, sureInputs, sureNumbers } from "./picture/sure-rows.ts";
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
  /** @param safeKmh null: not known yet, or nothing gives */
  write(report: AxleReport, safeKmh: number | null): void;
}

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 500;
/** of so many questions of a drag one is for the safe speed, which costs as much as the rest together */
const SAFE_EVERY = 3;

interface Told {
  of: BandsQuestion;
  sd: ReadonlyMap<OutputKey, number>;
  safe: SafeSpread | null;
  rows: NonNullable<BandsTold["rows"]> | null;
}

/** The same car, its values known alike, on the same curve under the same load. */
const same = (a: BandsQuestion, b: BandsQuestion): boolean =>
  a.radiusM === b.radiusM && alike(a.load, b.load) && carId(a.scenario) === carId(b.scenario) && alike(a.scenario.origins, b.scenario.origins);

export function createSure(hooks: SureHooks): Sure {
  const { store } = hooks;
  const panel = createSurePanel(hooks.reading, {
    open: hooks.open,
    turnTo: (of) => store.setView(sureSlice.patched(store.get().view, { of })),
  });
  let told: Told | null = null;
  let asked: BandsQuestion | null = null;
  let version = 0;
  let turn = 0;
  const client = connectBands((of, answer) => {
    const before = told && told.of.scenario.name === of.scenario.name ? told : null;
    // what is dear to tell stands as it was while a hand drags
    told = {
      of,
      sd: new Map([...(before?.sd ?? []), ...(answer.sd ?? [])]),
      safe: answer.safe ?? before?.safe ?? null,
      rows: answer.rows ?? before?.rows ?? null,
    };
    doubts = doubtsOf(told);
    version++;
    hooks.onNew();
  });
  client.watch(panel.stopped);
  let doubts: Doubts | null = null;

  const question = (scenario: Scenario, load: Load, inHand: BandsQuestion["inHand"]): BandsQuestion => ({
    scenario,
    load,
    radiusM: hooks.radiusM(),
    options: curveOf(load),
    inHand,
  });
  const ask = (): void => {
    const { dragging, doc } = store.get();
    if (dragging || !hooks.seen()) return;
    const q = question(doc.a, doc.load, null);
    if (asked && asked.inHand === null && same(asked, q)) return;
    asked = q;
    client.ask(q);
  };
  whenQuiet(store, QUIET_MS, () => undefined, ask);

  return {
    version: () => version,
    of(scenario, load, inHand) {
      if (inHand) {
        asked = question(scenario, load, turn++ % SAFE_EVERY === SAFE_EVERY - 1 ? "safe" : "answer");
        client.ask(asked);
      }
      // of another car nothing is known yet
      return told?.of.scenario.name === scenario.name ? doubts : null;
    },
    write(report, safeKmh) {
      const { doc, view } = store.get();
      const { of } = sureSlice.of(view);
      const now = told?.of.scenario.name === doc.a.name ? told : null;
      const rows = now?.rows?.[of === "safe" ? "safe" : outerSide(report.lateralG)] ?? null;
      const choices = choiceWords(doc.a);
      panel.update({
        guesses: restsOn(doc.a).length,
        measured: Object.keys(doc.a.origins).length - guesses(doc.a).length,
        numbers: sureNumbers(report, safeKmh, now && doubts),
        way: now ? "To first order: as if the answer went straight on from here." : "Working out how far each number may be off.",
        of,
        inputs: rows && sureInputs(doc.a, rows),
        rest: [of === "safe" && now?.safe?.why ? NO_SLOPE[now.safe.why] : "", choices].filter(Boolean).join(" "),
      });
    },
  };
}

/** why the safe speed has no band of first order */
const NO_SLOPE = {
  ends: "The safe speed ends where the axle finds no hold: nothing tells of it to first order.",
  jumps: "At the safe speed a part falls over in its play: nothing tells of it to first order.",
} as const;

const doubtsOf = (t: Told): Doubts => ({ sd: t.sd, safeSdKmh: t.safe?.sdMps == null ? null : mpsToKmh(t.safe.sdMps), sampled: null });

/** The curve as the load drives it. */
const curveOf = (load: Load): Partial<CurveOptions> => ({
  hand: load.lateralG < 0 ? "right" : "left",
  bumpLeftMm: load.bumpLeftMm,
  bumpRightMm: load.bumpRightMm,
  ...pedals(load),
});
