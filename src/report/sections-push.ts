import type { PushReport } from "../core/analysis.ts";
import { pedals, pushes } from "../core/design/load.ts";
import { ARM_NAMES, JOINT_NAMES, type Load, SIDES } from "../core/design/types.ts";
import { DRIVINGS, type Driving, drivenAlike } from "../core/studies/driving.ts";
import { mpsToKmh } from "../core/units.ts";
import { fixed, signed, withUnit } from "../view/format.ts";
import { givesFirst } from "../view/map/names.ts";
import { ARM_WORDS, JOINT_WORDS } from "../view/words.ts";
import type { ReportData } from "./data.ts";
import { paragraph, table } from "./markup.ts";
import { section } from "./sections.ts";
import { curveWords, pedalParts } from "./words.ts";

/** What drive and brakes do along the road under the report's load; where they do nothing there, what the hardest push of the drive would do. */
export function pushSection(d: ReportData): string {
  const { left, right } = { left: d.a.report.left.push, right: d.a.report.right.push };
  const { scenario, load } = d.request;
  const title = "Along the road";
  if (left || right) return section(title, null, underLoad(d.request.load, left, right), paragraph(NOT_TOLD, "note"));
  const none = pushes(load) ? "Throttle and brakes of this load work on the other axle alone. " : "";
  if (!scenario.drive.onThisAxle) return section(title, null, paragraph(`${none}The drive does not push this axle.`));
  return section(
    title,
    null,
    paragraph(`${none}This load pushes nothing along the road. Full throttle from standing would do the following, as built; the tyres' grip may allow less.`) +
      fullThrottle(d),
  );
}

const NOT_TOLD =
  "The position seen from behind is that without the push, which is square to it. The steering rod and the inner pins are taken as rigid along the road; the weight that goes from one axle to the other is left out.";

function underLoad(load: Load, left: PushReport | null, right: PushReport | null): string {
  const row = (what: string, of: (p: PushReport) => string): string[] => [what, left ? of(left) : "none", right ? of(right) : "none"];
  const twisted = ARM_NAMES.filter((n) => (left ?? right)!.armTwistNmm[n] !== 0);
  return table({
    caption: `Under ${pedalParts(load).join(", ")}; + is forwards`,
    head: ["", "left wheel", "right wheel"],
    rows: [
      row("push asked for, N", (p) => signed(p.askedN, 1)),
      row("push that reaches the road, N", (p) => `${signed(p.passedOnN, 1)}${p.spinsOrLocks ? (p.askedN < 0 ? ", locks" : ", spins") : ""}`),
      row("wheel shifts, mm", (p) => signed(p.wheelShiftMm, 2)),
      row("steering axis tilts (caster change), °, + is top backwards", (p) => signed(p.axisTiltDeg, 2)),
      row("moment that the steering rod holds, N·mm, + is toe in", (p) => signed(p.steeringNmm, 0)),
      ...ARM_NAMES.map((n) => row(`${JOINT_WORDS[`${n}Outer`]}: its share of the push, N`, (p) => signed(p.jointPushN[n], 1))),
      ...twisted.map((n) => row(`${ARM_WORDS[n]} is twisted by, N·mm`, (p) => signed(p.armTwistNmm[n], 0))),
      ...JOINT_NAMES.map((n) => row(`${JOINT_WORDS[n]}: force in space, N`, (p) => fixed(p.jointForceN[n], 1))),
    ],
    words: [0],
  });
}

function fullThrottle({ drive, alike }: ReportData): string {
  const sides = alike ? (["right"] as const) : SIDES;
  const row = (what: string, of: (p: ReportData["drive"]["onArms"]["left"]) => string): string[] => [what, ...sides.map((s) => of(drive.onArms[s]))];
  return table({
    head: ["", ...(alike ? ["each side"] : ["left wheel", "right wheel"])],
    rows: [
      row("push on the wheel, N", (p) => signed(p.thrustN, 1)),
      row("wheel shifts, mm, + is forwards", (p) => signed(p.wheelShiftMm, 2)),
      row("steering axis tilts (caster change), °, + is top backwards", (p) => signed(p.casterChangeDeg, 2)),
      ...ARM_NAMES.map((n) => row(`${ARM_WORDS[n]}: its share of the push, N`, (p) => signed(p.forceN[n], 1))),
      ...ARM_NAMES.map((n) => row(`${ARM_WORDS[n]}: its end shifts, mm`, (p) => signed(p.shiftMm[n], 2))),
      ...ARM_NAMES.map((n) => row(`${ARM_WORDS[n]}: of its strength, %`, (p) => fixed(100 * p.stressShare[n], 0))),
    ],
    words: [0],
  });
}

const WAYS: Readonly<Record<Driving, string>> = { coasting: "coasting", fullThrottle: "full throttle", hardBraking: "hard braking" };

/** Safe speed on the chosen curve by how it is driven, the worst named. */
export function drivingTable(d: ReportData): string {
  if (!d.driving) return "";
  const { each, worst } = d.driving;
  const alike = drivenAlike(each);
  return (
    table({
      caption: `The same on ${curveWords(d)}, by how it is driven`,
      head: ["driven", "km/h", "g", "what gives"],
      rows: DRIVINGS.map((way) => [
        `${WAYS[way]}${way === worst && !alike ? " (the worst)" : ""}`,
        fixed(mpsToKmh(each[way].speedMps), 1),
        fixed(each[way].lateralG, 2),
        givesFirst(each[way].limit, d.a.corners.right),
      ]),
      words: [0, 3],
    }) +
    paragraph(
      alike
        ? "However it is driven, the same speed is safe."
        : `Worst is ${WAYS[worst]}: ${withUnit(mpsToKmh(each[worst].speedMps), 1, "km/h")}. Hard braking asks for all the grip there is; a wheel that spins or locks is a caution unless the file says that none may.`,
      "note",
    )
  );
}

/** Throttle and brakes of the load, for the name of a map; nothing where it has neither. */
export const pedalTail = (load: Load): string => {
  const { throttle, brakeG } = pedals(load);
  return throttle === 0 && brakeG === 0 ? "" : `, ${pedalParts(load).join(", ")}`;
};
