import type { AxleReport } from "../../core/analysis.ts";
import { tracksOf } from "../../core/cornering.ts";
import { alike } from "../../core/design/alike.ts";
import { atFullPush } from "../../core/drive/thrust-on-arms.ts";
import type { NoEquilibrium } from "../../core/equilibrium/state.ts";
import { heldWords } from "../../core/limits/held-words.ts";
import type { Drawing } from "../../draw/stage.ts";
import { type Answers, cornersOf, lastThatHolds } from "../../state/answers.ts";
import type { LoadEnd } from "../../state/load-end.ts";
import { chosenTrack } from "../../state/road.ts";
import type { State, Store } from "../../state/store.ts";
import { sureSlice } from "../../state/sure.ts";
import { setAttr, setText } from "../../ui/dom.ts";
import type { NoticeModel } from "../../ui/notice.ts";
import type { Overlay } from "../../ui/overlay.ts";
import { isNarrow } from "../../ui/widths.ts";
import { type Camera, projector } from "../../view/camera.ts";
import { charts } from "../../view/curves.ts";
import { differences } from "../../view/differences.ts";
import { bandOf, type Doubts, safeBandOf } from "../../view/doubt-words.ts";
import { standsBack } from "../../view/focus.ts";
import { degrees, fixed } from "../../view/format.ts";
import type { Handle, HandleId } from "../../view/handles.ts";
import type { Box } from "../../view/labels.ts";
import { offPath, pathMark, worstOf } from "../../view/load-path.ts";
import { createMemo } from "../../view/marks.ts";
import { refusalMark } from "../../view/parts/refusal.ts";
import { PARTS, type PartName } from "../../view/pick.ts";
import { outerSide } from "../../view/poses.ts";
import { compareRows, headline, limitRows, stairByMotion, stairByPart } from "../../view/reading.ts";
import { postsOf, safeKmh } from "../../view/ruler.ts";
import type { Drawn, Scene, SceneInput } from "../../view/scene.ts";
import { distanceWords } from "../../view/words.ts";
import type { AnswersBeside, MomentAnswers, Rival } from "./answers-beside.ts";
import type { Curves } from "./curves.ts";
import type { Refusal } from "./dragging.ts";
import { noticeOf } from "./notices.ts";
import type { Drawer } from "./panels/drawer.ts";
import { G_MOST, type Loads } from "./panels/loads.ts";
import type { Params } from "./panels/params.ts";
import type { Reading } from "./panels/reading.ts";
import type { Switches } from "./panels/switches.ts";
import { heroSure } from "./picture/sure-rows.ts";
import type { AxleRegions } from "./regions.ts";
import type { Sheet } from "./sheet-camera.ts";
import type { Sure } from "./sure.ts";
import { handDepth, leanSteps, reportOf, whyOf } from "./told.ts";
import { createTurns, type Panel } from "./turns.ts";

/** What surrounds the axle's sheet and may cover it. */
export interface Surround {
  /** another page covers the sheet */
  covers(page: string): boolean;
  /** after every frame */
  update(state: State): void;
}

export interface FrameParts {
  regions: AxleRegions;
  store: Store;
  drawing: Drawing;
  sheet: Sheet;
  answers: Record<"a" | "b", Answers>;
  beside: AnswersBeside;
  curves: Curves;
  sure: Sure;
  scene: (input: SceneInput) => Scene;
  overlay: Overlay;
  loads: Loads;
  reading: Reading;
  drawer: Drawer;
  switches: Switches;
  params: Params;
  notice: (model: NoticeModel | null) => void;
  say: (text: string) => void;
  surround: Surround;
  /** moves of the hand since the last frame */
  before(): void;
}

export interface Frame {
  schedule(): void;
  /** another frame, of what is worked out already */
  again(): void;
  now(): void;
  resized(): void;
  hover(id: HandleId | null): void;
  hoverPart(part: string | null): void;
  focus(id: HandleId | null): void;
  active(id: HandleId | null): void;
  refused(r: Refusal | null): void;
  /** the load was stopped at its end, or went where it should */
  ended(end: LoadEnd | null): void;
  handles(): readonly Handle[];
  drawn(): Drawn | null;
  camera(): Camera;
  pxPerG(): number;
}

/** quiet time after the last change before the whole answer is worked out, ms */
const SETTLE_MS = 140;
const FRAME_NAME = "wheelstay-frame";
const MEASURES_KEPT = 2000;
const PALE = 0.62;
const LIMITS_WIDE = 6;
const LIMITS_NARROW = 3;
/** parts whose panel asks for places */
const PLACES: ReadonlySet<string> = new Set<PartName>(["pins", "spring", "wheel"]);

