import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { createSolver } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { droppedStart, gripG, laidOver, onlyPlayMoved, REST, solveBeside, solveFromRest, solveNear, upright } from "../../../src/core/equilibrium/solve.ts";
import {
  BODY_TURN,
  FIRST_NODE,
  HEAVE,
  HUB_TURN,
  HUB_Z,
  lastNodeAt,
  NODE_X,
  NODE_Z,
  nodeAt,
  PER_NODE,
  WHEEL_TILT,
} from "../../../src/core/equilibrium/unknowns.ts";

import { expectRel } from "../../support/close.ts";
import { curve, rad, solved, straightCar } from "./straight-car.ts";

describe("the start of the search for rest", () => {
  it("lets the whole axle down, unturned, until the tyres carry it", () => {
    for (const change of [
      () => {},
      (s: Scenario) => {
        s.right = { tyre: { verticalNPerMm: 25 } };
      },
      (s: Scenario) => {
        s.corner.wheelCentre.zMm += 7;
      },
      (s: Scenario) => {
        s.right = { wheelCentre: { zMm: 48.5 } };
      },
    ]) {
      const m = straightCar((s) => {
        s.corner.hub.staticCamberDeg = 0;
        change(s);
      });
      const q = droppedStart(m);
      const { left, right } = readState(m, q, REST);
      expectRel(left.tyre.verticalN + right.tyre.verticalN, m.totalWeight, 1e-9, "on both tyres, N");
      const down = new Set([HEAVE, ...m.corners.map((c) => c.base + HUB_Z)]);
      for (let i = FIRST_NODE; i < m.n; i += PER_NODE) down.add(i + NODE_Z);
      for (let i = 0; i < m.n; i++) expect(q[i], `unknown ${i}`).toBe(down.has(i) ? q[HEAVE] : 0);
      expect(q[HEAVE]).toBeLessThan(0);
    }
  });
});

describe("an axle on the branch it was assembled in", () => {
  const m = straightCar();
  const [left, right] = m.corners;
  const stands = (...at: [number, number][]): boolean => {
    const q = new Float64Array(m.n);
    for (const [i, deg] of at) q[i] = rad(deg);
    return upright(m, q);
  };

  it("has body, hubs and wheels less than some 75° from as assembled", () => {
    for (const way of [1, -1]) {
      for (const c of m.corners)
        for (const i of [c.base + HUB_TURN, c.base + WHEEL_TILT])
          expect([stands([i, way * 75]), stands([i, way * 76]), stands([i, way * 180])], `unknown ${i}`).toEqual([true, false, false]);
      const all = (deg: number): [number, number][] => [BODY_TURN, left.base + HUB_TURN, right.base + HUB_TURN].map((i) => [i, way * deg]);
      expect([stands(...all(75)), stands(...all(76))], "all together").toEqual([true, false]);
    }
  });

  it("counts hubs and wheels against the body", () => {
    for (const c of m.corners) {
      const turned = (hub: number, tilt: number): boolean =>
        stands([BODY_TURN, 40], [left.base + HUB_TURN, 40], [right.base + HUB_TURN, 40], [c.base + HUB_TURN, hub], [c.base + WHEEL_TILT, tilt]);
      expect([turned(114, 0), turned(117, 0), turned(-34, 0), turned(-37, 0)]).toEqual([true, false, true, false]);
      // a hub too far over with a wheel that leans back
      expect(turned(117, -30)).toBe(false);
      // a hub turned by 30° with a wheel tilted by 50° against it, or back by as much
      expect([turned(70, 44), turned(70, 47), turned(70, -50)]).toEqual([true, false, true]);
    }
  });
});

describe("a wheel that is laid over", () => {
  const m = straightCar((s) => {
    s.corner.hub.staticCamberDeg = 2;
  });
  const [left, right] = m.corners;
  const lean = (leftDeg: number, rightDeg: number) => {
    const q = new Float64Array(m.n);
    // tops outwards: counter-clockwise on the left, clockwise on the right; half of it by the hub
    q[left.base + HUB_TURN] = rad(leftDeg / 2);
    q[left.base + WHEEL_TILT] = rad(leftDeg / 2);
    q[right.base + HUB_TURN] = rad(-rightDeg / 2);
    q[right.base + WHEEL_TILT] = rad(-rightDeg / 2);
    return laidOver(m, q);
  };

  it("leans more than 45°, static camber counted", () => {
    expect([lean(42.9, 0), lean(0, 42.9), lean(-46.9, 0), lean(0, -46.9)]).toEqual([null, null, null, null]);
    for (const deg of [43.1, -47.1]) {
      expect(lean(deg, 0)).toEqual({ side: "left", leanDeg: expect.closeTo(deg + 2, 9) });
      expect(lean(0, deg)).toEqual({ side: "right", leanDeg: expect.closeTo(deg + 2, 9) });
    }
  });

  it("is the one that leans most", () => {
    expect([lean(60, 50)?.side, lean(50, 60)?.side, lean(-70, 60)?.side, lean(60, -70)?.side]).toEqual(["left", "right", "left", "right"]);
  });
});

