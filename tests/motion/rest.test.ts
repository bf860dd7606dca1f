import { describe, expect, it } from "vitest";
import { buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { JOINT_NAMES, type Load, SIDES } from "../../src/core/design/types.ts";
import { camberRad } from "../../src/core/equilibrium/readout.ts";
import { BAND_SHOWN_DEG } from "../../src/core/tolerances.ts";
import { radToDeg } from "../../src/core/units.ts";
import { jointN, retentionNow } from "../../src/motion/demand.ts";
import { completeParams, plan } from "../../src/motion/manoeuvres.ts";
import { advance, createSession, type Session } from "../../src/motion/session.ts";
import { expectAbs } from "../support/close.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

/** Model section 10: at rest the moving axle gives the static answer. */
const CAMBER_SHARE = 0.02;
const FORCE_SHARE = 0.03;
/** Near zero a share means nothing: no smaller lean is told anywhere (core tolerance), and a joint force below this is 1/1000 of the lightest axle's weight. */
const CAMBER_FLOOR_DEG = BAND_SHOWN_DEG;
const FORCE_FLOOR_N = 0.015;
const SETTLE_S = 2;

function settle(file: string, load: Load): Session {
  const made = createSession(shipped(file), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, { speedMps: 6, breaks: false });
  if (!made.ok) throw new Error(made.reason.message);
  const x = made.session;
  const p = plan("constantLoad", completeParams("constantLoad", { ...load, lastsS: SETTLE_S }), x.m, 1);
  for (let i = 0; i < SETTLE_S / x.s.h; i++) {
    p.at((x.s.steps + 1) * x.s.h, x.scene);
    advance(x, x.scene);
  }
  return x;
}

describe.each(SHIPPED)("%s, moved from rest to a load and left to settle", (file) => {
  const scenario = shipped(file);
  it.each(scenario.loadCases.map((l): [string, Load] => [l.name, { lateralG: l.lateralG, bumpLeftMm: l.bumpLeftMm, bumpRightMm: l.bumpRightMm }]))(
    "leans and loads its joints as the static solution does: %s",
    (_, load) => {
      const bench = buildBench(scenario);
      const solved = solveLoad(bench, load);
      if (!solved.ok) throw new Error(solved.reason.message);
      const x = settle(file, load);
      const limits = limitsAt(bench, solved.state, 6);
      SIDES.forEach((side, i) => {
        const at = i as 0 | 1;
        const camber = radToDeg(camberRad(bench.model, solved.q, at));
        expectAbs(radToDeg(camberRad(x.m.axle, x.s.q, at)), camber, Math.max(CAMBER_SHARE * Math.abs(camber), CAMBER_FLOOR_DEG), `${side} camber, °`);
        JOINT_NAMES.forEach((name, k) => {
          const force = solved.state[side].joints[name].forceN;
          expectAbs(jointN(x.s, at, k), force, Math.max(FORCE_SHARE * force, FORCE_FLOOR_N), `${side} ${name}, N`);
        });
        const tyre = solved.state[side].tyre;
        expectAbs(x.s.tyre.verticalN[at], tyre.verticalN, FORCE_SHARE * tyre.verticalN, `${side} load on the wheel, N`);
        expectAbs(x.s.tyre.lateralN[at], tyre.lateralN, FORCE_SHARE * Math.abs(tyre.lateralN) + FORCE_FLOOR_N, `${side} side force, N`);
        const hub = limits.find((l) => l.name === "hubRetention" && l.wheel === side)!;
        expectAbs(retentionNow(x.s, at, load.lateralG).demand, hub.demand, Math.max(FORCE_SHARE * hub.demand, 10 * FORCE_FLOOR_N), `${side} hub retention, N`);
      });
      expect(x.s.open).toBe(0);
    },
  );
});
