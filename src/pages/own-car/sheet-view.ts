import type { Scenario } from "../../core/design/types.ts";
import type { V2 } from "../../core/vec.ts";
import { type Bounds, type Camera, fitBounds, panned, zoomed } from "../../view/camera.ts";

/** Where the picture looks: all of the car until someone comes nearer. */
export interface SheetView {
  camera(): Camera;
  resize(widthPx: number, heightPx: number): void;
  pan(way: V2): void;
  zoom(factor: number, at: V2): void;
  fit(): void;
  readonly isOwn: boolean;
}

const ROOM = { left: 16, right: 16, top: 34, bottom: 26 };

/** @param bounds what is looked at when nobody chose otherwise, mm */
export function createSheetView(bounds: () => Bounds): SheetView {
  let size = { w: 600, h: 400 };
  let own: Camera | null = null;
  const fitted = (): Camera => fitBounds(bounds(), size.w, size.h, ROOM);
  return {
    camera: () => own ?? fitted(),
    resize(w, h) {
      size = { w, h };
      if (own) own = { ...own, widthPx: w, heightPx: h };
    },
    pan(way) {
      own = panned(own ?? fitted(), way[0], way[1]);
    },
    zoom(factor, at) {
      own = zoomed(own ?? fitted(), factor, at);
    },
    fit() {
      own = null;
    },
    get isOwn() {
      return own !== null;
    },
  };
}

/** The car with room around, in whole centimetres, so that the picture does not swim while a place is pulled. */
export function carBounds(s: Scenario): Bounds {
  const c = s.corner;
  const up = (v: number): number => Math.ceil(v / 20) * 20;
  const half = up(Math.max(c.wheelCentre.sMm + c.wheel.treadWidthMm / 2, c.spring.top.sMm, c.upperOuter.sMm, c.lowerOuter.sMm) + 8);
  const outlines = s.fit.outlines.flatMap((o) => o.points);
  const top = up(Math.max(c.wheelCentre.zMm + c.wheel.radiusMm, c.spring.top.zMm, c.upperInner.zMm, ...outlines.map((p) => p.zMm)) + 8);
  const out = Math.max(half, ...outlines.map((p) => up(Math.abs(p.sMm) + 4)));
  return { left: -out, right: out, bottom: 0, top };
}
