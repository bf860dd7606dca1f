import type { Scenario } from "../../core/design/types.ts";
import type { ChangesOptions } from "../../core/studies/changes.ts";
import type { CurveOptions } from "../../core/studies/curve-options.ts";
import type { DrivingSpeeds } from "../../core/studies/driving.ts";
import type { ChangeResult, Outcome } from "../../core/studies/rank-changes.ts";
import type { SpeedMap } from "../../core/studies/speed-map.ts";
import { carId } from "../../state/car-id.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import { type MapAreas, mapAreas } from "../../view/map/areas.ts";
import type { MapRange } from "../../view/map/frame.ts";
import type { RunsAnswer } from "../../worker/runs.ts";
import { connectStudies, type StudiesClient } from "../../worker/studies-client.ts";

/** points along each axis of the map */
const MAP_POINTS = 100;
/** quiet time before the changes are solved again, ms */
const CHANGES_AFTER_MS = 500;

interface MapSlot {
  scenario: Scenario | null;
  key: string;
  map: SpeedMap | null;
  areas: MapAreas | null;
  /** share of the work that is done; 1: the whole map */
  done: number;
  running: boolean;
}

interface ChangesSlot {
  key: string;
  scenario: Scenario | null;
  options: ChangesOptions | null;
  /** the design as it is */
  base: Outcome | null;
  /** every design solved so far */
  solved: readonly ChangeResult[];
  done: number;
  total: number;
  running: boolean;
  /** it was stopped by hand */
  stopped: boolean;
}

export interface MapStudies {
  /** the design, its rival, and the design with what its runs tell */
  slots: Record<"a" | "b" | "known", MapSlot>;
  changes: ChangesSlot;
  /** asks for a map when it is not the one at hand; the others wait until A is whole */
  map(which: keyof MapStudies["slots"], scenario: Scenario, range: MapRange, options: CurveOptions): void;
  askChanges(scenario: Scenario, options: ChangesOptions): void;
  /** speeds of a curve by how it is driven, once the map is whole; null: not known yet */
  drivings(scenario: Scenario, radiusM: number, options: CurveOptions): DrivingSpeeds | null;
  /** what the design's runs tell, once the map is whole; null: not known yet, or there are none */
  runs(scenario: Scenario): RunsAnswer | null;
  stopMap(): void;
  stopChanges(): void;
  /** asks anew what was stopped */
  goOn(): void;
  /** nobody looks: all long work ends */
  rest(): void;
}

const ids = new WeakMap<Scenario, number>();
let count = 0;
function idOf(s: Scenario): number {
  let id = ids.get(s);
  if (id === undefined) {
    id = ++count;
    ids.set(s, id);
  }
  return id;
}

const empty = (): MapSlot => ({ scenario: null, key: "", map: null, areas: null, done: 0, running: false });

let clients: { maps: StudiesClient; changes: StudiesClient } | null = null;

/** Says why an answer stays away; null: it does not. */
type Told = (model: StoppedModel | null) => void;

