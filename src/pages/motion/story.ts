import { SIDES, type Side } from "../../core/design/types.ts";
import { heldWords } from "../../core/limits/held-words.ts";
import { mpsToKmh } from "../../core/units.ts";
import type { MotionEvent } from "../../motion/session.ts";
import { channelAt, column, isPushed, type Peak, type Trace, timeAtWay } from "../../motion/trace.ts";
import { degrees, figures, fixed, withUnit } from "../../view/format.ts";
import { eventWords, looseKind, lossesOf, lossPosts, lossSentence, lostAt } from "./picture/losses.ts";
import type { Run, Track, TracksModel } from "./picture/tracks.ts";
import { corneringWords, type RunName } from "./run-fields.ts";

/** What a recorded run has to tell: which wheel bears most, when something comes off, what happened in order, the curves. */

export interface Recorded {
  run: RunName;
  trace: Trace;
  /** the same as if everything had held; null where everything did */
  held: Trace | null;
}

/** What holds the wheel, and what it takes; from the answer at rest. */
export interface HubHold {
  part: string;
  capacity: number;
  unit: string;
}

const USES = ["useHub", "useTyre", "useJoint", "useArm", "useBuckling"] as const;

const peakOf = (trace: Trace, key: string): Peak | undefined => trace.peaks.find((p) => p.channel === key);

/** The first thing that comes off or apart; null when all held. */
export const breakOf = (trace: Trace): MotionEvent | null => lossesOf(trace.events)[0] ?? null;

/** The wheel that gave first, or else the one whose parts were used most. */
export function worstWheel(r: Recorded): Side {
  const first = breakOf(r.trace);
  if (first) return first.side;
  const use = (side: Side): number => Math.max(...USES.map((u) => peakOf(r.trace, `${side}.${u}`)?.value ?? 0));
  return use("left") > use("right") + 1e-6 ? "left" : "right";
}

export interface Shock {
  factor: number;
  side: Side;
  peakN: number;
  steadyN: number;
  timeS: number;
}

/** The road's shock of a run: peak over steady force of road and kerb on a wheel, as if everything held. */
export function shockOf(r: Recorded): Shock | null {
  const t = r.held ?? r.trace;
  const p = peakOf(t, `${t.shockSide}.roadForceN`);
  if (t.shockFactor === null || !p || p.steady === null) return null;
  return { factor: t.shockFactor, side: t.shockSide, peakN: p.value, steadyN: p.steady, timeS: p.timeS };
}

/** The moment to show first: when something comes off, else when what holds the followed wheel is pulled hardest. */
export function momentOf(r: Recorded, side: Side): number {
  const first = breakOf(r.trace);
  const end = endOf(r);
  if (first) return Math.min(end, first.timeS + 0.06);
  return Math.min(end, peakOf(r.trace, `${side}.retentionN`)?.timeS ?? 0);
}

export const endOf = (r: Recorded | Trace): number => ("trace" in r ? r.trace : r).timeS.at(-1) ?? 0;

/** First time at which a column leaves its first value by more than `by`; null when it never does. */
function leaves(trace: Trace, key: string, by: number): number | null {
  const c = column(trace, key);
  const from = c[0]!;
  for (let i = 1; i < c.length; i++) if (Math.abs(c[i]! - from) > by) return trace.timeS[i - 1]!;
  return null;
}

/** First time at which the wheel touches the road; null when it does so from the start, or never. */
function touches(trace: Trace, side: Side): number | null {
  const c = column(trace, `${side}.verticalN`);
  if (c[0]! > 0) return null;
  for (let i = 1; i < c.length; i++) if (c[i]! > 0) return trace.timeS[i]!;
  return null;
}

interface Cause {
  timeS: number;
  words: string;
  /** one word for the line through the curves; none: no line */
  post: string;
}

