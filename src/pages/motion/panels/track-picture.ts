import { s } from "../../../ui/dom.ts";
import { fixed } from "../../../view/format.ts";
import { timeMarks } from "../picture/tracks.ts";

export interface RowPlace {
  row: number;
  /** px */
  top: number;
  high: number;
  width: number;
  endS: number;
  x(t: number): number;
}

/** room above a row for the words of the posts, and below it for the time axis, px */
const ABOVE = 22;
const BELOW = 30;

/** One row of the trace as a picture of its own, with its time axis: a copy, to be put beside the whole so that it has its looks. */
export function rowPicture(whole: SVGSVGElement, p: RowPlace): SVGSVGElement {
  const copy = whole.cloneNode(true) as SVGSVGElement;
  const foot = p.top + p.high;
  copy.querySelectorAll(".track").forEach((g, i) => {
    if (i !== p.row) g.remove();
  });
  const name = copy.querySelector(".track-rival-name");
  const nameY = Number(name?.getAttribute("y"));
  if (name && (nameY < p.top || nameY > foot)) name.remove();
  for (const text of copy.querySelectorAll(".track-posts text")) text.setAttribute("y", (p.top - 6).toFixed(1));
  const marks = timeMarks(p.endS);
  const ticks = [...marks.long.map((t) => `M${p.x(t).toFixed(1)} ${foot}v8`), ...marks.short.map((t) => `M${p.x(t).toFixed(1)} ${foot}v4`)];
  copy.append(
    s("path", { class: "track-rule", d: ticks.join("") }),
    ...marks.long.map((t, i) =>
      s("text", { x: p.x(t).toFixed(1), y: (foot + 23).toFixed(1), "text-anchor": "middle" }, i === 0 ? "0\u2009s" : fixed(t, marks.digits)),
    ),
  );
  const height = p.high + ABOVE + BELOW;
  copy.setAttribute("viewBox", `0 ${(p.top - ABOVE).toFixed(1)} ${p.width} ${height.toFixed(1)}`);
  copy.removeAttribute("aria-label");
  copy.style.width = `${p.width}px`;
  copy.style.height = `${height}px`;
  return copy;
}
