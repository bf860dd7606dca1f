import type { V2 } from "../core/vec.ts";

/** Name of a colour token in ui/css/tokens.css, without the dashes ("arm", "u-3", "design-b-line"). */
type Tone = string;

export interface Stroke {
  tone: Tone;
  /** CSS px */
  width: number;
  alpha?: number;
  round?: boolean;
}

/** What a mark is made of, in CSS px of the drawing, y down. */
export type Prim =
  | { kind: "poly"; points: readonly V2[]; closed: boolean; fill?: Tone; fillAlpha?: number; stroke?: Stroke }
  | { kind: "circle"; at: V2; radius: number; fill?: Tone; fillAlpha?: number; stroke?: Stroke }
  /** pairs of points, stroked together in one go (hatches, dashes, ticks) */
  | { kind: "segments"; pairs: readonly V2[]; stroke: Stroke }
  /** equal discs, filled together */
  | { kind: "dots"; at: readonly V2[]; radius: number; fill: Tone }
  /** equal open circles, drawn together */
  | { kind: "holes"; at: readonly V2[]; radius: number; fill: Tone; fillAlpha: number; stroke: Stroke };

/** One drawn thing with a stable key; the drawing keeps its object as long as the key stays. */
export interface Mark {
  key: string;
  /** later layers cover earlier ones */
  layer: number;
  alpha: number;
  prims: readonly Prim[];
}

export const LAYERS = ["paper", "shell", "chassis", "wash", "construction", "wheel", "spring", "arm", "hub", "joint", "ghost", "lean", "force", "top"] as const;
export type Layer = (typeof LAYERS)[number];

export const mark = (key: string, layer: Layer, prims: readonly Prim[], alpha = 1): Mark => ({ key, layer: LAYERS.indexOf(layer), alpha, prims });

/** Rebuilds a value only when one of its causes is another object or value than last time. */
export function createMemo(): <T>(key: string, causes: readonly unknown[], build: () => T) => T {
  const kept = new Map<string, { causes: readonly unknown[]; value: unknown }>();
  return <T>(key: string, causes: readonly unknown[], build: () => T): T => {
    const old = kept.get(key);
    if (old && old.causes.length === causes.length && old.causes.every((c, i) => Object.is(c, causes[i]))) return old.value as T;
    const value = build();
    kept.set(key, { causes, value });
    return value;
  };
}
