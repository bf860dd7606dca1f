import { samplingProgress } from "../../view/sampling-words.ts";
import "./styles/map.css";
import { pedals, plainLoad, pushes } from "../../core/design/load.ts";
import { pedalsOf } from "../../core/studies/driving.ts";
import { restsOn } from "../../core/studies/guesses.ts";
import { DRIVING_ACTS, drivenRows } from "./picture/driven.ts";
import "./styles/map-column.css";
import "./styles/drive.css";
import "./styles/runs.css";
import { tracksOf } from "../../core/cornering.ts";
import type { Scenario } from "../../core/design/types.ts";
import { withRuns } from "../../core/runs/take.ts";
import { curveOptions, handSign } from "../../core/studies/curve-options.ts";
import { rankChanges } from "../../core/studies/rank-changes.ts";
import type { SpeedMap } from "../../core/studies/speed-map.ts";
import { rangeOf } from "../../scenario/ranges.ts";
import { carId } from "../../state/car-id.ts";
import type { Doc } from "../../state/document.ts";
import { chosenTrack, type RoadView } from "../../state/road.ts";
import type { State, Store } from "../../state/store.ts";
import { sureSlice } from "../../state/sure.ts";
import { createMeasure } from "../../ui/overlay.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createStopped } from "../../ui/stopped.ts";
import { todayHere } from "../../ui/today.ts";
import { isNarrow } from "../../ui/widths.ts";
import { fixed } from "../../view/format.ts";
import { gAt, kmhAt, type MapFrame, mapRange, nearTrack } from "../../view/map/frame.ts";
import { pointWords, radiusWords, safeWords, sentence, tableRows } from "../../view/map/words.ts";
import { createMemo } from "../../view/marks.ts";
import { runPoints } from "../../view/runs/points.ts";
import { createMapDrive } from "./drive.ts";
import { createColumn } from "./panels/column.ts";
import { createPicture, type MapPhase } from "./panels/picture.ts";
import { createRunsBox } from "./panels/runs.ts";
import { createMapSheet } from "./panels/sheet.ts";
import { createMapSurePanel, type MapSureModel } from "./panels/sure.ts";
import { aimNow, aimOf, aimsOf, type ChangeRow, changeRow, littleOf, noHelp } from "./picture/change-rows.ts";
import { runsModel } from "./picture/runs-model.ts";
import { type MapDoubts, mapSureWords } from "./picture/sure-words.ts";
import { type MapView, mapSlice } from "./state/slice.ts";

import { createMapStudies } from "./studies.ts";
import { createMapSure } from "./sure.ts";

const SNAP_PX = 7;
const G_MOST = 2;
const TABLE_RADII_M = [2, 3, 4, 6, 8, 12, 20];

/** The load where the car stands; with no cornering it stands at the foot of the curve that is looked at. */
const onTheWay = (load: Doc["load"], hand: "left" | "right"): Doc["load"] => ({ ...load, lateralG: handSign(hand) * Math.abs(load.lateralG) });

const stoppedAt = (done: number, total: number): string => (total > 0 ? `stopped after ${done} of ${total}` : "stopped");