/** What the run does to the car, and when. */
export function causesOf(r: Recorded): Cause[] {
  const { trace, run } = r;
  const n = trace.params;
  const out: Cause[] = [];
  if (run === "steeringStep" || run === "slalom") {
    const at = leaves(trace, "lateralG", 0.002);
    if (at !== null)
      out.push({
        timeS: at,
        words: run === "slalom" ? `first gate, ${withUnit(Math.abs(n["lateralG"]!), 2, "g")}` : `steered, ${corneringWords(n["lateralG"]!)}`,
        post: run === "slalom" ? "weave" : "steer",
      });
  }
  if (run === "singleBump" || run === "washboard") {
    const met = SIDES.map((side) => ({ side, at: leaves(trace, `${side}.roadMm`, 0.02) })).filter((m): m is { side: Side; at: number } => m.at !== null);
    const first = met.toSorted((a, b) => a.at - b.at)[0];
    const what = run === "washboard" ? "washboard" : n["heightMm"]! < 0 ? "hole" : "bump";
    if (first) out.push({ timeS: first.at, words: met.length === 2 ? `both wheels meet the ${what}` : `${first.side} wheel meets the ${what}`, post: what });
  }
  if (run === "landing") {
    const at = Math.min(...SIDES.map((s) => touches(trace, s) ?? Number.POSITIVE_INFINITY));
    if (Number.isFinite(at)) out.push({ timeS: at, words: "wheels touch the road", post: "lands" });
  }
  if (run === "kerbStrike") {
    const side: Side = n["rightSide"]! >= 0.5 ? "right" : "left";
    const at = leaves(trace, `${side}.roadForceN`, 0.5);
    if (at !== null) out.push({ timeS: at, words: `${side} wheel meets the kerb`, post: "kerb" });
  }
  if (isPushed(trace)) {
    const pressed = [(n["throttle"] ?? 0) > 0 ? "throttle" : "", (n["brakeG"] ?? 0) > 0 ? "brakes" : ""].filter(Boolean).join(" and ");
    const stops = column(trace, "speedMps").findIndex((v, i, all) => v === 0 && all[i - 1]! > 0);
    out.push({ timeS: 0, words: `${pressed} pressed`, post: "" });
    if (stops > 0) out.push({ timeS: trace.timeS[stops]!, words: "the car stands", post: "stands" });
  }
  return out;
}

export interface Happening {
  timeS: number;
  words: string;
  loud: boolean;
}

/** Everything worth a line, in order of time. */
export function storyOf(r: Recorded, side: Side, hub: HubHold | null): Happening[] {
  const { trace } = r;
  const out: Happening[] = causesOf(r).map((c) => ({ timeS: c.timeS, words: c.words, loud: false }));
  const offAt = breakOf(trace)?.timeS ?? Number.POSITIVE_INFINITY;
  const roll = peakOf(trace, "rollDeg");
  if (roll && roll.timeS < offAt && Math.abs(roll.value) >= 0.3)
    out.push({ timeS: roll.timeS, words: `body rolls furthest, ${degrees(Math.abs(roll.value))}`, loud: false });
  const shift = peakOf(trace, `${side}.wheelShiftMm`);
  if (shift && isPushed(trace) && shift.timeS < offAt && Math.abs(shift.value) >= LEAST_SHIFT_MM)
    out.push({
      timeS: shift.timeS,
      words: `${side} wheel shifts furthest ${shift.value < 0 ? "back" : "forward"}, ${withUnit(Math.abs(shift.value), 2, "mm")}`,
      loud: false,
    });
  const pull = peakOf(trace, `${side}.retentionN`);
  // right before something comes off its own line says the same
  if (pull && hub && pull.timeS < offAt - 0.03)
    out.push({
      timeS: pull.timeS,
      words: `${hub.part} pulled hardest, ${heldWords(null, figures(pull.value), fixed(hub.capacity, 0), hub.unit)}`,
      loud: false,
    });
  for (const e of trace.events) {
    // a wheel that hangs before a landing is no news
    if (e.kind === "lifts" && e.timeS < 0.01) continue;
    out.push({ timeS: e.timeS, words: eventWords(e), loud: e.kind === "comesOff" || e.kind === "comesApart" || e.kind === "exceeds" });
  }
  return out.toSorted((a, b) => a.timeS - b.timeS);
}

/** Two plain sentences under the big number. */
export function heroWords(r: Recorded, side: Side, hub: HubHold | null): string {
  const { trace } = r;
  const all = r.held ?? trace;
  const pull = peakOf(all, `${side}.retentionN`);
  const first = breakOf(trace);
  if (!pull || !hub) return first ? lossSentence(first) : "Everything held.";
  const still =
    pull.steady === null
      ? ""
      : `Held steady in this, the ${hub.part} ${pull.steady < hub.capacity ? "stays whole" : "gives"}: ${heldWords(null, figures(pull.steady), fixed(hub.capacity, 0), hub.unit)}. `;
  if (first && looseKind(first) === "tyre") return tyreWords(all, first);
  if (first && first.limit !== "hubRetention") return lossSentence(first);
  if (first) return `${still}In motion ${figures(pull.value)}\u2009${hub.unit} pull on it, and the ${first.side} wheel comes off.`;
  return `${still}In motion ${figures(pull.value)}\u2009${hub.unit} pull on it at most, and everything holds.`;
}

/** A smaller shift along the road is not worth a line, mm. */
const LEAST_SHIFT_MM = 0.05;

/** Less of a limit in use is as good as none. */
const LEAST_SHARE = 0.01;

/** How the tyre was held in the same load, steady, and what happened. */
function tyreWords(all: Trace, e: MotionEvent): string {
  const steady = peakOf(all, `${e.side}.useTyre`)?.steady ?? null;
  // without a side force there is nothing to compare
  if (steady === null || !(e.capacity > 0) || steady < LEAST_SHARE) return lossSentence(e);
  const of = heldWords(null, figures(steady * e.capacity), figures(e.capacity), e.unit);
  return `Held steady in this, the ${e.side} tyre ${steady < 1 ? "stays" : "does not stay"} on its rim: ${of} sideways. ${lossSentence(e)}`;
}

