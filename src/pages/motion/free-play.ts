import type { Scenario, Side } from "../../core/design/types.ts";
import { channelIndex } from "../../motion/channels.ts";
import type { Targets } from "../../motion/free-play.ts";
import { SAMPLES_PER_SECOND } from "../../motion/settings.ts";
import type { HandleId } from "../../view/handles.ts";
import type { FreeLook } from "../../worker/motion.ts";
import type { MotionClient } from "../../worker/motion-client.ts";
import type { LooseKind } from "./picture/losses.ts";
import { LONGEST_MS, SLOW } from "./picture/player.ts";
import type { Track, TracksModel } from "./picture/tracks.ts";
import { type HubHold, LEAST_SPAN } from "./story.ts";

/** The axle in the user's hands: asks the worker for one picture per frame, keeps the last seconds for the curves. */

const WINDOW_S = 4;
export const FREE_GRIPS: readonly HandleId[] = ["road.left", "road.right", "gravity", "cornering"];
export const ROAD_MOST_MM = 20;
export const BODY_MOST_MM = 60;
export const G_MOST = 1.2;
/** time without a change that can be seen, after which the clock stops, s */
const QUIET_S = 0.7;
const QUIET = { camberDeg: 2e-3, verticalN: 0.02, travelMm: 2e-3 };

/** share of the way to the finger at which the hand holds the body */
const FINGER_SHARE = 0.12;
/** a key pulls the body for so long, s */
const NUDGE_S = 0.4;
/** time within which the road comes close to the hand, ms */
const FOLLOW_MS = 45;

const KEYS = ["camberDeg", "retentionN", "verticalN", "travelMm"] as const;

interface FreeHand {
  scenario: Scenario | null;
  targets: Targets;
  look: FreeLook | null;
  /** why there is no axle to take in hand */
  fault: string | null;
  /** the clock stands still: what the hands ask for waits */
  paused: boolean;
  /** at a tenth of the speed */
  slow: boolean;
}

export interface Free {
  hand: FreeHand;
  /** sets a new axle on a flat road */
  start(scenario: Scenario): void;
  stop(): void;
  aim(t: Partial<Targets>): void;
  /** pulls the body there and lets go again shortly after, by the axle's own clock */
  nudge(body: NonNullable<Targets["body"]>): void;
  /** lets the clock go on, or halts it */
  pause(paused: boolean): void;
  /** halts the clock and lets one sample's time pass in the next frame */
  step(): void;
  /** a tenth of the speed, or the whole */
  setSlow(slow: boolean): void;
  /** one frame; false: halted or at rest, the clock may stop */
  pass(ms: number): boolean;
  /** the body's way sideways since a part was lost, mm */
  slidMm(kind: LooseKind, side: Side): number;
  /** where the newest moment of the curves that were last asked for stands, s */
  headS(): number;
  tracks(side: Side, camberDeg: number, hub: HubHold | null): TracksModel;
}

const NO_HANDS: Targets = { lateralG: 0, road: [0, 0], body: null };

export function createFree(client: MotionClient, changed: () => void): Free {
  const hand: FreeHand = { scenario: null, targets: NO_HANDS, look: null, fault: null, paused: false, slow: false };
  let busy = false;
  let round = 0;
  /** what was last seen to change, and for how long nothing has, s */
  let moved: FreeLook | null = null;
  let quietS = 0;
  /** time still to pass while the clock is halted, s, and time that passed while an answer was under way, ms */
  let owedS = 0;
  let lateMs = 0;
  /** when the hand lets go of a nudged body, by the axle's clock */
  let letGoS: number | null = null;
  /** where the body stood sideways when a part was lost, mm */
  const lostAtMm = new Map<string, number>();
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
  const lateralMm = (look: FreeLook): number => look.channels[channelIndex("lateralMm")] ?? 0;
  const keepLosses = (look: FreeLook): void => {
    for (const l of look.loose) {
      const key = `${l.kind}.${l.side}`;
      if (!lostAtMm.has(key)) lostAtMm.set(key, lateralMm(look));
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
  const watch = (look: FreeLook): void => {
    if (still(moved, look)) quietS = look.timeS - moved!.timeS;
    else {
      moved = look;
      quietS = 0;
    }
  };
  const wake = (): void => {
    moved = null;
    quietS = 0;
    lateMs = 0;
  };
  clear();

  const start = (scenario: Scenario): void => {
    const mine = ++round;
    hand.scenario = scenario;
    hand.targets = NO_HANDS;
    hand.look = null;
    hand.fault = null;
    hand.paused = false;
    owedS = 0;
    letGoS = null;
    wake();
    busy = true;
    road = [0, 0];
    lostAtMm.clear();
    clear();
    client.freeStart(scenario, (fault) => {
      if (mine !== round) return;
      busy = false;
      hand.fault = fault;
      changed();
    });
  };

  return {
    hand,
    start,
    stop() {
      if (!hand.scenario) return;
      round++;
      busy = false;
      hand.scenario = null;
      client.freeStop();
    },
    aim(t) {
      hand.targets = { ...hand.targets, ...t };
      if (t.body !== undefined) letGoS = null;
      wake();
    },
    nudge(body) {
      hand.targets = { ...hand.targets, body };
      letGoS = (hand.look?.timeS ?? 0) + NUDGE_S;
      wake();
    },
    pause(paused) {
      hand.paused = paused;
      owedS = 0;
      wake();
    },
    step() {
      hand.paused = true;
      owedS += 1 / SAMPLES_PER_SECOND;
      wake();
    },
    setSlow(slow) {
      hand.slow = slow;
      wake();
    },
    pass(ms) {
      if (!hand.scenario || hand.fault) return false;
      if (hand.paused && owedS === 0) return false;
      if (busy) {
        lateMs += ms;
        return true;
      }
      if (!hand.paused && (quietS > QUIET_S || hand.look?.apart)) return false;
      busy = true;
      const mine = round;
      if (letGoS !== null && (hand.look?.timeS ?? 0) >= letGoS) {
        letGoS = null;
        hand.targets = { ...hand.targets, body: null };
      }
      const seconds = hand.paused ? owedS : (Math.min(LONGEST_MS, ms + lateMs) / 1000) * (hand.slow ? SLOW : 1);
      owedS = 0;
      lateMs = 0;
      smoothRoad(1000 * seconds);
      client.freePass({ ...hand.targets, road, body: softBody() }, seconds, (look) => {
        if (mine !== round) return;
        busy = false;
        if (!look) {
          // the worker is another one than that which held the axle
          if (hand.scenario) start(hand.scenario);
          return;
        }
        hand.look = look;
        watch(look);
        keepLosses(look);
        keep(look);
        changed();
      });
      return true;
    },
    slidMm(kind, side) {
      const from = lostAtMm.get(`${kind}.${side}`);
      return hand.look && from !== undefined ? lateralMm(hand.look) - from : 0;
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
          paleFromS: WINDOW_S,
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
        over: `the last ${WINDOW_S} s`,
        whole: false,
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
