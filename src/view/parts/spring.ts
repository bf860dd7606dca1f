import type { Corner } from "../../core/design/types.ts";
import type { CornerState } from "../../core/equilibrium/state.ts";
import type { V2 } from "../../core/vec.ts";
import { length, mix, normalOf, sub, unit } from "../geometry.ts";
import { type Mark, mark, type Prim } from "../marks.ts";
import { drawnSeat } from "../poses.ts";

const COILS = 6;

/** Coil with a bright front and a pale back, perches square to its axis, stops as blocks that fill when touched. */
export function springMarks(corner: Corner, state: CornerState, factor: number, pxPerMm: number, px: (p: V2) => V2): Mark[] {
  const top = px(state.spring.top);
  const seat = px(drawnSeat(corner, state, factor));
  const axis = unit(sub(seat, top));
  const n = normalOf(axis);
  const total = length(sub(seat, top));
  const r = Math.max(5, Math.min(24, 5.2 * pxPerMm));
  const at = (along: number, across: number): V2 => [top[0] + axis[0] * along + n[0] * across, top[1] + axis[1] * along + n[1] * across];
  const end = Math.min(total * 0.12, 3.2 * pxPerMm);
  const from = end;
  const to = total - end;
  const back: V2[] = [];
  const front: V2[] = [];
  const pitch = (to - from) / COILS;
  for (let i = 0; i < COILS; i++) {
    const a = from + i * pitch;
    front.push(at(a, -r), at(a + pitch * 0.5, r));
    back.push(at(a + pitch * 0.5, r), at(a + pitch, -r));
  }
  const core: Prim = {
    kind: "poly",
    points: [at(0, 0), at(total, 0)],
    closed: false,
    stroke: { tone: "body-line", width: Math.max(2, 0.9 * pxPerMm), alpha: 0.45 },
  };
  const bottomed = state.spring.bumpStopN > 0;
  const hanging = state.spring.droopStopN < 0 || state.spring.droopStopN > 0;
  const block = (along: number, thick: number, filled: boolean): Prim => ({
    kind: "poly",
    points: [at(along, -r * 0.42), at(along + thick, -r * 0.42), at(along + thick, r * 0.42), at(along, r * 0.42)],
    closed: true,
    fill: filled ? "u-2" : "paper",
    stroke: { tone: filled ? "u-2-line" : "ink-3", width: 1 },
  });
  const prims: Prim[] = [
    core,
    { kind: "segments", pairs: back, stroke: { tone: "spring", width: Math.max(2, 0.8 * pxPerMm), alpha: 0.45, round: true } },
    block(total * 0.5 - 3, 6, bottomed),
    { kind: "segments", pairs: front, stroke: { tone: "spring", width: Math.max(2.5, 1.25 * pxPerMm), round: true } },
    { kind: "segments", pairs: [at(from, -r * 1.35), at(from, r * 1.35), at(to, -r * 1.35), at(to, r * 1.35)], stroke: { tone: "spring", width: 2.5 } },
  ];
  if (corner.spring.droopStop && hanging) prims.push(block(to - 5, 4, true));
  prims.push({ kind: "circle", at: top, radius: Math.max(3.5, 1.6 * pxPerMm), fill: "arm", stroke: { tone: "paper", width: 1 } });
  prims.push({ kind: "circle", at: seat, radius: Math.max(3, 1.2 * pxPerMm), fill: "ink", stroke: { tone: "paper", width: 1 } });
  return [mark(`spring.${state.side}`, "spring", prims)];
}

/** Middle of the drawn spring, px. */
export const springMiddle = (corner: Corner, state: CornerState, factor: number, px: (p: V2) => V2): V2 =>
  mix(px(state.spring.top), px(drawnSeat(corner, state, factor)), 0.6);
