import { MATERIAL_NAMES } from "../core/arm/materials.ts";
import type { V2 } from "../core/vec.ts";
import type { Drawing } from "../draw/stage.ts";
import { listenPointers } from "../input/dom.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { curveStoodOn } from "../state/curve.ts";
import type { Doc } from "../state/document.ts";
import { at, withAt, withBump, withCorner } from "../state/edit.ts";
import { designs } from "../state/persist.ts";
import type { Store } from "../state/store.ts";
import { createBar } from "../ui/bar.ts";
import { createDrawer } from "../ui/drawer.ts";
import { createLive, type Layout } from "../ui/layout.ts";
import { createLoads, type LoadPhase } from "../ui/loads.ts";
import { createMenus } from "../ui/menu.ts";
import { createNotice } from "../ui/notice.ts";
import { createMeasure, createOverlay } from "../ui/overlay.ts";
import { createParams } from "../ui/params.ts";
import { createReading } from "../ui/reading.ts";
import { createSwitches } from "../ui/switches.ts";
import { projector } from "../view/camera.ts";
import { degrees, fixed } from "../view/format.ts";
import { pick } from "../view/handles.ts";
import { isFitHandle } from "../view/parts/fit.ts";
import type { PartName } from "../view/pick.ts";
import { PARTS, partAt } from "../view/pick.ts";
import { outerSide } from "../view/poses.ts";
import { createScene } from "../view/scene.ts";
import { createActions } from "./actions.ts";
import { createAnswers } from "./answers.ts";
import { createCurves } from "./curves.ts";
import { createDragging } from "./dragging.ts";
import { saveChart } from "./export.ts";
import { cannotBuild } from "./feasible.ts";
import { createFit } from "./fit.ts";
import { createFrame } from "./frame.ts";
import { listenPage } from "./listen.ts";
import type { Keeper } from "./sessions.ts";
import { createSheet } from "./sheet.ts";
import { SHIPPED } from "./shipped.ts";

const TOUCH_REACH_PX = 26;
const NARROW_PX = 700;
/** how much nearer a pressed part comes on a narrow sheet */
const TAP_ZOOM = 1.9;

