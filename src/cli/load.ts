import { pedals, plainLoad } from "../core/design/load.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import type { NoEquilibrium } from "../core/equilibrium/state.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { num } from "./table.ts";

/** The load that a command looks at, and where it comes from. */
export interface ChosenLoad {
  load: Load;
  /** name of the load case; null: from the options */
  caseName: string | null;
  from: string;
}

/** The options that make a load. */
const OF_LOAD = { lateral: "lateralG", "bump-left": "bumpLeftMm", "bump-right": "bumpRightMm", throttle: "throttle", brake: "brakeG" } as const;

/** The load from the options, what is not given being 0; without any the first load case, or at rest. */
export function chooseLoad(scenario: Scenario, values: Readonly<Record<string, number>>): ChosenLoad {
  const given = Object.entries(OF_LOAD).flatMap(([flag, key]) => (values[flag] === undefined ? [] : [[key, values[flag]] as const]));
  const none: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
  if (given.length > 0) return { load: plainLoad({ ...none, ...Object.fromEntries(given) }), caseName: null, from: "from the command line" };
  const first = scenario.loadCases[0];
  if (!first) return { load: none, caseName: "at rest", from: "the file holds no load case" };
  return { load: plainLoad(first), caseName: first.name, from: "first load case of the file" };
}

/** The load in one line. */
export function loadWords(c: ChosenLoad): string {
  const { lateralG: g, bumpLeftMm, bumpRightMm } = c.load;
  const parts = [g === 0 ? "straight on" : `cornering ${num(Math.abs(g), 2)} g, ${g > 0 ? "left-hand curve, right" : "right-hand curve, left"} wheel outside`];
  if (bumpLeftMm !== 0) parts.push(`${num(bumpLeftMm, 1)} mm under the left wheel`);
  if (bumpRightMm !== 0) parts.push(`${num(bumpRightMm, 1)} mm under the right wheel`);
  if (bumpLeftMm === 0 && bumpRightMm === 0) parts.push("level road");
  const { throttle, brakeG } = pedals(c.load);
  if (throttle !== 0) parts.push(`throttle ${num(100 * throttle, 0)} %`);
  if (brakeG !== 0) parts.push(`braking ${num(brakeG, 2)} g`);
  return `Load: ${c.caseName === null ? "" : `"${c.caseName}" `}(${c.from}): ${parts.join(", ")}`;
}

/** The car finds no steady position: what happened, and the last load that still had one. */
export function noSteadyPosition(file: string, reason: NoEquilibrium): Refusal {
  const at = reason.atLoad;
  const last = `${num(at.lateralG, 3)} g, ${num(at.bumpLeftMm, 2)} mm left, ${num(at.bumpRightMm, 2)} mm right`;
  return new Refusal(
    `${file}: no steady position (${reason.kind}): ${reason.message}\nThe last load on the way that still has one: ${last}.`,
    EXIT.noEquilibrium,
  );
}
