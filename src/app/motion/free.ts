import type { Scenario, Side } from "../../core/design/types.ts";
import { channelIndex } from "../../motion/channels.ts";
import type { Targets } from "../../motion/free-play.ts";
import type { HandleId } from "../../view/handles.ts";
import type { Track, TracksModel } from "../../view/motion/tracks.ts";
import type { FreeLook } from "../../worker/motion.ts";
import type { MotionClient } from "../../worker/motionClient.ts";
import { type HubHold, LEAST_SPAN } from "./story.ts";

/** The axle in the user's hands: asks the worker for one picture per frame, keeps the last seconds for the curves. */

export const WINDOW_S = 4;
export const FREE_GRIPS: readonly HandleId[] = ["road.left", "road.right", "gravity", "cornering"];
export const ROAD_MOST_MM = 20;
export const BODY_MOST_MM = 60;
export const G_MOST = 1.2;
/** frames without a change that can be seen, after which the clock stops */
const QUIET_FRAMES = 40;
const QUIET = { camberDeg: 2e-3, verticalN: 0.02, travelMm: 2e-3 };

/** share of the way to the finger at which the hand holds the body */
const FINGER_SHARE = 0.12;
/** time within which the road comes close to the hand, ms */
const FOLLOW_MS = 45;

const KEYS = ["camberDeg", "retentionN", "verticalN", "travelMm"] as const;

export interface FreeHand {
  scenario: Scenario | null;
  targets: Targets;
  look: FreeLook | null;
  /** why there is no axle to take in hand */
  fault: string | null;
}

export interface Free {
  hand: FreeHand;
  /** sets a new axle on a flat road */
  start(scenario: Scenario): void;
  stop(): void;
  aim(t: Partial<Targets>): void;
  /** one frame; false: at rest, the clock may stop */
  pass(ms: number): boolean;
  /** where the newest moment of the curves that were last asked for stands, s */
  headS(): number;
  tracks(side: Side, camberDeg: number, hub: HubHold | null): TracksModel;
}

const NO_HANDS: Targets = { lateralG: 0, road: [0, 0], body: null };

export function createFree(client: MotionClient, changed: () => void): Free {
  const hand: FreeHand = { scenario: null, targets: NO_HANDS, look: null, fault: null };
  let busy = false;
  let round = 0;
  let quiet = 0;
  /** the road follows the hand softly: a pointer moves in jumps */
  let road: [number, number] = [0, 0];
  let headS = 0;
  let times: number[] = [];
  let columns: Record<string, number[]> = {};

  const clear = (): void => {
    times = [];
    columns = Object.fromEntries((["left", "right"] as const).flatMap((side) => KEYS.map((k) => [`${side}.${k}`, [] as number[]])));
  };
  const smoothRoad = (ms: number): void => {
    const share = 1 - Math.exp(-ms / FOLLOW_MS);
    const to = hand.targets.road;
    road = [road[0] + share * (to[0] - road[0]), road[1] + share * (to[1] - road[1])];
  };
  /** the hand's own spring is stiff; pulled from close by it is as soft as a finger */
  const softBody = (): Targets["body"] => {
    const { look, targets } = hand;
    if (!look || !targets.body) return null;
    const x = look.channels[channelIndex("lateralMm")] ?? 0;
    const z = look.state.body.cg[1];
    return { xMm: x + FINGER_SHARE * (targets.body.xMm - x), zMm: z + FINGER_SHARE * (targets.body.zMm - z) };
  };
  const keep = (look: FreeLook): void => {
    if (look.timeS <= (times.at(-1) ?? -1)) return;
    times.push(look.timeS);
    for (const [key, list] of Object.entries(columns)) list.push(look.channels[channelIndex(key)] ?? 0);
    // cut in blocks, not one by one in every frame
    const over = times.findIndex((t) => t > look.timeS - WINDOW_S);
    if (over > 120) {
      times.splice(0, over);
      for (const list of Object.values(columns)) list.splice(0, over);
    }
  };
  const still = (a: FreeLook | null, b: FreeLook): boolean => {
    if (!a) return false;
    for (const side of ["left", "right"] as const)
      for (const [key, most] of Object.entries(QUIET)) {
        const i = channelIndex(`${side}.${key}`);
        if (Math.abs((a.channels[i] ?? 0) - (b.channels[i] ?? 0)) > most) return false;
      }
    return b.loose.length === 0 || b.timeS - (b.events.at(-1)?.timeS ?? 0) > 1.5;
  };
  clear();

  return {
    hand,
    start(scenario) {
      const mine = ++round;
      hand.scenario = scenario;
      hand.targets = NO_HANDS;
      hand.look = null;
      hand.fault = null;
      quiet = 0;
      busy = true;
      road = [0, 0];
      clear();
      void client.freeStart(scenario).then((fault) => {
        if (mine !== round) return;
        busy = false;
        hand.fault = fault;
        changed();
      });
    },
    stop() {
      round++;
      busy = false;
      hand.scenario = null;
    },
    aim(t) {
      hand.targets = { ...hand.targets, ...t };
      quiet = 0;
    },
    pass(ms) {
      if (!hand.scenario || hand.fault) return false;
      if (busy) return true;
      if (quiet > QUIET_FRAMES) return false;
      busy = true;
      const mine = round;
      smoothRoad(ms);
      void client.freePass({ ...hand.targets, road, body: softBody() }, Math.min(0.1, ms / 1000)).then((look) => {
        if (mine !== round) return;
        busy = false;
        if (!look) return;
        quiet = still(hand.look, look) || look.apart ? quiet + 1 : 0;
        hand.look = look;
        keep(look);
        changed();
      });
      return true;
    },
    headS: () => headS,
    tracks(side, camberDeg, hub) {
      const now = times.at(-1) ?? 0;
      const from = Math.max(0, now - WINDOW_S);
      const t = times.map((v) => v - from);
      headS = now - from;
      const row = (key: (typeof KEYS)[number], title: string, unit: string, term: string, limit: number | null): Track => {
        const v = columns[`${side}.${key}`] ?? [];
        const last = v.at(-1) ?? 0;
        return {
          key,
          title,
          term,
          unit,
          digits: 1,
          line: { t, v },
          solidToS: WINDOW_S,
          pale: null,
          rival: null,
          steady: null,
          limit: limit === null ? null : key === "camberDeg" && last < 0 ? -limit : limit,
          peak: null,
          leastSpan: LEAST_SPAN[key],
        };
      };
      return {
        endS: WINDOW_S,
        wheel: `${side} wheel`,
        posts: [],
        tracks: [
          row("camberDeg", "Lean", "°", "", camberDeg),
          row("retentionN", hub ? `Pull on ${hub.part}` : "Pull on the wheel", hub?.unit ?? "N", "", hub?.capacity ?? null),
          row("verticalN", "Wheel load", "N", "", null),
          row("travelMm", "Wheel travel", "mm", "up into the body", null),
        ],
      };
    },
  };
}
