import { speedInCurve } from "../../core/cornering.ts";
import { alike } from "../../core/design/alike.ts";
import type { Load, Scenario } from "../../core/design/types.ts";
import { USUAL_DRAW } from "../../core/doubt/usual.ts";
import type { CurveOptions } from "../../core/studies/curve-options.ts";
import { carId } from "../../state/car-id.ts";
import { CHANCES } from "../../state/sure.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import { connectDoubt, type DoubtClient } from "../../worker/doubt-client.ts";
import { createSampling, type Sampling, type SamplingState } from "../../worker/doubt-sampling.ts";
import { BAND, DRAWN } from "./picture/chance-lines.ts";
import type { MapDoubts } from "./picture/sure-words.ts";

/** What the map asks: a design on its curves, and at the place where the car stands. */
interface MapSureQuestion {
  scenario: Scenario;
  radiusM: number;
  load: Load;
  options: CurveOptions;
  overM: readonly [number, number];
}

export interface MapSure {
  /** what is known of just this question; lines and ± of a moment ago stand while a place moves */
  of(q: MapSureQuestion): MapDoubts;
  state(): SamplingState;
  /** asks for what is not known, a while after the last change; @param idle no hand moves, and the map is whole @param free nothing else is at work: cars may be drawn */
  ask(q: MapSureQuestion, idle: boolean, free: boolean): void;
  stop(): void;
  again(): void;
  /** nobody looks */
  rest(): void;
}

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 1000;

/** One client and one sampler for as long as the program runs, whoever looks at the map now. */
interface Shared {
  client: DoubtClient;
  sampling: Sampling;
  first: { of: MapSureQuestion; told: MapDoubts["first"] } | null;
  askedFirst: MapSureQuestion | null;
  sampled: { of: MapSureQuestion; key: string } | null;
  /** whose sample is whole */
  whole: { of: MapSureQuestion; key: string } | null;
  count: number;
  onNew(): void;
}
let shared: Shared | null = null;

function begun(): Shared {
  if (shared) return shared;
  const client = connectDoubt((_, told) => {
    if (!shared) return;
    if (shared.askedFirst) shared.first = { of: shared.askedFirst, told: told.safe };
    shared.onNew();
  });
  const sampling = createSampling(client, () => shared?.onNew());
  shared = { client, sampling, first: null, askedFirst: null, sampled: null, whole: null, count: 0, onNew: () => undefined };
  return shared;
}

const sameCar = (a: MapSureQuestion, b: MapSureQuestion): boolean =>
  carId(a.scenario) === carId(b.scenario) && alike(a.scenario.origins, b.scenario.origins) && alike(a.options, b.options) && alike(a.overM, b.overM);
const same = (a: MapSureQuestion, b: MapSureQuestion): boolean => a.radiusM === b.radiusM && alike(a.load, b.load) && sameCar(a, b);

export function createMapSure(onNew: () => void, stopped: (model: StoppedModel | null) => void): MapSure {
  const k = begun();
  k.onNew = onNew;
  k.sampling.watch(stopped);
  let timer = 0;
  let waits: MapSureQuestion | null = null;

  const first = (q: MapSureQuestion): void => {
    const { scenario, load, radiusM, options } = q;
    if (k.askedFirst && sameCar(k.askedFirst, q) && k.askedFirst.radiusM === radiusM) return;
    k.askedFirst = q;
    k.client.bands({ scenario, load, radiusM, options, inHand: "safe" });
  };
  const begin = (): void => {
    const q = waits;
    waits = null;
    if (!q) return;
    const { scenario, load, radiusM, options, overM } = q;
    k.sampled = { of: q, key: String(++k.count) };
    k.sampling.ask(k.sampled.key, {
      scenario,
      ...USUAL_DRAW,
      curve: { radiusM, overM, options },
      at: { load, speedMps: speedInCurve(load.lateralG, radiusM), shock: options.shock },
      chances: CHANCES.map((percent) => percent / 100),
      lines: [...DRAWN, ...BAND],
    });
  };

  return {
    of(q) {
      if (k.sampled && k.sampling.of(k.sampled.key)) k.whole = k.sampled;
      const sample = k.whole && sameCar(k.whole.of, q) ? k.sampling.of(k.whole.key) : null;
      const first = k.first && sameCar(k.first.of, q) && k.first.of.radiusM === q.radiusM ? k.first.told : null;
      // lines belong to the car; what is told of a place is that place's own
      return { first, lines: sample?.told.safe?.lines ?? null, here: sample && k.whole && same(k.whole.of, q) ? sample : null };
    },
    state: k.sampling.state,
    ask(q, idle, free) {
      if (idle) first(q);
      if (k.sampled && same(k.sampled.of, q) && k.sampling.state().kind !== "none") return;
      if (k.sampled && !same(k.sampled.of, q)) k.sampling.end();
      if (!idle || !free) {
        window.clearTimeout(timer);
        waits = null;
        return;
      }
      if (waits && same(waits, q)) return;
      waits = q;
      window.clearTimeout(timer);
      timer = window.setTimeout(begin, QUIET_MS);
    },
    stop: k.sampling.stop,
    again: k.sampling.again,
    rest() {
      window.clearTimeout(timer);
      waits = null;
      k.sampling.end();
    },
  };
}
