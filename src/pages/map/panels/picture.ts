import type { Scenario } from "../../../core/design/types.ts";
import { safeSpeedAt } from "../../../core/studies/map-levels.ts";
import type { SpeedMap } from "../../../core/studies/speed-map.ts";
import { mpsToKmh } from "../../../core/units.ts";
import type { V2 } from "../../../core/vec.ts";
import { h, s, setAttr, setText } from "../../../ui/dom.ts";
import type { Measure } from "../../../view/labels.ts";
import type { MapAreas } from "../../../view/map/areas.ts";
import { kmhTicks, type MapFrame, type MapRange, pointAt, radiusTicks, xOf, yOf } from "../../../view/map/frame.ts";
import { bobTagBox, MAP_TEXT, type MapLayout, mapLayout, onSheet } from "../../../view/map/layout.ts";
import { pointWords, radiusWords, worstAt } from "../../../view/map/words.ts";
import type { RunPoint } from "../../../view/runs/points.ts";
import { bandOutline, chanceLines } from "../picture/chance-lines.ts";
import { bandOver, type MapDoubts } from "../picture/sure-words.ts";
import { listenMap } from "./hand.ts";
import { chances, pathOf, runMarks } from "./marks.ts";

interface PictureModel {
  scenario: Scenario;
  range: MapRange;
  map: SpeedMap | null;
  areas: MapAreas | null;
  b: SpeedMap | null;
  known: SpeedMap | null;
  runs: readonly RunPoint[];
  /** lines of chances and the band beside the safe line */
  doubts: MapDoubts;
  bob: { radiusM: number; kmh: number };
  /** the map belongs to an older design or road */
  stale: boolean;
  dragging: boolean;
  spare: boolean;
}

export type MapPhase = "move" | "end" | "cancel";

export interface PictureHooks {
  move(radiusM: number, kmh: number, phase: MapPhase, pxFrame: MapFrame): void;
  key(e: KeyboardEvent): void;
  /** a place is looked at, in words to be spoken */
  looked(text: string): void;
}

export interface Picture {
  el: HTMLElement;
  svg: SVGSVGElement;
  update(model: PictureModel): void;
}

const EDGES = { left: 58, top: 18, right: 12, bottom: 62 };
const NARROW = { left: 30, top: 12, right: 8, bottom: 60 };
/** room for the words of the choice in the tag, px */
const USE_H = 30;
const BOB = "M0 6C-1.5 3 -4 0.5 -4 -3C-4 -5.5 -2 -7 0 -7C2 -7 4 -5.5 4 -3C4 0.5 1.5 3 0 6Z";

const hatch = (id: string, size: number, d: string): SVGElement =>
  s("pattern", { id, width: size, height: size, patternUnits: "userSpaceOnUse" }, s("path", { d }));
const SLANT = (n: number): string => `M-1 1L1 -1M0 ${n}L${n} 0M${n - 1} ${n + 1}L${n + 1} ${n - 1}`;
const CROSS = (n: number): string => `${SLANT(n)}M${n - 1} -1L${n + 1} 1M0 0L${n} ${n}M-1 ${n - 1}L1 ${n + 1}`;

