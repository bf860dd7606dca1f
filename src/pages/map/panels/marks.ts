import type { V2 } from "../../../core/vec.ts";
import { s } from "../../../ui/dom.ts";
import { type MapFrame, xOf, yOf } from "../../../view/map/frame.ts";
import type { RunPoint } from "../../../view/runs/points.ts";
import type { DrawnLine } from "../picture/chance-lines.ts";

/** What lies over the map's areas: runs, and lines of chances. */

/** A path through points, px. */
export const pathOf = (points: readonly V2[], closed: boolean): string =>
  points.length < 2 ? "" : `M${points.map((p) => `${p[0].toFixed(1)} ${p[1].toFixed(1)}`).join("L")}${closed ? "Z" : ""}`;

/** half of a run's mark, px */
const MARK = 5;

/** Runs: a ring where all held, a cross where something gave, pale where it was taken into the design already. */
export function runMarks(f: MapFrame, runs: readonly RunPoint[]): Node[] {
  const [from, to] = f.range.radiusM;
  return runs
    .filter((p) => p.radiusM >= from && p.radiusM <= to && p.kmh <= f.range.kmh)
    .map((p) => {
      const at = `translate(${xOf(f, p.radiusM).toFixed(1)} ${yOf(f, p.kmh).toFixed(1)})`;
      const cross = `M${-MARK} ${-MARK}L${MARK} ${MARK}M${-MARK} ${MARK}L${MARK} ${-MARK}`;
      const mark = (k: "under" | "over"): SVGElement => (p.gave ? s("path", { class: k, d: cross }) : s("circle", { class: k, r: MARK }));
      return s(
        "g",
        { class: `map-run ${p.gave ? "gave" : "held"}${p.taken ? " taken" : ""}`, transform: at },
        s("title", {}, p.words),
        mark("under"),
        mark("over"),
      );
    });
}

/** Thin lines of chances, each named where it runs apart from the safe line. */
export function chances(lines: readonly DrawnLine[], size: number): Node[] {
  return lines.flatMap((l): Node[] => {
    const d = pathOf(l.points, false);
    const out: Node[] = [s("path", { class: "map-chance-under", d }), s("path", { class: `map-chance c-${100 * l.chance}`, d })];
    if (l.name)
      out.push(
        s(
          "text",
          {
            class: "map-label",
            transform: `translate(${l.name.at[0].toFixed(1)} ${l.name.at[1].toFixed(1)}) rotate(${l.name.deg.toFixed(1)})`,
            y: size * 0.34,
            "text-anchor": "middle",
            "font-size": size,
          },
          l.name.text,
        ),
      );
    return out;
  });
}
