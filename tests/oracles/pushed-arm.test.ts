import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { PlanarSegment } from "../../src/core/analysis.ts";
import { pushOnArm } from "../../src/core/arm/along-road.ts";
import { buildArm3d } from "../../src/core/arm/arm-frame.ts";
import { planarReduction } from "../../src/core/arm/reduction.ts";
import type { UprightMoments } from "../../src/core/arm/section-forces.ts";
import { armStress } from "../../src/core/arm/stress.ts";
import type { Arm } from "../../src/core/design/types.ts";
import type { V2, V3 } from "../../src/core/vec.ts";
import { lines, type SolidArm, solidArm } from "../support/arm-solid.ts";
import { plainArm } from "../support/arms.ts";
import { dof, solveChain } from "../support/beam-chain.ts";
import { ccxAtPoints, ccxDisplacements, ccxOrExplain, runCcx } from "../support/ccx.ts";
import { expectRel } from "../support/close.ts";

/** what arms under loads in all three directions promise against solid bricks with large displacements */
const SOLID = 0.03;
const LONG_MS = 120000;
const E = 2400;
const NU = 0.35;

const run = ccxOrExplain("arms that are pushed along the road");

/** The force at the ball joint that keeps its direction; `held` besides the places of the inner pivots. */
const pushedDeck = (s: SolidArm, force: V3, held: string[], largeDisplacements: boolean): string =>
  [
    s.model,
    "*NSET,NSET=SEE",
    lines([s.ball]),
    "*BOUNDARY",
    ...s.pivots.map((p) => `${p.ref},1,3`),
    ...held,
    ...(largeDisplacements ? ["*STEP,NLGEOM,INC=100", "*STATIC", "0.25,1."] : ["*STEP", "*STATIC"]),
    "*CLOAD",
    ...force.map((f, c) => `${s.ball},${c + 1},${f}`),
    "*NODE PRINT,NSET=SEE,FREQUENCY=100",
    "U",
    "*EL PRINT,ELSET=EALL,FREQUENCY=100",
    "COORD",
    "*EL PRINT,ELSET=EALL,FREQUENCY=100",
    "S",
    "*END STEP",
    "",
  ].join("\n");

/**
 * Largest stress along a bar of the solid at its corners, as its straight part tells it: over the middle of the bar the stress along it is fitted by
 * straight lines over the cross-section and parabolas along the bar, and these are read at both ends. So neither the rigid end faces nor the
 * corner where the legs meet raise it.
 */
function cornerStress(s: SolidArm, dat: string): number {
  const places = ccxAtPoints(dat, /coordinates/, 3);
  const stresses = ccxAtPoints(dat, /stresses/, 6);
  expect(stresses.length).toBe(places.length);
  let worst = 0;
  for (const { from, to, width, height, elements } of s.bars) {
    const l = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const [ux, uy] = [(to[0] - from[0]) / l, (to[1] - from[1]) / l];
    const terms = (t: number, y: number, z: number): number[] => [1, y, z].flatMap((v) => [v, v * t, v * t * t]);
    const rows: number[][] = [];
    const told: number[] = [];
    stresses.forEach(({ element, values }, i) => {
      if (element < elements[0] || element > elements[1]) return;
      const [x, y, z] = places[i]!.values.map((v, c) => v - from[c]!) as V3;
      const t = (x * ux + y * uy) / l;
      if (t * l < 2 * height || (1 - t) * l < 2 * height) return;
      rows.push(terms(t, y * ux - x * uy, z));
      const [sxx, syy, , sxy] = values as [number, number, number, number];
      told.push(sxx * ux * ux + syy * uy * uy + 2 * sxy * ux * uy);
    });
    const fit = solve(new Matrix(rows), Matrix.columnVector(told)).to1DArray();
    for (const t of [0, 1])
      for (const y of [-1, 1])
        for (const z of [-1, 1]) worst = Math.max(worst, Math.abs(terms(t, (y * width) / 2, (z * height) / 2).reduce((sum, v, i) => sum + v * fit[i]!, 0)));
  }
  return worst;
}

