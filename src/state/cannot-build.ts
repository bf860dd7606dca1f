import { capital } from "../core/capital.ts";
import { checkScenario } from "../core/design/check.ts";
import { pathName } from "../core/design/field-words.ts";
import { pinWithoutRoom } from "../core/design/room.ts";
import { cornerOf } from "../core/design/sides.ts";
import { type Corner, JOINT_NAMES, type PointSZ, type Scenario, SIDES } from "../core/design/types.ts";
import { buildCorner } from "../core/linkage/corner.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { JOINT_WORDS } from "../view/words.ts";

const POINTS = [...JOINT_NAMES, "wheelCentre"] as const;

/** Why a design cannot be built as drawn, in one sentence; null when it can. Cheap enough for every frame of a drag. */
export function cannotBuild(s: Scenario): string | null {
  for (const side of SIDES) {
    const c = cornerOf(s, side);
    const outside = outOfRange(c) ?? pinWithoutRoom(c);
    if (outside) return outside;
  }
  const problem = checkScenario(s)[0];
  if (problem) return `${capital(pathName(problem.path))} would be ${problem.value}${problem.unit ? ` ${problem.unit}` : ""}; allowed ${problem.allowed}.`;
  for (const side of SIDES) {
    const linkage = buildCorner(cornerOf(s, side));
    if (!linkage.ok) return sentence(linkage.message);
  }
  return null;
}

const sentence = (t: string): string => {
  const text = capital(t);
  return text.endsWith(".") ? text : `${text}.`;
};

const ranges = new Map<string, { min: number; max: number } | null>();
function allowed(path: string): { min: number; max: number } | null {
  if (!ranges.has(path)) ranges.set(path, rangeOf(path) ?? null);
  return ranges.get(path) ?? null;
}

function outOfRange(c: Corner): string | null {
  const test = (point: PointSZ, path: string, words: string): string | null => {
    for (const key of ["sMm", "zMm"] as const) {
      const r = allowed(`${path}.${key}`);
      if (r && (point[key] < r.min || point[key] > r.max))
        return `${capital(words)} would be ${Math.round(point[key])} mm ${key === "sMm" ? "out" : "up"}; allowed ${r.min} to ${r.max} mm.`;
    }
    return null;
  };
  for (const p of POINTS) {
    const found = test(c[p], `corner.${p}`, p === "wheelCentre" ? "the wheel centre" : `the ${JOINT_WORDS[p]}`);
    if (found) return found;
  }
  return test(c.spring.top, "corner.spring.top", "the spring top");
}
