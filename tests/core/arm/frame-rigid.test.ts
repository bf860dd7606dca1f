import { describe, it } from "vitest";
import type { BeamProps } from "../../../src/core/arm/element.ts";
import {
  assembleFrame,
  assembleGeometric,
  assembleStiffness,
  type FrameMember,
  frameReactions,
  memberEndForces,
  numberFreedoms,
  solveFrame,
} from "../../../src/core/arm/frame.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import type { V3 } from "../../../src/core/vec.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const SEEDS = Array.from({ length: 6 }, (_, seed) => seed);
const ROUNDING = 1e-9;
const props: BeamProps = { ea: 9e4, gj: 3e5, eiY: 7e5, eiZ: 4e5, gaY: 2e4, gaZ: 3e4, polarRadiusSq: 11 };

const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const sum = (...v: V3[]): V3 => [0, 1, 2].map((i) => v.reduce((s, x) => s + x[i]!, 0)) as V3;
const times = (a: V3, f: number): V3 => [a[0] * f, a[1] * f, a[2] * f];

/** A member somewhere in space, on rigid arms from both its nodes. */
function drawn(seed: number) {
  const r = createRandom(seed + 60);
  const v = (size: number): V3 => [r.between(-size, size), r.between(-size, size), r.between(-size, size)];
  const member: FrameMember = { a: 0, b: 1, props, up: [0.2, 0.3, 1], offsetA: v(6), offsetB: v(6) };
  const at: [V3, V3] = [v(20), sum(v(20), [50, 10, 5])];
  return { v, member, at, frame: { nodes: at.map((p) => ({ at: p })), members: [member] } };
}

describe("a member on rigid arms", () => {
  it.each(SEEDS)("feels nothing when all of it moves and turns as one (seed %i)", (seed) => {
    const { v, at, frame } = drawn(seed);
    const layout = numberFreedoms(frame);
    const [shift, turn] = [v(1), v(1e-2)];
    const d = Float64Array.from(at.flatMap((p) => [...sum(shift, cross(turn, p)), ...turn]));
    for (const f of memberEndForces(layout, d)) expectAbs(f, 0, ROUNDING * props.ea, "end force (N, N·mm)");
    const k = assembleStiffness(layout);
    for (let i = 0; i < 12; i++) {
      let f = 0;
      for (let j = 0; j < 12; j++) f += k.a[Math.max(i, j) * (k.band + 1) + k.band - Math.abs(i - j)]! * d[j]!;
      expectAbs(f, 0, ROUNDING * props.eiY, `force on freedom ${i} (N, N·mm)`);
    }
  });

  it.each(SEEDS)(
    "takes the forces in it along when all of it turns as one: forces turn by the whole, moments on rotation vectors by half (seed %i)",
    (seed) => {
      const { v, member, frame } = drawn(seed);
      const layout = numberFreedoms(frame);
      const axis = (i: number): V3 => [layout.axes[3 * i]!, layout.axes[3 * i + 1]!, layout.axes[3 * i + 2]!];
      const l = layout.lengths[0]!;
      const [pull, moment] = [v(10), v(200)];
      // in the member's axes, in balance: what shear does over the length is taken up by the far end's moment
      const far = sum(times(moment, -1), [0, l * pull[2], -l * pull[1]]);
      const ends = Float64Array.from([...times(pull, -1), ...moment, ...pull, ...far]);
      const k = assembleGeometric(layout, ends);
      const turn = v(1);
      const d = [...[0, 1].flatMap((e) => [...cross(turn, frame.nodes[e]!.at), ...turn])];
      const inSpace = (x: V3): V3 => sum(times(axis(0), x[0]), times(axis(1), x[1]), times(axis(2), x[2]));
      for (const e of [0, 1]) {
        const force = inSpace([ends[6 * e]!, ends[6 * e + 1]!, ends[6 * e + 2]!]);
        const arm = (e === 0 ? member.offsetA : member.offsetB)!;
        const atNode = sum(inSpace([ends[6 * e + 3]!, ends[6 * e + 4]!, ends[6 * e + 5]!]), cross(arm, force));
        const expected = [...cross(turn, force), ...times(cross(turn, atNode), 0.5)];
        for (let i = 0; i < 6; i++) {
          const row = 6 * e + i;
          let f = 0;
          for (let j = 0; j < 12; j++) f += k.a[Math.max(row, j) * (k.band + 1) + k.band - Math.abs(row - j)]! * d[j]!;
          expectAbs(f, expected[i]!, 1e-8, `end ${e}, freedom ${i} (N, N·mm)`);
        }
      }
    },
  );

  it("bends as a cantilever under its own even load, upright and sideways: q l⁴/8EI + q l²/2GA, q l and q l²/2 at its root", () => {
    const l = 40;
    const load: V3 = [0, 0.02, -0.05];
    const nodes = [{ at: [0, 0, 0] as V3, fixed: [true, true, true, true, true, true] }, { at: [l, 0, 0] as V3 }];
    const s = assembleFrame({ nodes, members: [{ a: 0, b: 1, props, up: [0, 0, 1], load }] });
    const none = new Float64Array(12);
    const solved = solveFrame(s, none);
    expectRel(solved.displacements[7]!, (0.02 * l ** 4) / (8 * props.eiZ) + (0.02 * l ** 2) / (2 * props.gaY), 1e-9, "sideways (mm)");
    expectRel(solved.displacements[8]!, -(0.05 * l ** 4) / (8 * props.eiY) - (0.05 * l ** 2) / (2 * props.gaZ), 1e-9, "down (mm)");
    const root = frameReactions(s, solved, none);
    [0, -0.02 * l, 0.05 * l, 0, (-0.05 * l * l) / 2, (-0.02 * l * l) / 2].forEach((f, i) => {
      expectAbs(root[i]!, f, 1e-9, `reaction ${i} (N, N·mm)`);
    });
    for (let i = 6; i < 12; i++) expectAbs(root[i]!, 0, 1e-9, `free end ${i}`);
  });
});
