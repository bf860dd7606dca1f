import type { Side } from "../../core/design/types.ts";
import { restsOn } from "../../core/studies/guesses.ts";
import { createDrawing, type Drawing } from "../../draw/stage.ts";
import { listenPointers } from "../../input/dom.ts";
import type { MotionEvent } from "../../motion/session.ts";
import { traceTable } from "../../motion/trace.ts";
import { type Answers, cornersOf } from "../../state/answers.ts";
import type { Store } from "../../state/store.ts";
import { fileName } from "../../ui/files.ts";
import { createMeasure, createOverlay } from "../../ui/overlay.ts";
import type { PageHelp } from "../../ui/page.ts";
import { saveCsv, savePicture } from "../../ui/save-chart.ts";
import { createStopped } from "../../ui/stopped.ts";
import { watchLook } from "../../ui/watch-look.ts";
import { csvText } from "../../view/csv.ts";
import { fixed } from "../../view/format.ts";
import { type Handle, pick } from "../../view/handles.ts";
import type { Box } from "../../view/labels.ts";
import { createMemo } from "../../view/marks.ts";
import { createScene } from "../../view/scene.ts";
import { connectMotion } from "../../worker/motion-client.ts";
import { createFree } from "./free-play.ts";
import { createGrips } from "./grips.ts";
import { handed, heroOf, storyRows } from "./headline.ts";
import type { Resting } from "./moment.ts";
import { createMotionSheet, type MotionSheetModel } from "./panels/sheet.ts";
import { lossesOf, lossSentence } from "./picture/losses.ts";
import { keyedTo, newPlayer, type Player, parkedAt, passed, paused, played, sought, stepped } from "./picture/player.ts";
import { type MotionPicture, motionCamera, paintMotion, WIDE_FROM_PX } from "./picture/sheet-picture.ts";
import { createRequests } from "./requests.ts";
import { choicesOf, corneringRow, FREE, linesOf, noteOf, numberRows, numbersOf, runOf, titleOf } from "./run-fields.ts";
import { createRunPicture } from "./run-picture.ts";
import { type MotionView, motionSlice, withNumber } from "./state/slice.ts";
import { endOf, type HubHold, momentOf, shockOf, tracksOf, worstWheel } from "./story.ts";

export interface MotionPage {
  show(region: HTMLElement): void;
  update(): void;
}

/** in free play the column is written anew no more often than this, ms */
const TELL_MS = 120;
const TOUCH_REACH_PX = 26;
const MOUSE_REACH_PX = 10;