/** Rise of the ball joint and the upright moments of the bent arm, by the axle's own beams held at the inner end, mm and N·mm. */
function upright(arm: Arm, length: number, force: V3): { upMm: number; moments: UprightMoments } {
  const ELEMENTS = 4;
  const nodes: V2[] = [[0, 0]];
  const each: PlanarSegment[] = [];
  for (const s of planarReduction(arm, length, null))
    for (let i = 1; i <= ELEMENTS; i++) {
      nodes.push([length * (s.fromFraction + ((s.toFraction - s.fromFraction) * i) / ELEMENTS), 0]);
      each.push(s);
    }
  const last = nodes.length - 1;
  const { q } = solveChain({
    chain: { nodes, ea: 0, ei: 0, ga: 0, each },
    held: new Map((["x", "z", "turn"] as const).map((w) => [dof(0, w), 0])),
    loads: new Map([
      [dof(last, "x"), force[1]],
      [dof(last, "z"), force[2]],
    ]),
  });
  const at = (n: number): V2 => [nodes[n]![0] + q[dof(n, "x")]!, q[dof(n, "z")]!];
  const end = at(last);
  return {
    upMm: q[dof(last, "z")]!,
    moments: {
      fractions: nodes.map((n) => n[0] / length),
      // statics of what lies beyond each place, bent as it is
      momentNmm: nodes.map((_, n) => force[2] * (end[0] - at(n)[0]) - force[1] * (end[1] - at(n)[1])),
    },
  };
}

interface Case {
  what: string;
  arm: Arm;
  length: number;
  force: V3;
}

const CASES: Case[] = [
  { what: "forked", arm: { ...plainArm, section: { shape: "rectangle", widthMm: 6, heightMm: 4 } }, length: 120, force: [6, -5, 0.8] },
  { what: "straight", arm: { ...plainArm, layout: "straight", section: { shape: "rectangle", widthMm: 6, heightMm: 8 } }, length: 100, force: [1.5, -10, 2] },
];

describe.runIf(run)("a push, a press along the arm and a force up at once, against solid bricks in CalculiX", () => {
  it.each(CASES)(
    "$what arm, $force N: shift along the road, rise and worst stress within 3 %, with large displacements",
    ({ arm, length, force }) => {
      const s = solidArm(arm, length, 0.5, E, NU);
      const held = s.pivots.map((p) => `${p.rot},1,3`);
      const { dat } = runCcx(pushedDeck(s, force, held, true));
      const solid = ccxDisplacements(dat).at(-1)!.get(s.ball)!;
      const a = buildArm3d(arm, length, null);
      const loads = { ballJoint: force, seat: null };
      const along = pushOnArm(a, loads);
      const up = upright(arm, length, force);
      expectRel(along.shiftMm, solid[0], SOLID, "shift along the road, mm");
      expectRel(up.upMm, solid[2], SOLID, "rise, mm");
      const { worst } = armStress(a, loads, up.moments, { push: along.endForces, twist: null });
      expectRel(worst.vonMisesMPa, cornerStress(s, dat), SOLID, `N/mm², ${worst.at}`);
    },
    LONG_MS,
  );

  // along itself an arm gives so little that its bow, of second order, would hide it
  it.each(CASES)(
    "$what arm, $force N: deflection in all three directions within 3 %, with small displacements",
    ({ arm, length, force }) => {
      const s = solidArm(arm, length, 0.5, E, NU);
      const held = s.pivots.map((p) => `${p.rot},1,3`);
      const solid = ccxDisplacements(runCcx(pushedDeck(s, force, held, false)).dat)
        .at(-1)!
        .get(s.ball)!;
      const f = buildArm3d(arm, length, null).flexibility;
      for (const [c, way] of ["along the road", "along the arm", "up"].entries())
        expectRel(
          force.reduce((sum, n, i) => sum + f[6 * c + i]! * n, 0),
          solid[c]!,
          SOLID,
          `mm ${way}`,
        );
    },
    LONG_MS,
  );

  // EI across the road 2400·8·4³/12 = 102,400 N·mm², π² EI/4L² = 25.266 N: a fifth of it presses
  it(
    "straight arm on a free pin, held by the hub at its height, pressed to a fifth of its buckling load: shift and stress within 3 %",
    () => {
      const arm: Arm = { ...plainArm, layout: "straight", section: { shape: "rectangle", widthMm: 4, heightMm: 8 } };
      const force: V3 = [0.4, -0.2 * 25.266, 0];
      const s = solidArm(arm, 100, 0.5, E, NU);
      const { dat } = runCcx(pushedDeck(s, force, [...s.pivots.map((p) => `${p.rot},2,3`), `${s.ball},3,3`], true));
      const solid = ccxDisplacements(dat).at(-1)!.get(s.ball)!;
      const a = buildArm3d(arm, 100, null);
      const loads = { ballJoint: force, seat: null };
      const along = pushOnArm(a, loads);
      expectRel(along.shiftMm, solid[0], SOLID, "shift along the road, mm");
      // a quarter more than without the press
      expect(solid[0]).toBeGreaterThan(1.15 * force[0] * a.flexibility[0]!);
      const { worst } = armStress(a, loads, undefined, { push: along.endForces, twist: null });
      expectRel(worst.vonMisesMPa, cornerStress(s, dat), SOLID, "N/mm²");
    },
    LONG_MS,
  );
});
