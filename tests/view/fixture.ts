import { readFileSync } from "node:fs";
import { analyze } from "../../src/core/analyze.ts";
import { cornerOf } from "../../src/core/design/sides.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import type { Drawn } from "../../src/view/scene.ts";

export function scenarioFile(name: string): Scenario {
  const read = parseScenario(readFileSync(new URL(`../../scenarios/${name}.json`, import.meta.url), "utf8"), name);
  if (!read.ok) throw new Error(read.problems.map((p) => p.message).join("\n"));
  return read.scenario;
}

/** A solved axle as the drawing takes it; throws when there is no equilibrium. */
export function drawnAt(scenario: Scenario, load: Partial<Load>): Drawn {
  const analysis = analyze(scenario, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, ...load }, { bands: false });
  if (!analysis.ok) throw new Error(analysis.reason.message);
  return { scenario, corners: { left: cornerOf(scenario, "left"), right: cornerOf(scenario, "right") }, state: analysis.state, report: analysis.report };
}

export const SHOW_ALL = { forces: true, armForces: true, rollCentre: true, leanByPart: true, designB: true, unloaded: true, bend: 3 } as const;
/** Letters of one even width: what a test of places needs. */
export const evenMeasure = (text: string, size: number): number => text.length * size * 0.5;
