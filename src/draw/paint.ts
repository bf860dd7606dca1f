import type { Graphics } from "pixi.js";
import type { Prim, Stroke } from "../view/marks.ts";
import type { Tones } from "./tones.ts";

const strokeOf = (s: Stroke, tones: Tones): { color: number; width: number; alpha: number; cap: "round" | "butt"; join: "round" | "miter" } => ({
  color: tones.get(s.tone) ?? 0,
  width: s.width,
  alpha: s.alpha ?? 1,
  cap: s.round ? "round" : "butt",
  join: s.round ? "round" : "miter",
});

/** Draws the pieces of one mark into its (cleared) graphics object. */
export function paint(g: Graphics, prims: readonly Prim[], tones: Tones): void {
  g.clear();
  for (const p of prims) {
    switch (p.kind) {
      case "poly": {
        if (p.points.length < 2) break;
        g.poly(p.points.flat(), p.closed);
        if (p.fill) g.fill({ color: tones.get(p.fill) ?? 0, alpha: p.fillAlpha ?? 1 });
        if (p.stroke) g.stroke(strokeOf(p.stroke, tones));
        break;
      }
      case "circle":
        g.circle(p.at[0], p.at[1], p.radius);
        if (p.fill) g.fill({ color: tones.get(p.fill) ?? 0, alpha: p.fillAlpha ?? 1 });
        if (p.stroke) g.stroke(strokeOf(p.stroke, tones));
        break;
      case "segments":
        if (p.pairs.length < 2) break;
        for (let i = 0; i + 1 < p.pairs.length; i += 2) {
          const a = p.pairs[i] as readonly [number, number];
          const b = p.pairs[i + 1] as readonly [number, number];
          g.moveTo(a[0], a[1]).lineTo(b[0], b[1]);
        }
        g.stroke(strokeOf(p.stroke, tones));
        break;
      case "holes":
        if (p.at.length === 0) break;
        for (const [x, y] of p.at) g.circle(x, y, p.radius);
        g.fill({ color: tones.get(p.fill) ?? 0, alpha: p.fillAlpha });
        g.stroke(strokeOf(p.stroke, tones));
        break;
      case "dots":
        if (p.at.length === 0) break;
        for (const [x, y] of p.at) g.rect(x - p.radius, y - p.radius, 2 * p.radius, 2 * p.radius);
        g.fill({ color: tones.get(p.fill) ?? 0 });
        break;
    }
  }
}
