import type { LimitName } from "../../core/analysis.ts";
import { pedals } from "../../core/design/load.ts";
import type { BenchKind } from "../../core/design/tried.ts";
import type { V2 } from "../../core/vec.ts";
import type { Drawing } from "../../draw/stage.ts";
import { listenPointers } from "../../input/dom.ts";
import { rangeOf } from "../../scenario/ranges.ts";
import { type Answers, createAnswers } from "../../state/answers.ts";
import type { Doc } from "../../state/document.ts";
import { withBump, withPedal } from "../../state/edit.ts";
import { createWithinHold, type LoadPhase, pullLoad } from "../../state/load-end.ts";
import { chosenTrack } from "../../state/road.ts";
import type { Store } from "../../state/store.ts";
import { createNotice } from "../../ui/notice.ts";
import { createMeasure, createOverlay } from "../../ui/overlay.ts";
import { saveChart } from "../../ui/save-chart.ts";
import { createShelfHand } from "../../ui/shelf-hand.ts";
import { createStopped } from "../../ui/stopped.ts";
import { todayHere } from "../../ui/today.ts";
import { isNarrow } from "../../ui/widths.ts";
import { projector } from "../../view/camera.ts";
import { degrees, fixed } from "../../view/format.ts";
import { pick } from "../../view/handles.ts";
import { howOf, knownName } from "../../view/origin-words.ts";
import { isFitHandle } from "../../view/parts/fit.ts";
import type { PartName } from "../../view/pick.ts";
import { PARTS, partAt } from "../../view/pick.ts";
import { outerSide } from "../../view/poses.ts";
import { createScene } from "../../view/scene.ts";
import { connectBeside } from "../../worker/beside-client.ts";
import { connectSearch } from "../../worker/search-client.ts";
import { createAnswersBeside } from "./answers-beside.ts";
import { createCurves } from "./curves.ts";
import { createDragging } from "./dragging.ts";
import { createFit } from "./fit.ts";
import { createFrame, type Surround } from "./frame.ts";
import { createDrawer } from "./panels/drawer.ts";
import { createLoads } from "./panels/loads.ts";
import { createParams } from "./panels/params.ts";
import { createReading } from "./panels/reading.ts";
import { createSwitches } from "./panels/switches.ts";
import type { AxleRegions } from "./regions.ts";
import { createRival } from "./rival.ts";
import { createSheet } from "./sheet-camera.ts";
import { createStance } from "./stance.ts";
import { pathsOf, withKnownAs } from "./state/known-edits.ts";
import { controlWords, withControl } from "./state/part-edits.ts";
import { createSure } from "./sure.ts";

const TOUCH_REACH_PX = 26;
/** how long the page itself searches for how a car stands, ms: a usual car takes a twentieth of it, a slow or busy machine its time */
const PATIENCE_MS = { hand: 300, live: 1000, full: 1000 };
/** how much nearer a pressed part comes on a narrow sheet */
const TAP_ZOOM = 1.9;

export interface AxleHooks {
  surround: Surround;
  say(text: string): void;
  swap(): void;
  copyAToB(): void;
  takeFromB(path: string): void;
  /** to the list of single changes, for less lean, more safe speed or more margin of a limit */
  whatToChange(aim: "lean" | "speed" | LimitName): void;
  toBench(kind: BenchKind): void;
}

/** The axle's sheet: drawing, rulers, curves, reading and parts, joined by one frame. */
export interface AxlePage {
  answers: Record<"a" | "b", Answers>;
  schedule(): void;
  now(): void;
  resized(): void;
}

