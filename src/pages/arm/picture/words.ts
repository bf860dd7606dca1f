import type { AxleReport } from "../../../core/analysis.ts";
import { capital } from "../../../core/capital.ts";
import type { ArmLayout, ArmName, Side } from "../../../core/design/types.ts";
import { degrees, fixed, newtons } from "../../../view/format.ts";
import type { ArmFacts } from "./facts.ts";

export const LAYOUT_WORDS: Record<ArmLayout, string> = { straight: "straight", split: "forked", A: "A shape", twin: "twin" };
const LAYOUT_NOUN: Record<ArmLayout, string> = { straight: "straight arm", split: "fork", A: "A arm", twin: "twin arm" };

type Direction = "foreAft" | "lateral" | "vertical";
const DIRECTIONS: readonly { key: Direction; words: string; term: string }[] = [
  { key: "foreAft", words: "Along the road", term: "fore–aft" },
  { key: "lateral", words: "Sideways", term: "lateral" },
  { key: "vertical", words: "Up and down", term: "vertical" },
];

/** two values closer than this ratio are called the same */
const SAME = 1.05;
const ALIKE = 1.15;

const usable = (v: number): boolean => v > 0 && Number.isFinite(v);

/** 7.7, 36, 1953; a swinging arm has none and one on its own seat is held. */
export function stiffnessWords(nPerMm: number): string {
  if (!(nPerMm > 0)) return "swings";
  if (!Number.isFinite(nPerMm)) return "held";
  return fixed(nPerMm, nPerMm >= 20 ? 0 : nPerMm >= 0.95 ? 1 : 2);
}

/** "12", "4.8": how many times, without the sign. */
export const times = (ratio: number): string => fixed(ratio, ratio >= 9.95 ? 0 : 1).replace(/\.0$/, "");

export interface DirectionRow {
  key: Direction;
  words: string;
  term: string;
  a: string;
  b: string;
  /** "B ×4.8", "A ×2.5", "same", "–" */
  ratio: string;
}

export const directionRows = (a: ArmFacts, b: ArmFacts | null): DirectionRow[] =>
  DIRECTIONS.map(({ key, words, term }) => {
    const x = a.stiffness[key];
    const y = b ? b.stiffness[key] : 0;
    const both = b !== null && usable(x) && usable(y);
    const r = both ? y / x : 0;
    return {
      key,
      words,
      term,
      a: stiffnessWords(x),
      b: b ? stiffnessWords(y) : "–",
      ratio: !both ? "–" : r > SAME ? `B ×${times(r)}` : r < 1 / SAME ? `A ×${times(1 / r)}` : "same",
    };
  });

export interface ArmHero {
  title: string;
  aside: string;
  number: string;
  lines: [string, string, string];
}

/** The one big number: how many times stiffer one arm is in the direction that this arm is pushed. */
export function armHero(a: ArmFacts, b: ArmFacts | null): ArmHero {
  const seated = usable(a.stiffness.vertical) && (b === null || usable(b.stiffness.vertical));
  const key: Direction = seated ? "vertical" : "lateral";
  const where = seated ? "up and down" : "sideways";
  const push: [string, string] = seated ? ["in the direction", "the spring pushes"] : ["in the direction", "the wheel pushes"];
  if (!b) return { title: `Your arm, ${where}`, aside: "N/mm", number: stiffnessWords(a.stiffness[key]), lines: ["newtons for each mm", ...push] };
  const r = b.stiffness[key] / a.stiffness[key];
  const name = (f: ArmFacts, whose: string): string =>
    a.arm.layout === b.arm.layout ? `${whose} arm` : f.arm.layout === "split" ? "Forked arm" : capital(LAYOUT_NOUN[f.arm.layout]);
  if (r > SAME) return { title: `${name(b, "B's")}, ${where}`, aside: "B over A", number: `${times(r)}×`, lines: ["stiffer than yours", ...push] };
  if (r < 1 / SAME) return { title: `${name(a, "Your")}, ${where}`, aside: "A over B", number: `${times(1 / r)}×`, lines: ["stiffer than B's", ...push] };
  return { title: `Both arms, ${where}`, aside: "A and B", number: "1×", lines: ["as stiff as B's", ...push] };
}

