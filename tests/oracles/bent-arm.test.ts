import { describe, it } from "vitest";
import { type ChainProblem, dof, solveChain, straightChain } from "../support/beam-chain.ts";
import { ccxDisplacements, ccxOrExplain, runCcx } from "../support/ccx.ts";
import { expectAbs, expectRel } from "../support/close.ts";

/** model, section 4: an independent solid model of slender arms */
const SOLID = 0.02;

/** the pins' lines press some thousandths of a millimetre into the solid under the axial force */
const DENT_MM = 0.004;

const run = ccxOrExplain("the bent arm under axial and seat load");

const LENGTH = 100;
const WIDTH = 8;
const HEIGHT = 4;
const YOUNG = 2400;
const POISSON = 0.35;
const AREA = WIDTH * HEIGHT;
const EI = (YOUNG * WIDTH * HEIGHT ** 3) / 12;
const EULER = (Math.PI ** 2 * EI) / LENGTH ** 2;

/** elements along the arm, over its height, over its width */
const ALONG = 40;
const OVER = 2;
const ACROSS = 1;

interface Case {
  /** axial compression at the outer end, share of the Euler load; negative: tension */
  compression: number;
  /** load down on the seat, N, and the seat's place, share of the length */
  seatN: number;
  seat: number;
}

/**
 * Bar of twenty-node bricks on a pin at the inner end and a roller along the bar at the outer one, both on its middle
 * line; loads keep their direction. Large displacements.
 */
function solidDeck(c: Case): { deck: string; seatNode: number; endNode: number } {
  const ids = new Map<string, number>();
  const nodes: string[] = [];
  const node = (i: number, j: number, k: number): number => {
    const key = `${i},${j},${k}`;
    const known = ids.get(key);
    if (known !== undefined) return known;
    const id = ids.size + 1;
    ids.set(key, id);
    nodes.push(`${id},${(LENGTH * i) / (2 * ALONG)},${(WIDTH * j) / (2 * ACROSS)},${(HEIGHT * k) / (2 * OVER) - HEIGHT / 2}`);
    return id;
  };
  const elements: string[] = [];
  for (let a = 0; a < 2 * ALONG; a += 2)
    for (let b = 0; b < 2 * ACROSS; b += 2)
      for (let h = 0; h < 2 * OVER; h += 2) {
        const n = (i: number, j: number, k: number) => node(a + i, b + j, h + k);
        elements.push(
          [
            elements.length + 1,
            ...[n(0, 0, 0), n(2, 0, 0), n(2, 2, 0), n(0, 2, 0), n(0, 0, 2), n(2, 0, 2), n(2, 2, 2), n(0, 2, 2)],
            ...[n(1, 0, 0), n(2, 1, 0), n(1, 2, 0), n(0, 1, 0), n(1, 0, 2), n(2, 1, 2)],
            `\n${n(1, 2, 2)}`,
            ...[n(0, 1, 2), n(0, 0, 1), n(2, 0, 1), n(2, 2, 1), n(0, 2, 1)],
          ].join(","),
        );
      }
  // middle line across the width at a place along the bar: a third, two thirds and a third of a sixth each (quadratic edge)
  const line = (i: number): [number, number][] => [0, 1, 2].map((j) => [ids.get(`${i},${j},${OVER}`)!, [1 / 6, 2 / 3, 1 / 6][j]!]);
  const seat = line(Math.round(c.seat * ALONG) * 2);
  const outer = line(2 * ALONG);
  const deck = [
    "*NODE,NSET=ALL",
    ...nodes,
    "*ELEMENT,TYPE=C3D20R,ELSET=BAR",
    ...elements,
    "*MATERIAL,NAME=M",
    "*ELASTIC",
    `${YOUNG},${POISSON}`,
    "*SOLID SECTION,ELSET=BAR,MATERIAL=M",
    "*BOUNDARY",
    ...line(0).flatMap(([id]) => [`${id},1`, `${id},3`]),
    ...outer.map(([id]) => `${id},3`),
    `${line(0)[1]![0]},2`,
    `${outer[1]![0]},2`,
    "*STEP,NLGEOM,INC=200",
    "*STATIC",
    "0.2,1.",
    "*CLOAD",
    ...seat.map(([id, share]) => `${id},3,${-c.seatN * share}`),
    ...(c.compression === 0 ? [] : outer.map(([id, share]) => `${id},1,${-c.compression * EULER * share}`)),
    "*NODE PRINT,NSET=ALL,FREQUENCY=1000",
    "U",
    "*END STEP",
    "",
  ].join("\n");
  return { deck, seatNode: seat[1]![0], endNode: outer[1]![0] };
}

function chain(c: Case): { down: number; shorter: number } {
  const n = 8;
  // the seat on a node, the elements spread over both sides of it as the axle's arms have them
  const inner = Math.max(1, Math.round(c.seat * n));
  const base = straightChain([0, 0], [LENGTH, 0], n, YOUNG * AREA, EI, ((5 / 6) * AREA * YOUNG) / (2 * (1 + POISSON)));
  base.nodes = base.nodes.map((_, i) => [LENGTH * (i <= inner ? (c.seat * i) / inner : c.seat + ((1 - c.seat) * (i - inner)) / (n - inner)), 0]);
  let q: Float64Array | undefined;
  const steps = 5;
  for (let i = 1; i <= steps; i++) {
    const p: ChainProblem = {
      chain: base,
      held: new Map([
        [dof(0, "x"), 0],
        [dof(0, "z"), 0],
        [dof(n, "z"), 0],
      ]),
      loads: new Map([
        [dof(n, "x"), (-c.compression * EULER * i) / steps],
        [dof(inner, "z"), (-c.seatN * i) / steps],
      ]),
    };
    q = solveChain(p, q, 1e-10).q;
  }
  return { down: -q![dof(inner, "z")]!, shorter: -q![dof(n, "x")]! };
}

describe.runIf(run)("bent arm under axial and seat load, eight elements against CalculiX solids", () => {
  it.each<Case>([
    { compression: 0, seatN: 10, seat: 0.6 },
    { compression: 0.25, seatN: 10, seat: 0.6 },
    { compression: 0.5, seatN: 10, seat: 0.6 },
    { compression: 0.5, seatN: 10, seat: 0.35 },
    { compression: 0.5, seatN: 25, seat: 0.6 },
    { compression: -0.5, seatN: 20, seat: 0.7 },
  ])("compression $compression of the Euler load, $seatN N at $seat of the length", (c) => {
    const { deck, seatNode, endNode } = solidDeck(c);
    const table = ccxDisplacements(runCcx(deck).dat).at(-1)!;
    const u = table.get(seatNode)!;
    const { down, shorter } = chain(c);
    console.log(
      `compression ${c.compression}: seat sinks ${down.toFixed(4)} mm here, ${(-u[2]).toFixed(4)} mm there; end comes in ${shorter.toFixed(4)} mm, ${(-table.get(endNode)![0]).toFixed(4)} mm`,
    );
    expectRel(down, -u[2], SOLID, "sinking of the seat, mm");
    // the outer end comes in by the arm's bow (and goes out or in with its axial force)
    const end = table.get(endNode)!;
    expectAbs(shorter, -end[0], SOLID * Math.abs(end[0]) + DENT_MM, "way of the outer end inwards, mm");
  });
});
