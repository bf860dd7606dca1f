import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../src/core/arm/arm-frame.ts";
import { armBucklingFactor } from "../../src/core/arm/buckling.ts";
import { armPlan } from "../../src/core/arm/layout.ts";
import { mainStiffnesses } from "../../src/core/arm/stiffness.ts";
import type { Arm } from "../../src/core/design/types.ts";
import { lines, solidArm } from "../support/arm-solid.ts";
import { plainArm } from "../support/arms.ts";
import { ccxBucklingFactors, ccxDisplacements, ccxOrExplain, runCcx } from "../support/ccx.ts";
import { expectRel } from "../support/close.ts";

/** what the frame promises against an independent solid model of slender arms */
const SOLID = 0.02;
const BUCKLING = 0.03;
const LONG_MS = 120000;
const E = 2400;
const NU = 0.35;

const run = ccxOrExplain("the stiffness and buckling of arms");

const wide: Arm = { ...plainArm, section: { shape: "rectangle", widthMm: 6, heightMm: 4 } };
const tall: Arm = { ...plainArm, section: { shape: "rectangle", widthMm: 3, heightMm: 6 }, spreadMm: 70 };
/** tall narrow legs that twist over under the spring, on a stem that does not */
const thin: Arm = {
  ...plainArm,
  stemShare: 0.3,
  spreadMm: 60,
  section: { shape: "rectangle", widthMm: 1.6, heightMm: 5 },
  stemSection: { shape: "rectangle", widthMm: 4, heightMm: 5 },
};
interface Case {
  what: string;
  arm: Arm;
  length: number;
  seat: number;
}
const cases: Case[] = (
  [
    ["straight, seat in the middle", { ...wide, layout: "straight" }, 100, 0.5],
    ["split, seat on the legs", wide, 120, 0.35],
    ["split, seat on the stem", wide, 120, 0.8],
    ["split, tall narrow legs spread widely", tall, 100, 0.4],
    ["A, seat on the legs", { ...wide, layout: "A", spreadMm: 80 }, 100, 0.5],
    ["A, tall narrow legs", { ...tall, layout: "A" }, 110, 0.7],
    ["twin, seat on the beams", { ...wide, layout: "twin", spreadMm: 40 }, 110, 0.6],
  ] as [string, Arm, number, number][]
).map(([what, arm, length, seat]) => ({ what, arm, length, seat }));