/** A run cut where its wheel comes off: what is read of a hub without a wheel means nothing. */
function upTo(run: Run, timeS: number | null): Run {
  if (timeS === null) return run;
  const t = Array.from(run.t).filter((v) => v <= timeS);
  return { t, v: Array.from(run.v).slice(0, t.length) };
}

/** The rows of curves, and the least that each shows. */
export const LEAST_SPAN = { camberDeg: 1, retentionN: 12, verticalN: 8, travelMm: 3 } as const;
/** Those of the rows that a run with throttle or brake has besides: mm, km/h. */
const PUSHED_SPAN = { wheelShiftMm: 0.4, speedMps: 2 } as const;
const SPANS = { ...LEAST_SPAN, ...PUSHED_SPAN };

/** The rows of curves for one wheel. `camberDeg` and `shiftMm` are the limits of the design's lean and of its wheels' shift along the road. */
export function tracksOf(r: Recorded, side: Side, camberDeg: number, hub: HubHold | null, rival: Trace | null, shiftMm: number | null = null): TracksModel {
  const { trace, held } = r;
  const offAt = lostAt(trace.events, side, "wheel");
  const solidToS = offAt ?? endOf(r);
  // from the first loss on, on either side, the run as if all had held goes its own way
  const pale = held;
  const paleFromS = Math.min(solidToS, breakOf(trace)?.timeS ?? solidToS);
  const row = (key: keyof typeof SPANS, title: string, unit: string, digits: number, term: string, limit: (peak: number) => number | null): Track => {
    const ofCar = key === "speedMps";
    const name = ofCar ? key : `${side}.${key}`;
    const runOver = (t: Trace): Run => ({ t: t.timeS, v: ofCar ? column(t, name).map(mpsToKmh) : column(t, name) });
    const line = runOver(trace);
    const listed = peakOf(pale ?? trace, name);
    const steady = peakOf(trace, name)?.steady ?? null;
    const top = listed && !ofCar ? { t: listed.timeS, v: listed.value } : null;
    const most = limit(top?.v ?? 0);
    return {
      key,
      title,
      term,
      unit,
      digits,
      line,
      solidToS,
      paleFromS,
      pale: pale ? runOver(pale) : null,
      rival: rival ? upTo(runOver(rival), lostAt(rival.events, side, "wheel")) : null,
      steady: ofCar ? null : steady,
      limit: most,
      leastSpan: SPANS[key],
      peak: top ? { ...top, past: most !== null && Math.abs(top.v) >= Math.abs(most) } : null,
    };
  };
  return {
    endS: Math.max(endOf(r), held ? endOf(held) : 0),
    wheel: `${side} wheel`,
    over: "the run",
    whole: true,
    posts: [
      ...causesOf(r)
        .filter((c) => c.post !== "")
        .map((c) => ({ t: c.timeS, words: c.post, loud: false })),
      ...lossPosts(trace.events).map((p) => ({ ...p, loud: true })),
    ],
    tracks: [
      row("camberDeg", "Lean", "°", 1, "", (peak) => (peak < 0 ? -camberDeg : camberDeg)),
      row("retentionN", hub ? `Pull on ${hub.part}` : "Pull on the wheel", hub?.unit ?? "N", 1, "", () => hub?.capacity ?? null),
      row("verticalN", "Wheel load", "N", 1, "", () => null),
      // beside the push there is room for five rows only; the travel is in the table of the run
      ...(isPushed(trace)
        ? [
            row("wheelShiftMm", "Wheel shift", "mm", 2, "+ is forwards", (peak) => (shiftMm === null ? null : peak < 0 ? -shiftMm : shiftMm)),
            row("speedMps", "Speed", "km/h", 1, "of the car", () => null),
          ]
        : [row("travelMm", "Wheel travel", "mm", 1, "up into the body", () => null)]),
    ],
  };
}

/** Road under a wheel as it comes: height at a way ahead of the wheel, mm, from the recorded height over time. */
export function roadAhead(trace: Trace, side: Side, timeS: number): { heightMm(aheadMm: number): number; nowMm: number } {
  const speed = (trace.params["speedMps"] ?? 0) * 1000;
  const key = `${side}.roadMm`;
  const nowMm = channelAt(trace, key, timeS);
  if (isPushed(trace)) {
    const wayM = channelAt(trace, "wayM", timeS);
    return { nowMm, heightMm: (ahead) => channelAt(trace, key, timeAtWay(trace, wayM + ahead / 1000)) };
  }
  return { nowMm, heightMm: (ahead) => (speed > 0 ? channelAt(trace, key, timeS + ahead / speed) : nowMm) };
}
