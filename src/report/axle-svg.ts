import type { V2 } from "../core/vec.ts";
import { fitBounds } from "../view/camera.ts";
import type { PlacedLabel } from "../view/labels.ts";
import { LAYERS, type Mark, type Prim, type Stroke } from "../view/marks.ts";
import { sceneBounds } from "../view/parts/paper.ts";
import { createScene, type Drawn } from "../view/scene.ts";
import { at, el, say } from "./markup.ts";
import { measureText } from "./measure.ts";
import { toneOf } from "./tones.ts";

export const PICTURE_PX = 700;
/** room for the plumb lines and, below the road, for the forces */
const INSETS = { left: 70, right: 70, top: 46, bottom: 104 };
const LABEL_LINE = 1.22;
const PAD: Readonly<Record<PlacedLabel["look"], readonly [number, number]>> = { plain: [2, 1], gives: [18, 8], value: [10, 8] };

/** The axle from behind as a drawing of its own: the very marks of the page, as lines that a printer takes. B, where there is one, lies behind dashed. */
export function axleSvg(a: Drawn, b: Drawn | null, bend: 1 | 3 | 10, name: string): string {
  const bounds = sceneBounds(a.scenario);
  const inner = PICTURE_PX - INSETS.left - INSETS.right;
  const heightPx = Math.round((inner / (bounds.right - bounds.left)) * (bounds.top - bounds.bottom)) + INSETS.top + INSETS.bottom;
  const camera = fitBounds(bounds, PICTURE_PX, heightPx, INSETS);
  const scene = createScene(measureText)({
    a,
    b,
    unloaded: null,
    camera,
    show: { forces: true, armForces: true, rollCentre: false, leanByPart: false, designB: b !== null, unloaded: false, bend },
    spare: false,
    active: null,
    hover: null,
    keepClear: [],
    leanSteps: null,
    settled: true,
  });
  const layers = LAYERS.map((_, layer) =>
    scene.marks
      .filter((m) => m.layer === layer)
      .map(markSvg)
      .join(""),
  );
  const leaders = scene.labels.map((l) => (l.leader ? leaderSvg(l.leader) : "")).join("");
  return el(
    "svg",
    { class: "axle", viewBox: `0 0 ${PICTURE_PX} ${heightPx}`, role: "img", "aria-label": name },
    el("rect", { width: PICTURE_PX, height: heightPx, fill: toneOf("paper") }),
    ...layers,
    leaders,
    ...scene.labels.map(labelSvg),
  );
}

/** One mark of the drawing as markup. */
export function markSvg(m: Mark): string {
  const inside = m.prims.map(primSvg).join("");
  return m.alpha < 1 ? el("g", { opacity: m.alpha }, inside) : inside;
}

function strokeOf(s: Stroke | undefined): Record<string, string | number | null> {
  if (!s) return {};
  return {
    stroke: toneOf(s.tone),
    "stroke-width": s.width,
    "stroke-opacity": s.alpha ?? null,
    "stroke-linecap": s.round ? "round" : null,
    "stroke-linejoin": "round",
  };
}

const pathOf = (points: readonly V2[], closed: boolean): string =>
  points.map((p, i) => `${i === 0 ? "M" : "L"}${at(p[0])} ${at(p[1])}`).join("") + (closed ? "Z" : "");

function primSvg(p: Prim): string {
  switch (p.kind) {
    case "poly":
      if (p.points.length < 2) return "";
      return el("path", { d: pathOf(p.points, p.closed), fill: p.fill ? toneOf(p.fill) : "none", "fill-opacity": p.fillAlpha, ...strokeOf(p.stroke) });
    case "circle":
      return el("circle", {
        cx: at(p.at[0]),
        cy: at(p.at[1]),
        r: at(p.radius),
        fill: p.fill ? toneOf(p.fill) : "none",
        "fill-opacity": p.fillAlpha,
        ...strokeOf(p.stroke),
      });
    case "segments": {
      let d = "";
      for (let i = 0; i + 1 < p.pairs.length; i += 2) d += pathOf([p.pairs[i] as V2, p.pairs[i + 1] as V2], false);
      return d === "" ? "" : el("path", { d, fill: "none", ...strokeOf(p.stroke) });
    }
    case "holes": {
      const r = at(p.radius);
      const ring = (q: V2): string => `M${at(q[0] - p.radius)} ${at(q[1])}a${r} ${r} 0 1 0 ${at(2 * p.radius)} 0a${r} ${r} 0 1 0 -${at(2 * p.radius)} 0Z`;
      return el("path", { d: p.at.map(ring).join(""), fill: toneOf(p.fill), "fill-opacity": p.fillAlpha, ...strokeOf(p.stroke) });
    }
    case "dots":
      // a line of no length with round ends is a disc, and all of them are one path
      return el("path", {
        d: p.at.map((q) => `M${at(q[0])} ${at(q[1])}h0`).join(""),
        stroke: toneOf(p.fill),
        "stroke-width": at(2 * p.radius),
        "stroke-linecap": "round",
      });
  }
}

const leaderSvg = ([a, b]: readonly [V2, V2]): string => el("path", { d: pathOf([a, b], false), stroke: toneOf("ink"), "stroke-width": 1 });

function labelSvg(l: PlacedLabel): string {
  const [padX, padY] = PAD[l.look];
  const boxed = l.look !== "plain";
  const align = boxed ? "start" : l.align;
  const x = align === "start" ? padX : align === "end" ? l.w - padX : l.w / 2;
  let y = padY;
  const lines = l.lines.map((line) => {
    const base = y + line.size;
    y += line.size * LABEL_LINE;
    return say(
      "text",
      {
        x: at(x),
        y: at(base),
        "text-anchor": align,
        "font-size": line.size,
        "font-weight": line.strong ? 700 : null,
        fill: toneOf(line.tone),
        class: boxed ? null : "halo",
      },
      line.text,
    );
  });
  const box = boxed ? el("rect", { width: at(l.w), height: at(l.h), fill: toneOf(l.look === "gives" ? "u-3" : "lift") }) + givesEdge(l) : "";
  return el("g", { transform: `translate(${at(l.x)} ${at(l.y)})` }, box, ...lines);
}

/** Crossed lines along the edge of a tag that tells of a failure. */
function givesEdge(l: PlacedLabel): string {
  if (l.look !== "gives") return "";
  let d = "";
  for (let y = 0; y + 6 <= l.h; y += 6) d += `M1 ${at(y)}l6 6M7 ${at(y)}l-6 6`;
  return el("path", { d, stroke: toneOf("u-3-line"), "stroke-width": 1 });
}
