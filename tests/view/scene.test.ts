import { describe, expect, it } from "vitest";
import type { V2 } from "../../src/core/vec.ts";
import { fitBounds, projector } from "../../src/view/camera.ts";
import { distance, sub } from "../../src/view/geometry.ts";
import { pick } from "../../src/view/handles.ts";
import type { Prim } from "../../src/view/marks.ts";
import { instantCentre, rollCentre } from "../../src/view/parts/construction.ts";
import { sceneBounds } from "../../src/view/parts/paper.ts";
import { bentNodes, bodyPose } from "../../src/view/poses.ts";
import { createScene, type Drawn, type SceneInput } from "../../src/view/scene.ts";
import { drawnAt, evenMeasure, SHOW_ALL, scenarioFile } from "./fixture.ts";

const scenario = scenarioFile("heavy-forked");
const a = drawnAt(scenario, { lateralG: 0.8 });
const b = drawnAt(scenarioFile("heavy-straight"), { lateralG: 0.8 });
const camera = fitBounds(sceneBounds(scenario), 1056, 591, { left: 94, right: 94, top: 44, bottom: 136 });
const input = (more: Partial<SceneInput> = {}): SceneInput => ({
  a,
  b,
  unloaded: null,
  camera,
  show: SHOW_ALL,
  spare: false,
  active: null,
  hover: null,
  keepClear: [],
  leanSteps: null,
  settled: true,
  ...more,
});

const numbersOf = (p: Prim): number[] =>
  p.kind === "poly" ? p.points.flat() : p.kind === "circle" ? [...p.at, p.radius] : p.kind === "segments" ? p.pairs.flat() : p.at.flat();

describe("the scene", () => {
  it("has one key for each mark and finite numbers only, for every shipped car and load", () => {
    const scene = createScene(evenMeasure);
    for (const name of ["heavy-forked", "asymmetric", "twin-tube-hub-spring", "converging-unequal", "worn-joints", "heavy-cross-pinned"]) {
      for (const lateralG of [0, 0.5, -0.5]) {
        const drawn = drawnAt(scenarioFile(name), { lateralG, bumpRightMm: 3 });
        const { marks, labels, handles } = scene(input({ a: drawn, unloaded: drawn, active: "pin.right.upperInner" }));
        expect(new Set(marks.map((m) => m.key)).size).toBe(marks.length);
        for (const m of marks) for (const p of m.prims) expect(numbersOf(p).every(Number.isFinite), `${name} ${m.key}`).toBe(true);
        for (const l of labels) expect([l.x, l.y, l.w, l.h].every(Number.isFinite)).toBe(true);
        for (const h of handles) expect(h.at.every(Number.isFinite) && h.name.length > 0 && h.value.length > 0).toBe(true);
      }
    }
  });

  it("gives back the same marks while nothing changed, and new ones for the part that did", () => {
    const scene = createScene(evenMeasure);
    const first = new Map(scene(input()).marks.map((m) => [m.key, m]));
    for (const m of scene(input()).marks) expect(m).toBe(first.get(m.key));
    const bent = new Map(scene(input({ show: { ...SHOW_ALL, bend: 10 } })).marks.map((m) => [m.key, m]));
    expect(bent.get("arm.right.lower")).not.toBe(first.get("arm.right.lower"));
    expect(bent.get("paper")).toBe(first.get("paper"));
  });

  it("shows the lean that the report tells", () => {
    const { labels } = createScene(evenMeasure)(input());
    const lean = labels.find((l) => l.key === "lean.right");
    expect(lean?.lines[0]?.text).toBe(`${a.report.right.camberDeg.toFixed(1)}°`);
  });

  it("draws nothing of design B when that is switched off", () => {
    const keys = createScene(evenMeasure)(input({ show: { ...SHOW_ALL, designB: false } })).marks.map((m) => m.key);
    expect(keys).not.toContain("ghost");
    expect(createScene(evenMeasure)(input()).marks.map((m) => m.key)).toContain("ghost");
  });

  it("keeps its labels off joints and wheels and off each other", () => {
    const { labels } = createScene(evenMeasure)(input());
    labels.forEach((l, i) => {
      for (const o of labels.slice(i + 1)) expect(l.x < o.x + o.w && o.x < l.x + l.w && l.y < o.y + o.h && o.y < l.y + l.h, `${l.key} on ${o.key}`).toBe(false);
    });
  });

  it("puts each handle on its thing, and picks the nearest", () => {
    const { handles } = createScene(evenMeasure)(input());
    const px = projector(camera);
    for (const h of handles) expect(pick(handles, h.at)?.at).toEqual(h.at);
    const pin = handles.find((h) => h.id === "pin.right.upperInner");
    expect(distance(pin?.at ?? [0, 0], px(a.state.right.joints.upperInner.hole))).toBeLessThan(1e-9);
    expect(handles.filter((h) => h.id.startsWith("pin.")).length).toBe(8);
    expect(pick(handles, [2, 2])).toBeNull();
  });
});

describe("poses", () => {
  it("multiply the bow off the straight line and leave the pins where they are", () => {
    const arm = a.state.right.arms.lower;
    const drawn = bentNodes(arm, 3);
    const last = arm.nodes.length - 1;
    expect(distance(drawn[0] as V2, arm.nodes[0] as V2)).toBeLessThan(1e-9);
    expect(distance(drawn[last] as V2, arm.nodes[last] as V2)).toBeLessThan(1e-9);
    const bow = (nodes: readonly V2[]): number => {
      const from = nodes[0] as V2;
      const d = sub(nodes[last] as V2, from);
      return Math.max(...nodes.map((p) => Math.abs(d[0] * (p[1] - from[1]) - d[1] * (p[0] - from[0])) / Math.sqrt(d[0] ** 2 + d[1] ** 2)));
    };
    expect(bow(drawn) / bow(arm.nodes)).toBeCloseTo(3, 6);
  });

  it("take the centre of gravity to where it stands, and the point above it aside by the roll", () => {
    const to = bodyPose(scenario, a.state);
    const { cg, angleRad } = a.state.body;
    expect(distance(to([0, scenario.body.cgHeightMm]), cg)).toBeLessThan(1e-9);
    // counter-clockwise turns move what is above to the left
    expect(distance(to([0, scenario.body.cgHeightMm + 50]), [cg[0] - 50 * Math.sin(angleRad), cg[1] + 50 * Math.cos(angleRad)])).toBeLessThan(1e-9);
  });

  it("carry the inner pins' holes as the solved state has them", () => {
    const c = a.corners.right.upperInner;
    expect(distance(bodyPose(scenario, a.state)([c.sMm, c.zMm]), a.state.right.joints.upperInner.hole)).toBeLessThan(1e-6);
  });
});

describe("construction lines", () => {
  it("give a roll centre on the centreline for a car that stands straight", () => {
    const still: Drawn = drawnAt(scenario, {});
    const rc = rollCentre(still.state);
    expect(Math.abs(rc?.[0] ?? 99)).toBeLessThan(1e-3);
  });

  it("put the instant centre on the lines of both arms", () => {
    const corner = drawnAt(scenarioFile("converging-unequal"), {}).state.right;
    const ic = instantCentre(corner) as V2;
    for (const arm of ["upper", "lower"] as const) {
      const nodes = corner.arms[arm].nodes;
      const d = sub(nodes[nodes.length - 1] as V2, nodes[0] as V2);
      const r = sub(ic, nodes[0] as V2);
      expect(Math.abs(d[0] * r[1] - d[1] * r[0]) / Math.sqrt(d[0] ** 2 + d[1] ** 2)).toBeLessThan(1e-6);
    }
  });
});