describe("a jump over play", () => {
  const m = straightCar(() => {}, 4);
  const a = new Float64Array(m.n).fill(0.2);
  const jumps = (change: (q: Float64Array) => void): boolean => {
    const b = a.slice();
    change(b);
    expect(onlyPlayMoved(m, b, a)).toBe(onlyPlayMoved(m, a, b));
    return onlyPlayMoved(m, a, b);
  };

  it("turns the body by 0.03 rad at most", () => {
    const turned = (v: number): boolean =>
      jumps((q) => {
        q[BODY_TURN] = q[BODY_TURN]! + v;
      });
    expect([0, 0.029, -0.029, 0.031, -0.031].map(turned)).toEqual([true, true, true, false, false]);
  });

  it("bends no arm by more than 0.01 of its length in the middle", () => {
    for (const arm of m.arms) {
      const middle = nodeAt(arm, arm.count >> 1);
      for (const d of [NODE_X, NODE_Z])
        for (const way of [1, -1]) {
          const bent = (share: number): boolean =>
            jumps((q) => {
              q[middle + d] = q[middle + d]! + way * share * arm.length;
            });
          expect([bent(0.0099), bent(0.0101)], `${arm.side} ${arm.name} arm, along ${d}`).toEqual([true, false]);
        }
    }
  });

  it("lets no arm snap through, which leaves it bent as far to the other side", () => {
    for (const arm of m.arms)
      for (const d of [NODE_X, NODE_Z]) {
        const middle = nodeAt(arm, arm.count >> 1) + d;
        const bent = (share: number): Float64Array => {
          const q = a.slice();
          q[middle] = q[middle]! + share * arm.length;
          return q;
        };
        const passes = [-0.008, 0, 0.008].map((to) => onlyPlayMoved(m, bent(0.008), bent(to)));
        expect(passes, `${arm.side} ${arm.name} arm, along ${d}`).toEqual([false, true, true]);
      }
  });

  it("may leave an arm bent as it was", () => {
    const bent = (q: Float64Array): void => {
      for (const arm of m.arms) q[nodeAt(arm, arm.count >> 1) + NODE_Z] = 0.05 * arm.length;
    };
    const b = a.slice();
    bent(b);
    const c = b.slice();
    c[BODY_TURN] = c[BODY_TURN]! + 0.01;
    expect([onlyPlayMoved(m, b, c), onlyPlayMoved(m, a, c)]).toEqual([true, false]);
  });

  it("may move the arms as they are, however far", () => {
    const moved = jumps((q) => {
      for (const arm of m.arms)
        for (let n = 0; n < arm.count; n++) {
          const f = arm.fractions[n]!;
          q[nodeAt(arm, n) + NODE_X] = q[nodeAt(arm, n) + NODE_X]! + 5 - 8 * f;
          q[nodeAt(arm, n) + NODE_Z] = q[nodeAt(arm, n) + NODE_Z]! - 3 + 12 * f;
        }
    });
    expect(moved).toBe(true);
    // an end alone bends it: the middle stays behind by half of that
    for (const arm of m.arms)
      for (const end of [nodeAt(arm, 0), lastNodeAt(arm)])
        expect(
          jumps((q) => {
            q[end + NODE_Z] = q[end + NODE_Z]! + 0.04 * arm.length;
          }),
        ).toBe(false);
  });
});

describe("grip", () => {
  it("is that of the tyre that has less of it", () => {
    expect(gripG(straightCar())).toBe(1.05);
    for (const side of ["left", "right"] as const)
      expect(
        gripG(
          straightCar((s) => {
            s[side] = { tyre: { friction: 0.8 } };
          }),
        ),
      ).toBe(0.8);
  });

  it("ends what is asked beyond it, to either side", () => {
    const m = straightCar((s) => {
      s.corner.tyre.friction = 0.4;
    });
    const rest = solved(m, REST);
    for (const g of [0.41, -0.41]) {
      const r = solveFromRest(m, { lateralG: g, bumpLeftMm: 1, bumpRightMm: 0 }, rest, createSolver(m));
      expect(r.ok ? null : r.reason).toEqual({
        kind: "slides",
        message: "The tyres let go at 0.40 g (friction).",
        atLoad: { lateralG: Math.sign(g) * 0.4, bumpLeftMm: 1, bumpRightMm: 0 },
      });
      expect(solveNear(m, curve(g), rest, createSolver(m))).toBeNull();
      expect(solveBeside(m, curve(g / 4), rest, createSolver(m))).not.toBeNull();
      const s = createSolver(m);
      expect([solveBeside(m, curve(g), rest, s), s.iterations]).toEqual([null, 0]);
    }
    // up to it, it holds
    expect(solveBeside(m, curve(0.4), solved(m, curve(0.399)), createSolver(m))).not.toBeNull();
    expect(solveFromRest(m, curve(0.4), rest, createSolver(m)).ok).toBe(true);
    expect(solveNear(m, curve(0.4), solved(m, curve(0.39)), createSolver(m))).not.toBeNull();
  });
});