describe.runIf(run)("arms as solid bricks in CalculiX", () => {
  it.each(cases)(
    "$what: flexibilities at ball joint and seat within 2 %",
    ({ arm, length, seat }) => {
      const s = solidArm(arm, length, seat, E, NU);
      const seatAll = s.seat.flat();
      const held = s.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},1,3`]);
      const step = (loads: string[]) => ["*STEP", "*STATIC", "*CLOAD,OP=NEW", ...loads, "*NODE PRINT,NSET=SEE", "U", "*END STEP"];
      const seatLoad = seatAll.map((n) => `${n},3,${1 / seatAll.length}`);
      const deck = [
        s.model,
        "*NSET,NSET=SEE",
        lines([s.ball, ...seatAll]),
        "*BOUNDARY",
        ...held,
        ...step([`${s.ball},1,1.`]),
        ...step([`${s.ball},2,1.`]),
        ...step([`${s.ball},3,1.`]),
        ...step(seatLoad),
        "",
      ].join("\n");
      const tables = ccxDisplacements(runCcx(deck).dat);
      expect(tables).toHaveLength(4);
      const ball = (step: number, c: number) => tables[step]!.get(s.ball)![c]!;
      const atSeat = (step: number, c: number) => seatAll.reduce((sum, n) => sum + tables[step]!.get(n)![c]!, 0) / seatAll.length;
      const f = buildArm3d(arm, length, seat).flexibility;
      expectRel(f[0]!, ball(0, 0), SOLID, "fore-aft at the ball joint (mm/N)");
      expectRel(f[7]!, ball(1, 1), SOLID, "along the arm at the ball joint (mm/N)");
      expectRel(f[14]!, ball(2, 2), SOLID, "vertical at the ball joint (mm/N)");
      expectRel(f[17]!, ball(3, 2), SOLID, "vertical at the ball joint by the seat (mm/N)");
      expectRel(f[32]!, atSeat(2, 2), SOLID, "vertical at the seat by the ball joint (mm/N)");
      expectRel(f[35]!, atSeat(3, 2), SOLID, "vertical at the seat (mm/N)");
    },
    LONG_MS,
  );

  it.each([cases[1]!, cases[4]!])(
    "$what: free pins and held seat, vertical stiffness within 2 %",
    ({ arm, length, seat }) => {
      const s = solidArm(arm, length, seat, E, NU);
      // the seat's mean height is held: an equation over the nodes of the layer
      const seatAll = s.seat.flat();
      const terms = seatAll.map((n) => `${n},3,1.`);
      const packed: string[] = [];
      for (let i = 0; i < terms.length; i += 4) packed.push(terms.slice(i, i + 4).join(","));
      const deck = [
        s.model,
        "*NSET,NSET=SEE",
        lines([s.ball]),
        "*EQUATION",
        `${terms.length}`,
        ...packed,
        "*BOUNDARY",
        ...s.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},2,3`]),
        "*STEP",
        "*STATIC",
        "*CLOAD",
        `${s.ball},3,1.`,
        "*NODE PRINT,NSET=SEE",
        "U",
        "*END STEP",
        "",
      ].join("\n");
      const u = ccxDisplacements(runCcx(deck).dat)[0]!.get(s.ball)![2]!;
      expectRel(1 / mainStiffnesses(buildArm3d(arm, length, seat)).vertical, u, SOLID, "vertical, seat held (mm/N)");
    },
    LONG_MS,
  );

  it.each<Omit<Case, "seat">>([
    { what: "straight, tall and narrow", arm: { ...tall, layout: "straight" }, length: 100 },
    { what: "split, wide", arm: wide, length: 120 },
    { what: "split, tall and narrow", arm: tall, length: 120 },
    { what: "A, tall and narrow", arm: { ...tall, layout: "A" }, length: 110 },
  ])(
    "$what: pushed along the arm it buckles at the same load within 3 %",
    ({ arm, length }) => {
      const s = solidArm(arm, length, 0.5 * (armPlan(arm, length).legEnd / length), E, NU);
      const deck = [
        s.model,
        "*BOUNDARY",
        ...s.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},2,3`]),
        `${s.ball},1,1`,
        `${s.ball},3,3`,
        "*STEP",
        "*BUCKLE",
        "2",
        "*CLOAD",
        `${s.ball},2,-1.`,
        "*END STEP",
        "",
      ].join("\n");
      const factors = ccxBucklingFactors(runCcx(deck).dat);
      expect(factors.length).toBeGreaterThan(0);
      const ours = armBucklingFactor(buildArm3d(arm, length, null), { ballJoint: [0, -1, 0], seat: null });
      expectRel(ours, factors[0]!, BUCKLING, "critical push (N)");
    },
    LONG_MS,
  );

  // the bricks' rigid end faces keep the bars from warping and so twist some 1 % harder than the frame
  it.each<Case & { push: number }>([
    { what: "straight, spring in the middle", arm: { ...thin, layout: "straight" }, length: 150, seat: 0.5, push: 0 },
    { what: "split, spring between the legs", arm: thin, length: 150, seat: 0.3, push: 0.2 },
    { what: "split, spring further out between the legs", arm: thin, length: 150, seat: 0.45, push: 0 },
    { what: "split with a narrow spread, spring between the legs", arm: { ...thin, spreadMm: 30 }, length: 150, seat: 0.3, push: 0 },
    { what: "A, spring between the legs", arm: { ...thin, layout: "A" }, length: 150, seat: 0.5, push: 0 },
    { what: "twin, spring between the beams", arm: { ...thin, layout: "twin", spreadMm: 40 }, length: 150, seat: 0.6, push: 0 },
  ])(
    "tall narrow bars under the spring's load: $what, pushed by $push of it besides: twists over at the same load within 2 %",
    ({ arm, length, seat, push }) => {
      const s = solidArm(arm, length, seat, E, NU);
      const seatAll = s.seat.flat();
      const deck = [
        s.model,
        "*BOUNDARY",
        ...s.pivots.flatMap((p) => [`${p.ref},1,3`, `${p.rot},2,3`]),
        `${s.ball},1,1`,
        `${s.ball},3,3`,
        "*STEP",
        "*BUCKLE",
        "4",
        "*CLOAD",
        ...seatAll.map((n) => `${n},3,${-1 / seatAll.length}`),
        ...(push > 0 ? [`${s.ball},2,${-push}`] : []),
        "*END STEP",
        "",
      ].join("\n");
      const factors = ccxBucklingFactors(runCcx(deck).dat).filter((f) => f > 0);
      expect(factors.length).toBeGreaterThan(0);
      // free pins: the ball joint holds the spring's share against swinging
      const ours = armBucklingFactor(buildArm3d(arm, length, seat), { ballJoint: [0, -push, seat], seat: [0, 0, -1] });
      expectRel(ours, Math.min(...factors), SOLID, "load factor");
    },
    LONG_MS,
  );
});