/** The motion page: asks for runs, plays them, hands the road's shock on. Made once, shown as often as wanted. */
export function createMotionPage(store: Store, help: PageHelp): MotionPage {
  const memo = createMemo();
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  const client = connectMotion();
  const stopped = createStopped();
  client.watch(stopped.update);
  let drawing: Drawing | null = null;
  let player: Player = newPlayer(0, true);
  /** a run that was chosen by hand plays at once */
  let playNext = false;
  let spoken = new Set<string>();
  let size = { w: 0, h: 0 };
  let clear: Box[] = [];
  let handles: readonly Handle[] = [];
  let camera = motionCamera(store.get().doc.a, 0, 100, 100);
  let frameAsked = false;
  let ticking = false;
  let lastMs = 0;
  let toldMs = 0;

  const view = (): MotionView => motionSlice.of(store.get().view);
  const setView = (patch: Partial<MotionView>): void => store.setView(motionSlice.patched(store.get().view, patch));
  const isFree = (): boolean => view().run === FREE;
  const shown = (): boolean => store.get().view.page === "motion";
  const spare = (): boolean => size.w < WIDE_FROM_PX;

  const requests = createRequests(store, client, {
    arrived: (fresh) => arrived(fresh),
    changed: () => {
      tell();
      draw();
    },
  });
  const free = createFree(client, () => {
    draw();
    // what comes last is always told: no later frame would
    if (free.hand.paused || free.hand.look?.apart || performance.now() - toldMs > TELL_MS) tell();
  });
  /** Halts free play or lets it go on, lets one sample pass, or changes its pace. */
  const clock = (change: () => void): void => {
    change();
    tick();
    tell();
  };
  const grips = createGrips(free, {
    camera: () => camera,
    wake: () => tick(),
    play: () => clock(() => free.pause(!free.hand.paused)),
    step: () => clock(() => free.step()),
    say: help.say,
  });
  const pictureOf = createRunPicture();

  const sheet = createMotionSheet(stopped.el, {
    play: () => {
      if (isFree()) clock(() => free.pause(!free.hand.paused));
      else move(player.playing ? paused(player) : played(player));
    },
    step: (by) => {
      if (isFree()) clock(() => free.step());
      else if (requests.recorded) move(stepped(player, by, requests.recorded.trace.samplesPerSecond));
    },
    slow: () => {
      if (isFree()) clock(() => free.setSlow(!free.hand.slow));
      else setView({ slow: !view().slow });
    },
    seek: (timeS) => {
      if (!isFree()) move(sought(player, timeS));
    },
    key: (key, shift) => {
      const next = requests.recorded && keyedTo(player, key, shift, requests.recorded.trace.samplesPerSecond);
      if (next) move(next);
      return Boolean(next);
    },
    choose: (key) => {
      if (key === view().run) return;
      playNext = key !== FREE && !calm.matches;
      setView({ run: key });
      // what the hand takes hold of stands above the list
      if (key === FREE && spare()) window.scrollTo(0, 0);
    },
    set: (key, value) => {
      if (!isFree()) {
        setView(withNumber(view(), runOf(view().run), key, value));
        return;
      }
      free.aim({ lateralG: value });
      tick();
      tell();
    },
    action: () => {
      spoken = new Set();
      free.start(store.get().doc.a);
      tick();
      tell();
    },
    use: () => {
      const shock = requests.recorded && shockOf(requests.recorded);
      if (!shock) return;
      const factor = handed(shock.factor);
      store.setView({ road: { ...store.get().view.road, shock: factor, motionShock: factor } });
      help.say(`The speed map now counts with a road shock of ${fixed(factor, 1)}.`);
    },
    wheel: (side) => setView({ wheel: side }),
    saveRow: (title, svg, kind) => {
      if (kind !== "csv") void savePicture(svg, kind, fileName(`${titleOf(view().run)} ${title}`));
    },
    saveRun: () => {
      const r = requests.recorded;
      if (r) saveCsv(fileName(`${store.get().doc.a.name} ${titleOf(r.run)}`), csvText(traceTable(r.trace)));
    },
  });
  const overlay = createOverlay(
    (id, e) => grips.key(id, e),
    () => draw(),
  );
  // the hatch of the axle's own tags has the same name, and is hidden together with its page
  const hatch = overlay.labels.querySelector("pattern");
  if (hatch) hatch.id = "tag-hatch-motion";
  sheet.stage.append(overlay.labels, overlay.handles);
  const scene = createScene(createMeasure(document.documentElement));

  listenPointers(sheet.stage, {
    pick: (p, touch) => (isFree() ? (pick(handles, p, touch ? TOUCH_REACH_PX : MOUSE_REACH_PX)?.id ?? null) : null),
    sideways: (id) => handles.find((g) => g.id === id)?.axes === "across",
    command: (c) => {
      grips.command(c);
      sheet.stage.classList.toggle("holding", grips.active() !== null);
    },
    hover: (id) => sheet.stage.classList.toggle("over-handle", id !== null),
    pan: () => {},
    zoom: () => {},
    fit: () => {},
    tap: () => {},
  });

  const restOf = (which: "a" | "b"): Resting | null => {
    const scenario = store.get().doc[which];
    const rest = (help.answers[which] as Answers).unloaded(scenario);
    return rest && memo(`rest.${which}`, [rest], () => ({ scenario, corners: cornersOf(scenario), report: rest.report }));
  };
  const followed = (): Side => view().wheel ?? (requests.recorded && !isFree() ? worstWheel(requests.recorded) : "right");
  const hubOf = (side: Side): HubHold | null => {
    const limit = restOf("a")?.report.limits.find((l) => l.name === "hubRetention" && l.wheel === side);
    return limit ? { part: limit.part, capacity: limit.capacity, unit: limit.unit } : null;
  };

  /** Puts the playhead elsewhere, draws it, and lets the clock run only while something plays. */
  const move = (next: Player): void => {
    player = next;
    scrub();
    draw();
    if (player.playing) tick();
  };
  const scrub = (): void => {
    const r = requests.recorded;
    const axisS = r ? Math.max(endOf(r), r.held ? endOf(r.held) : 0) : 0;
    const { hand } = free;
    sheet.scrubber.update(
      isFree()
        ? { endS: 0, axisS: 0, playing: !hand.paused, slow: hand.slow, reach: hand.fault || hand.look?.apart ? "none" : "on" }
        : { endS: player.endS, axisS, playing: player.playing, slow: view().slow, reach: r ? "both" : "none" },
    );
  };
  const tick = (): void => {
    if (ticking) return;
    ticking = true;
    lastMs = performance.now();
    requestAnimationFrame(onTick);
  };
  const onTick = (now: number): void => {
    ticking = false;
    const ms = Math.max(0, now - lastMs);
    lastMs = now;
    if (!shown()) {
      player = paused(player);
      return;
    }
    let on: boolean;
    if (isFree()) on = free.pass(ms);
    else {
      player = passed(player, ms);
      on = player.playing;
      paint();
      if (!on) scrub();
    }
    if (!on) return;
    ticking = true;
    requestAnimationFrame(onTick);
  };
  const draw = (): void => {
    if (frameAsked) return;
    frameAsked = true;
    requestAnimationFrame(() => {
      frameAsked = false;
      if (shown()) paint();
    });
  };

  const paint = (): void => {
    const start = performance.now();
    const inHand = isFree();
    sheet.scrubber.at(inHand ? 0 : player.timeS);
    sheet.tracks.at(inHand ? free.headS() : player.timeS);
    sheet.at(inHand ? Number.POSITIVE_INFINITY : player.timeS);
    const rest = restOf("a");
    if (!rest || !drawing || size.w < 2) return;
    const picture = inHand ? grips.picture(rest, { size, show: store.get().view.show, spare: spare(), keepClear: clear }) : runPicture(rest);
    if (!picture) return;
    camera = picture.camera;
    const painted = paintMotion(scene, picture);
    handles = painted.handles;
    drawing.show(painted.marks, 0);
    overlay.update(painted.labels, painted.handles, grips.active(), false);
    if (inHand) speak(free.hand.look?.events ?? [], Number.POSITIVE_INFINITY);
    else speak(requests.recorded?.trace.events ?? [], player.timeS);
    performance.measure("wheelstay-motion-frame", { start, end: performance.now() });
  };

  const runPicture = (rest: Resting): MotionPicture | null => {
    const r = requests.recorded;
    if (!r) return null;
    const b = requests.rival && restOf("b");
    const on = { size, show: store.get().view.show, spare: spare(), keepClear: clear, still: calm.matches };
    return pictureOf(r, rest, b && requests.rival ? { trace: requests.rival, rest: b } : null, player.timeS, on);
  };

  /** What comes off is said once, when the clock passes it. */
  const speak = (events: readonly MotionEvent[], timeS: number): void => {
    for (const e of lossesOf(events)) {
      const words = lossSentence(e);
      if (e.timeS > timeS || spoken.has(words)) continue;
      spoken.add(words);
      help.say(words);
    }
  };

  const ask = (): void => {
    const { a } = store.get().doc;
    if (!isFree()) {
      free.stop();
      requests.ask();
      return;
    }
    requests.forget();
    player = paused(player);
    if (free.hand.scenario === a) return;
    spoken = new Set();
    free.start(a);
    tick();
  };
  const arrived = (fresh: boolean): void => {
    const r = requests.recorded;
    spoken = new Set();
    if (r) {
      player = parkedAt(newPlayer(endOf(r), view().slow), momentOf(r, worstWheel(r)));
      if (playNext && fresh) player = played(player);
    }
    playNext = false;
    tell();
    draw();
    if (player.playing) tick();
  };

  const tell = (): void => {
    if (!shown()) return;
    toldMs = performance.now();
    const { doc, view: whole } = store.get();
    const v = motionSlice.of(whole);
    const side = followed();
    const hub = hubOf(side);
    const run = runOf(v.run);
    const numbers = numbersOf(v, run);
    const inHand = isFree();
    const limit = doc.a.limits.camberDeg;
    const runs: MotionSheetModel["runs"] = {
      choices: choicesOf(v),
      chosen: inHand ? FREE : run,
      rows: inHand ? [corneringRow(free.hand.targets.lateralG)] : numberRows(run, numbers),
      action: inHand ? { words: "put everything back" } : null,
    };
    const guesses = memo("guesses", [doc.a], () => restsOn(doc.a).length);
    const common = { guesses, wheel: v.wheel, note: noteOf(inHand ? {} : numbers), runs, title: titleOf(v.run), storyTitle: "What happened, in order" };
    const r = requests.recorded;
    if (inHand) {
      sheet.update({ ...common, ...grips.readout(side), work: null, fault: free.hand.fault });
      sheet.tracks.update(free.tracks(side, limit, hub));
    } else {
      sheet.update({
        ...common,
        lines: linesOf(run, numbers, v.slow),
        hero: heroOf(r, side, hub, whole.road.shock),
        story: storyRows(r, side, hub),
        work: requests.work,
        fault: requests.fault,
      });
      const shift = doc.a.limits.wheelShiftMm;
      const curves =
        r && memo("tracks", [r, side, hub?.part, hub?.capacity, requests.rival, limit, shift], () => tracksOf(r, side, limit, hub, requests.rival, shift));
      memo("tracks.shown", [curves], () => sheet.tracks.update(curves));
    }
    // the next run's curves are new on the page even when they are the ones of before
    if (inHand) memo("tracks.shown", [null, "free"], () => undefined);
    sheet.root.classList.toggle("free", inHand);
    scrub();
    clear = headBoxes();
  };

  const headBoxes = (): Box[] => {
    const home = sheet.stage.getBoundingClientRect();
    const r = sheet.titleBox.getBoundingClientRect();
    return r.width ? [{ x: r.left - home.left, y: r.top - home.top, w: r.width, h: r.height }] : [];
  };

  let theme: string | null = null;
  calm.addEventListener("change", () => draw());
  store.subscribe((s) => {
    if (s.view.page !== "motion" && player.playing) player = paused(player);
  });
  const fitStage = (): void => {
    const r = sheet.stage.getBoundingClientRect();
    if (r.width < 2 || r.height < 2 || !drawing) return;
    size = { w: r.width, h: r.height };
    drawing.resize(r.width, r.height);
    clear = headBoxes();
    draw();
  };
  new ResizeObserver(fitStage).observe(sheet.stage);
  watchLook({ colours: () => drawing?.retone(), pixels: fitStage });
  void createDrawing(document.documentElement).then((d) => {
    drawing = d;
    sheet.stage.prepend(...d.under, d.canvas);
    fitStage();
  });

  return {
    show(region) {
      region.replaceChildren(sheet.root);
    },
    update() {
      const { slow } = view();
      if (player.slow !== slow) player = { ...player, slow };
      const asked = store.get().view.theme;
      if (theme !== asked) {
        theme = asked;
        drawing?.retone();
      }
      ask();
      tell();
      draw();
    },
  };
}
