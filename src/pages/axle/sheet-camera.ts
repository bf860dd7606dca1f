import type { Scenario } from "../../core/design/types.ts";
import type { V2 } from "../../core/vec.ts";
import { type Camera, fitBounds, type Insets, panned, projector, zoomed } from "../../view/camera.ts";
import type { Box } from "../../view/labels.ts";
import { sceneBounds } from "../../view/parts/paper.ts";

/** The camera of the drawing: fits the car until someone pans or zooms; "fit" goes back. */
export interface Sheet {
  camera(scenario: Scenario): Camera;
  resize(widthPx: number, heightPx: number, spare: boolean): void;
  /** a panel that lies over the drawing; the car moves out of its way */
  panel(box: Box | null): void;
  pan(dx: number, dy: number): void;
  zoom(factor: number, at: V2): void;
  fit(): void;
  /** while something is dragged the sheet holds still */
  hold(on: boolean): void;
}

/** room for the plumb lines, for the forces below the road, and for a tag beside the outer wheel */
const WIDE: Insets = { left: 94, right: 94, top: 44, bottom: 136 };
const MIDDLE: Insets = { left: 30, right: 30, top: 44, bottom: 136 };
const SPARE: Insets = { left: 8, right: 8, top: 44, bottom: 62 };
const WIDE_FROM_PX = 900;
const CLEAR_PX = 14;
/** beside the body: what the side force under the outer tyre and its number need */
const FORCE_PX = 68;

export function createSheet(): Sheet {
  let width = 1000;
  let height = 600;
  let spare = false;
  let panel: Box | null = null;
  let own: Camera | null = null;
  let held: Camera | null = null;
  let last: { key: string; camera: Camera } | null = null;

  const fitted = (scenario: Scenario): Camera => {
    const b = sceneBounds(scenario);
    const insets = spare ? SPARE : width >= WIDE_FROM_PX ? WIDE : MIDDLE;
    const first = grounded(fitBounds(b, width, height, insets), insets);
    if (!panel || spare) return first;
    // the left wheel and its plumb line must not come under the panel
    const c = scenario.corner;
    const edge = -(c.wheelCentre.sMm + c.wheel.treadWidthMm / 2 + 10);
    const place = (camera: Camera): { x: number; top: number } => {
      const px = projector(camera);
      return { x: px([edge, 0])[0], top: px([0, c.wheelCentre.zMm + c.wheel.radiusMm])[1] - 54 };
    };
    const wanted = panel.x + panel.w + CLEAR_PX;
    const at = place(first);
    if (at.x >= wanted || at.top > panel.y + panel.h) return first;
    const slack = width - FORCE_PX - projector(first)([b.right, 0])[0];
    const need = wanted - at.x;
    if (need <= slack) return panned(first, need, 0);
    const shellOut = (edge - b.left) * first.scale;
    return grounded(fitBounds(b, width, height, { ...insets, left: Math.max(insets.left, wanted - shellOut), right: FORCE_PX }), insets);
  };

  /** The road lies where the room for the forces begins, whatever limits the scale. */
  const grounded = (camera: Camera, insets: Insets): Camera => panned(camera, 0, height - insets.bottom - projector(camera)([0, 0])[1]);

  const camera = (scenario: Scenario): Camera => {
    if (held) return held;
    if (own) return own;
    const b = sceneBounds(scenario);
    const key = [width, height, spare, panel?.x, panel?.w, panel?.h, b.left, b.right, b.top, scenario.corner.wheelCentre.sMm].join();
    if (last?.key !== key) last = { key, camera: fitted(scenario) };
    return last.camera;
  };

  return {
    camera,
    resize(w, h, narrow) {
      width = w;
      height = h;
      spare = narrow;
      if (own) own = { ...own, widthPx: w, heightPx: h };
    },
    panel(box) {
      panel = box;
    },
    pan(dx, dy) {
      const base = own ?? last?.camera;
      if (base) own = panned(base, dx, dy);
    },
    zoom(factor, at) {
      const base = own ?? last?.camera;
      if (base) own = zoomed(base, factor, at);
    },
    fit() {
      own = null;
    },
    hold(on) {
      held = on ? (own ?? last?.camera ?? null) : null;
    },
  };
}