export function createFrame(p: FrameParts): Frame {
  const { store, sheet } = p;
  let scheduled = false;
  let frames = 0;
  /** at rest of the hand everything is worked out as a whole */
  let atRest = true;
  let settle = 0;
  /** the newest pose that holds */
  let good: Drawn | null = null;
  /** the newest of what is told that holds */
  let held: MomentAnswers | null = null;
  /** the last load that holds, while the asked one does not */
  let edge: Drawn | null = null;
  let scene: Scene = { marks: [], labels: [], handles: [], pxPerG: 1 };
  let camera: Camera = { widthPx: 100, heightPx: 100, scale: 1, centre: [0, 0] };
  let active: HandleId | null = null;
  let hover: HandleId | null = null;
  let refusal: Refusal | null = null;
  let ended: LoadEnd | null = null;
  let keepClear: Box[] = [];
  let selection: string | null = null;
  let fitShown: boolean | undefined;
  let spokenGives = "";
  let spare = false;
  let sheetCauses: readonly unknown[] = [];
  /** what stands back while a limit is opened */
  let lookAt: ((key: string) => boolean) | null = null;
  let wasLookedAt = false;
  const memo = createMemo();
  const turns = createTurns();
  /** of which moment the panels tell */
  const shownMoment = { reading: 0, curves: 0 };

  const frame = (): void => {
    const start = performance.now();
    p.before();
    scheduled = false;
    const s = store.get();
    if (s.view.selection !== selection || s.view.show.fit !== fitShown) panelMoved(s);
    const { doc } = s;
    // it is told for as long as the load stays there
    if (ended && (ended.scenario !== doc.a || !alike(ended.load, doc.load))) ended = null;
    // another page covers the sheet: nothing of it is worked out until it is seen again
    const seen = !p.surround.covers(s.view.page);
    const inHand = s.dragging && seen && !atRest;
    const depth = atRest ? "full" : inHand ? handDepth(s) : "live";
    const { radiusM } = chosenTrack(doc.a, s.view.road);
    const a = memo("answer.a", [doc.a, doc.load, depth, radiusM, p.answers.a.version()], () => p.answers.a.at(doc.a, doc.load, depth));
    const shown = p.beside.of(doc, radiusM, a, !inHand);
    if (a.drawn) good = a.drawn;
    if (shown.a.ok) held = shown;
    const reason = a.analysis.ok ? null : a.analysis.reason;
    edge = reason && reason.kind !== "stopped" && !s.dragging ? memo("edge", [doc.a, reason], () => lastThatHolds(p.answers.a, radiusM, doc.a, reason)) : null;
    if (edge) good = edge;
    const doubts = seen ? p.sure.of(doc.a, doc.load, inHand) : null;
    if (good && seen) drawSheet(s, good, reason !== null, shown.b, doubts);
    if (seen) read(s, shown, doubts);
    tellAround(s, reason);
    if (p.beside.behind()) schedule(true);
    // the last number stands while a hand only holds
    tellBusy(p.beside.behind() || p.answers.a.searching() || !(atRest || s.dragging));
    if (!atRest && !s.dragging) {
      window.clearTimeout(settle);
      settle = window.setTimeout(() => {
        atRest = true;
        schedule(true);
      }, SETTLE_MS);
    }
    // in the browser's own timeline; old entries are let go
    if (++frames % MEASURES_KEPT === 0) performance.clearMeasures(FRAME_NAME);
    performance.measure(FRAME_NAME, { start, end: performance.now() });
  };
  /** Those who hear the page wait for numbers that stay. */
  const tellBusy = (busy: boolean): void => setAttr(p.regions.reading, "aria-busy", String(busy));
  /** @param same nothing of what is worked out changes */
  const schedule = (same = false): void => {
    if (!same) {
      atRest = false;
      tellBusy(true);
    }
    if (scheduled) return;
    scheduled = true;
    requestAnimationFrame(frame);
  };

  const drawSheet = (s: State, drawn: Drawn, pale: boolean, b: Rival, doubts: Doubts | null): void => {
    camera = sheet.camera(drawn.scenario);
    const { show } = s.view;
    const steps = show.leanByPart
      ? memo("leanSteps", [drawn.report], () => ({ left: leanSteps(drawn.report, "left"), right: leanSteps(drawn.report, "right") }))
      : null;
    const unloaded = show.unloaded ? p.answers.a.unloaded(drawn.scenario) : null;
    const zero = s.view.selection !== null && PLACES.has(s.view.selection);
    // a frame that only brings new curves leaves the drawing as it is
    const causes = [drawn, b.drawn, unloaded, camera, show, spare, active, hover, keepClear, steps, refusal, ended, pale, atRest, s.view.limit, zero, doubts];
    if (causes.every((c, i) => c === sheetCauses[i])) return;
    sheetCauses = causes;
    scene = p.scene({
      a: drawn,
      b: b.drawn,
      unloaded,
      camera,
      show,
      spare,
      active,
      hover,
      endWords: ended?.words ?? null,
      keepClear,
      leanSteps: steps,
      settled: atRest && !s.dragging,
      zero,
      doubts,
    });
    const held = refusal ? scene.handles.find((h) => h.id === refusal?.id) : undefined;
    const marks = held && refusal ? [...scene.marks, refusalMark(held.at, [held.at[0] + refusal.way[0], held.at[1] + refusal.way[1]])] : scene.marks;
    const path = memo("path", [drawn.report, s.view.limit], () => worstOf(drawn.report.limits, s.view.limit));
    const traced = path ? [...marks, memo("path.mark", [drawn, path, camera, show.bend], () => pathMark(drawn, path, show.bend, projector(camera)))] : marks;
    p.drawing.show(traced, pale ? PALE : 0);
    lookAt = path ? offPath(path, drawn.state.load.lateralG) : null;
    if (path || wasLookedAt) p.drawing.dim(lookAt);
    wasLookedAt = path !== null;
    p.overlay.update(scene.labels, scene.handles, active, pale);
  };

  const tellAround = (s: State, reason: NoEquilibrium | null): void => {
    p.notice(noticeOf({ refusal, ended, reason, edge, answers: p.answers.a, store, again: () => schedule(true) }));
    const report = edge?.report ?? reportOf(held);
    if (report) speak(report);
    p.surround.update(s);
  };

  /** Rulers, reading column, curves and parameters of the axle's sheet. */
  const read = (s: State, shown: MomentAnswers, doubts: Doubts | null): void => {
    const { doc, view } = s;
    const tracks = tracksOf(doc.a);
    const track = chosenTrack(doc.a, view.road);
    const ca = p.curves.of("a", doc.a, doc.load, track.radiusM, s.dragging || !atRest);
    const cb = p.curves.of("b", doc.b, doc.load, track.radiusM, s.dragging || !atRest);
    const pa = memo("posts.a", [ca], () => postsOf(ca?.sweep ?? null));
    const pb = memo("posts.b", [cb], () => postsOf(cb?.sweep ?? null));
    const lag = !p.curves.fresh("a");
    const lagB = !p.curves.fresh("b");
    // at rest a speed is told for the car beside it, or not yet
    const safe = (posts: typeof pa, late: boolean): number | null => safeKmh(late && !s.dragging ? [] : posts, track.radiusM);
    const speeds = { radiusM: track.radiusM, a: safe(pa, lag), b: safe(pb, lagB) };
    p.regions.rulers.classList.toggle("lag", lag);
    p.loads.update({
      load: doc.load,
      posts: pa,
      waits: lag && !s.dragging,
      hollowG: edge ? edge.state.load.lateralG : null,
      endWords: ended?.words ?? null,
      track,
      trackCount: tracks.length,
      band: safeBandOf(doubts, speeds.a),
      atMost: doubts?.sampled?.atMost ?? null,
    });
    p.params.update({
      part: PARTS.find((x): x is PartName => x === view.selection) ?? null,
      scenario: doc.a,
      corners: memo("corners", [doc.a], () => cornersOf(doc.a)),
    });
    p.switches.update(view.show);
    setText(p.regions.corner, `bend ×${view.show.bend}`);
    const report = edge?.report ?? reportOf(held);
    if (!report) return;
    const { a, b, load } = shown.doc;
    const panels: Panel[] = [
      {
        key: "reading",
        causes: [report, shown, edge, pa, pb, lag, lagB, view.stair, view.limit, spare, track.radiusM, doubts],
        overdue: p.beside.overdue(shownMoment.reading),
        write: () => {
          shownMoment.reading = shown.moment;
          const rival = shown.b.drawn?.report ?? null;
          const head = headline(report, (edge?.scenario ?? held?.doc.a ?? a).limits.camberDeg);
          const full = memo("fullPush", [a, b], () => ({ a: atFullPush(a), b: atFullPush(b) }));
          p.reading.update({
            headline: head,
            sure: heroSure(bandOf(doubts, `camberDeg.${head.side}`, head.deg)),
            b: rival ? { number: degrees(rival[head.side].camberDeg) } : null,
            bReason: shown.b.analysis.ok ? null : p.answers.b.searching() ? "Still searching for how B stands." : shown.b.analysis.reason.message,
            stair: view.stair === "part" ? stairByPart(report, head.side) : stairByMotion(report, head.side),
            stairKind: view.stair,
            limits: limitRows(report, spare ? LIMITS_NARROW : LIMITS_WIDE, doubts),
            why: memo("why", [report, view.limit], () => whyOf(report, view.limit, a)),
            compare: compareRows(report, rival, speeds, full),
            differences: memo("differences", [a, b], () => differences(a, b)),
            stale: !shown.a.ok,
          });
        },
      },
      { key: "sure", causes: [report, doubts, p.sure.version(), speeds.a, a, sureSlice.of(view)], overdue: false, write: () => p.sure.write(report, speeds.a) },
      {
        key: "curves",
        causes: [ca, cb, load, report, a.limits.camberDeg, view.drawerOpen, view.drawerPx],
        overdue: p.beside.overdue(shownMoment.curves),
        write: () => {
          shownMoment.curves = shown.moment;
          const models = charts({ a: ca, b: cb }, load.lateralG, report[outerSide(load.lateralG)].wheelTravelMm, G_MOST, a.limits.camberDeg);
          p.drawer.update(models, view.drawerOpen, view.drawerPx);
        },
      },
    ];
    // nobody waits for the doubts that are out of sight
    const seen = panels.filter(({ key }) => key !== "sure" || !s.dragging || p.sure.inSight());
    if (turns(seen, s.dragging && !atRest)) schedule(true);
  };

  /** Something gives: spoken once, when it begins. */
  const speak = (report: AxleReport): void => {
    const first = report.firstToGive;
    const key = first.utilization >= 1 ? `${first.name}.${first.wheel}` : "";
    if (key && key !== spokenGives)
      p.say(
        `${first.part}, ${first.wheel}: ${distanceWords(first) ?? heldWords(first.name, fixed(first.demand, 1), fixed(first.capacity, 1), first.unit)}. It gives.`,
      );
    spokenGives = key;
  };

  const panelMoved = (s: State): void => {
    selection = s.view.selection;
    fitShown = s.view.show.fit;
    requestAnimationFrame(() => {
      clearBoxes();
      schedule(atRest);
    });
  };
  const clearBoxes = (): void => {
    const home = p.regions.stage.getBoundingClientRect();
    const box = (el: Element): Box => {
      const r = el.getBoundingClientRect();
      return { x: r.left - home.left, y: r.top - home.top, w: r.width, h: r.height };
    };
    const panel = store.get().view.selection !== null && !spare ? box(p.regions.params) : null;
    keepClear = spare
      ? [box(p.regions.firstLine)]
      : [box(p.regions.firstLine), ...(panel ? [panel] : [box(p.regions.params)]), ...[...p.regions.switches.children].map(box)];
    const over = p.regions.drawing.parentElement?.querySelector(".fit-panel:not([hidden])");
    if (over && !spare) keepClear.push(box(over));
    sheet.panel(panel);
  };

  return {
    schedule: () => schedule(),
    again: () => schedule(true),
    now: () => {
      atRest = true;
      frame();
    },
    resized: () => {
      const r = p.regions.stage.getBoundingClientRect();
      if (r.width < 2 || r.height < 2) return;
      spare = isNarrow();
      sheet.resize(r.width, r.height, spare);
      p.drawing.resize(r.width, r.height);
      clearBoxes();
      schedule(true);
    },
    hover: (id) => {
      if (hover === id) return;
      hover = id;
      schedule(atRest);
    },
    hoverPart: (part) => {
      p.drawing.dim(part === null ? lookAt : standsBack(part));
    },
    focus: (id) => {
      if (id) hover = id;
      else hover = null;
      schedule(atRest);
    },
    active: (id) => {
      active = id;
      schedule();
    },
    ended: (end) => {
      ended = end;
      schedule(atRest);
    },
    refused: (r) => {
      if (r === refusal) return;
      refusal = r;
      schedule();
    },
    handles: () => scene.handles,
    drawn: () => good,
    camera: () => camera,
    pxPerG: () => scene.pxPerG,
  };
}
