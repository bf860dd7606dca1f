import { SIDES, type Side } from "../core/design/types.ts";

/** What a trace records over time: name, words, unit; one column each. */
export interface Channel {
  key: string;
  label: string;
  unit: string;
  side: Side | null;
  /** largest, largest either way, or lowest: what counts as its peak */
  peak: "most" | "either" | "least";
}

export const AXLE_CHANNELS: Omit<Channel, "side">[] = [
  { key: "lateralG", label: "cornering", unit: "g", peak: "either" },
  { key: "rollDeg", label: "body roll", unit: "°", peak: "either" },
  { key: "heaveMm", label: "body height against as-built", unit: "mm", peak: "either" },
  { key: "lateralMm", label: "body sideways", unit: "mm", peak: "either" },
];
export const CORNER_CHANNELS: Omit<Channel, "side">[] = [
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

/** Along the road; a run that keeps its speed has nothing to tell in them. */
export const GOING_CHANNELS: Omit<Channel, "side">[] = [
  { key: "speedMps", label: "speed", unit: "m/s", peak: "either" },
  { key: "wayM", label: "way", unit: "m", peak: "most" },
];
export const PUSH_CHANNELS: Omit<Channel, "side">[] = [
  { key: "pushN", label: "push of the road along the car, forwards positive", unit: "N", peak: "either" },
  { key: "wheelShiftMm", label: "shift of the wheel along the road", unit: "mm", peak: "either" },
  { key: "axisTiltDeg", label: "tilt of the steering axis, top backwards positive", unit: "°", peak: "either" },
];

const ofCorners = (channels: readonly Omit<Channel, "side">[]): Channel[] =>
  SIDES.flatMap((side) => channels.map((c): Channel => ({ ...c, key: `${side}.${c.key}`, side })));

/** Columns of a trace, in order. Corner columns carry their side in front: `right.camberDeg`. */
export const CHANNELS: readonly Channel[] = [
  ...AXLE_CHANNELS.map((c): Channel => ({ ...c, side: null })),
  ...ofCorners(CORNER_CHANNELS),
  ...GOING_CHANNELS.map((c): Channel => ({ ...c, side: null })),
  ...ofCorners(PUSH_CHANNELS),
];

/** First column of what is told along the road; those before it are in every trace. */
export const FIRST_ALONG_ROAD = AXLE_CHANNELS.length + SIDES.length * CORNER_CHANNELS.length;

const INDEX: ReadonlyMap<string, number> = new Map(CHANNELS.map((c, i) => [c.key, i]));

/** Column of a channel; throws on a name that is none. */
export function channelIndex(key: string): number {
  const i = INDEX.get(key);
  if (i === undefined) throw new RangeError(`A trace has no channel "${key}".`);
  return i;
}