export interface Share {
  /** of the lean of the outer wheel that the load makes, degrees: this arm's on both sides, and all of it */
  armDeg: number;
  loadDeg: number;
  totalDeg: number;
}

/** What the bend of this arm, on both sides of the car, has to do with the lean of one wheel. */
export function leanShare(report: AxleReport, side: Side, name: ArmName): Share {
  const budget = report[side].camberBudgetDeg.byPart;
  const part = name === "lower" ? "lowerArm" : "upperArm";
  return { armDeg: budget[`left.${part}`] + budget[`right.${part}`], loadDeg: report[side].camberDeg - budget.atRest, totalDeg: report[side].camberDeg };
}

export interface Sentence {
  text: string;
  strong: boolean;
}

/** loads that lean the wheel less than this have no shares worth telling, degrees */
const LEAN_LEAST = 0.2;

/** What the stiffness of the two arms means for this load. */
export function armSentences(a: ArmFacts, b: ArmFacts | null, share: Share | null): Sentence[] {
  const out: Sentence[] = [];
  const noun = LAYOUT_NOUN[a.arm.layout];
  const { foreAft, lateral, vertical } = a.stiffness;
  const spring = usable(vertical);
  const other = spring ? vertical : lateral;
  const road = "along the road, where the drive pushes,";
  const there = spring ? "up and down, where the spring pushes" : "sideways, where the wheel pushes";
  const r = foreAft / other;
  const both = bendAndShift(a);
  if (both)
    out.push({
      text: `The spring's ${newtons(both.springN)} bend your ${noun} by ${way(both.bendMm)}; ${pusher(a)} ${newtons(a.drive.pushN)} shift its end by ${way(a.drive.shiftMm)} along the road.`,
      strong: false,
    });
  else if (r > ALIKE) out.push({ text: `Your ${noun} is ${times(r)} times stiffer ${road} than ${there}.`, strong: false });
  else if (r < 1 / ALIKE) out.push({ text: `Your ${noun} is ${times(1 / r)} times softer ${road} than ${there}.`, strong: false });
  else out.push({ text: `Your ${noun} is about as stiff ${road} as ${there}.`, strong: false });
  if (b) out.push({ text: tradeSentence(a, b) ?? rivalSentence(a, b, spring ? "vertical" : "lateral"), strong: false });
  if (share) out.push({ text: shareSentence(share), strong: true });
  return out;
}

/** Whose push it is that shifts the arm's end. */
const pusher = (f: ArmFacts): string => (f.drive.own ? "this load's push of" : "the drive's");

/** differences below this are none, mm */
const SAME_MM = 0.05;

/** What A's arm spares and what it costs against B's, for this very load: both ways in one sentence; null where one of them has no spring. */
function tradeSentence(a: ArmFacts, b: ArmFacts): string | null {
  const [mine, theirs] = [bendAndShift(a), bendAndShift(b)];
  if (!mine || !theirs) return null;
  const whose = a.arm.layout === b.arm.layout ? "B's arm" : `B's ${LAYOUT_NOUN[b.arm.layout]}`;
  const ways: [mm: number, where: string][] = [
    [b.drive.shiftMm - a.drive.shiftMm, "along the road"],
    [theirs.bendMm - mine.bendMm, "of bend up and down"],
  ];
  const spares = ways.filter(([mm]) => mm > SAME_MM).map(([mm, where]) => `${way(mm)} ${where}`);
  const costs = ways.filter(([mm]) => mm < -SAME_MM).map(([mm, where]) => `${way(mm)} ${where}`);
  const both = [spares.length > 0 ? `spares ${spares.join(" and ")}` : "", costs.length > 0 ? `costs ${costs.join(" and ")}` : ""]
    .filter(Boolean)
    .join(" and ");
  return both === "" ? `${whose} moves as far both ways.` : `Against ${whose} yours ${both}.`;
}

