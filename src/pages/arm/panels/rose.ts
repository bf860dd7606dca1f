import type { RosePoint } from "../../../core/arm/stiffness.ts";
import type { V2 } from "../../../core/vec.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { type RoseScale, rings, roseOutline } from "../picture/rose.ts";

export interface RoseModel {
  plane: "fromAbove" | "fromBehind";
  scale: RoseScale;
  a: readonly RosePoint[];
  b: readonly RosePoint[] | null;
  /** numbers of the upright and of the level direction, N/mm */
  upright: { words: string; a: string; b: string | null };
  level: { words: string; a: string; b: string | null };
}

const R = 82;
const CX = 108;
const CY = 106;

const outline = (points: readonly V2[]): string => `M${points.map((p) => `${(CX + p[0]).toFixed(1)} ${(CY + p[1]).toFixed(1)}`).join("L")}Z`;

/** Stiffness in every direction of a plane, both arms on one log scale. */
export function createRose(title: Node | string, sub: string): { el: HTMLElement; update(m: RoseModel): void } {
  const grid = s("g", { class: "rose-rings" });
  const axes = s("path", { class: "rose-axes", d: `M${CX - R - 8} ${CY}H${CX + R + 8}M${CX} ${CY - R - 8}V${CY + R + 8}` });
  const a = s("path", { class: "rose-a" });
  const b = s("path", { class: "rose-b" });
  const svg = s("svg", { class: "rose", viewBox: "0 0 216 206", "aria-hidden": "true" }, grid, axes, a, b);
  const top = h("p", { class: "rose-top" });
  const side = h("p", { class: "rose-side" });
  const el = h("section", { class: "rose-box" }, h("h2", {}, title), h("p", { class: "aside-term" }, sub), top, h("div", { class: "rose-row" }, svg, side));
  const put = (host: HTMLElement, m: RoseModel["upright"]): void => {
    if (host.childElementCount === 0) host.append(h("span", { class: "rose-words" }), h("b"), h("b", { class: "b" }));
    const [words, x, y] = host.children as unknown as [HTMLElement, HTMLElement, HTMLElement];
    setText(words, m.words);
    setText(x, `A\u2009${m.a}`);
    setText(y, m.b === null ? "" : `B\u2009${m.b}`);
  };
  return {
    el,
    update(m) {
      keyed(
        grid,
        rings(m.scale),
        (r) => r.words,
        () => s("g", {}, s("circle", { cx: CX, cy: CY }), s("text", { "text-anchor": "middle" })),
        (g, r) => {
          setAttr(g.firstElementChild as Element, "r", (r.radius * R).toFixed(1));
          const t = g.lastElementChild as Element;
          const d = (r.radius * R + 9) * Math.SQRT1_2;
          setAttr(t, "x", (CX - d).toFixed(1));
          setAttr(t, "y", (CY + d + 4).toFixed(1));
          setText(t, r.words);
        },
      );
      setAttr(a, "d", outline(roseOutline(m.a, m.plane, m.scale, R)));
      setAttr(b, "d", m.b ? outline(roseOutline(m.b, m.plane, m.scale, R)) : "");
      put(top, m.upright);
      put(side, m.level);
    },
  };
}
