import type { Arm } from "../../src/core/design/types.ts";
import type { V3 } from "../../src/core/vec.ts";

/**
 * Deck of an arm as solid bars of quadratic bricks (C3D20R) for CalculiX. The ends of the bars are rigid faces: at each
 * inner pivot, and together at the fork and at the ball joint. Everything from the arm's own description; nothing from
 * the program's frame.
 */
export interface SolidArm {
  /** nodes, elements, rigid bodies and material; steps follow */
  model: string;
  ball: number;
  /** rotation node of each inner pivot, with its reference node */
  pivots: { ref: number; rot: number }[];
  /** nodes over the cross-section at the seat, each leg's; equal weights */
  seat: number[][];
  /** middle lines of the legs and the stem, with the numbers of each one's elements, first and last */
  bars: { from: V3; to: V3; width: number; height: number; elements: [number, number] }[];
}

interface Bar {
  from: V3;
  to: V3;
  width: number;
  height: number;
  /** elements along; even */
  along: number;
  fromEnd: number;
  toEnd: number;
}

const ACROSS = 2;

/**
 * @param seat fraction of the arm's length; a layer of nodes is put there
 */
export function solidArm(arm: Arm, length: number, seat: number, youngMPa: number, poisson: number): SolidArm {
  if (arm.section.shape !== "rectangle" || (arm.stemSection && arm.stemSection.shape !== "rectangle")) throw new Error("solid bars of rectangles only");
  const legSection = arm.section;
  const stemSection = arm.stemSection ?? arm.section;
  const bars: Bar[] = [];
  const ends: V3[] = [];
  const end = (p: V3) => ends.push(p) - 1;
  const half = arm.spreadMm / 2;
  const fork = arm.layout === "split" ? length * (1 - arm.stemShare) : length;
  const xs = arm.layout === "straight" ? [0] : [half, -half];
  const inner = xs.map((x) => end([x, 0, 0]));
  const forkEnd = end([0, fork, 0]);
  const seatAt = seat * length;
  const seatBars: number[] = [];
  // each bar is cut at the seat so that a layer of nodes lies there
  const bar = (from: V3, to: V3, s: { widthMm: number; heightMm: number }, fromEnd: number, toEnd: number) =>
    bars.push({ from, to, width: s.widthMm, height: s.heightMm, along: 0, fromEnd, toEnd }) - 1;
  xs.forEach((x, i) => {
    const b = bar([x, 0, 0], [arm.layout === "twin" ? x : 0, fork, 0], legSection, inner[i]!, forkEnd);
    if (seatAt < fork) seatBars.push(b);
  });
  let ballEnd = forkEnd;
  if (fork < length) {
    ballEnd = end([0, length, 0]);
    const b = bar([0, fork, 0], [0, length, 0], stemSection as { widthMm: number; heightMm: number }, forkEnd, ballEnd);
    if (seatAt >= fork) seatBars.push(b);
  }

  const nodes: string[] = [];
  const elements: string[] = [];
  const faces: number[][] = ends.map(() => []);
  const seatNodes: number[][] = [];
  const solids: SolidArm["bars"] = [];
  let node = 0;
  let element = 0;
  bars.forEach((b, index) => {
    const d = b.to.map((v, c) => v - b.from[c]!) as V3;
    const l = Math.sqrt(d[0] ** 2 + d[1] ** 2);
    const u: V3 = [d[0] / l, d[1] / l, 0];
    const side: V3 = [-u[1], u[0], 0];
    // layers: graded so that one falls on the seat
    const carries = seatBars.includes(index);
    const share = carries ? (seatAt - b.from[1]) / (b.to[1] - b.from[1]) : 0.5;
    const n1 = Math.max(4, Math.round(24 * share));
    const n2 = Math.max(4, Math.round(24 * (1 - share)));
    const n = n1 + n2;
    const t = (i: number) => (i <= 2 * n1 ? (share * i) / (2 * n1) : share + ((1 - share) * (i - 2 * n1)) / (2 * n2));
    const id = new Map<string, number>();
    const m = 2 * ACROSS;
    for (let i = 0; i <= 2 * n; i++) {
      for (let j = 0; j <= m; j++) {
        for (let k = 0; k <= m; k++) {
          if ((i % 2) + (j % 2) + (k % 2) > 1) continue;
          node++;
          id.set(`${i},${j},${k}`, node);
          const y = b.width * (j / m - 0.5);
          const z = b.height * (k / m - 0.5);
          const s = t(i) * l;
          nodes.push(`${node},${[0, 1, 2].map((c) => (b.from[c]! + u[c]! * s + side[c]! * y + (c === 2 ? z : 0)).toFixed(9)).join(",")}`);
          if (i === 0) faces[b.fromEnd]!.push(node);
          if (i === 2 * n) faces[b.toEnd]!.push(node);
        }
      }
    }
    const at = (i: number, j: number, k: number) => id.get(`${i},${j},${k}`)!;
    const first = element + 1;
    for (let i = 0; i < 2 * n; i += 2) {
      for (let j = 0; j < m; j += 2) {
        for (let k = 0; k < m; k += 2) {
          const [I, J, K] = [i + 2, j + 2, k + 2];
          const c = [at(i, j, k), at(I, j, k), at(I, J, k), at(i, J, k), at(i, j, K), at(I, j, K), at(I, J, K), at(i, J, K)];
          const low = [at(i + 1, j, k), at(I, j + 1, k), at(i + 1, J, k), at(i, j + 1, k)];
          const top = [at(i + 1, j, K), at(I, j + 1, K), at(i + 1, J, K), at(i, j + 1, K)];
          const up = [at(i, j, k + 1), at(I, j, k + 1), at(I, J, k + 1), at(i, J, k + 1)];
          elements.push(`${++element},${[...c, ...low.slice(0, 2)].join(",")},\n${[...low.slice(2), ...top, ...up].join(",")}`);
        }
      }
    }
    solids.push({ from: b.from, to: b.to, width: b.width, height: b.height, elements: [first, element] });
    if (carries) {
      // corner and middle nodes of the layer on the seat
      const layer: number[] = [];
      for (let j = 0; j <= m; j++) for (let k = 0; k <= m; k++) if ((j % 2) + (k % 2) <= 1) layer.push(at(2 * n1, j, k));
      seatNodes.push(layer);
    }
  });
  const refs = ends.map((p) => {
    const ref = ++node;
    nodes.push(`${ref},${p.join(",")}`);
    const rot = ++node;
    nodes.push(`${rot},${p.join(",")}`);
    return { ref, rot };
  });
  const sets = faces.map((f, i) => `*NSET,NSET=FACE${i}\n${lines(f)}\n*RIGID BODY,NSET=FACE${i},REF NODE=${refs[i]!.ref},ROT NODE=${refs[i]!.rot}`);
  const model = [
    "*NODE,NSET=NALL",
    ...nodes,
    "*ELEMENT,TYPE=C3D20R,ELSET=EALL",
    ...elements,
    ...sets,
    "*MATERIAL,NAME=M",
    "*ELASTIC",
    `${youngMPa},${poisson}`,
    "*SOLID SECTION,ELSET=EALL,MATERIAL=M",
  ].join("\n");
  return { model, ball: refs[ballEnd]!.ref, pivots: inner.map((i) => refs[i]!), seat: seatNodes, bars: solids };
}

/** Numbers as lines of at most ten. */
export function lines(values: number[]): string {
  const out: string[] = [];
  for (let i = 0; i < values.length; i += 10) out.push(values.slice(i, i + 10).join(","));
  return out.join("\n");
}
