import { describe, expect, it } from "vitest";
import { JOINT_NAMES, type Load, type Scenario, SIDES } from "../../../src/core/design/types.ts";
import { assemble, residualSize } from "../../../src/core/equilibrium/assemble.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver, FINAL_BLEND, newton, relax } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { gripG, REST, type Solved, solveCold, solveWarm } from "../../../src/core/equilibrium/solve.ts";
import { WHEEL_TILT } from "../../../src/core/equilibrium/unknowns.ts";
import { MOMENT_ARM_MM } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { randomLoad } from "../../support/axle-states.ts";
import { expectAbs } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { unloaded } from "../../support/unloaded.ts";

/** model, section 5: the same answer from any starting point, where it is unique */
const SAME_MM = 1e-6;
const SAME_DEG = 1e-6;
/** mirrored cars are solved by the same steps: only rounding differs */
const MIRROR_MM = 1e-6;
const MIRROR_DEG = 1e-7;
const SEEDS = 120;

/** contact laws with their plain corners: a rounded one pushes with a quarter of its width right at the corner */
const SHARP = { mm: 0, rad: 0 };

const DEG = 180 / Math.PI;
const share = (l: Load, t: number): Load => ({ lateralG: t * l.lateralG, bumpLeftMm: t * l.bumpLeftMm, bumpRightMm: t * l.bumpRightMm });

/** Largest differences of body and hubs; the tread's shift under the wheel counts as a length. */
function apart(a: Float64Array, b: Float64Array): { mm: number; deg: number } {
  const out = { mm: 0, deg: 0 };
  for (let i = 0; i < 12; i++) {
    const turn = i === 1 || (i > 1 && ((i - 2) % 5 === 2 || (i - 2) % 5 === 3));
    const d = Math.abs(a[i]! - b[i]!);
    if (turn) out.deg = Math.max(out.deg, d * DEG);
    else out.mm = Math.max(out.mm, d);
  }
  return out;
}

/** Whether two states differ by a wheel or a pin that lies on another side of its play: both are stable rests of the car. */
function playDiffers(model: AxleModel, a: Float64Array, b: Float64Array, load: Load): boolean {
  const [x, y] = [readState(model, a, load), readState(model, b, load)];
  return SIDES.some((side, i) => {
    const c = model.corners[i]!;
    const tilts = c.bearing.play > 0 && Math.sign(x[side].wheelTiltRad) !== Math.sign(y[side].wheelTiltRad);
    const pins = JOINT_NAMES.some((n) => {
      const [p, q] = [x[side].joints[n].offset, y[side].joints[n].offset];
      return c.joints[n].clearance > 0 && p[0] * q[0] + p[1] * q[1] < 0.9 * c.joints[n].clearance ** 2;
    });
    return tilts || pins;
  });
}

interface Case {
  name: string;
  scenario: Scenario;
  model: AxleModel;
  load: Load;
}
const cases: Case[] = [
  ...SHIPPED.map((file) => {
    const scenario = shipped(file);
    return { name: file, scenario, model: buildAxle(scenario), load: { lateralG: 0.7, bumpLeftMm: 0, bumpRightMm: 3 } };
  }),
  ...Array.from({ length: SEEDS }, (_, seed) => {
    const scenario = randomScenario(seed);
    const model = buildAxle(scenario);
    return { name: `seed ${seed}`, scenario, model, load: randomLoad(seed, gripG(model), 0.8, 8) };
  }),
];
/** Each case put under its load at once; found one time for all that compare with it. */
const direct = cases.map(({ model, load }) => solveCold(model, load));

describe("mirror symmetry", () => {
  it("a mirrored car under the mirrored load stands mirrored", () => {
    let solved = 0;
    for (const [i, { name, scenario, load }] of cases.entries()) {
      const r = direct[i]!;
      const mirrored = buildAxle({ ...scenario, left: scenario.right, right: scenario.left });
      const m = solveCold(mirrored, { lateralG: -load.lateralG, bumpLeftMm: load.bumpRightMm, bumpRightMm: load.bumpLeftMm });
      expect(m.ok, `${name}: mirrored car is solved like the car`).toBe(r.ok);
      if (!r.ok || !m.ok) continue;
      solved++;
      const [q, w] = [r.q, m.q];
      expectAbs(q[0]!, w[0]!, MIRROR_MM, `${name}: heave, mm`);
      expectAbs(q[1]! * DEG, -w[1]! * DEG, MIRROR_DEG, `${name}: roll, °`);
      for (let k = 0; k < 5; k++) {
        const sign = k === 1 ? 1 : -1;
        const [scale, tolerance] = k === 2 || k === 3 ? [DEG, MIRROR_DEG] : [1, MIRROR_MM];
        expectAbs(scale * q[2 + k]!, sign * scale * w[7 + k]!, tolerance, `${name}: left hub, unknown ${k}, mm or °`);
        expectAbs(scale * q[7 + k]!, sign * scale * w[2 + k]!, tolerance, `${name}: right hub, unknown ${k}, mm or °`);
      }
    }
    expect(solved).toBeGreaterThan(0.95 * SEEDS);
  });
});

