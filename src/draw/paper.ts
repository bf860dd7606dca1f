import type { Mark } from "../view/marks.ts";
import type { Tones } from "./tones.ts";

export interface Paper {
  canvas: HTMLCanvasElement;
  resize(widthPx: number, heightPx: number): void;
  /** null: nothing is on it */
  show(mark: Mark | null, tones: Tones): void;
  retone(tones: Tones): void;
}

const css = (tone: string, tones: Tones): string => `#${(tones.get(tone) ?? 0).toString(16).padStart(6, "0")}`;

/**
 * A plain canvas under the drawing for one mark of dots and lines that mostly stays while the car is dragged: the holes of the sheet,
 * the other design. Drawn only when the mark changes.
 */
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
      if (p.kind === "dots") {
        c.fillStyle = css(p.fill, tones);
        for (const [x, y] of p.at) c.fillRect(x - p.radius, y - p.radius, 2 * p.radius, 2 * p.radius);
      } else if (p.kind === "segments") {
        c.strokeStyle = css(p.stroke.tone, tones);
        c.lineWidth = p.stroke.width;
        c.beginPath();
        for (let i = 0; i + 1 < p.pairs.length; i += 2) {
          const [a, b] = [p.pairs[i]!, p.pairs[i + 1]!];
          c.moveTo(a[0], a[1]);
          c.lineTo(b[0], b[1]);
        }
        c.stroke();
      }
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
