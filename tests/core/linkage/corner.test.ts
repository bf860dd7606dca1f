import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circleCircle } from "../../../src/core/linkage/circle-circle.ts";
import { ANGLE, CLOSURE_SIZE, CRANK_RATE, closeChain, POINT_RISE, POINT_Z, TURN_COS, TURN_SIN } from "../../../src/core/linkage/closure.ts";
import { buildCorner, buildCornerWithLengths, type CornerLinkage } from "../../../src/core/linkage/corner.ts";
import { FOUND, LOCKED_IN_BUMP, LOCKED_IN_DROOP, positionAtLowerAngle, positionAtTravel, positionInto } from "../../../src/core/linkage/position.ts";
import { DEG } from "../../../src/core/units.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { inSeries } from "../../oracles/load-transfer.ts";
import { leanFromBore, leanFromClearances, tiltStiffness } from "../../oracles/play-estimates.ts";
import { anyLinkage, assembledCorner, between, built, expectClose, expectRel, poseOf, turnToleranceDeg } from "./corners.ts";
import { p, parallelCorner, referenceCorner } from "./reference-corner.ts";

const LENGTH_MM = 1e-9;
const TRAVEL_MM = 1e-9;
const far = (a: V2, b: V2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const at = (q: { sMm: number; zMm: number }): V2 => [q.sMm, q.zMm];
const finite = (values: readonly number[]): boolean => values.every(Number.isFinite);

describe("a corner's position", () => {
  it("stands as built at zero travel", () => {
    fc.assert(
      fc.property(assembledCorner, (corner) => {
        const linkage = built(corner);
        const pose = poseOf(linkage, 0);
        expectClose(far(pose.upperOuter, at(corner.upperOuter)), 0, LENGTH_MM, "mm");
        expectClose(far(pose.lowerOuter, at(corner.lowerOuter)), 0, LENGTH_MM, "mm");
        expectClose(pose.camberDeg, corner.hub.staticCamberDeg, turnToleranceDeg(linkage, pose), "°");
      }),
    );
  });

  it("keeps every length, reaches the asked travel and stays on its branch, anywhere between the limits", () => {
    fc.assert(
      fc.property(anyLinkage, ({ linkage, travel }) => {
        const pose = poseOf(linkage, travel);
        expectClose(far(pose.lowerInner, pose.lowerOuter), linkage.lowerArmMm, LENGTH_MM, "mm");
        expectClose(far(pose.upperInner, pose.upperOuter), linkage.upperArmMm, LENGTH_MM, "mm");
        expectClose(far(pose.lowerOuter, pose.upperOuter), linkage.hubMm, LENGTH_MM, "mm");
        expectClose(far(pose.lowerOuter, pose.wheelCentre), Math.hypot(...linkage.local.wheel), LENGTH_MM, "mm");
        expectClose(far(pose.wheelCentre, pose.contact), linkage.corner.wheel.radiusMm, LENGTH_MM, "mm");
        expectClose(pose.travelMm, travel, TRAVEL_MM, "mm");
        // which side of the line from lower ball joint to upper inner pivot the upper ball joint is on
        const side =
          (pose.upperInner[0] - pose.lowerOuter[0]) * (pose.upperOuter[1] - pose.lowerOuter[1]) -
          (pose.upperInner[1] - pose.lowerOuter[1]) * (pose.upperOuter[0] - pose.lowerOuter[0]);
        expect(side * linkage.closure.branch).toBeGreaterThan(-1e-9);
      }),
      { numRuns: 400 },
    );
  });

  it("leans the wheel outward for positive static camber and moves the contact inward", () => {
    const base = referenceCorner();
    const pose = poseOf(built({ ...base, hub: { ...base.hub, staticCamberDeg: 2 } }), 0);
    expectClose(pose.camberDeg, 2, 1e-12, "°");
    expectClose(pose.contact[0], 160 - 48 * Math.sin(2 * DEG), 1e-12, "mm");
    expectClose(pose.contact[1], 48 - 48 * Math.cos(2 * DEG), 1e-12, "mm");
    // the hub itself is not turned by it
    expectClose(pose.hubTurnRad, 0, 1e-12, "rad");
  });

  it("comes out the same from any warm start, in any order, and by its lower-arm angle", () => {
    fc.assert(
      fc.property(anyLinkage, between(0, 1), ({ linkage, share, travel }, start) => {
        fc.pre(share > 0 && share < 1);
        const cold = poseOf(linkage, travel);
        const out = new Float64Array(CLOSURE_SIZE);
        const { bumpAngleRad, droopAngleRad } = linkage.limits;
        out[ANGLE] = droopAngleRad + start * (bumpAngleRad - droopAngleRad);
        expect(positionInto(linkage, travel, out)).toBe(FOUND);
        expectClose(out[POINT_Z]! - linkage.zeroHeightMm, travel, TRAVEL_MM, "mm");
        // nearer to the ends the lower arm's angle alone no longer holds all digits of the position
        if (share < 1e-3 || share > 1 - 1e-3) return;
        const again = positionAtLowerAngle(linkage, cold.lowerAngleRad);
        if (!again.ok) throw new Error(again.message);
        expectClose(again.travelMm, travel, TRAVEL_MM, "mm");
        expectClose(again.camberDeg, cold.camberDeg, turnToleranceDeg(linkage, cold), "°");
      }),
    );
  });

  it("moves without a jump and always upwards from droop to bump", () => {
    const out = new Float64Array(CLOSURE_SIZE);
    const hubAt = (linkage: CornerLinkage, angle: number): V2 => {
      closeChain(linkage.closure, angle, false, out);
      return [Math.atan2(out[TURN_SIN]!, out[TURN_COS]!), out[POINT_Z]!];
    };
    const turned = (a: V2, b: V2): number => Math.abs(Math.atan2(Math.sin(b[0] - a[0]), Math.cos(b[0] - a[0])));
    /** Halves the way between two angles until the hub turns by less than 0.2 rad; a jump would never get there. */
    const smooth = (linkage: CornerLinkage, a: number, b: number, depth: number): void => {
      const [at, to] = [hubAt(linkage, a), hubAt(linkage, b)];
      expect(to[1] - at[1]).toBeGreaterThan(-1e-6);
      if (turned(at, to) < 0.2) return;
      expect(depth).toBeLessThan(40);
      smooth(linkage, a, (a + b) / 2, depth + 1);
      smooth(linkage, (a + b) / 2, b, depth + 1);
    };
    fc.assert(
      fc.property(anyLinkage, ({ linkage }) => {
        const { droopAngleRad, bumpAngleRad } = linkage.limits;
        const at = (i: number): number => droopAngleRad + ((bumpAngleRad - droopAngleRad) * i) / 200;
        for (let i = 0; i < 200; i++) smooth(linkage, at(i), at(i + 1), 0);
      }),
    );
  });
});

describe("the travel limits", () => {
  it("lie exactly where upper arm and hub, or lower arm and hub, come in line, or the wheel centre stops rising", () => {
    const seen = { upperArmInLine: 0, lowerArmInLine: 0, wheelTurnsBack: 0 };
    fc.assert(
      fc.property(anyLinkage, fc.boolean(), ({ linkage }, bump) => {
        const { bumpMm, droopMm, bumpReason, droopReason } = linkage.limits;
        const pose = poseOf(linkage, bump ? bumpMm : droopMm);
        const reason = bump ? bumpReason : droopReason;
        seen[reason]++;
        const q: V2 = [pose.upperOuter[0] - pose.lowerOuter[0], pose.upperOuter[1] - pose.lowerOuter[1]];
        const arm: V2 =
          reason === "upperArmInLine"
            ? [pose.upperOuter[0] - pose.upperInner[0], pose.upperOuter[1] - pose.upperInner[1]]
            : [pose.lowerOuter[0] - pose.lowerInner[0], pose.lowerOuter[1] - pose.lowerInner[1]];
        if (reason !== "wheelTurnsBack") {
          const sine = (q[0] * arm[1] - q[1] * arm[0]) / (Math.hypot(...q) * Math.hypot(...arm));
          expectClose(sine, 0, 1e-6, "(sine of the angle between hub and arm)");
          return;
        }
        const out = new Float64Array(CLOSURE_SIZE);
        const { bumpAngleRad, droopAngleRad } = linkage.limits;
        const [end, other] = bump ? [bumpAngleRad, droopAngleRad] : [droopAngleRad, bumpAngleRad];
        closeChain(linkage.closure, end, false, out);
        const rise = Math.abs(out[POINT_RISE]!);
        closeChain(linkage.closure, end + 0.1 * (other - end), false, out);
        expect(rise).toBeLessThan(1e-9 * Math.abs(out[POINT_RISE]!) + 1e-6);
      }),
      { numRuns: 500, seed: 7 },
    );
    // all three ends have been met
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(5);
  });

  it("are the first end met when the lower arm is turned in small steps, each closed on its own", () => {
    const STEP_RAD = 2e-3;
    fc.assert(
      fc.property(anyLinkage, ({ linkage }) => {
        const { lowerInner, upperInner, hub0, wheel, branch, up } = plain(linkage);
        for (const dir of [up, -up]) {
          const end = dir === up ? linkage.limits.bumpAngleRad : linkage.limits.droopAngleRad;
          const length = Math.abs(end - linkage.homeAngleRad);
          let lastZ = Number.NaN;
          for (let turn = 0; turn < length - STEP_RAD; turn += STEP_RAD) {
            const a = linkage.homeAngleRad + dir * turn;
            const b: V2 = [lowerInner[0] + linkage.lowerArmMm * Math.cos(a), lowerInner[1] + linkage.lowerArmMm * Math.sin(a)];
            const m = circleCircle(b, linkage.hubMm, upperInner, linkage.upperArmMm);
            if (m.kind !== "two") throw new Error(`open ${turn} rad from home, the limit is ${length} rad away`);
            const c = branch > 0 ? m.left : m.right;
            const angle = Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(hub0[1], hub0[0]);
            const z = b[1] + wheel[0] * Math.sin(angle) + wheel[1] * Math.cos(angle);
            if (turn > 0) expect((z - lastZ) * (dir === up ? 1 : -1)).toBeGreaterThan(0);
            lastZ = z;
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it("are never crossed silently: beyond them the answer is the lock and its reason", () => {
    fc.assert(
      fc.property(anyLinkage, between(1e-6, 1e3), ({ linkage }, beyond) => {
        const { bumpMm, droopMm, bumpReason, droopReason } = linkage.limits;
        expect(positionAtTravel(linkage, bumpMm + beyond)).toMatchObject({ ok: false, end: "bump", reason: bumpReason, limitMm: bumpMm });
        expect(positionAtTravel(linkage, droopMm - beyond)).toMatchObject({ ok: false, end: "droop", reason: droopReason, limitMm: droopMm });
        const out = new Float64Array(CLOSURE_SIZE).fill(5);
        expect(positionInto(linkage, bumpMm + beyond, out)).toBe(LOCKED_IN_BUMP);
        expect(positionInto(linkage, droopMm - beyond, out)).toBe(LOCKED_IN_DROOP);
        expect(out.every((v) => v === 5)).toBe(true);
      }),
    );
  });

  it("a hair before them the position still has its lengths and the asked travel", () => {
    fc.assert(
      fc.property(anyLinkage, fc.integer({ min: 1, max: 12 }), fc.boolean(), ({ linkage }, digits, bump) => {
        const { bumpMm, droopMm } = linkage.limits;
        const gap = 10 ** -digits * (bumpMm - droopMm);
        const travel = bump ? bumpMm - gap : droopMm + gap;
        const pose = poseOf(linkage, travel);
        expect(finite([...pose.wheelCentre, ...pose.contact, pose.camberDeg, pose.springLengthMm])).toBe(true);
        expectClose(far(pose.upperInner, pose.upperOuter), linkage.upperArmMm, LENGTH_MM, "mm");
        expectClose(pose.travelMm, travel, TRAVEL_MM, "mm");
      }),
      { numRuns: 500 },
    );
  });

  it("of level parallel arms are the arm length up and down, where all three stand in line", () => {
    const { bumpMm, droopMm } = built(parallelCorner()).limits;
    expectClose(bumpMm, 88, 1e-6, "mm");
    expectClose(droopMm, -88, 1e-6, "mm");
  });

  it("are not jumped over where the wheel centre dips and rises again close to the as-built position", () => {
    // a lower arm that stands upright: the wheel centre is 1e-4 mm from its highest point, then sinks before it rises
    const [lowerMm, angle] = [46.52272, 1.5703062383409365];
    const lowerOuter = p(lowerMm * Math.cos(angle), 10 + lowerMm * Math.sin(angle));
    const corner = referenceCorner({
      lowerInner: p(0, 10),
      lowerOuter,
      upperInner: p(7.281029280834932, 53.57302989024775),
      upperOuter: p(lowerOuter.sMm + 7.093114427363373, lowerOuter.zMm + 7.0489522427329305),
      wheelCentre: p(lowerOuter.sMm + 0.20781, lowerOuter.zMm - 30),
    });
    const { closure, homeAngleRad, limits } = built(corner);
    const out = new Float64Array(CLOSURE_SIZE);
    const rise = (a: number): number => {
      closeChain(closure, a, false, out);
      return out[POINT_RISE]! * out[CRANK_RATE]!;
    };
    const inside = Math.sign(rise(homeAngleRad));
    for (let i = 1; i < 2000; i++) {
      const a = limits.droopAngleRad + ((limits.bumpAngleRad - limits.droopAngleRad) * i) / 2000;
      expect(rise(a) * inside).toBeGreaterThan(0);
    }
    expect([limits.bumpReason, limits.droopReason]).toContain("wheelTurnsBack");
  });

  it("take the wheel centre's top of path when the instant centre stands above it", () => {
    const linkage = built(referenceCorner());
    expect(linkage.limits.bumpReason).toBe("wheelTurnsBack");
    const out = new Float64Array(CLOSURE_SIZE);
    closeChain(linkage.closure, linkage.limits.bumpAngleRad, false, out);
    expectClose(out[POINT_RISE]! / out[CRANK_RATE]!, 0, 1e-9, "mm/rad");
  });
});

function plain(linkage: ReturnType<typeof built>) {
  const { corner, closure, limits } = linkage;
  const d: V2 = [corner.upperOuter.sMm - corner.lowerOuter.sMm, corner.upperOuter.zMm - corner.lowerOuter.zMm];
  return {
    lowerInner: at(corner.lowerInner),
    upperInner: at(corner.upperInner),
    hub0: d,
    wheel: linkage.local.wheel,
    branch: closure.branch,
    up: Math.sign(limits.bumpAngleRad - linkage.homeAngleRad),
  };
}

describe("what cannot be assembled", () => {
  it("names a part without length by its pivots", () => {
    expect(buildCorner(referenceCorner({ upperOuter: p(136, 28) }))).toMatchObject({ ok: false, kind: "noLength", pair: ["lowerOuter", "upperOuter"] });
    expect(buildCorner(referenceCorner({ upperInner: p(128, 80) }))).toMatchObject({ ok: false, kind: "noLength", pair: ["upperInner", "upperOuter"] });
    expect(buildCorner(referenceCorner({ lowerInner: p(136, 28) }))).toMatchObject({ ok: false, kind: "noLength", pair: ["lowerInner", "lowerOuter"] });
  });

  it("refuses a corner built at a dead centre or with a wheel that cannot rise", () => {
    expect(buildCorner(referenceCorner({ upperInner: p(124, 106) }))).toMatchObject({ ok: false, kind: "deadCentre", pair: ["upperInner", "upperOuter"] });
    expect(buildCorner(referenceCorner({ lowerInner: p(140, 2) }))).toMatchObject({ ok: false, kind: "deadCentre", pair: ["lowerInner", "lowerOuter"] });
    // arm lines meet at (160, 100), straight above the wheel centre
    const above = referenceCorner({
      lowerInner: p(124, 64),
      lowerOuter: p(142, 82),
      upperInner: p(124, 118),
      upperOuter: p(142, 109),
      wheelCentre: p(160, 48),
    });
    expect(buildCorner(above)).toMatchObject({ ok: false, kind: "noRise" });
  });

  it("names the side that is too long and by how many mm", () => {
    const long = buildCornerWithLengths(referenceCorner(), { upperArmMm: 300 });
    const chassis = Math.hypot(8, 40);
    expect(long).toMatchObject({ ok: false, kind: "tooLong", pair: ["upperInner", "upperOuter"] });
    if (!long.ok) {
      expectClose(long.missMm, 300 - (Math.hypot(88, 8) + Math.hypot(8, 52) + chassis), 1e-9, "mm");
      expect(long.message).toContain("upper ball joint");
    }
    const short = buildCornerWithLengths(referenceCorner(), { upperArmMm: 10, lowerArmMm: 10, hubMm: 10 });
    expect(short).toMatchObject({ ok: false, kind: "tooFarApart", pair: ["lowerInner", "upperInner"] });
    if (!short.ok) expectClose(short.missMm, chassis - 30, 1e-9, "mm");
    expect(buildCornerWithLengths(referenceCorner(), { hubMm: 0 })).toMatchObject({ ok: false, kind: "noLength", pair: ["lowerOuter", "upperOuter"] });
  });

  it("moves its travel limits to where changed lengths still close", () => {
    // a hub this long does not close at the as-built angle of the lower arm
    const linkage = buildCornerWithLengths(referenceCorner(), { hubMm: 170 });
    if (!linkage.ok) throw new Error(linkage.message);
    const { bumpMm, droopMm } = linkage.limits;
    for (const t of [bumpMm, 0.5 * (bumpMm + droopMm), droopMm]) {
      const pose = poseOf(linkage, t);
      expectClose(far(pose.lowerOuter, pose.upperOuter), 170, LENGTH_MM, "mm");
      expectClose(far(pose.upperInner, pose.upperOuter), linkage.upperArmMm, LENGTH_MM, "mm");
      expectClose(pose.travelMm, t, 1e-6, "mm");
    }
  });
});

describe("play (common practice, no source)", () => {
  it("opposite clearances of 0.1 mm at ball joints 52 mm apart lean the wheel by 0.220368°, as the linkage with those lengths does", () => {
    expectClose(leanFromClearances(0.1, 0.1, 52), 0.220368, 1e-6, "°");
    const linkage = buildCornerWithLengths(parallelCorner(), { upperArmMm: 88.1, lowerArmMm: 87.9 });
    if (!linkage.ok) throw new Error(linkage.message);
    // the estimate is the small angle of the exact one
    expectRel(poseOf(linkage, 0).camberDeg, leanFromClearances(0.1, 0.1, 52), 1e-4, "°");
  });

  it("a loose bore and two radial springs tilt by the textbook numbers", () => {
    expectClose(leanFromBore(0.15, 16), 0.537132, 1e-6, "°");
    expectClose(tiltStiffness(500, 16), 64000, 1e-9, "N·mm/rad");
    expectClose(1500 / tiltStiffness(500, 16) / DEG, 1.34287, 1e-6, "°");
    expectClose(inSeries(500, 500), 250, 1e-12, "N/mm");
    expectClose(inSeries(500, Number.POSITIVE_INFINITY), 500, 1e-12, "N/mm");
    expect(inSeries(500, 0)).toBe(0);
  });
});
