import { sprungMassKg } from "../../core/design/mass.ts";
import { SIDES, type Side } from "../../core/design/types.ts";
import type { V2 } from "../../core/vec.ts";
import type { Command } from "../../input/drag.ts";
import { channelIndex } from "../../motion/channels.ts";
import type { Camera } from "../../view/camera.ts";
import { degrees, fixed, withUnit } from "../../view/format.ts";
import type { HandleId } from "../../view/handles.ts";
import type { Box } from "../../view/labels.ts";
import type { Drawn, ShowOptions } from "../../view/scene.ts";
import { leanWords } from "../../view/words.ts";
import { BODY_MOST_MM, FREE_GRIPS, type Free, G_MOST, ROAD_MOST_MM } from "./free-play.ts";
import type { Resting } from "./moment.ts";
import type { HeroModel, StoryRow } from "./panels/sheet.ts";
import { builtTurn, clearOfBody, eventWords, leavingAt, lossSentence, tagsAt } from "./picture/losses.ts";
import { type MotionPicture, motionCamera, reportNow, withWheelAt } from "./picture/sheet-picture.ts";

/** The user's hand on the moving axle: road plates, body and cornering arrow, and what the free play shows and tells. */

export interface GripsHooks {
  camera(): Camera;
  wake(): void;
  /** halts the clock or lets it go on */
  play(): void;
  /** lets one sample's time pass */
  step(): void;
  say(text: string): void;
}

export interface Grips {
  command(c: Command): void;
  key(id: HandleId, e: KeyboardEvent): void;
  active(): HandleId | null;
  picture(rest: Resting, sheet: { size: { w: number; h: number }; show: ShowOptions; spare: boolean; keepClear: readonly Box[] }): MotionPicture | null;
  readout(side: Side): { lines: string[]; hero: HeroModel; story: StoryRow[] };
}

const held = (v: number, most: number): number => Math.max(-most, Math.min(most, v));
const STORY_MOST = 7;

interface Start {
  id: HandleId;
  road: [number, number];
  lateralG: number;
  cgZ: number;
  pxPerMm: number;
  gPerPx: number;
}