/** Puts the parts of the page together; every part hears of changes through one frame. */
export function startApp(layout: Layout, store: Store, drawing: Drawing, keeper: Keeper): { error(lines: string[]): void } {
  const say = createLive(layout.live);
  const sheet = createSheet();
  const notice = createNotice(layout.notice);
  const curves = createCurves(() => frame.schedule());
  const radiusM = (): number => curveStoodOn(store.get().doc.a, store.get().view).radiusM;
  const answers = { a: createAnswers(false, radiusM), b: createAnswers(true, radiusM) };
  layout.stage.append(...drawing.under, drawing.canvas);

  const actions = createActions({
    store,
    tabId: keeper.id,
    say,
    note: (text) => frame.note(text),
    error: (lines) => frame.error(lines),
    designsChanged: () => updateMenus(),
  });
  const menus = createMenus(actions);
  const updateMenus = (): void => {
    let kept: string[] = [];
    try {
      kept = Object.keys(designs(window.localStorage));
    } catch {
      // no store in this browser: nothing is kept
    }
    const s = store.get();
    menus.update({
      demos: SHIPPED.map((d) => ({ key: d.key, name: d.scenario.name, teaches: d.scenario.teaches })),
      kept: kept.map((name) => ({ name })),
      theme: s.view.theme,
      aName: s.doc.a.name,
      bName: s.doc.b.name,
    });
  };

  const bar = createBar(layout.bar, layout.footNav, {
    menu: () => menus.main,
    designMenu: (which) => menus.design(which),
    undo: () => say(`undone: ${store.undo() ?? "nothing"}`),
    redo: () => say(`done again: ${store.redo() ?? "nothing"}`),
    view: (key) => store.setView({ page: key }),
    share: () => void actions.share(),
  });
  const changeLoad = (kind: string, name: (d: Doc) => string, change: (d: Doc) => Doc, phase: LoadPhase): void => {
    if (phase === "cancel") store.cancel();
    else if (phase === "key") store.actMerged(kind, name(change(store.settled())), change);
    else {
      store.preview(change(store.settled()));
      if (phase === "end") store.commit(name(store.get().doc));
    }
  };
  const loads = createLoads(layout.rulers, {
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
    turnOver: () => store.act("turn the other way", (d) => ({ ...d, load: { ...d.load, lateralG: -d.load.lateralG } })),
    nextTrack: () => store.setView({ track: store.get().view.track + 1, map: { ...store.get().view.map, radiusM: null } }),
  });
  const whatToChange = (aim: "lean" | "speed"): void => store.setView({ page: "speedMap", map: { ...store.get().view.map, aim, toChanges: true } });
  layout.nextLine.addEventListener("click", () => whatToChange("lean"));
  const reading = createReading(layout.reading, {
    setStair: (stair) => store.setView({ stair }),
    swap: () => actions.swap(),
    copyAToB: () => actions.copy("a"),
    hover: (part) => frame.hoverPart(part),
    openLimit: (limit) => store.setView({ limit }),
    takeFromB: (path) => actions.takeFromB(path),
    whatToChange,
  });
  const drawer = createDrawer(layout.drawer, {
    toggle: () => store.setView({ drawerOpen: !store.get().view.drawerOpen }),
    height: (drawerPx) => store.setView({ drawerPx }),
    save: (_key, svg, kind, model) => saveChart(svg, kind, model),
  });
  const switches = createSwitches(
    layout.switches,
    (patch) => store.setView({ show: { ...store.get().view.show, ...patch } }),
    () => {
      sheet.fit();
      frame.schedule();
    },
  );
  const params = createParams(layout.params, {
    select: (part) => {
      if (part === null && window.innerWidth < NARROW_PX) sheet.fit();
      store.setView({ selection: part });
    },
    resized: () => frame.resized(),
    limits: (c, scenario) => rangeOf(c.root ? c.path : `corner.${c.path}`, scenario) ?? { min: c.min, max: c.max },
    set: (c, side, value) => {
      const shown =
        typeof value === "number"
          ? `${fixed(value * (c.kind === "number" ? (c.times ?? 1) : 1), 2).replace(/\.?0+$/, "")}${c.kind === "number" && c.unit ? ` ${c.unit}` : ""}`
          : (c.kind === "choice" && Object.entries(c.options).find(([, key]) => key === value)?.[0]) || value;
      const change = (d: Doc): Doc => ({ ...d, a: c.root ? withAt(d.a, c.path, value) : withCorner(d.a, side, c.path, value) });
      const next = change(store.settled());
      if (at(next.a, c.root ? c.path : `corner.${c.path}`) === at(store.settled().a, c.root ? c.path : `corner.${c.path}`) && next.a === store.settled().a)
        return;
      const fault = cannotBuild(next.a);
      if (fault) {
        frame.error([fault]);
        frame.schedule();
        return;
      }
      store.actMerged(`param.${c.path}`, `${partOf(c.path)}${c.words} to ${shown}`, change);
    },
  });

  const overlay = createOverlay(
    (id, e) => fit.key(id, e) || dragging.key(id, e),
    (id) => {
      fit.choose(id);
      frame.focus(id);
    },
  );
  layout.stage.append(overlay.labels, overlay.handles);
  const scene = createScene(createMeasure(document.documentElement));
  const frame = createFrame({
    layout,
    store,
    drawing,
    sheet,
    answers,
    curves,
    scene,
    overlay,
    bar,
    loads,
    reading,
    drawer,
    switches,
    params,
    notice,
    say,
    materials: MATERIAL_NAMES,
    updateMenus,
    before: () => dragging.flush(),
  });

  const fit = createFit({ store, drawing: layout.drawing, say, focus: (id) => overlay.focus(id), drawn: () => frame.drawn() });
  /** Shows a part's parameters; on a narrow sheet the part comes near, above them. */
  const openPart = (part: PartName, near: V2): void => {
    if (window.innerWidth < NARROW_PX && store.get().view.selection === null) sheet.zoom(TAP_ZOOM, near);
    store.setView({ selection: part });
  };
  const dragging = createDragging({
    store,
    drawn: () => frame.drawn(),
    pxPerMm: () => frame.camera().scale,
    pxPerN: () => frame.pxPerN(),
    noAnswer: (doc) => {
      const answer = answers.a.at(doc.a, doc.load, "live");
      return answer.analysis.ok ? null : answer.analysis.reason.message;
    },
    lean: (doc) => {
      const { analysis } = answers.a.at(doc.a, doc.load, "live");
      if (!analysis.ok) return analysis.reason.message;
      const side = outerSide(doc.load.lateralG);
      return `The ${side} wheel leans ${degrees(analysis.report[side].camberDeg)}.`;
    },
    active: (id) => {
      sheet.hold(id !== null);
      layout.stage.classList.toggle("holding", id !== null);
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
  listenPointers(layout.stage, {
    pick: (p, touch) => pick(frame.handles(), p, touch ? TOUCH_REACH_PX : 0)?.id ?? null,
    command: (c) => dragging.command(c),
    hover: (id) => {
      layout.stage.classList.toggle("over-handle", id !== null);
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
  listenPage({ layout, store, actions, say, resized: () => frame.resized(), retone: () => drawing.retone() });
  let told = false;
  keeper.watch(store, (ok) => {
    if (!ok) frame.note("not kept: this browser's store is full");
    else if (!told) frame.note("kept in this browser");
    told = ok;
  });
  store.subscribe(() => frame.schedule());
  frame.resized();
  frame.now();
  return { error: (lines) => frame.error(lines) };
}

const partOf = (path: string): string => {
  const head = path.split(".")[0] ?? "";
  const words: Record<string, string> = {
    lowerArm: "lower arm ",
    upperArm: "upper arm ",
    joints: "pin ",
    spring: "spring ",
    hub: "hub ",
    wheel: "wheel ",
    tyre: "tyre ",
  };
  return words[head] ?? "";
};

function partOfHandle(id: string): PartName {
  const kind = id.split(".")[0];
  const found = kind === "pin" ? "pins" : kind === "springTop" || kind === "seat" ? "spring" : kind === "road" ? "tyre" : kind === "wheel" ? "wheel" : "body";
  return PARTS.includes(found) ? found : "body";
}