export function mountSpeedMap(region: HTMLElement, store: Store, help: PageHelp): { update(): void } {
  const memo = createMemo();
  const measure = createMeasure(document.documentElement);
  let scheduled = false;
  const again = (): void => {
    if (scheduled) return;
    scheduled = true;
    requestAnimationFrame(() => {
      scheduled = false;
      if (region.isConnected && store.get().view.page === "speedMap") update();
    });
  };
  const stopped = { map: createStopped(), changes: createStopped(), sure: createStopped() };
  const studies = createMapStudies(again, { map: stopped.map.update, changes: stopped.changes.update });
  const sure = createMapSure(again, stopped.sure.update);
  let allChanges = false;
  let radiusBefore: { radiusM: number | null; track: number } | null = null;

  const look = (patch: Partial<MapView>): void => store.setView(mapSlice.patched(store.get().view, patch));
  const setRoad = (patch: Partial<RoadView>): void => store.setView({ road: { ...store.get().view.road, ...patch } });
  const radiusOf = (s: State): number => chosenTrack(s.doc.a, s.view.road).radiusM;
  const handOf = (s: State): "left" | "right" => (s.doc.load.lateralG > 0 ? "left" : s.doc.load.lateralG < 0 ? "right" : mapSlice.of(s.view).hand);
  const placeName = (radiusM: number, kmh: number): string => `speed to ${fixed(kmh, 1)} km/h on ${radiusWords(radiusM)} m`;
  const standAt = (radiusM: number): void => {
    const track = tracksOf(store.get().doc.a).findIndex((t) => Math.abs(t.radiusM - radiusM) < 1e-9);
    setRoad(track >= 0 ? { track, radiusM: null } : { radiusM });
  };
  /** The load of a place; past the end of all hold it stops there. */
  const withG = (d: Doc, g: number): Doc => {
    const { map, scenario } = studies.slots.a;
    const end = map?.end && scenario && carId(scenario) === carId(d.a) ? Math.floor(map.end.atG * 100 + 1e-6) / 100 : G_MOST;
    return { ...d, load: { ...d.load, lateralG: handSign(handOf(store.get())) * Math.min(G_MOST, end, Math.round(g * 1e4) / 1e4) } };
  };

  const move = (radiusM: number, kmh: number, phase: MapPhase, f: MapFrame): void => {
    if (phase === "cancel") {
      store.cancel();
      if (radiusBefore) setRoad(radiusBefore);
      radiusBefore = null;
      help.say("put back");
      return;
    }
    const s = store.get();
    radiusBefore ??= { radiusM: s.view.road.radiusM, track: s.view.road.track };
    const r = nearTrack(f, Math.round(radiusM * 20) / 20, tracksOf(s.doc.a), SNAP_PX);
    const v = Math.round(kmh * 10) / 10;
    store.preview(withG(store.settled(), gAt(r, v)));
    standAt(r);
    if (phase === "end") {
      radiusBefore = null;
      const g = Math.abs(store.get().doc.load.lateralG);
      store.commit(placeName(r, kmhAt(r, g)));
      tellPlace();
    }
  };
  const tellPlace = (): void => {
    const s = store.get();
    const map = studies.slots.a.map;
    const r = radiusOf(s);
    if (map) help.say(pointWords(map, s.doc.a.corner, r, kmhAt(r, s.doc.load.lateralG)).join(". "));
  };
  const key = (e: KeyboardEvent): void => {
    const s = store.get();
    const range = mapRange(s.doc.a);
    const r = radiusOf(s);
    const v = kmhAt(r, s.doc.load.lateralG);
    const fine = e.shiftKey || e.altKey;
    const tracks = [...tracksOf(s.doc.a)].sort((a, b) => a.radiusM - b.radiusM);
    const up = { ArrowUp: fine ? 0.1 : 1, ArrowDown: fine ? -0.1 : -1, PageUp: 6, PageDown: -6 }[e.key];
    const across = { ArrowRight: fine ? 1.01 : 1.05, ArrowLeft: fine ? 1 / 1.01 : 1 / 1.05 }[e.key];
    const track =
      e.key === "Home" ? [...tracks].reverse().find((t) => t.radiusM < r - 1e-6) : e.key === "End" ? tracks.find((t) => t.radiusM > r + 1e-6) : undefined;
    if (up === undefined && across === undefined && !track) return;
    e.preventDefault();
    const nextR = track?.radiusM ?? Math.max(range.radiusM[0], Math.min(range.radiusM[1], Math.round(r * (across ?? 1) * 100) / 100));
    const nextV = Math.max(0, Math.min(range.kmh, Math.round((v + (up ?? 0)) * 10) / 10));
    store.actMerged("map.place", placeName(nextR, nextV), (d) => withG(d, gAt(nextR, nextV)));
    standAt(nextR);
    tellPlace();
  };

  const picture = createPicture(measure, { move, key, looked: help.say });
  const runsBox = createRunsBox(() => {
    const { doc } = store.get();
    const told = studies.runs(doc.a)?.told;
    if (!told) return;
    store.act("take what the runs tell", (d) => ({ ...d, a: withRuns(d.a, told, todayHere(), rangeOf) }));
    help.say("what the runs tell stands in the design");
  });
  const surePanel = createMapSurePanel(stopped.sure.el, {
    chance: (chancePercent) => store.setView(sureSlice.patched(store.get().view, { chancePercent })),
    stop: () => sure.stop(),
    again: () => sure.again(),
  });
  const column = createColumn(stopped.changes.el, runsBox.el, surePanel, {
    track: (index) => {
      const to = tracksOf(store.get().doc.a)[index];
      const s = store.get();
      const v = kmhAt(radiusOf(s), s.doc.load.lateralG);
      if (!to) return;
      if (s.doc.load.lateralG !== 0) store.act(placeName(to.radiusM, v), (d) => withG(d, gAt(to.radiusM, v)));
      standAt(to.radiusM);
    },
    keepTrack: () => {
      const r = radiusOf(store.get());
      store.act(`keep ${radiusWords(r)} m as a track`, (d) => ({ ...d, a: { ...d.a, tracks: [...d.a.tracks, { name: `${radiusWords(r)} m`, radiusM: r }] } }));
      standAt(r);
    },
    dropTrack: () => {
      const r = radiusOf(store.get());
      const gone = store.get().doc.a.tracks.find((t) => Math.abs(t.radiusM - r) < 1e-6);
      if (!gone) return;
      setRoad({ radiusM: r });
      store.act(`remove the track ${gone.name}`, (d) => ({ ...d, a: { ...d.a, tracks: d.a.tracks.filter((t) => t !== gone) } }));
    },
    driving: (driving) => store.act(DRIVING_ACTS[driving], (d) => ({ ...d, load: plainLoad({ ...d.load, ...pedalsOf(d.a, driving) }) })),
    shock: (shock) => setRoad({ shock }),
    aim: (aim) => look({ aim }),
    tryAsB: (row: ChangeRow) => {
      store.act(`try as B: ${row.title}`, (d) => ({ ...d, b: row.scenario }));
      help.say(`${row.title} stands as B`);
    },
    seeB: () => store.setView({ page: "axle" }),
    stopChanges: () => (studies.changes.running ? studies.stopChanges() : studies.goOn()),
    showAll: () => {
      allChanges = !allChanges;
      again();
    },
  });
  const sheet = createMapSheet(picture, column, stopped.map.el, {
    hand: (hand) => {
      look({ hand });
      if (store.get().doc.load.lateralG !== 0 && handOf(store.get()) !== hand)
        store.act(`turn to the ${hand}`, (d) => ({ ...d, load: { ...d.load, lateralG: handSign(hand) * Math.abs(d.load.lateralG) } }));
    },
    stop: () => studies.stopMap(),
  });
  const drive = createMapDrive(store, help.say, again);
  sheet.foot.prepend(drive.el);
  region.append(sheet.el);

  const stopListening = store.subscribe((s) => {
    if (s.view.page === "speedMap") return;
    studies.rest();
    sure.rest();
    stopListening();
  });

  const update = (): void => {
    const s = store.get();
    const { doc, view } = s;
    const spare = isNarrow();
    const hand = handOf(s);
    const range = memo("range", [doc.a.tracks, doc.a.drive, doc.a.corner.wheel], () => mapRange(doc.a));
    const road = { hand, shock: view.road.shock, bumpLeftMm: doc.load.bumpLeftMm, bumpRightMm: doc.load.bumpRightMm, ...pedals(doc.load) };
    studies.map("a", doc.a, range, road);
    studies.map("b", doc.b, range, road);
    const { a, b } = studies.slots;
    const radiusM = radiusOf(s);
    const g = Math.abs(doc.load.lateralG);
    const bob = { radiusM, kmh: kmhAt(radiusM, g) };
    const mapA: SpeedMap | null = a.map;
    const mapB = b.scenario && carId(b.scenario) === carId(doc.b) ? b.map : null;
    const log = s.dragging ? null : studies.runs(doc.a);
    const known = memo("known", [doc.a, log?.told], () => (log ? withRuns(doc.a, log.told, null, rangeOf) : doc.a));
    if (known !== doc.a) studies.map("known", known, range, road);
    const { known: slot } = studies.slots;
    const mapKnown = known !== doc.a && slot.scenario && carId(slot.scenario) === carId(known) ? slot.map : null;
    const runs = memo("runs", [doc.a.runs, hand], () => runPoints(doc.a.runs, hand));
    const stale = mapA === null || carId(a.scenario as Scenario) !== carId(doc.a) || mapA.options.hand !== hand;
    const question = { scenario: doc.a, radiusM, load: onTheWay(doc.load, hand), options: curveOptions(road), overM: range.radiusM };
    const doubts = sure.of(question);
    const tellingB = mapB === null && b.running;
    sure.ask(question, !s.dragging && !stale && !a.running, !tellingB && (!studies.changes.running || studies.changes.stopped));
    picture.update({
      scenario: doc.a,
      range,
      map: mapA,
      areas: a.areas,
      b: mapB,
      known: mapKnown,
      runs,
      doubts,
      bob,
      stale: stale && mapA !== null,
      dragging: s.dragging,
      spare,
    });
    if (!s.dragging && !stale) {
      const load = { ...doc.load };
      studies.askChanges(doc.a, { radiusM, hand, shock: view.road.shock, load, aim: aimOf(mapSlice.of(view).aim) });
    }
    const track = doc.a.tracks.find((t) => Math.abs(t.radiusM - radiusM) < 1e-6);
    const tracks = tracksOf(doc.a);
    const safe = memo("safe", [mapA, radiusM], () => (mapA ? safeWords(mapA, radiusM) : null));
    const safeB = memo("safe.b", [mapB, radiusM], () => (mapB ? safeWords(mapB, radiusM) : null));
    const driven = drivenRows(doc, s.dragging ? null : studies.drivings(doc.a, radiusM, road));
    column.update({
      radiusM,
      trackName: track?.name ?? "",
      tracks,
      safe,
      b: safeB,
      sentence: memo("sentence", [mapA, radiusM, doc.a.corner], () => (mapA ? sentence(mapA, doc.a.corner, radiusM) : "")),
      guesses: memo("guesses", [doc.a], () => restsOn(doc.a).length),
      stale: stale && mapA !== null,
      driven,
      shock: view.road.shock,
      motionShock: view.road.motionShock,
      changes: changesModel(s, radiusM),
    });
    const safeKnown = memo("safe.known", [mapKnown, radiusM], () => (mapKnown ? safeWords(mapKnown, radiusM) : null));
    runsBox.update(memo("runs.model", [doc.a, log, safe, safeKnown], () => runsModel(doc.a, log?.told ?? null, log?.contradictions ?? null, safe, safeKnown)));
    surePanel.update(sureModel(doubts, s, bob));
    drive.update(hand, radiusM, bob.kmh);
    const rows = memo("table", [mapA, mapB, doc.a], () => (mapA ? tableRows(doc.a, mapA, mapB, TABLE_RADII_M) : []));
    sheet.update({
      hand,
      shock: view.road.shock,
      driven: pushes(doc.load) ? (driven.find((r) => r.chosen)?.words ?? "") : "",
      bumps: doc.load.bumpLeftMm !== 0 || doc.load.bumpRightMm !== 0,
      progress: a.running ? { share: a.done, words: mapA === null ? "first picture" : "refining" } : null,
      rows,
      spare,
      end: mapA?.end && mapA.end.limit !== "sliding" ? mapA.end.message : "",
    });
    // what stands above the list has its height once the map is there
    if (mapSlice.of(view).toChanges && (mapA || !a.running)) {
      column.toChanges(spare);
      look({ toChanges: false });
    }
  };

  const sureModel = (doubts: MapDoubts, s: State, bob: { radiusM: number; kmh: number }): MapSureModel => {
    const { chancePercent } = sureSlice.of(s.view);
    return { ...mapSureWords(doubts, s.doc.a.corner, chancePercent, bob), chancePercent, progress: samplingProgress(sure.state()) };
  };
  const changesModel = (s: State, radiusM: number): Parameters<typeof column.update>[0]["changes"] => {
    const c = studies.changes;
    const scenario = s.doc.a;
    const aim = aimOf(mapSlice.of(s.view).aim);
    const told = c.options ?? { radiusM, load: s.doc.load };
    const g = fixed(Math.abs(told.load.lateralG), 2);
    const { base } = c;
    const rows = memo("rows", [c.solved, base, aim, g], () => (base ? rankChanges(c.solved, aim, base).map((r) => changeRow(r, aim, base, g)) : []));
    const used = base?.utilization ?? null;
    const waits = c.running && c.total === 0;
    return {
      rows,
      total: c.total,
      b: s.doc.b,
      now: aimNow(aim, base, scenario, radiusWords(told.radiusM), g),
      aim,
      aims: memo("aims", [used, scenario.corner, aim], () => aimsOf(scenario, used, aim)),
      progress: c.running
        ? waits
          ? "solving every single change"
          : `${c.done} of ${c.total} tried`
        : c.stopped
          ? stoppedAt(c.done, c.total)
          : rows.length === 0
            ? "after the map"
            : "",
      act: c.running ? "stop" : c.stopped ? "go on" : "",
      share: c.total > 0 ? c.done / c.total : 0,
      stale: c.scenario !== null && c.scenario !== scenario,
      all: allChanges,
      little: littleOf(aim),
      note: c.running || c.stopped ? "" : noHelp(rows),
    };
  };
  return { update };
}
