import { SIDES } from "../../core/design/types.ts";
import { speedAt, type Trace } from "../../motion/trace.ts";
import type { Box } from "../../view/labels.ts";
import { createMemo } from "../../view/marks.ts";
import type { ShowOptions } from "../../view/scene.ts";
import { kerbOver, momentAt, type Resting, riseOf } from "./moment.ts";
import { leavingAt, tagsAt } from "./picture/losses.ts";
import { rollingStrip } from "./picture/rolling-road.ts";
import { type MotionPicture, motionCamera } from "./picture/sheet-picture.ts";
import { type Recorded, roadAhead } from "./story.ts";

export interface RunSheet {
  size: { w: number; h: number };
  show: ShowOptions;
  spare: boolean;
  keepClear: readonly Box[];
  /** whoever wants no motion sees what left stand beside its place */
  still: boolean;
}

/** A recorded run at one time as a picture; `rival`: design B through the same run, with what it is at rest. */
export type RunPicture = (r: Recorded, rest: Resting, rival: { trace: Trace; rest: Resting } | null, timeS: number, sheet: RunSheet) => MotionPicture;

export function createRunPicture(): RunPicture {
  const memo = createMemo();
  return (r, rest, rival, timeS, sheet) => {
    const { trace } = r;
    const moment = momentAt(r, rest, timeS, sheet.still);
    const camera = memo("camera", [rest.scenario, trace, sheet.size], () => motionCamera(rest.scenario, riseOf(trace), sheet.size.w, sheet.size.h));
    const kerb = memo("kerb", [rest.scenario, trace], () => kerbOver(rest.scenario, trace));
    const { drawn, looseTyres } = moment;
    return {
      ...moment,
      rival: rival && momentAt({ run: r.run, trace: rival.trace, held: null }, rival.rest, timeS, sheet.still).drawn,
      camera,
      show: sheet.show,
      spare: sheet.spare,
      leaving: sheet.still ? [] : leavingAt(trace.events, timeS, drawn, looseTyres),
      kerb: kerb ? kerb(timeS) : null,
      strips: SIDES.map((side) => rollingStrip(side, roadAhead(trace, side, timeS), camera)),
      tags: tagsAt(trace.events, timeS, (at) => speedAt(trace, at) * 3.6, drawn, looseTyres, camera),
      keepClear: sheet.keepClear,
      grips: [],
      active: null,
    };
  };
}
