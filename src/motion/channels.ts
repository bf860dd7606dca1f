import type { LimitResult } from "../core/analysis.ts";
import { JOINT_NAMES, SIDES, type Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { radToDeg } from "../core/units.ts";
import { jointNow, retentionNow, travelMm, tyreNow, utilization } from "./demand.ts";
import { type Session, springLength } from "./session.ts";

/** What a trace records over time: name, words, unit; one column each. */
export interface Channel {
  key: string;
  label: string;
  unit: string;
  side: Side | null;
  /** largest, largest either way, or lowest: what counts as its peak */
  peak: "most" | "either" | "least";
}

const AXLE: Omit<Channel, "side">[] = [
  { key: "lateralG", label: "cornering", unit: "g", peak: "either" },
  { key: "rollDeg", label: "body roll", unit: "°", peak: "either" },
  { key: "heaveMm", label: "body height against as-built", unit: "mm", peak: "either" },
  { key: "lateralMm", label: "body sideways", unit: "mm", peak: "either" },
];
const CORNER: Omit<Channel, "side">[] = [
  { key: "camberDeg", label: "camber", unit: "°", peak: "either" },
  { key: "verticalN", label: "load on the wheel", unit: "N", peak: "most" },
  { key: "lateralN", label: "side force on the wheel", unit: "N", peak: "either" },
  { key: "travelMm", label: "wheel travel", unit: "mm", peak: "either" },
  { key: "roadMm", label: "road under the wheel", unit: "mm", peak: "either" },
  { key: "springMm", label: "spring length", unit: "mm", peak: "least" },
  { key: "retentionN", label: "pull on what holds the wheel", unit: "N", peak: "most" },
  { key: "jointN", label: "largest joint force", unit: "N", peak: "most" },
  { key: "roadForceN", label: "force of road and kerb on the wheel", unit: "N", peak: "most" },
  { key: "useHub", label: "hub retention, share of its limit", unit: "", peak: "most" },
  { key: "useTyre", label: "tyre on its rim, share of its limit", unit: "", peak: "most" },
  { key: "useJoint", label: "joint pull-out, share of its limit", unit: "", peak: "most" },
  { key: "useArm", label: "arm stress, share of yield", unit: "", peak: "most" },
  { key: "useBuckling", label: "arm push, share of buckling", unit: "", peak: "most" },
  { key: "useGrip", label: "grip in use, share", unit: "", peak: "most" },
];

/** Columns of a trace, in order. Corner columns carry their side in front: `right.camberDeg`. */
export const CHANNELS: readonly Channel[] = [
  ...AXLE.map((c): Channel => ({ ...c, side: null })),
  ...SIDES.flatMap((side) => CORNER.map((c): Channel => ({ ...c, key: `${side}.${c.key}`, side }))),
];

const INDEX: ReadonlyMap<string, number> = new Map(CHANNELS.map((c, i) => [c.key, i]));

/** Column of a channel; throws on a name that is none. */
export function channelIndex(key: string): number {
  const i = INDEX.get(key);
  if (i === undefined) throw new RangeError(`A trace has no channel "${key}".`);
  return i;
}

/** Fills `out` with all channels of the present moment. The arms' shares are those of the last time they were told. */
export function readChannels(x: Session, out: Float64Array): void {
  const { s, m } = x;
  out[0] = x.input.lateralG;
  out[1] = radToDeg(-s.q[1]!);
  out[2] = s.q[0]!;
  out[3] = s.q[m.x]!;
  for (const i of [0, 1] as const) {
    let o = AXLE.length + i * CORNER.length;
    const put = (v: number): void => {
      out[o++] = v;
    };
    const c = m.axle.corners[i];
    const on = s.wheelOn[i];
    const side = SIDES[i];
    const hub = on ? retentionNow(s, i, x.input.lateralG) : null;
    const joint = jointNow(s, i);
    const kerb = x.input.kerb?.side === side ? s.kerbN : 0;
    put(radToDeg(-c.sign * (s.q[c.base + 2]! + s.q[c.base + 3]! + c.staticTurn)));
    put(s.tyre.verticalN[i]);
    put(s.tyre.lateralN[i]);
    put(travelMm(s, i));
    put(x.input.road[i]);
    put(springLength(s, i));
    put(hub ? hub.demand : 0);
    put(joint.demand);
    put(Math.sqrt(s.tyre.verticalN[i] ** 2 + (s.tyre.lateralN[i] + kerb) ** 2));
    put(hub ? utilization(hub) : 0);
    put(on && !x.tyreOff[i] ? utilization(tyreNow(s, i)) : 0);
    put(utilization(joint));
    put(x.arms[i].yields?.utilization ?? 0);
    put(x.arms[i].buckling?.utilization ?? 0);
    put(on && s.tyre.verticalN[i] > 0 ? s.tyre.gripUsed[i] : 0);
  }
}

/** The same channels of a static answer. */
export function staticChannels(state: AxleState, limits: readonly LimitResult[], travel: Record<Side, number>, grip: readonly [number, number]): Float64Array {
  const out = new Float64Array(CHANNELS.length);
  out[0] = state.load.lateralG;
  out[1] = radToDeg(-state.body.angleRad);
  out[2] = state.body.heaveMm;
  SIDES.forEach((side, i) => {
    const c = state[side];
    const limit = (name: LimitResult["name"]): LimitResult | undefined => limits.find((l) => l.name === name && l.wheel === side);
    let o = AXLE.length + i * CORNER.length;
    const put = (v: number): void => {
      out[o++] = v;
    };
    put(radToDeg(side === "right" ? -c.wheelAngleRad : c.wheelAngleRad));
    put(c.tyre.verticalN);
    put(c.tyre.lateralN);
    put(travel[side]);
    put(side === "left" ? state.load.bumpLeftMm : state.load.bumpRightMm);
    put(c.spring.lengthMm);
    put(limit("hubRetention")?.demand ?? 0);
    put(Math.max(...JOINT_NAMES.map((n) => c.joints[n].forceN)));
    put(Math.sqrt(c.tyre.verticalN ** 2 + c.tyre.lateralN ** 2));
    put(limit("hubRetention")?.utilization ?? 0);
    put(limit("tyreOffRim")?.utilization ?? 0);
    put(limit("jointPullOut")?.utilization ?? 0);
    put(limit("armYield")?.utilization ?? 0);
    put(limit("armBuckling")?.utilization ?? 0);
    put(Math.abs(state.load.lateralG) / grip[i]!);
  });
  return out;
}