/** What the load's spring does to an arm that carries one; null: no spring pushes on it, or there is no answer. */
export function bendAndShift(f: ArmFacts): { springN: number; bendMm: number } | null {
  const u = f.under;
  return u && f.arm3d.seatFraction !== null && u.springN >= SPRING_LEAST_N ? { springN: u.springN, bendMm: Math.abs(u.state.bowMm) } : null;
}
const SPRING_LEAST_N = 0.5;

/** "0.14 mm", "2.2 mm": how far something goes, without its sign. */
export const way = (mm: number): string => `${fixed(Math.abs(mm), Math.abs(mm) < 0.95 ? 2 : 1)}\u2009mm`;

/** one number this many times the other is called more */
const CLEARLY = 1.5;

/** What the lesson comes to for one's own arm, in one sentence. */
export function lessonEnd(a: ArmFacts, b: ArmFacts | null, leanDeg: number | null): string {
  const trade = b ? tradeSentence(a, b) : null;
  return trade ? `${ownEnd(a, leanDeg)} ${trade}` : ownEnd(a, leanDeg);
}

function ownEnd(a: ArmFacts, leanDeg: number | null): string {
  const noun = LAYOUT_NOUN[a.arm.layout];
  const shift = `${pusher(a)} ${newtons(a.drive.pushN)} shift its end by ${way(a.drive.shiftMm)}`;
  const both = bendAndShift(a);
  if (!both) return `On your ${noun} ${shift} and no spring pushes on it: what weakness leans the wheel is in the arm with the spring.`;
  const r = both.bendMm / a.drive.shiftMm;
  const bend = `the spring's ${newtons(both.springN)} bend it by ${way(both.bendMm)}`;
  const lean = leanDeg === null ? "" : ` while the wheel leans ${degrees(leanDeg)}`;
  if (r > CLEARLY) return `On your ${noun} ${shift} and ${bend}, ${times(r)} times as far${lean}: it is weak up and down, so make it taller.`;
  if (r < 1 / CLEARLY)
    return `On your ${noun} ${bend} and ${shift}, ${times(1 / r)} times as far${lean}: it is weak along the road, so ${a.arm.layout === "split" ? "put the fork point farther out or the feet wider apart" : "give it two feet, wide apart"}.`;
  return `On your ${noun} ${bend} and ${shift}${lean}: neither direction is the weak one.`;
}

function rivalSentence(a: ArmFacts, b: ArmFacts, key: Direction): string {
  const where = key === "vertical" ? "up and down" : "sideways";
  const word = (d: Direction): string | null => {
    const r = b.stiffness[d] / a.stiffness[d];
    if (!usable(r)) return null;
    return r > SAME ? `${times(r)} times stiffer` : r < 1 / SAME ? `${times(1 / r)} times softer` : "as stiff";
  };
  const road = word("foreAft");
  const push = word(key);
  const whose = a.arm.layout === b.arm.layout ? "B's arm" : `B's ${LAYOUT_NOUN[b.arm.layout]}`;
  if (road === null || push === null) return `${whose} cannot be held against it in this direction.`;
  return road === push ? `${whose} is ${road} both along the road and ${where}.` : `${whose} is ${road} along the road and ${push} ${where}.`;
}

export function shareSentence(s: Share): string {
  if (Math.abs(s.loadDeg) < LEAN_LEAST) return `This load leans the wheel by only ${fixed(s.loadDeg, 1)}°; there is nothing to share out.`;
  const part = s.armDeg / s.loadDeg;
  const deg = `${fixed(Math.abs(s.armDeg), Math.abs(s.armDeg) < 0.95 ? 2 : 1)}° of ${fixed(Math.abs(s.loadDeg), 1)}°`;
  if (part < -0.005) return `The bend of this arm takes ${fixed(Math.abs(s.armDeg), 2)}° off the lean under load.`;
  if (Math.abs(part) < 0.005) return `Hardly any of the ${fixed(Math.abs(s.loadDeg), 1)}° that the load leans the wheel comes from here.`;
  return `${fixed(part * 100, 0)} % of the lean under load comes from here: ${deg}.`;
}