/** The speed map as a picture: areas, lines, names; the bob is the state of the sandbox. */
export function createPicture(measure: Measure, hooks: PictureHooks): Picture {
  const defs = s("defs", {}, hatch("map-1", 14, SLANT(14)), hatch("map-2", 6, SLANT(6)), hatch("map-3", 14, CROSS(14)));
  const ground = s("g", { class: "map-ground" });
  const read = s("g", { class: "map-read" }, s("path", { class: "map-cross" }), s("rect"), s("text", { class: "strong" }), s("text"));
  const now = s("g", { class: "map-now" }, s("path", { class: "map-cross" }), s("circle", { r: 12 }), s("path", { class: "map-bob-mark", d: BOB }));
  const nowTag = s("g", { class: "map-tag now" }, s("rect"), s("text", { class: "strong" }), s("text"));
  const pin = s(
    "g",
    { class: "map-read map-pin" },
    s("path", { class: "map-cross" }),
    s("circle", { r: 5 }),
    s("rect"),
    s("text", { class: "strong" }),
    s("text"),
  );
  const svg = s(
    "svg",
    { class: "map-picture", role: "img", "aria-label": "speed map; the same stands below as a table" },
    defs,
    ground,
    read,
    now,
    nowTag,
    pin,
  );
  const bob = h("button", {
    type: "button",
    class: "handle map-bob",
    "aria-roledescription": "point that moves",
    "aria-keyshortcuts": "ArrowLeft ArrowRight ArrowUp ArrowDown PageUp PageDown Home End",
    onkeydown: (e: KeyboardEvent) => hooks.key(e),
  });
  const use = h(
    "button",
    {
      type: "button",
      class: "link map-use",
      hidden: true,
      onclick: () => useIt(),
      onkeydown: (e: KeyboardEvent) => {
        if (e.key !== "Escape") return;
        look(null);
        bob.focus({ preventScroll: true });
      },
    },
    "use this load",
  );
  const el = h("div", { class: "map-box" }, svg, bob, use);
  let model: PictureModel | null = null;
  let size: [number, number] = [0, 0];
  let frame: MapFrame | null = null;
  let drawn: readonly unknown[] = [];
  /** the place that is looked at */
  let looked: { radiusM: number; kmh: number } | null = null;
  let settled: { radiusM: number; kmh: number } = { radiusM: 1, kmh: 0 };

  const frameNow = (m: PictureModel): MapFrame => {
    const e = m.spare ? NARROW : EDGES;
    return { left: e.left, top: e.top, right: size[0] - e.right, bottom: size[1] - e.bottom, range: m.range };
  };

  const draw = (): void => {
    if (!model || size[0] < 80 || size[1] < 80) return;
    frame = frameNow(model);
    if (!model.dragging) settled = model.bob;
    const causes = [
      model.map,
      model.areas,
      model.b,
      model.known,
      model.runs,
      model.doubts.first,
      model.doubts.lines,
      size[0],
      size[1],
      model.spare,
      model.scenario,
      settled.radiusM,
      settled.kmh,
      JSON.stringify(model.range),
    ];
    if (!causes.every((c, i) => Object.is(c, drawn[i]))) {
      drawn = causes;
      setAttr(svg, "viewBox", `0 0 ${size[0]} ${size[1]}`);
      ground.replaceChildren(
        ...axes(frame, model),
        ...(model.map && model.areas ? surface(frame, model, model.map, model.areas, settled, measure) : []),
        ...runMarks(frame, model.runs),
      );
    }
    svg.classList.toggle("pale", model.stale);
    drawNow(frame, model);
    drawPin();
  };

  const drawNow = (f: MapFrame, m: PictureModel): void => {
    const x = xOf(f, m.bob.radiusM);
    const y = yOf(f, Math.min(m.bob.kmh, f.range.kmh));
    const [cross, ring, mark] = now.children as unknown as [Element, Element, Element];
    setAttr(cross, "d", `M${f.left} ${y.toFixed(1)}H${(x - 12).toFixed(1)}M${x.toFixed(1)} ${(y + 12).toFixed(1)}V${f.bottom}`);
    setAttr(ring, "transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
    setAttr(mark, "transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
    bob.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    const words = m.map
      ? pointWords(m.map, m.scenario.corner, m.bob.radiusM, m.bob.kmh)
      : [`${radiusWords(m.bob.radiusM)} m, ${m.bob.kmh.toFixed(1)} km/h`, ""];
    nowTag.classList.toggle("gives", m.map !== null && worstAt(m.map, m.bob.radiusM, m.bob.kmh).utilization >= 1);
    setAttr(bob, "aria-label", `the car now: ${words.join("; ")}`);
    writeTag(nowTag, bobTagBox(f, x, y, m.spare), [m.spare ? (words[0] as string) : `now: ${words[0]}`, words[1] as string], m.spare, f, measure);
  };

  const hover = (at: V2 | null): void => {
    read.classList.toggle("on", at !== null && frame !== null && model?.map !== null);
    if (!at || !frame || !model?.map) return;
    const p = pointAt(frame, at[0], at[1]);
    const x = xOf(frame, p.radiusM);
    const y = yOf(frame, p.kmh);
    setAttr(read.firstElementChild as Element, "d", `M${frame.left} ${y.toFixed(1)}H${x.toFixed(1)}V${frame.bottom}`);
    const words = pointWords(model.map, model.scenario.corner, p.radiusM, p.kmh);
    writeTag(read, bobTagBox(frame, x, y - 30, model.spare), words, model.spare, frame, measure, 1);
  };

  /** The place looked at, with its numbers and the way to stand there. */
  const drawPin = (): void => {
    const on = looked !== null && frame !== null && model?.map !== null && model !== null;
    pin.classList.toggle("on", on);
    use.hidden = !on || worstAt(model!.map!, looked!.radiusM, looked!.kmh).beyond;
    if (!on || !looked || !frame || !model?.map) return;
    const x = xOf(frame, looked.radiusM);
    const y = yOf(frame, looked.kmh);
    setAttr(pin.children[0] as Element, "d", `M${frame.left} ${y.toFixed(1)}H${x.toFixed(1)}V${frame.bottom}`);
    setAttr(pin.children[1] as Element, "transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
    const words = pointWords(model.map, model.scenario.corner, looked.radiusM, looked.kmh);
    const box = bobTagBox(frame, x, model.spare ? y : y - 30, model.spare);
    const high = box.h + (use.hidden ? 0 : USE_H);
    const top = Math.max(frame.top, Math.min(box.y, frame.bottom - high));
    const left = writeTag(pin, { ...box, y: top, h: high }, words, model.spare, frame, measure, 2);
    use.style.transform = `translate(${(left + 11).toFixed(1)}px, ${(top + box.h).toFixed(1)}px)`;
    setAttr(use, "aria-label", `use this load: ${words.join("; ")}`);
  };
  const look = (at: V2 | null): void => {
    looked = at && frame && model?.map ? pointAt(frame, at[0], at[1]) : null;
    drawPin();
    if (looked && model?.map) hooks.looked(pointWords(model.map, model.scenario.corner, looked.radiusM, looked.kmh).join(". "));
  };
  const useIt = (): void => {
    const to = looked;
    if (!to || !frame) return;
    looked = null;
    hooks.move(to.radiusM, to.kmh, "move", frame);
    hooks.move(to.radiusM, to.kmh, "end", frame);
    drawPin();
    bob.focus({ preventScroll: true });
  };

  new ResizeObserver(() => {
    size = [el.clientWidth, el.clientHeight];
    draw();
  }).observe(el);
  listenMap(svg, bob, {
    frame: () => frame,
    bob: () => model?.bob ?? { radiusM: 1, kmh: 0 },
    move: (radiusM, kmh, phase) => frame && hooks.move(radiusM, kmh, phase, frame),
    hover,
    look,
  });
  return {
    el,
    svg,
    update(next) {
      model = next;
      draw();
    },
  };
}

/** Two lines on a lifted box; `from` is the first of its three children. Gives back where the box begins, px. */
function writeTag(
  g: Element,
  box: { x: number; y: number; w: number; h: number },
  words: readonly string[],
  spare: boolean,
  f: MapFrame,
  measure: Measure,
  from = 0,
): number {
  const [rect, a, b] = [...g.children].slice(from) as [Element, Element, Element];
  const strong = spare ? 13 : 15;
  const plain = spare ? 12 : 13;
  const w = Math.max(measure(words[0] as string, strong, true), measure(words[1] ?? "", plain, false)) + 22;
  const x = Math.max(f.left, Math.min(box.x, f.right - w));
  setAttr(rect, "x", x.toFixed(1));
  setAttr(rect, "y", box.y.toFixed(1));
  setAttr(rect, "width", w.toFixed(1));
  setAttr(rect, "height", box.h);
  const rows: [Element, number, number][] = [
    [a, strong, box.y + strong + 6],
    [b, plain, box.y + strong + plain + 12],
  ];
  rows.forEach(([t, px, y], i) => {
    setAttr(t, "x", (x + 11).toFixed(1));
    setAttr(t, "y", y.toFixed(1));
    setAttr(t, "font-size", px);
    setText(t, words[i] ?? "");
  });
  return x;
}

function axes(f: MapFrame, m: PictureModel): Node[] {
  const small = m.spare ? 12 : 13;
  const out: Node[] = [];
  let ticks = "";
  for (const kmh of kmhTicks(f.range)) {
    const y = yOf(f, kmh);
    ticks += `M${f.left - 8} ${y.toFixed(1)}H${f.left}`;
    out.push(s("text", { class: "map-number", x: f.left - 13, y: (y + 4.5).toFixed(1), "text-anchor": "end", "font-size": small }, String(kmh)));
  }
  let last = Number.NEGATIVE_INFINITY;
  for (const r of radiusTicks(f.range)) {
    const x = xOf(f, r);
    ticks += `M${x.toFixed(1)} ${f.bottom}v8`;
    if (x - last < 24) continue;
    last = x;
    out.push(s("text", { class: "map-number", x: x.toFixed(1), y: f.bottom + 24, "text-anchor": "middle", "font-size": small }, String(r)));
  }
  out.push(s("path", { class: "map-ticks", d: ticks }));
  if (!m.spare) out.push(s("text", { class: "map-unit", x: f.left - 58, y: f.top - 6, "font-size": small }, "km/h"));
  let free = 0;
  for (const t of [...m.scenario.tracks].sort((a, b) => a.radiusM - b.radiusM)) {
    const x = xOf(f, t.radiusM);
    const y = f.bottom + 38;
    out.push(s("path", { class: "map-track", d: `M${x.toFixed(1)} ${y - 5}l6 10h-12Z` }));
    if (x < free) continue;
    const name = t.name.length > 16 ? `${t.name.slice(0, 15)}…` : t.name;
    out.push(s("text", { class: "map-track-name", x: (x + 11).toFixed(1), y: y + 5, "font-size": m.spare ? 12 : 14 }, name));
    free = x + 24 + name.length * (m.spare ? 5.6 : 6.6);
  }
  const room = free < f.right - 146;
  out.push(
    s(
      "text",
      { class: "map-unit", x: f.right, y: f.bottom + (m.spare || !room ? 57 : 43), "text-anchor": "end", "font-size": small },
      m.spare ? "curve radius, m" : "curve radius, m (logarithmic)",
    ),
  );
  return out;
}

function surface(f: MapFrame, m: PictureModel, map: SpeedMap, areas: MapAreas, bob: { radiusM: number; kmh: number }, measure: Measure): Node[] {
  const place = onSheet(f);
  const layout: MapLayout = mapLayout({ map, areas, b: m.b, known: m.known, corner: m.scenario.corner, frame: f, bob, spare: m.spare }, measure);
  const lines = (runs: readonly (readonly V2[])[]): string => runs.map((run) => pathOf(run.map(place), false)).join("");
  const out: Node[] = [s("rect", { class: "map-0", x: f.left, y: f.top, width: f.right - f.left, height: f.bottom - f.top })];
  areas.steps.forEach((rings, i) => {
    const d = rings.map((r) => pathOf(r.map(place), true)).join("");
    if (i === 2) out.push(s("path", { class: "map-lean", d: areas.leans.map((l) => lines(l.runs)).join("") }));
    out.push(s("path", { class: `map-${i + 1}`, d, "fill-rule": "evenodd" }), s("path", { class: `map-hatch-${i + 1}`, d, "fill-rule": "evenodd" }));
  });
  const safeKmh = (radiusM: number): number => mpsToKmh(safeSpeedAt(map, radiusM).speedMps);
  const band = bandOver(m.doubts, safeKmh);
  if (band) out.push(s("path", { class: "map-band", d: pathOf(bandOutline(f, band.low, band.high), true) }));
  out.push(s("path", { class: "map-limit", d: layout.limits.map((l) => lines(l.runs)).join("") }));
  // where they run with the safe line that one is seen
  out.push(...chances(chanceLines(f, m.doubts.lines ?? [], safeKmh), m.spare ? MAP_TEXT.narrow : MAP_TEXT.label));
  const b = pathOf(layout.safeB, false);
  out.push(
    s("path", { class: "map-safe-b-under", d: b }),
    s("path", { class: "map-safe", d: pathOf(layout.safe, false) }),
    s("path", { class: "map-safe-b", d: b }),
    s("path", { class: "map-safe-known", d: pathOf(layout.safeKnown, false) }),
  );
  if (layout.driveY !== null) out.push(s("path", { class: "map-drive", d: `M${f.left} ${layout.driveY.toFixed(1)}H${f.right}` }));
  const size = m.spare ? MAP_TEXT.narrow : MAP_TEXT.label;
  for (const l of layout.labels)
    out.push(
      s(
        "text",
        {
          class: `map-label ${l.look}`,
          transform: `translate(${l.at[0].toFixed(1)} ${l.at[1].toFixed(1)}) rotate(${l.deg.toFixed(1)})`,
          y: size * 0.34,
          "text-anchor": "middle",
          "font-size": size,
        },
        l.text,
      ),
    );
  for (const t of layout.tags) {
    const g = s("g", { class: `map-tag ${t.look}` });
    if (t.look !== "easy") g.append(s("rect", { x: t.box.x.toFixed(1), y: t.box.y.toFixed(1), width: t.box.w.toFixed(1), height: t.box.h.toFixed(1) }));
    const cx = t.box.x + t.box.w / 2;
    const alone = t.look === "b" || t.look === "known";
    const first = alone ? size : m.spare ? MAP_TEXT.titleNarrow : MAP_TEXT.title;
    const y = alone ? t.box.y + t.box.h / 2 + size * 0.34 : t.box.y + 6 + first;
    g.append(s("text", { class: "strong", x: cx.toFixed(1), y: y.toFixed(1), "text-anchor": "middle", "font-size": first }, t.lines[0] as string));
    const sub = m.spare ? MAP_TEXT.narrow : MAP_TEXT.sub;
    if (t.lines[1]) g.append(s("text", { x: cx.toFixed(1), y: (y + sub * 1.4).toFixed(1), "text-anchor": "middle", "font-size": sub }, t.lines[1]));
    out.push(g);
  }
  return out;
}
