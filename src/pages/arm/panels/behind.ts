import type { V2 } from "../../../core/vec.ts";
import { s, setAttr } from "../../../ui/dom.ts";
import { barAlong, smooth } from "../../../view/geometry.ts";
import { drawTexts, type Text } from "./plan.ts";

export interface BehindArm {
  /** [along, up] mm from the inner pin, its bow already drawn larger */
  line: readonly V2[];
  heightMm: number;
  lengthMm: number;
  /** along the arm, and the force across it there, N (positive pushes down); null: no spring on this arm */
  seat: { atMm: number; downN: number } | null;
  /** "A bends 2.2 mm", "33 of 40 N/mm²" */
  words: [string, string];
  /** pin holes that run fore-aft, mm */
  holes: { pitchMm: number; radiusMm: number } | null;
}

export interface BehindModel {
  widthPx: number;
  heightPx: number;
  x0: number;
  scale: number;
  narrow: boolean;
  a: BehindArm;
  b: BehindArm | null;
  /** the hand at the ball joint, pressing up or down; null: the load that is set */
  press: { newton: number; alongMm: number; pxPerN: number } | null;
}

const num = (v: number): string => v.toFixed(1);
const path = (points: readonly V2[], closed: boolean): string => `M${points.map((p) => `${num(p[0])} ${num(p[1])}`).join("L")}${closed ? "Z" : ""}`;

const N_LONG = 33;
const LONG_PX = 36;

/** px of a force's arrow: 33 N is 36 px, never under 16. */
const arrowPx = (n: number): number => Math.max(16, Math.min(56, (Math.abs(n) / N_LONG) * LONG_PX));
const barPx = (x: Pick<BehindArm, "heightMm">, scale: number): number => Math.max(5, x.heightMm * scale);

/** Heights of the two straight lines for what is drawn about them, and how much room is wanted in all. px */
export function behindRows(m: Pick<BehindModel, "a" | "b" | "scale" | "press" | "narrow">): { aY: number; bY: number; tall: number } {
  const around = (x: BehindArm): { up: number; down: number } => {
    const half = barPx(x, m.scale) / 2;
    let up = half;
    let down = half;
    for (const [, z] of x.line) {
      up = Math.max(up, half + z * m.scale);
      down = Math.max(down, half - z * m.scale);
    }
    if (x.seat && !m.press) {
      const at = upAt(x.line, x.seat.atMm) * m.scale;
      if (x.seat.downN >= 0) up = Math.max(up, at + half + arrowPx(x.seat.downN));
      else down = Math.max(down, half - at + arrowPx(x.seat.downN));
    }
    return { up, down };
  };
  const a = around(m.a);
  const hand = m.press ? HAND_PX : 0;
  const aY = ABOVE + Math.max(a.up, hand);
  if (!m.b) return { aY, bY: aY, tall: aY + Math.max(a.down, hand) + ABOVE };
  const b = around(m.b);
  const bY = aY + a.down + (m.press ? (m.narrow ? 4.4 : 2.5) * BETWEEN : BETWEEN) + b.up;
  return { aY, bY, tall: bY + b.down + ABOVE };
}

const ABOVE = 8;
const BETWEEN = 10;
/** reach of the hand's arrow at its most, with its ring */
const HAND_PX = 72;

