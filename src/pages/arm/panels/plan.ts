import { sectionSize } from "../../../core/design/section-shapes.ts";
import type { Arm } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";
import { keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { fixed, holes } from "../../../view/format.ts";
import { type ArmHandle, armHandles, type SectionBox } from "../picture/handles.ts";
import { BLOCK_MM, type PlanShape, type PlanView, planPx } from "../picture/plan.ts";
import type { Pressed } from "../picture/press.ts";
import { type SectionPiece, sectionPieces } from "../picture/section.ts";
import { LAYOUT_WORDS } from "../picture/words.ts";
import { sectionWords } from "../state/edits.ts";

interface PlanArm {
  arm: Arm;
  lengthMm: number;
  shape: PlanShape;
  seatFraction: number | null;
}

export interface PlanModel {
  view: PlanView;
  narrow: boolean;
  pitchMm: number;
  a: PlanArm;
  b: PlanArm | null;
  /** both arms as the load's push leaves them, or the drive's hardest; null: a hand is on the arm. Then: the hand's push along the road and the shape that it makes; null: no hand on the arm */
  shifts: Record<"a" | "b", { lines: V2[][]; words: string; brief: string }> | null;
  push: { newton: number; tipAt: V2; pressed: Pressed; factor: number; words: string } | null;
}

const num = (v: number): string => v.toFixed(1);
const point = (p: V2): string => `${num(p[0])} ${num(p[1])}`;
/** Closed and always turning the way the discs do, so that overlapping pieces fill as one. */
const poly = (points: readonly V2[]): string => {
  let twice = 0;
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!;
    twice += p[0] * q[1] - q[0] * p[1];
  });
  return `M${(twice > 0 ? [...points].reverse() : points).map(point).join("L")}Z`;
};
const line = (points: readonly V2[]): string => `M${points.map(point).join("L")}`;
const disc = (c: V2, r: number): string =>
  `M${num(c[0] - r)} ${num(c[1])}a${num(r)} ${num(r)} 0 1 0 ${num(2 * r)} 0a${num(r)} ${num(r)} 0 1 0 ${num(-2 * r)} 0Z`;

interface Text {
  key: string;
  at: V2;
  text: string;
  align?: "start" | "middle" | "end";
  class?: string;
}

/** the grips of height and width are at least so far from the middle on one of their ways, px */
const GRIP_PX = 28;
/** a letter of the words beside an arm is about so wide, px */
const LETTER_PX = 6.6;
/** further from the arm than this the words of the push stand beside its tip, px */
const PUSH_BESIDE_PX = 44;
/** nearer they stand so far above the joint's eye, px */
const PUSH_ABOVE_PX = 44;

/** Where the cuts through the legs stand beside their arms, both at one scale; `stalk` keeps the grips apart. */
function cutBox(model: Pick<PlanModel, "view" | "narrow" | "a" | "b">, which: "a" | "b"): SectionBox {
  const { view, narrow, a, b } = model;
  const sizes = [a, ...(b ? [b] : [])].map((x) => sectionSize(x.arm.section));
  const most = narrow ? 34 : 62;
  const pxPerMm = Math.min(view.scale * 2, most / Math.max(...sizes.flatMap((q) => [q.heightMm, q.widthMm])));
  const own = sizes[which === "a" ? 0 : 1]?.heightMm ?? 0;
  const cut = sizes[which === "a" ? 0 : 1];
  const stalk = Math.max(narrow ? 20 : 0, GRIP_PX - (Math.max(cut?.heightMm ?? 0, cut?.widthMm ?? 0) * pxPerMm) / 2);
  const x = view.x0 + Math.max(a.lengthMm, b?.lengthMm ?? 0) * view.scale + (narrow ? 50 : 74);
  const y = (which === "a" ? view.aY + stalk : view.bY) + (narrow ? 20 : 26) + (own * pxPerMm) / 2;
  return { at: [x, y], pxPerMm, stalk };
}