export function mountAxle(regions: AxleRegions, store: Store, drawing: Drawing, hooks: AxleHooks): AxlePage {
  const { say } = hooks;
  const sheet = createSheet();
  const notice = createNotice(regions.notice);
  const stopped = createStopped();
  const curves = createCurves(() => frame.schedule(), stopped.update);
  const radiusM = (): number => chosenTrack(store.get().doc.a, store.get().view.road).radiusM;
  /** A design's answers; what takes longer than a hand may wait is searched beside the page. */
  const answersOf = (rival: boolean): Answers => {
    const search = connectSearch((question, { analysis, ms }) => {
      if (!own.found(question, analysis, ms)) return;
      if (!rival && !analysis.ok) stopAtEnd();
      frame.schedule();
    });
    const own = createAnswers(rival, radiusM, { patienceMs: PATIENCE_MS, ask: search.ask, end: search.end });
    search.watch((fault) => {
      if (!fault) return;
      own.alone();
      frame.schedule();
    });
    return own;
  };
  const answers = { a: answersOf(false), b: answersOf(true) };
  const beside = createAnswersBeside(answers, connectBeside, () => frame.schedule());
  regions.stage.append(...drawing.under, drawing.canvas);

  const within = createWithinHold(answers.a, radiusM);
  const changeLoad = (kind: string, name: (d: Doc) => string, change: (d: Doc) => Doc, phase: LoadPhase): void => {
    const end = pullLoad(store, within, { kind, name, change, phase });
    frame.ended(end);
    if (end && phase === "key") say(end.text);
  };
  const loads = createLoads(regions.rulers, {
    cornering: (g, phase) =>
      changeLoad(
        "cornering",
        (d) => `cornering to ${fixed(d.load.lateralG, 2)} g`,
        (d) => ({ ...d, load: { ...d.load, lateralG: g } }),
        phase,
      ),
    bump: (side, mm, phase) =>
      changeLoad(
        `bump.${side}`,
        () => `road under the ${side} wheel to ${fixed(mm, 1)} mm`,
        (d) => ({ ...d, load: withBump(d.load, side, mm) }),
        phase,
      ),
    pedal: (pedal, value, phase) =>
      changeLoad(
        `pedal.${pedal}`,
        (d) => (pedal === "throttle" ? `throttle to ${fixed(100 * pedals(d.load).throttle, 0)} %` : `braking to ${fixed(pedals(d.load).brakeG, 2)} g`),
        (d) => ({ ...d, load: withPedal(d.load, pedal, value) }),
        phase,
      ),
    turnOver: () => {
      const from = store.settled();
      const { doc, end } = within(from, { ...from, load: { ...from.load, lateralG: -from.load.lateralG } });
      frame.ended(end);
      store.act("turn the other way", () => doc);
    },
    nextTrack: () => store.setView({ road: { ...store.get().view.road, track: store.get().view.road.track + 1, radiusM: null } }),
  });
  regions.nextLine.addEventListener("click", () => {
    const first = frame.drawn()?.report.firstToGive;
    hooks.whatToChange(first && first.utilization >= 1 ? first.name : "speed");
  });
  regions.ownLine.addEventListener("click", () => store.setView({ page: "ownCar" }));
  const reading = createReading(regions.reading, {
    setStair: (stair) => store.setView({ stair }),
    swap: hooks.swap,
    copyAToB: hooks.copyAToB,
    hover: (part) => frame.hoverPart(part),
    openLimit: (limit) => store.setView({ limit }),
    takeFromB: hooks.takeFromB,
    whatToChange: hooks.whatToChange,
    toBench: hooks.toBench,
  });
  const drawer = createDrawer(regions.drawer, stopped.el, {
    toggle: () => store.setView({ drawerOpen: !store.get().view.drawerOpen }),
    height: (drawerPx) => store.setView({ drawerPx }),
    save: (_key, svg, kind, model) => saveChart(svg, kind, model),
  });
  const switches = createSwitches(
    regions.switches,
    (patch) => store.setView({ show: { ...store.get().view.show, ...patch } }),
    () => {
      sheet.fit();
      frame.schedule();
    },
  );
  const limits = regions.reading.querySelector(".limits");
  if (limits) createStance({ store, within: limits, seen: () => !hooks.surround.covers(store.get().view.page), say });
  const params = createParams(regions.params, {
    select: (part) => {
      if (part === null && isNarrow()) sheet.fit();
      store.setView({ selection: part });
    },
    resized: () => frame.resized(),
    shelf: createShelfHand({ store, say, resized: () => frame.resized() }),
    limits: (c, scenario) =>
      (c.reading ? { min: 0, max: c.reading.most(scenario) } : undefined) ??
      rangeOf(c.root ? c.path : `corner.${c.path}`, scenario) ?? { min: c.min, max: c.max },
    set: (c, sides, value) => {
      const now = store.settled().a;
      const change = (d: Doc): Doc => ({ ...d, a: withControl(d.a, c, sides, value) });
      if (c.kind === "act") store.act(c.words, change);
      else if (change(store.settled()).a !== now) store.actMerged(`param.${c.path}`, controlWords(now, c, sides, value), change);
    },
    known: (c, sides, origin, typed) => {
      const name = knownName(pathsOf(store.settled().a, c, sides)[0] ?? "", howOf(origin ?? undefined));
      const change = (d: Doc): Doc => ({ ...d, a: withKnownAs(d.a, c, sides, origin) });
      if (typed) store.actMerged(`known.${c.path}`, name, change);
      else store.act(name, change);
    },
    today: todayHere,
  });
  const sure = createSure({
    store,
    reading: regions.reading,
    radiusM,
    seen: () => !hooks.surround.covers(store.get().view.page),
    open: (path, part) => {
      params.reveal(path);
      store.setView({ selection: part });
    },
    onNew: () => frame.again(),
  });
  const compare = regions.reading.querySelector(".compare");
  if (compare) createRival({ store, within: compare, radiusM, seen: () => !hooks.surround.covers(store.get().view.page), busy: sure.busy });

  /** A load in hand that only a long search found not to hold goes back to the last that does. */
  const stopAtEnd = (): void => {
    const { doc, dragging: inHand } = store.get();
    if (!inHand) return;
    const last = within(store.settled(), doc);
    if (!last.end) return;
    dragging.stopped(last.doc);
    frame.ended(last.end);
    store.preview(last.doc);
  };

  const overlay = createOverlay(
    (id, e) => fit.key(id, e) || dragging.key(id, e),
    (id) => {
      fit.choose(id);
      frame.focus(id);
    },
  );
  regions.stage.append(overlay.labels, overlay.handles);
  const scene = createScene(createMeasure(document.documentElement));
  const frame = createFrame({
    regions,
    store,
    drawing,
    sheet,
    answers,
    beside,
    curves,
    sure,
    scene,
    overlay,
    loads,
    reading,
    drawer,
    switches,
    params,
    notice,
    say,
    surround: hooks.surround,
    before: () => dragging.flush(),
  });

  const fit = createFit({ store, drawing: regions.drawing, say, focus: (id) => overlay.focus(id), drawn: () => frame.drawn() });
  /** Shows a part's parameters; on a narrow sheet the part comes near, above them. */
  const openPart = (part: PartName, near: V2): void => {
    if (isNarrow() && store.get().view.selection === null) sheet.zoom(TAP_ZOOM, near);
    store.setView({ selection: part });
  };
  const dragging = createDragging({
    store,
    drawn: () => frame.drawn(),
    pxPerMm: () => frame.camera().scale,
    pxPerG: () => frame.pxPerG(),
    within,
    ended: (end) => frame.ended(end),
    noAnswer: (doc) => {
      const answer = answers.a.at(doc.a, doc.load, "hand");
      // what is still searched for may stand
      return answer.analysis.ok || answer.analysis.reason.kind === "stopped" ? null : answer.analysis.reason.message;
    },
    lean: (doc) => {
      const { analysis } = answers.a.at(doc.a, doc.load, "hand");
      if (!analysis.ok) return analysis.reason.message;
      const side = outerSide(doc.load.lateralG);
      return `The ${side} wheel leans ${degrees(analysis.report[side].camberDeg)}.`;
    },
    active: (id) => {
      sheet.hold(id !== null);
      regions.stage.classList.toggle("holding", id !== null);
      if (id) overlay.focus(id);
      frame.active(id);
    },
    refused: (r) => frame.refused(r),
    say,
    request: () => frame.schedule(),
    tap: (id) => {
      overlay.focus(id);
      const grip = frame.handles().find((g) => g.id === id);
      if (grip && !isFitHandle(id)) openPart(partOfHandle(id), grip.at);
    },
  });
  listenPointers(regions.stage, {
    pick: (p, touch) => pick(frame.handles(), p, touch ? TOUCH_REACH_PX : 0)?.id ?? null,
    sideways: (id) => frame.handles().find((g) => g.id === id)?.axes === "across",
    command: (c) => dragging.command(c),
    hover: (id) => {
      regions.stage.classList.toggle("over-handle", id !== null);
      frame.hover(id);
    },
    pan: (dx, dy) => {
      sheet.pan(dx, dy);
      frame.schedule();
    },
    zoom: (factor, p) => {
      sheet.zoom(factor, p);
      frame.schedule();
    },
    fit: () => {
      sheet.fit();
      frame.schedule();
    },
    tap: (p) => {
      const drawn = frame.drawn();
      if (!drawn) return;
      const camera = frame.camera();
      const part = partAt(drawn, store.get().view.show.bend, p, camera.scale, projector(camera));
      if (!part) return;
      openPart(part, p);
    },
  });
  return { answers, schedule: frame.schedule, now: frame.now, resized: frame.resized };
}

function partOfHandle(id: string): PartName {
  const kind = id.split(".")[0];
  const found = kind === "pin" ? "pins" : kind === "springTop" || kind === "seat" ? "spring" : kind === "road" ? "tyre" : kind === "wheel" ? "wheel" : "body";
  return PARTS.includes(found) ? found : "body";
}