/** The long studies behind the speed map, each the newest of its kind. */
export function createMapStudies(onNew: () => void, stopped: { map: Told; changes: Told }): MapStudies {
  clients ??= { maps: connectStudies(), changes: connectStudies() };
  const { maps, changes: changer } = clients;
  maps.watch(stopped.map);
  changer.watch(stopped.changes);
  const slots = { a: empty(), b: empty(), known: empty() };
  const changes: ChangesSlot = { key: "", scenario: null, options: null, base: null, solved: [], done: 0, total: 0, running: false, stopped: false };
  let waiting: (() => void) | null = null;
  let timer = 0;
  let toldOnce = true;

  const map: MapStudies["map"] = (which, scenario, range, options) => {
    const slot = slots[which];
    const key = [
      carId(scenario),
      range.radiusM.join(),
      range.kmh,
      options.hand,
      options.shock,
      options.bumpLeftMm,
      options.bumpRightMm,
      options.throttle,
      options.brakeG,
    ].join();
    if (slot.key === key) return;
    if (which !== "a" && slots.a.running) return;
    // the road may change faster than a first picture takes: that one is shown before the next is begun
    if (which === "a" && slot.running && !toldOnce && slot.key.split(",")[0] === key.split(",")[0]) {
      waiting = () => map(which, scenario, range, options);
      return;
    }
    waiting = null;
    slot.key = key;
    slot.running = true;
    slot.done = 0;
    if (which === "a") toldOnce = false;
    maps.map(
      which,
      { scenario, options, radiusM: range.radiusM, kmh: range.kmh, count: MAP_POINTS },
      (answer, done) => {
        slot.scenario = scenario;
        slot.map = answer;
        slot.areas = which === "a" ? mapAreas(answer) : null;
        slot.done = done;
        if (which === "a") toldOnce = true;
        const next = which === "a" ? waiting : null;
        waiting = which === "a" ? null : waiting;
        next?.();
        onNew();
      },
      () => {
        slot.running = false;
        onNew();
      },
    );
  };

  const log: { asked: string; key: string; answer: RunsAnswer | null } = { asked: "", key: "", answer: null };
  const logKeys = new WeakMap<Scenario, string>();
  /** what the answer hangs on: the car, its runs, and how its values are known */
  const logKey = (s: Scenario): string => {
    let key = logKeys.get(s);
    if (key === undefined) {
      key = [carId(s), JSON.stringify(s.runs), JSON.stringify(s.origins)].join();
      logKeys.set(s, key);
    }
    return key;
  };

  const driven: { asked: string; key: string; speeds: DrivingSpeeds | null } = { asked: "", key: "", speeds: null };

  return {
    slots,
    changes,
    map,
    drivings(scenario, radiusM, { hand, shock, bumpLeftMm, bumpRightMm }) {
      const key = [carId(scenario), radiusM, hand, shock, bumpLeftMm, bumpRightMm].join();
      if (driven.asked !== key && !slots.a.running) {
        driven.asked = key;
        maps.drivings("drivings", { scenario, radiusM, options: { hand, shock, bumpLeftMm, bumpRightMm } }, (speeds) => {
          driven.key = key;
          driven.speeds = speeds;
          onNew();
        });
      }
      return driven.key === key ? driven.speeds : null;
    },
    runs(scenario) {
      if (scenario.runs.length === 0) return null;
      const key = logKey(scenario);
      if (log.asked !== key && !slots.a.running) {
        log.asked = key;
        maps.runs("runs", scenario, (answer) => {
          log.key = key;
          log.answer = answer;
          onNew();
        });
      }
      return log.key === key ? log.answer : null;
    },
    askChanges(scenario, options) {
      const { load } = options;
      const key = [
        idOf(scenario),
        options.radiusM,
        options.hand,
        options.shock,
        load.lateralG,
        load.bumpLeftMm,
        load.bumpRightMm,
        load.throttle,
        load.brakeG,
      ].join();
      if (changes.key === key) return;
      changes.key = key;
      window.clearTimeout(timer);
      changer.stop("changes");
      changes.running = true;
      changes.stopped = false;
      timer = window.setTimeout(() => {
        const found: ChangeResult[] = [];
        changes.done = 0;
        changes.total = 0;
        changer.changes(
          "changes",
          { scenario, options },
          (p) => {
            if (p.result) found.push(p.result);
            changes.done = p.done;
            changes.total = p.total;
            changes.scenario = scenario;
            changes.options = options;
            changes.base = p.base;
            changes.solved = [...found];
            onNew();
          },
          (report) => {
            changes.running = false;
            changes.scenario = scenario;
            changes.options = options;
            changes.base = report?.base ?? null;
            changes.solved = report?.solved ?? [];
            onNew();
          },
        );
      }, CHANGES_AFTER_MS);
    },
    stopMap() {
      maps.stop("a");
      maps.stop("b");
      maps.stop("known");
      for (const slot of Object.values(slots)) slot.running = false;
      onNew();
    },
    stopChanges() {
      window.clearTimeout(timer);
      changer.stop("changes");
      changes.running = false;
      changes.stopped = true;
      onNew();
    },
    goOn() {
      changes.key = "";
      onNew();
    },
    rest() {
      window.clearTimeout(timer);
      changer.stop("changes");
      maps.stop("a");
      maps.stop("b");
      maps.stop("known");
      maps.stop("drivings");
      maps.stop("runs");
      driven.asked = driven.key;
      log.asked = log.key;
    },
  };
}