/** The arm from above with its rival below, drawn on the hole pitch. */
export function createPlan(): { svg: SVGSVGElement; update(m: PlanModel): ArmHandle[] } {
  const dot = s("circle", { class: "arm-dot", r: 1.1 });
  const pattern = s("pattern", { id: "arm-dots", patternUnits: "userSpaceOnUse" }, dot);
  const paper = s("rect", { class: "arm-dots", width: "100%", height: "100%", fill: "url(#arm-dots)" });
  const bEdge = s("path", { class: "b-edge" });
  const bFill = s("path", { class: "b-fill" });
  const bPins = s("path", { class: "arm-ink" });
  const bRings = s("path", { class: "arm-rings" });
  const aFill = s("path", { class: "a-fill" });
  const aPins = s("path", { class: "arm-ink" });
  const aRings = s("path", { class: "arm-rings" });
  const aHoles = s("path", { class: "arm-holes" });
  const centre = s("path", { class: "arm-centre" });
  const pressed = s("path", { class: "arm-pressed" });
  const shiftA = s("path", { class: "arm-pressed" });
  const shiftB = s("path", { class: "arm-pressed" });
  const dims = s("path", { class: "arm-dims" });
  const leaders = s("path", { class: "arm-leaders" });
  const seats = s("path", { class: "arm-seat" });
  const cutA = s("path", { class: "cut a" });
  const cutB = s("path", { class: "cut b" });
  const arrow = s("path", { class: "hand-arrow" });
  const head = s("path", { class: "hand-head" });
  const ring = s("circle", { class: "hand-ring", r: 17 });
  const texts = s("g", { class: "arm-texts" });
  const svg = s(
    "svg",
    { class: "arm-plan", "aria-hidden": "true" },
    s("defs", {}, pattern),
    paper,
    bEdge,
    bFill,
    bPins,
    bRings,
    aFill,
    aHoles,
    aPins,
    aRings,
    centre,
    seats,
    cutB,
    cutA,
    dims,
    leaders,
    pressed,
    shiftA,
    shiftB,
    arrow,
    head,
    ring,
    texts,
  );

  return {
    svg,
    update(m) {
      const { view, narrow, a, b } = m;
      const px = planPx(view, "a");
      const pxb = planPx(view, "b");
      setAttr(svg, "viewBox", `0 0 ${num(view.widthPx)} ${num(view.heightPx)}`);
      const pitch = m.pitchMm * view.scale;
      setAttr(pattern, "width", num(pitch));
      setAttr(pattern, "height", num(pitch));
      setAttr(pattern, "x", num(view.x0 - pitch / 2));
      setAttr(pattern, "y", num(view.aY - pitch / 2));
      setAttr(dot, "cx", num(pitch / 2));
      setAttr(dot, "cy", num(pitch / 2));

      const solid = (x: PlanArm, to: (p: V2) => V2): string =>
        [...x.shape.pieces.map((q) => poly(q.map(to))), ...x.shape.rounds.map((r) => disc(to(r.at), r.radius * view.scale))].join("");
      const block = BLOCK_MM * view.scale;
      const pins = (x: PlanArm, to: (p: V2) => V2): string =>
        x.shape.pivots
          .map(to)
          .map(([u, v]) => `M${num(u - block * 0.28)} ${num(v - block)}h${num(block * 0.56)}v${num(2 * block)}h${num(-block * 0.56)}Z`)
          .join("") + disc(to(x.shape.ballJoint), 2.1 * view.scale);
      const blocks = (x: PlanArm, to: (p: V2) => V2): string =>
        x.shape.pivots.length < 2
          ? ""
          : x.shape.pivots
              .map(to)
              .map(([u, v]) =>
                poly([
                  [u - block * 0.8, v - block],
                  [u + block * 0.8, v - block],
                  [u + block * 0.8, v + block],
                  [u - block * 0.8, v + block],
                ]),
              )
              .join("");
      setAttr(aFill, "d", solid(a, px) + blocks(a, px));
      setAttr(aPins, "d", pins(a, px));
      setAttr(aRings, "d", disc(px(a.shape.ballJoint), 2.5 * view.scale));
      setAttr(aHoles, "d", a.shape.holes.map((o) => disc(px(o.at), o.radius * view.scale)).join(""));
      setAttr(bEdge, "d", b ? solid(b, pxb) + blocks(b, pxb) : "");
      setAttr(bFill, "d", b ? solid(b, pxb) + blocks(b, pxb) : "");
      setAttr(bPins, "d", b ? pins(b, pxb) : "");
      setAttr(
        bRings,
        "d",
        b ? [disc(pxb(b.shape.ballJoint), 2.5 * view.scale), ...b.shape.holes.map((o) => disc(pxb(o.at), o.radius * view.scale))].join("") : "",
      );

      const axis = (x: PlanArm, to: (p: V2) => V2): string => {
        const far = x.shape.halfSpan + 3;
        const [c0, c1] = [to([0, -5]), to([0, x.lengthMm + 6])];
        const [p0, p1] = [to([far, 0]), to([-far, 0])];
        return `${line([c0, c1])}${line([p0, p1])}`;
      };
      setAttr(centre, "d", axis(a, px) + (b ? axis(b, pxb) : ""));
      const seat = (x: PlanArm, to: (p: V2) => V2): string => {
        if (x.seatFraction === null) return "";
        const at = to([0, x.seatFraction * x.lengthMm]);
        return disc(at, Math.max(4, 1.3 * view.scale));
      };
      setAttr(seats, "d", seat(a, px) + (b ? seat(b, pxb) : ""));

      const list: Text[] = [];
      const right = view.x0 + Math.max(a.lengthMm, b?.lengthMm ?? 0) * view.scale + (narrow ? 26 : 44);
      const named = (which: "a" | "b", x: PlanArm): void => {
        const y = which === "a" ? view.aY : view.bY;
        const cls = which === "b" ? "tone-design-b" : "";
        const top = y - (narrow ? 6 : 10);
        list.push({ key: `${which}.letter`, at: [right, top - (narrow ? 12 : 20)], text: which.toUpperCase(), class: `${cls} letter` });
        list.push({ key: `${which}.layout`, at: [right, top + 4], text: LAYOUT_WORDS[x.arm.layout], class: `${cls} strong` });
        list.push({
          key: `${which}.size`,
          at: [right, top + (narrow ? 18 : 20)],
          text: narrow ? sectionWords(x.arm).replace("legs ", "") : sectionWords(x.arm),
          class: which === "b" ? cls : "tone-ink-2",
        });
        const shift = m.shifts?.[which];
        // beside the letter, where nothing is drawn
        if (shift) {
          const x = right + (narrow ? 18 : 26);
          const fits = !narrow && x + shift.words.length * LETTER_PX < view.widthPx;
          list.push({ key: `${which}.shift`, at: [x, top - (narrow ? 13 : 21)], text: fits ? shift.words : shift.brief, class: "tone-load" });
        }
      };
      named("a", a);
      if (b) named("b", b);
      const drawCut = (el: Element, which: "a" | "b", x: PlanArm): void => {
        const box = cutBox(m, which);
        setAttr(
          el,
          "d",
          sectionPieces(x.arm.section)
            .map((p) => pieceD(p, box))
            .join(""),
        );
      };
      drawCut(cutA, "a", a);
      if (b) drawCut(cutB, "b", b);
      else setAttr(cutB, "d", "");

      // measures: spread at the left, length below
      let d = "";
      if (a.shape.pivots.length === 2) {
        const [f, r] = [px(a.shape.pivots[0]!), px(a.shape.pivots[1]!)];
        const x = view.x0 - (narrow ? 30 : 60);
        // the line leaves room for its two rows of words
        const [top, foot] = [view.aY - 20, view.aY + 20];
        const [high, low] = [Math.min(f[1], r[1]), Math.max(f[1], r[1])];
        if (high < top) d += `M${num(x)} ${num(high)}V${num(top)}`;
        if (low > foot) d += `M${num(x)} ${num(foot)}V${num(low)}`;
        d += `M${num(x - 5)} ${num(f[1])}h10M${num(x - 5)} ${num(r[1])}h10`;
        list.push({ key: "spread", at: [x, view.aY - 3], text: `${fixed(a.arm.spreadMm, 1).replace(".0", "")}\u2009mm`, align: "middle", class: "strong" });
        list.push({ key: "spread.h", at: [x, view.aY + 13], text: `${holes(a.arm.spreadMm, m.pitchMm)} holes`, align: "middle", class: "tone-ink-2" });
      }
      const below = b ? view.bY + b.shape.halfSpan * view.scale + (narrow ? 16 : 26) : view.aY + a.shape.halfSpan * view.scale + 26;
      const long = (b ?? a).lengthMm;
      const x1 = view.x0 + long * view.scale;
      const words = `${fixed(long, 1)}\u2009mm, ${holes(long, m.pitchMm)} holes`;
      // the line leaves room for its number
      const [middle, half] = [(view.x0 + x1) / 2, words.length * 3.5 + 6];
      d += `M${num(view.x0)} ${num(below)}H${num(middle - half)}M${num(middle + half)} ${num(below)}H${num(x1)}M${num(view.x0)} ${num(below - 5)}v10M${num(x1)} ${num(below - 5)}v10`;
      list.push({
        key: "length",
        at: [middle, below + 5],
        text: words,
        align: "middle",
        class: "strong",
      });
      setAttr(dims, "d", d);

      let l = "";
      if (a.shape.fork && !narrow && !m.push) {
        const at = px(a.shape.fork);
        const lift = Math.max(46, a.shape.halfSpan * view.scale * 0.55);
        const to: V2 = [at[0] + 26, at[1] - lift];
        l += line([[at[0] + 5, at[1] - 10], to]);
        list.push({ key: "fork", at: [to[0] + 2, to[1] - 20], text: `fork point ${fixed((1 - a.arm.stemShare) * 100, 0)}\u2009%`, class: "strong" });
        list.push({ key: "fork.do", at: [to[0] + 2, to[1] - 4], text: "drag along the arm", class: "tone-ink-2" });
      }
      const cut = cutBox(m, "a");
      if (cut.stalk > 0) {
        const size = sectionSize(a.arm.section);
        const top = cut.at[1] - (size.heightMm / 2) * cut.pxPerMm;
        const edge = cut.at[0] + (size.widthMm / 2) * cut.pxPerMm;
        l += `M${num(cut.at[0])} ${num(top)}v${-cut.stalk}${size.round ? "" : `M${num(edge)} ${num(cut.at[1])}h${cut.stalk}`}`;
      }
      if (a.seatFraction !== null && !narrow) {
        const at = px([0, a.seatFraction * a.lengthMm]);
        const y = view.aY + Math.max(40, a.shape.halfSpan * view.scale * 0.62);
        l += line([
          [at[0] + 3, at[1] + 9],
          [at[0] + 18, y],
          [at[0] + 23, y],
        ]);
        list.push({ key: "seat", at: [at[0] + 27, y + 5], text: "spring pushes here" });
      }
      setAttr(leaders, "d", l);

      setAttr(shiftA, "d", m.shifts ? m.shifts.a.lines.map((p) => line(p.map(px))).join("") : "");
      setAttr(shiftB, "d", m.shifts && b ? m.shifts.b.lines.map((p) => line(p.map(pxb))).join("") : "");
      const push = m.push;
      setAttr(pressed, "d", push && push.newton !== 0 ? push.pressed.lines.map((p) => line(p.map(px))).join("") : "");
      ring.style.display = push ? "" : "none";
      if (push) {
        const at = px(a.shape.ballJoint);
        const tip = push.tipAt;
        const up = tip[1] < at[1] ? -1 : 1;
        const far = Math.abs(tip[1] - at[1]) > 12;
        setAttr(arrow, "d", far ? line([at, [tip[0], tip[1] - up * 10]]) : "");
        setAttr(head, "d", far ? poly([[tip[0] - 6, tip[1] - up * 12], [tip[0] + 6, tip[1] - up * 12], tip]) : disc(tip, 5));
        setAttr(ring, "cx", num(tip[0]));
        setAttr(ring, "cy", num(tip[1]));
        // beside the tip once it has left the arm, before that above the joint
        const beside = Math.abs(tip[1] - at[1]) > PUSH_BESIDE_PX;
        const words: V2 = beside ? [tip[0] - 26, tip[1]] : [at[0] + 20, at[1] - PUSH_ABOVE_PX];
        list.push({
          key: "push",
          at: [words[0], words[1] - 6],
          text: push.newton === 0 ? "" : `${fixed(Math.abs(push.newton), 0)}\u2009N`,
          align: "end",
          class: "tone-load strong",
        });
        list.push({ key: "push.mm", at: [words[0], words[1] + 10], text: push.words, align: "end", class: "tone-ink-2" });
      } else {
        setAttr(arrow, "d", "");
        setAttr(head, "d", "");
      }
      drawTexts(texts, list);
      return armHandles(a.arm, a.shape, a.lengthMm, view, cutBox(m, "a"), m.pitchMm);
    },
  };
}

export function drawTexts(host: Element, list: readonly Text[]): void {
  keyed(
    host,
    list,
    (t) => t.key,
    () => s("text"),
    (el, t) => {
      setAttr(el, "x", num(t.at[0]));
      setAttr(el, "y", num(t.at[1]));
      setAttr(el, "text-anchor", t.align ?? "start");
      setAttr(el, "class", t.class ?? "");
      setText(el, t.text);
    },
  );
}

function pieceD(p: SectionPiece, box: SectionBox): string {
  if (p.kind === "poly") return poly(p.points.map((q): V2 => [box.at[0] + q[0] * box.pxPerMm, box.at[1] - q[1] * box.pxPerMm]));
  return disc(box.at, p.radiusMm * box.pxPerMm) + (p.innerMm > 0 ? disc(box.at, p.innerMm * box.pxPerMm) : "");
}

export type { Text };