export function createGrips(free: Free, hooks: GripsHooks): Grips {
  let start: Start | null = null;

  const pull = (way: V2): void => {
    if (!start) return;
    const right = way[0] / start.pxPerMm;
    const up = -way[1] / start.pxPerMm;
    if (start.id === "road.left" || start.id === "road.right") {
      const road: [number, number] = [...start.road];
      const i = start.id === "road.left" ? 0 : 1;
      road[i] = held(start.road[i]! + up, ROAD_MOST_MM);
      free.aim({ road });
    } else if (start.id === "cornering") free.aim({ lateralG: held(start.lateralG + way[0] * start.gPerPx, G_MOST) });
    else free.aim({ body: { xMm: held(right, BODY_MOST_MM), zMm: start.cgZ + held(up, BODY_MOST_MM) } });
    hooks.wake();
  };

  return {
    active: () => start?.id ?? null,
    command(c) {
      const { look, targets, scenario } = free.hand;
      if (c.kind === "begin" && look && scenario) {
        const force = sprungMassKg(scenario) * 9.81;
        start = {
          id: c.id,
          road: [...targets.road],
          lateralG: targets.lateralG,
          cgZ: look.state.body.cg[1],
          pxPerMm: hooks.camera().scale,
          gPerPx: 1 / Math.max(60, force * 4),
        };
      } else if (c.kind === "move") pull(c.way);
      else if (c.kind === "commit" || c.kind === "cancel") {
        const back = c.kind === "cancel" && start ? { road: start.road, lateralG: start.lateralG } : {};
        start = null;
        free.aim({ ...back, body: null });
        hooks.wake();
      }
    },
    key(id, e) {
      const { look, targets } = free.hand;
      const clock = { " ": hooks.play, ".": hooks.step }[e.key];
      if (clock) {
        e.preventDefault();
        clock();
        return;
      }
      const by: V2 | undefined = { ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowRight: [1, 0], ArrowLeft: [-1, 0] }[e.key] as V2 | undefined;
      if (!by || !look) return;
      e.preventDefault();
      const size = e.shiftKey ? 0.25 : 1;
      if (id === "road.left" || id === "road.right") {
        const road: [number, number] = [...targets.road];
        const i = id === "road.left" ? 0 : 1;
        road[i] = held(road[i]! + 2 * size * by[1], ROAD_MOST_MM);
        free.aim({ road });
        hooks.say(`road ${withUnit(road[i]!, 1, "mm")}`);
      } else if (id === "cornering") {
        const g = held(targets.lateralG + 0.1 * size * by[0], G_MOST);
        free.aim({ lateralG: g });
        hooks.say(`cornering ${withUnit(g, 2, "g")}`);
      } else {
        const from = targets.body ?? { xMm: 0, zMm: look.state.body.cg[1] };
        free.nudge({ xMm: from.xMm + 4 * size * by[0], zMm: from.zMm + 4 * size * by[1] });
      }
      hooks.wake();
    },
    picture(rest, sheet) {
      const { look } = free.hand;
      if (!look) return null;
      const camera = motionCamera(rest.scenario, 0, sheet.size.w, sheet.size.h);
      const channel = (key: string): number => look.channels[channelIndex(key)] ?? 0;
      const off = (side: Side): boolean => look.loose.some((l) => l.kind === "wheel" && l.side === side);
      let { state } = look;
      for (const side of SIDES) {
        const { wheelCentre: at, wheelAngleRad: angle } = state[side];
        if (off(side)) state = withWheelAt(state, side, [clearOfBody(side, at[0], free.slidMm("wheel", side)), at[1]], angle);
      }
      const drawn: Drawn = {
        scenario: rest.scenario,
        corners: rest.corners,
        state,
        report: reportNow(rest.report, channel, { left: channel("left.camberDeg"), right: channel("right.camberDeg") }),
      };
      const looseTyres = look.loose
        .filter((l) => l.kind === "tyre")
        .map(({ side, pose: p }) => {
          const x = clearOfBody(side, p.x, free.slidMm("tyre", side));
          return { kind: "tyre" as const, side, pose: { x, z: p.z, angle: p.angle + builtTurn(rest.corners[side], side) } };
        });
      return {
        drawn,
        rival: null,
        camera,
        show: sheet.show,
        spare: sheet.spare,
        wheelOff: { left: off("left"), right: off("right") },
        tyreOff: { left: look.tyreOff[0], right: look.tyreOff[1] },
        looseTyres,
        leaving: leavingAt(look.events, look.timeS, drawn, looseTyres),
        kerb: null,
        strips: [],
        tags: tagsAt(look.events, look.timeS, null, drawn, looseTyres, camera),
        keepClear: sheet.keepClear,
        grips: look.apart ? [] : FREE_GRIPS,
        active: start?.id ?? null,
      };
    },
    readout(side) {
      const { look, targets } = free.hand;
      const off = look?.loose.some((l) => l.kind === "wheel" && l.side === side) ?? false;
      const lean = off ? undefined : look?.channels[channelIndex(`${side}.camberDeg`)];
      return {
        lines: [
          "Drag the road under a wheel, the body",
          "at its centre of gravity, or the arrow.",
          ...(free.hand.paused ? [`halted at ${withUnit(look?.timeS ?? 0, 3, "s")}`] : free.hand.slow ? ["shown at 1/10 speed"] : []),
        ],
        hero: {
          title: off ? `The ${side} wheel is off` : `${side === "left" ? "Left" : "Right"} wheel leans now`,
          aside: "camber",
          number: lean === undefined ? "–" : degrees(lean),
          list: lean === undefined ? [] : [leanWords(lean), ...SIDES.map((s, i) => `road ${s} ${withUnit(targets.road[i]!, 1, "mm")}`)],
          words: look?.apart
            ? "The axle has come apart. Put everything back to go on."
            : free.hand.paused
              ? "The clock is halted: what your hand asks for waits until you let it go on, or step."
              : "It goes on as it would by itself: what your hand asks for is what road and body get.",
          use: null,
        },
        story: (look?.events ?? [])
          .filter((e) => e.kind !== "slides")
          .slice(-STORY_MOST)
          .map((e) => ({
            key: `${fixed(e.timeS, 3)}.${lossSentence(e)}`,
            timeS: e.timeS,
            words: eventWords(e),
            loud: e.kind === "comesOff" || e.kind === "comesApart",
          })),
      };
    },
  };
}
