import type { Handle, HandleId } from "../view/handles.ts";
import type { Measure, PlacedLabel } from "../view/labels.ts";
import { handleTargets, type Target } from "../view/targets.ts";
import { h, keyed, s, setAttr, setPlace, setSize, setText } from "./dom.ts";
import { pointButton } from "./point-button.ts";
import { isNarrow } from "./widths.ts";

/** Widths of drawn text, measured once per text with the face of the drawing. */
export function createMeasure(root: HTMLElement): Measure {
  const family = getComputedStyle(root).getPropertyValue("--font-draw").trim() || "sans-serif";
  const context = document.createElement("canvas").getContext("2d");
  const kept = new Map<string, number>();
  return (text, size, strong) => {
    const font = `${strong ? 700 : 400} ${size}px ${family}`;
    // all digits are of one width, so that a running number is measured once
    const shape = text.replace(/\d/g, "0");
    const key = `${strong ? "b" : "n"}${size}|${shape}`;
    let w = kept.get(key);
    if (w === undefined) {
      if (context) context.font = font;
      w = context ? context.measureText(shape).width : text.length * size * 0.5;
      if (kept.size > 4000) kept.clear();
      kept.set(key, w);
    }
    return w;
  };
}

export interface Overlay {
  labels: SVGSVGElement;
  handles: HTMLDivElement;
  update(labels: readonly PlacedLabel[], handles: readonly Handle[], active: HandleId | null, pale: boolean): void;
  focus(id: HandleId): void;
}

const PAD_X = { plain: 2, gives: 18, value: 10 } as const;
const PAD_Y = { plain: 1, gives: 8, value: 8 } as const;

/** Labels as crisp text over the drawing, and one focusable control for each thing that can be taken in hand. */
export function createOverlay(onKey: (id: HandleId, e: KeyboardEvent) => void, onFocus: (id: HandleId | null) => void): Overlay {
  const labels = s("svg", { class: "labels", "aria-hidden": "true" });
  const leaders = s("g", { class: "leaders" });
  const texts = s("g");
  labels.append(
    s("defs", {}, s("pattern", { id: "tag-hatch", width: 6, height: 6, patternUnits: "userSpaceOnUse" }, s("path", { d: "M0 0L6 6M6 0L0 6" }))),
    leaders,
    texts,
  );
  const handles = h("div", { class: "handles", role: "group", "aria-label": "points of the axle that you can move" });
  const buttons = new Map<HandleId, HTMLButtonElement>();

  return {
    labels,
    handles,
    focus: (id) => buttons.get(id)?.focus({ preventScroll: true }),
    update(list, grips, active, pale) {
      labels.classList.toggle("pale", pale);
      keyed(
        leaders,
        list.filter((l) => l.leader),
        (l) => l.key,
        () => s("line"),
        (el, l) => {
          const [a, b] = l.leader as NonNullable<PlacedLabel["leader"]>;
          setAttr(el, "class", `leader ${l.look}`);
          setAttr(el, "x1", a[0].toFixed(1));
          setAttr(el, "y1", a[1].toFixed(1));
          setAttr(el, "x2", b[0].toFixed(1));
          setAttr(el, "y2", b[1].toFixed(1));
        },
      );
      keyed(
        texts,
        list,
        (l) => l.key,
        () => s("g"),
        (el, l) => updateLabel(el, l),
      );
      const targets = handleTargets(grips, isNarrow());
      keyed(
        handles,
        grips,
        (g) => g.id,
        (g) => {
          const b = pointButton("data-handle", g.id, onKey, onFocus);
          buttons.set(g.id, b);
          return b;
        },
        (el, g, i) => {
          const { at, size } = targets[i] as Target;
          setPlace(el, at[0] - size[0] / 2, at[1] - size[1] / 2);
          setSize(el, size[0], size[1]);
          setAttr(el, "aria-label", `${g.name}, ${g.value}`);
          setAttr(el, "class", `handle handle-${g.id.split(".")[0]}${g.id === active ? " active" : ""}`);
        },
      );
      for (const id of buttons.keys()) if (!grips.some((g) => g.id === id)) buttons.delete(id);
    },
  };
}

function updateLabel(el: SVGGElement, l: PlacedLabel): void {
  setAttr(el, "class", `label ${l.look}`);
  setAttr(el, "transform", `translate(${l.x.toFixed(1)} ${l.y.toFixed(1)})`);
  const boxed = l.look !== "plain";
  const rows = l.lines.map((line, i) => ({ line, i }));
  const parts: { key: string; kind: "box" | "edge" | "text"; i: number }[] = [
    ...(boxed
      ? [
          { key: "box", kind: "box" as const, i: 0 },
          { key: "edge", kind: "edge" as const, i: 0 },
        ]
      : []),
    ...rows.map((r) => ({ key: `t${r.i}`, kind: "text" as const, i: r.i })),
  ];
  let y = PAD_Y[l.look];
  const ys = l.lines.map((line) => {
    const base = y + line.size;
    y += line.size * 1.22;
    return base;
  });
  keyed(
    el,
    parts,
    (p) => p.key,
    (p) => (p.kind === "text" ? s("text") : s("rect")) as SVGElement,
    (node, p) => {
      if (p.kind === "box") {
        setAttr(node, "class", `box ${l.look}`);
        setAttr(node, "width", l.w.toFixed(1));
        setAttr(node, "height", l.h.toFixed(1));
      } else if (p.kind === "edge") {
        setAttr(node, "class", `edge ${l.look}`);
        const foot = l.look === "value";
        setAttr(node, "x", 0);
        setAttr(node, "y", foot ? (l.h - 3).toFixed(1) : 0);
        setAttr(node, "width", foot ? l.w.toFixed(1) : 8);
        setAttr(node, "height", foot ? 3 : l.h.toFixed(1));
      } else {
        const line = l.lines[p.i] as PlacedLabel["lines"][number];
        const pad = PAD_X[l.look];
        const align = boxed ? "start" : l.align;
        setAttr(node, "x", (align === "start" ? pad : align === "end" ? l.w - pad : l.w / 2).toFixed(1));
        setAttr(node, "y", (ys[p.i] as number).toFixed(1));
        setAttr(node, "text-anchor", align);
        setAttr(node, "font-size", line.size);
        setAttr(node, "class", `tone-${line.tone}${line.strong ? " strong" : ""}`);
        setText(node, line.text);
      }
    },
  );
}
