import type { LimitName } from "../core/analysis.ts";

/** Marks that belong to a step of the stair or to a limit, by how their keys begin. */
const BELONGS: Record<LimitName, readonly RegExp[]> & Record<string, readonly RegExp[]> = {
  lowerArm: [/^(arm|chord|bow)\..*lower$/],
  upperArm: [/^(arm|chord|bow)\..*upper$/],
  spring: [/^spring/],
  springOnStop: [/^spring/],
  tyre: [/^(wheel|wash|tread|vertical|lateral)\./],
  tyreOffRim: [/^(wheel|wash|tread|lateral)\./],
  wheelLift: [/^(wheel|wash|tread|vertical)\./],
  sliding: [/^(wheel|wash|tread|lateral|vertical)\./],
  bearing: [/^(hub|web)\./],
  play: [/^(hub|web)\./],
  hubRetention: [/^(hub|web|holdRing)\./],
  hubHeat: [/^(hub|web)\./],
  clearance: [/^joint\./],
  give: [/^joint\./],
  jointPullOut: [/^joint\./],
  pivotSprings: [/^joint\..*Inner/],
  road: [/^(road|tread\.)/],
  armYield: [/^(arm|chord|bow)\./],
  armSet: [/^(arm|chord|bow)\./],
  armBuckling: [/^(arm|chord|bow)\./],
  camber: [/^(lean|wheel|wash)\./],
  wheelShift: [/^(wheel|wash|arm)\./],
  axisTilt: [/^(wheel|wash|arm)\./],
  roll: [/^(plate|shell|gravity)/],
  fit: [/^(shell|wheel\.|wash\.)/],
  belowRoad: [/^(shell|plate|joint\.|arm\.)/],
};

const ALWAYS = /^(paper|road|centre)/;

/** Which marks stand back while one part is looked at; a word that belongs to no part leaves all as they are. */
export function standsBack(part: string): (key: string) => boolean {
  const own = BELONGS[part];
  if (!own) return () => false;
  return (key) => !ALWAYS.test(key) && !own.some((r) => r.test(key));
}