describe("one answer, however it is reached", () => {
  /** ways to the load: many small steps, few large ones, down from more, over from the other side */
  const ways: Record<string, (m: AxleModel, l: Load) => Solved> = {
    "in 11 steps": (m, l) => along(m, l, 11),
    "in 3 steps": (m, l) => along(m, l, 3),
    "back from 1.1 of it": (m, l) => from(m, share(l, Math.min(1.1, gripG(m) / Math.max(1e-9, Math.abs(l.lateralG)))), l),
    "from the curve to the other side": (m, l) => from(m, { ...l, lateralG: -l.lateralG }, l),
    "from bumps alone": (m, l) => from(m, { ...l, lateralG: 0 }, l),
  };
  function along(m: AxleModel, l: Load, steps: number): Solved {
    const s = createSolver(m);
    let r = solveCold(m, REST, s);
    for (let i = 1; i <= steps && r.ok; i++) r = solveWarm(m, share(l, i / steps), r.q, s);
    return r;
  }
  function from(m: AxleModel, first: Load, l: Load): Solved {
    const s = createSolver(m);
    const r = solveCold(m, first, s);
    return r.ok ? solveWarm(m, l, r.q, s) : solveCold(m, l, s);
  }

  it.each(Object.keys(ways))("%s", (way) => {
    let compared = 0;
    let other = 0;
    for (const [i, { name, model, load }] of cases.entries()) {
      const r = direct[i]!;
      if (!r.ok) continue;
      const w = ways[way]!(model, load);
      expect(w.ok, `${name}: solved ${way}`).toBe(true);
      if (!w.ok) continue;
      const d = apart(r.q, w.q);
      compared++;
      if (d.mm <= SAME_MM && d.deg <= SAME_DEG) continue;
      // a wheel that has fallen to the other end of its play stays there: the only way for two answers to differ
      expect(playDiffers(model, r.q, w.q, load), `${name}: ${way} it stands ${d.mm} mm, ${d.deg}° away`).toBe(true);
      other++;
    }
    expect(compared).toBeGreaterThan(0.95 * SEEDS);
    expect(other, "cars that rest at another end of their play").toBeLessThanOrEqual(0.02 * compared);
  });
});

describe("a wheel that falls across its play on the way", () => {
  // cars whose path folds at some level: just beyond it the wheel only begins to fall, and takes long to get there
  it.each([
    [127, 0.7, 6],
    [142, 0.95, 12],
    [410, 0.95, 12],
  ])("seed %d stands at every level of its load, and on either side of the fall", (seed, gripShare, bumpMm) => {
    const model = buildAxle(randomScenario(seed));
    const load = randomLoad(seed, gripG(model), gripShare, bumpMm);
    const flips = new Set<string>();
    for (let i = 0; i <= 56; i++) {
      const at = share(load, i / 56);
      const r = solveCold(model, at);
      expect(r.ok, `at ${i}/56 of the load`).toBe(true);
      if (!r.ok) continue;
      const state = readState(model, r.q, at);
      flips.add(SIDES.map((side) => Math.sign(state[side].hub.angleRad + state[side].wheelTiltRad)).join());
    }
    expect(flips.size, "ways the wheels lean over the load").toBeGreaterThanOrEqual(2);
  });

  it("is followed to its new place from just beyond the fold, where next to nothing drives it", () => {
    const model = buildAxle(randomScenario(127));
    const load = randomLoad(127, gripG(model), 0.7, 6);
    const s = createSolver(model);
    const rest = solveCold(model, REST, s);
    if (!rest.ok) throw new Error(rest.reason.message);
    const tilts = (u: Float64Array): number[] => model.corners.map((c) => u[c.base + WHEEL_TILT]!);
    let q = rest.q;
    // up to the last of 512 levels at which Newton's method alone finds the wheel where it was
    let level = 0;
    for (let next = 1; next <= 512; next++) {
      const trial = q.slice();
      if (!newton(s, trial, share(load, next / 512), FINAL_BLEND, 14) || s.sys.detSign <= 0 || tilts(trial).some((x, k) => Math.abs(x - tilts(q)[k]!) > 0.005))
        break;
      q = trial;
      level = next;
    }
    expect(level, "level of the fold").toBeGreaterThan(10);
    expect(level, "level of the fold").toBeLessThan(511);
    const before = tilts(q);
    expect(relax(s, q, share(load, (level + 1) / 512)), "comes to rest").toBe(true);
    const fell = tilts(q).filter((x, k) => Math.sign(x) === -Math.sign(before[k]!));
    expect(fell.length, "wheels that tilt the other way in their bearing").toBe(1);
  });
});

describe("without weight or load", () => {
  it("no force stirs in any part as built", () => {
    for (let seed = 0; seed < SEEDS; seed++) {
      const model = buildAxle(unloaded(randomScenario(seed), 0));
      const s = createSolver(model);
      for (const lateralG of [0, 0.9]) {
        assemble(model, new Float64Array(model.n), { ...REST, lateralG }, SHARP, s.r, null, s.ws);
        // rounding of the spring's length times its rate
        expectAbs(residualSize(model, s.r, MOMENT_ARM_MM), 0, 1e-10, `seed ${seed}: largest force, N`);
      }
    }
  });

  it("a car without play moves in proportion to its weight, down to nothing", () => {
    for (let seed = 0; seed < 40; seed++) {
      const moved = [1e-4, 1e-5].map((weight) => {
        const model = buildAxle(unloaded(randomScenario(seed), weight, true));
        const r = solveCold(model, REST);
        expect(r.ok, `seed ${seed} at ${weight} of its weight`).toBe(true);
        return r.ok ? Math.max(...r.q.map(Math.abs)) : Number.NaN;
      }) as [number, number];
      expect(moved[0], `seed ${seed}: largest move at 1e-4 of the weight, mm`).toBeLessThan(0.05);
      expectAbs(moved[0] / moved[1], 10, 0.3, `seed ${seed}: ratio of moves under ten times the weight`);
    }
  });
});
