import type { Load, Scenario } from "../core/design/types.ts";
import type { ShowOptions } from "../view/scene.ts";
import { type ArmView, INITIAL_ARM_VIEW } from "./armView.ts";
import { INITIAL_MAP_VIEW, type MapView } from "./mapView.ts";
import { INITIAL_MOTION_VIEW, type MotionView } from "./motionView.ts";

/** What is undone and redone, kept and shared: two designs under one load. Never changed in place. */
export interface Doc {
  a: Scenario;
  b: Scenario;
  load: Load;
}

export type Theme = "system" | "light" | "dark";
export type StairKind = "part" | "motion";

/** How the page shows it; kept with the session, not undone. */
export interface ViewState {
  page: string;
  show: ShowOptions;
  theme: Theme;
  /** part whose parameters are open; null: folded */
  selection: string | null;
  drawerOpen: boolean;
  /** height of the open drawer, px; held between its least and half of the page */
  drawerPx: number;
  /** the limit whose load path is shown; null: none */
  limit: string | null;
  stair: StairKind;
  /** which of the design's tracks the speed ruler stands on */
  track: number;
  /** what the arm sheet shows */
  arm: ArmView;
  /** what the motion page shows */
  motion: MotionView;
  /** what the speed map shows */
  map: MapView;
}

export const INITIAL_VIEW: ViewState = {
  page: "axle",
  show: { forces: true, armForces: false, rollCentre: true, leanByPart: false, designB: true, unloaded: false, bend: 3 },
  theme: "system",
  selection: "lowerArm",
  drawerOpen: true,
  drawerPx: 176,
  limit: null,
  stair: "part",
  track: 1,
  arm: INITIAL_ARM_VIEW,
  motion: INITIAL_MOTION_VIEW,
  map: INITIAL_MAP_VIEW,
};

/** Freezes a plain document all the way down, so that a change in place is an error at once. */
export function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const v of Object.values(value)) deepFreeze(v);
  }
  return value;
}
