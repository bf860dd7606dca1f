import type { Load, Scenario } from "../core/design/types.ts";
import type { ShowOptions } from "../view/scene.ts";
import { type Fields, fieldsOf, flagOr, numberOr, oneOf, wordOr } from "./read.ts";
import { INITIAL_ROAD, type RoadView, readRoad } from "./road.ts";

/** What is undone and redone, kept and shared: two designs under one load. Never changed in place. */
export interface Doc {
  a: Scenario;
  b: Scenario;
  load: Load;
}

export type Theme = "system" | "light" | "dark";
type StairKind = "part" | "motion";

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
  /** the curve and the road that speeds are told for */
  road: RoadView;
  /** what each page keeps for itself, as plain values; read by the page's own slice */
  pages: Fields;
}

export const INITIAL_VIEW: ViewState = {
  page: "axle",
  show: { forces: true, armForces: false, rollCentre: false, leanByPart: false, designB: true, unloaded: false, fit: false, bend: 3 },
  theme: "system",
  selection: "lowerArm",
  drawerOpen: true,
  drawerPx: 176,
  limit: null,
  stair: "part",
  road: INITIAL_ROAD,
  pages: {},
};

/** The view from plain values of unknown origin, each field by itself: what does not fit stands at its default. */
export function readView(raw: unknown): ViewState {
  const r = fieldsOf(raw);
  const show = fieldsOf(r.show);
  const first = INITIAL_VIEW;
  const flag = (key: keyof ShowOptions): boolean => flagOr(show[key], Boolean(first.show[key]));
  return {
    page: wordOr(r.page, first.page),
    show: {
      forces: flag("forces"),
      armForces: flag("armForces"),
      rollCentre: flag("rollCentre"),
      leanByPart: flag("leanByPart"),
      designB: flag("designB"),
      unloaded: flag("unloaded"),
      fit: flag("fit"),
      bend: oneOf(show.bend, [1, 3, 10] as const, first.show.bend),
    },
    theme: oneOf(r.theme, ["system", "light", "dark"] as const, first.theme),
    selection: r.selection === null ? null : wordOr(r.selection, first.selection),
    drawerOpen: flagOr(r.drawerOpen, first.drawerOpen),
    drawerPx: numberOr(r.drawerPx, first.drawerPx, 0, 4000),
    limit: wordOr(r.limit, null),
    stair: oneOf(r.stair, ["part", "motion"] as const, first.stair),
    road: readRoad(r.road),
    pages: fieldsOf(r.pages),
  };
}

/** Freezes a plain document all the way down, so that a change in place is an error at once. */
export function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const v of Object.values(value)) deepFreeze(v);
  }
  return value;
}