/** Both arms from behind, bent as solved, or as a hand at the ball joint presses them. */
export function createBehind(): { svg: SVGSVGElement; update(m: BehindModel): void } {
  const chords = s("path", { class: "arm-chord" });
  const b = s("path", { class: "bent b" });
  const a = s("path", { class: "bent a" });
  const holes = s("path", { class: "arm-holes" });
  const eyes = s("path", { class: "bent-eyes" });
  const pins = s("path", { class: "bent-pins" });
  const holds = s("path", { class: "arm-holds" });
  const arrows = s("path", { class: "load-arrow" });
  const heads = s("path", { class: "load-head" });
  const ring = s("circle", { class: "hand-ring", r: 17 });
  const texts = s("g", { class: "arm-texts on-sheet" });
  const svg = s("svg", { class: "arm-behind", "aria-hidden": "true" }, chords, b, a, holes, eyes, pins, holds, arrows, heads, ring, texts);
  return {
    svg,
    update(m) {
      setAttr(svg, "viewBox", `0 0 ${num(m.widthPx)} ${num(m.heightPx)}`);
      const { aY, bY } = placedRows(m);
      const list: Text[] = [];
      let chord = "";
      let eye = "";
      let pin = "";
      let shaft = "";
      let tips = "";
      let hold = "";
      let hole = "";
      const right = m.x0 + Math.max(m.a.lengthMm, m.b?.lengthMm ?? 0) * m.scale + (m.narrow ? 14 : 34);
      const draw = (x: BehindArm, y: number, which: "a" | "b"): string => {
        const to = (p: V2): V2 => [m.x0 + p[0] * m.scale, y - p[1] * m.scale];
        const pts = smooth(x.line.map(to), 2);
        const [p0, p1] = [pts[0]!, pts[pts.length - 1]!];
        chord += path([to([0, 0]), to([x.lengthMm, 0])], false);
        const r = Math.max(6, Math.min(11, 1.75 * m.scale));
        for (const p of [p0, p1]) {
          eye += `M${num(p[0] - r)} ${num(p[1])}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
          const q = r * 0.5;
          pin += `M${num(p[0] - q)} ${num(p[1])}a${q} ${q} 0 1 0 ${2 * q} 0a${q} ${q} 0 1 0 ${-2 * q} 0Z`;
        }
        if (x.holes && which === "a") {
          const hr = x.holes.radiusMm * m.scale;
          for (let at = x.holes.pitchMm; at < x.lengthMm - x.holes.pitchMm / 2; at += x.holes.pitchMm) {
            const c = to([at, upAt(x.line, at)]);
            hole += `M${num(c[0] - hr)} ${num(c[1])}a${num(hr)} ${num(hr)} 0 1 0 ${num(2 * hr)} 0a${num(hr)} ${num(hr)} 0 1 0 ${num(-2 * hr)} 0Z`;
          }
        }
        const h = barPx(x, m.scale);
        if (x.seat) {
          const on = to([x.seat.atMm, upAt(x.line, x.seat.atMm)]);
          if (m.press) {
            // the spring's seat is held: a wedge below and above
            const e = h / 2 + 1;
            hold += `M${num(on[0])} ${num(on[1] + e)}l-7 11h14ZM${num(on[0])} ${num(on[1] - e)}l-7 -11h14Z`;
          } else {
            const down = x.seat.downN >= 0 ? 1 : -1;
            const end = on[1] - (down * h) / 2;
            const from = end - down * arrowPx(x.seat.downN);
            shaft += path(
              [
                [on[0], from],
                [on[0], end - down * 8],
              ],
              false,
            );
            tips += path(
              [
                [on[0] - 5.5, end - down * 11],
                [on[0] + 5.5, end - down * 11],
                [on[0], end],
              ],
              true,
            );
            list.push({
              key: `${which}.n`,
              at: [on[0] + 9, (from + end) / 2 + 3],
              text: `${Math.abs(x.seat.downN).toFixed(0)}\u2009N`,
              class: "tone-load strong",
            });
          }
        }
        const cls = which === "b" ? "tone-design-b" : "";
        list.push({ key: `${which}.bend`, at: [right, y - 2], text: x.words[0], class: `${cls} strong${m.narrow ? "" : " big"}` });
        list.push({ key: `${which}.stress`, at: [right, y + 16], text: x.words[1], class: which === "b" ? cls : "tone-ink-2" });
        return path(barAlong(pts, h), true);
      };
      setAttr(a, "d", draw(m.a, aY, "a"));
      setAttr(b, "d", m.b ? draw(m.b, bY, "b") : "");
      setAttr(chords, "d", chord);
      setAttr(eyes, "d", eye);
      setAttr(pins, "d", pin);
      setAttr(holds, "d", hold);
      setAttr(holes, "d", hole);
      ring.style.display = m.press ? "" : "none";
      if (m.press) {
        const tip = pressTip(m);
        const at: V2 = [tip[0], aY];
        const up = tip[1] < at[1] ? -1 : 1;
        if (Math.abs(tip[1] - at[1]) > 12) {
          shaft += path([at, [tip[0], tip[1] - up * 10]], false);
          tips += path([[tip[0] - 6, tip[1] - up * 12], [tip[0] + 6, tip[1] - up * 12], tip], true);
        } else tips += `M${num(tip[0] - 5)} ${num(tip[1])}a5 5 0 1 0 10 0a5 5 0 1 0 -10 0Z`;
        setAttr(ring, "cx", num(tip[0]));
        setAttr(ring, "cy", num(tip[1]));
        list.push({
          key: "press",
          at: [tip[0] - 28, tip[1] + 4],
          text: m.press.newton === 0 ? "" : `${Math.abs(m.press.newton).toFixed(0)}\u2009N`,
          align: "end",
          class: "tone-load strong",
        });
      }
      setAttr(arrows, "d", shaft);
      setAttr(heads, "d", tips);
      drawTexts(texts, list);
    },
  };
}

/** The two straight lines in the room there is; they hold still under a hand. */
function placedRows(m: BehindModel): { aY: number; bY: number } {
  const rows = behindRows(m);
  const slack = Math.max(0, m.heightPx - rows.tall);
  return m.press ? rows : { aY: rows.aY + slack * 0.25, bY: rows.bY + slack * 0.6 };
}

/** Where the ring of the hand is, px. */
export function pressTip(m: BehindModel): V2 {
  const { newton, alongMm, pxPerN } = m.press ?? { newton: 0, alongMm: 0, pxPerN: 0 };
  return [m.x0 + alongMm * m.scale, placedRows(m).aY - newton * pxPerN];
}

/** Height of a line of points at a place along it. */
function upAt(line: readonly V2[], x: number): number {
  for (let i = 1; i < line.length; i++) {
    const p = line[i - 1]!;
    const q = line[i]!;
    if (x <= q[0] || i === line.length - 1) return q[0] === p[0] ? q[1] : p[1] + ((q[1] - p[1]) * (x - p[0])) / (q[0] - p[0]);
  }
  return 0;
}
