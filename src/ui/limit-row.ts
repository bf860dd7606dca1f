import "./css/sure.css";
import type { Band } from "../core/doubt/bands.ts";
import { rangeWords } from "../view/doubt-words.ts";
import type { LimitRow } from "../view/reading.ts";
import { LIMIT_TERMS } from "../view/terms.ts";
import { h, s, setAttr, setText } from "./dom.ts";
import { term } from "./help.ts";

/** longest bar, in units of what a part can take */
const BAR_MOST = 1.36;
const BAR_WIDTH = 176;
const BAR_HEIGHT = 11;

export interface LimitRowHooks {
  hover(part: string | null): void;
  /** opens a limit, or shuts it with null; without it the row does not open */
  openLimit?(key: string | null): void;
}

/** A limit as a bar that tears where it passes what the part can take. */
export function limitRow(l: LimitRow, hooks: LimitRowHooks): HTMLLIElement {
  const bar = s(
    "svg",
    { class: "limit-bar", viewBox: `0 -4 ${BAR_WIDTH} ${BAR_HEIGHT + 24}`, "aria-hidden": "true" },
    s("path", { class: "bar-shape" }),
    s("path", { class: "bar-hatch" }),
    s("path", { class: "bar-post", d: `M${(BAR_WIDTH / BAR_MOST).toFixed(1)} -4V32` }),
    s("path", { class: "whisker-halo" }),
    s("path", { class: "whisker" }),
  );
  const words = term(LIMIT_TERMS[l.name], l.words);
  words.classList.add("limit-words");
  const { openLimit } = hooks;
  const parts = [bar, h("span", { class: "limit-demand" })];
  const fig = openLimit ? h("button", { type: "button", class: "limit-fig", "aria-expanded": "false" }, ...parts) : h("span", { class: "limit-fig" }, ...parts);
  if (openLimit) fig.addEventListener("click", () => openLimit(fig.getAttribute("aria-expanded") === "true" ? null : l.key));
  return h(
    "li",
    { "data-limit": l.key, onpointerenter: () => hooks.hover(l.key), onpointerleave: () => hooks.hover(null) },
    h("span", { class: "limit-name" }, words, h("span", { class: "limit-where" })),
    fig,
    h("b", { class: "limit-number" }),
  );
}

/** length and step of each bar as it stands */
const bars = new WeakMap<Element, string>();

export function updateLimit(li: HTMLLIElement, l: LimitRow): void {
  li.className = `u-step-${l.step}`;
  const [name, fig, number] = li.children as unknown as [Element, Element, Element];
  setText(name.firstElementChild as Element, l.words);
  const band = l.band ?? null;
  setText(name.lastElementChild as Element, `${l.where}${l.caution ? " (caution)" : ""}${l.crossing ? `, ${l.crossing}` : ""}`);
  setAttr(li, "title", `${l.words}: ${l.where}${band ? `; 90 % range ${rangeWords(band, 2, "")}` : ""}`);
  setText(fig.lastElementChild as Element, l.demand);
  setText(number, l.number);
  const [shape, hatch, , halo, line] = (fig.firstElementChild as Element).children as unknown as [Element, Element, Element, Element, Element];
  const whisker = band ? whiskerPath(band) : "";
  setAttr(halo, "d", whisker);
  setAttr(line, "d", whisker);
  const end = (Math.max(0.004, Math.min(l.utilization, BAR_MOST)) / BAR_MOST) * BAR_WIDTH;
  const drawn = `${end.toFixed(1)} ${l.step}`;
  if (bars.get(shape) === drawn) return;
  bars.set(shape, drawn);
  setAttr(shape, "d", barShape(end, l.step === 3));
  setAttr(hatch, "d", barHatch(end, l.step));
}

/** half the height of the caps, px */
const CAP = 3.5;

/** From the low to the high end of the band along the bar's middle, with a cap where an end is in sight; nothing where all of it is past the margin. */
function whiskerPath({ low, high }: Band): string {
  const x = (u: number): number => (Math.max(0, Math.min(u, BAR_MOST)) / BAR_MOST) * BAR_WIDTH;
  const y = BAR_HEIGHT / 2;
  if (low >= BAR_MOST) return "";
  const cap = (u: number): string => (u >= 0 && u <= BAR_MOST ? `M${x(u).toFixed(1)} ${y - CAP}v${2 * CAP}` : "");
  return `M${x(low).toFixed(1)} ${y}H${x(high).toFixed(1)}${cap(low)}${cap(high)}`;
}

/** Bar from zero; past what the part can take its end is torn. */
function barShape(end: number, torn: boolean): string {
  const b = BAR_HEIGHT;
  if (!torn) return `M0 0H${end.toFixed(1)}V${b}H0Z`;
  const e = end;
  return `M0 0H${(e - 4).toFixed(1)}L${e.toFixed(1)} ${(b * 0.3).toFixed(1)}L${(e - 4).toFixed(1)} ${(b * 0.5).toFixed(1)}L${e.toFixed(1)} ${(b * 0.75).toFixed(1)}L${(e - 4).toFixed(1)} ${b}H0Z`;
}

/** Easy plain, working wide slant, close tight slant, gives crossed. */
function barHatch(end: number, step: number): string {
  if (step === 0) return "";
  const gap = step === 1 ? 12 : step === 2 ? 5 : 8;
  const b = BAR_HEIGHT;
  let d = "";
  for (let x = gap * 0.5 - b; x < end - 4; x += gap) {
    const x0 = Math.max(0, x);
    const x1 = Math.min(end - 4, x + b);
    if (x1 <= x0) continue;
    d += `M${x0.toFixed(1)} ${(b - (x0 - x)).toFixed(1)}L${x1.toFixed(1)} ${(b - (x1 - x)).toFixed(1)}`;
    if (step === 3) d += `M${x0.toFixed(1)} ${(x0 - x).toFixed(1)}L${x1.toFixed(1)} ${(x1 - x).toFixed(1)}`;
  }
  return d;
}
