import type { AxleReport, PushReport } from "../core/analysis.ts";
import { ARM_NAMES, JOINT_NAMES } from "../core/design/types.ts";
import { ARM_WORDS, JOINT_WORDS } from "../view/words.ts";
import { num, signed, table } from "./table.ts";

/** What drive and brakes do along the road, wheel by wheel; null: nothing pushes this axle. */
export function pushTable(report: AxleReport): string | null {
  const { left, right } = { left: report.left.push, right: report.right.push };
  if (!left && !right) return null;
  const row = (what: string, of: (p: PushReport) => string): string[] => [what, left ? of(left) : "none", right ? of(right) : "none"];
  const rows = [
    row("push asked for, N, + = forwards", (p) => signed(p.askedN, 1)),
    row("push that reaches the road, N", (p) => `${signed(p.passedOnN, 1)}${p.spinsOrLocks ? (p.askedN < 0 ? ", locks" : ", spins") : ""}`),
    row("wheel shifts along the road, mm, + = forwards", (p) => signed(p.wheelShiftMm, 2)),
    row("steering axis tilts (caster change), °, + = top backwards", (p) => signed(p.axisTiltDeg, 2)),
    row("moment about the steering axis, N·mm, + = toe in", (p) => signed(p.steeringNmm, 0)),
    ...ARM_NAMES.map((n) => row(`${JOINT_WORDS[`${n}Outer`]}: its share, N`, (p) => signed(p.jointPushN[n], 1))),
    ...ARM_NAMES.filter((n) => (left ?? right)!.armTwistNmm[n] !== 0).map((n) =>
      row(`${ARM_WORDS[n]} is twisted by, N·mm`, (p) => signed(p.armTwistNmm[n], 0)),
    ),
    ...JOINT_NAMES.map((n) => row(`${JOINT_WORDS[n]} in space, N`, (p) => num(p.jointForceN[n], 1))),
  ];
  return `${table(["", "left", "right"], rows)}\nThe position seen from behind is that without the push; the steering rod and the inner pins are taken as rigid along the road.`;
}
