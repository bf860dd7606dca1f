import type { Mark } from "../view/marks.ts";
import type { Tones } from "./tones.ts";

export interface Paper {
  canvas: HTMLCanvasElement;
  resize(widthPx: number, heightPx: number): void;
  show(mark: Mark, tones: Tones): void;
  retone(tones: Tones): void;
}

/** A plain canvas for the thousands of dots: drawn when the sheet moves, untouched while the car does. */
export function createPaper(): Paper {
  const canvas = document.createElement("canvas");
  canvas.setAttribute("aria-hidden", "true");
  let shown: Mark | null = null;
  let tones: Tones = new Map();

  const draw = (): void => {
    const c = canvas.getContext("2d");
    if (!c) return;
    const k = window.devicePixelRatio || 1;
    c.setTransform(k, 0, 0, k, 0, 0);
    c.clearRect(0, 0, canvas.width / k, canvas.height / k);
    for (const p of shown?.prims ?? []) {
      if (p.kind !== "dots") continue;
      c.fillStyle = `#${(tones.get(p.fill) ?? 0).toString(16).padStart(6, "0")}`;
      for (const [x, y] of p.at) c.fillRect(x - p.radius, y - p.radius, 2 * p.radius, 2 * p.radius);
    }
  };
  return {
    canvas,
    resize(w, h) {
      const k = window.devicePixelRatio || 1;
      canvas.width = Math.max(1, Math.round(w * k));
      canvas.height = Math.max(1, Math.round(h * k));
      canvas.style.width = `${w}px`;
      canvas.style.height = `${h}px`;
      draw();
    },
    show(mark, t) {
      tones = t;
      if (mark === shown) return;
      shown = mark;
      draw();
    },
    retone(t) {
      tones = t;
      draw();
    },
  };
}
