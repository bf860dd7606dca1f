import { CARRIERS, type Scenario } from "../../../core/design/types.ts";
import { type Control, choice, flag, maybe, n, under } from "./control.ts";

/** What pushes and brakes along the road, where it sits, and how much of it the builder accepts. */

/** distance that a tyre of this size usually has before and behind it in its arch, mm (common practice, no source) */
const START_ROOM_MM = 10;

export const pushControls = (s: Scenario): Control[] =>
  under(
    "push and brake",
    flag("drive.onThisAxle", true),
    choice("drive.carriedBy", CARRIERS, { root: true }),
    flag("brake.onThisAxle", true),
    { ...n("brake.wheels", 1, 16, 1, { root: true, whole: true }), more: true },
    { ...choice("brake.carriedBy", CARRIERS, { root: true }), more: true },
    n("limits.wheelShiftMm", 0.1, 20, 0.1, { root: true }),
    n("limits.axisTiltDeg", 0.1, 15, 0.1, { root: true }),
    { ...flag("limits.spinMustHold", true), more: true },
    ...maybe(n("fit.alongRoadMm", 0, 60, 0.5, { root: true }), s.fit.alongRoadMm, () => START_ROOM_MM).map((c) => ({ ...c, more: true })),
  );
