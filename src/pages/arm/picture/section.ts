import type { Section } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";

/** The section with another height; a round one becomes thicker all round. */
export function withHeight(s: Section, mm: number): Section {
  if (s.shape === "round") return { ...s, diameterMm: mm };
  if (s.shape === "tube") return { ...s, outerMm: mm };
  return { ...s, heightMm: mm };
}

export function withWidth(s: Section, mm: number): Section {
  return s.shape === "round" || s.shape === "tube" ? withHeight(s, mm) : { ...s, widthMm: mm };
}

export const sizeWords = (s: Section): string => {
  const t = (mm: number): string => mm.toFixed(1);
  if (s.shape === "round") return `⌀ ${t(s.diameterMm)} mm`;
  if (s.shape === "tube") return `⌀ ${t(s.outerMm)}, inside ${t(s.innerMm)} mm`;
  return `${t(s.widthMm)} × ${t(s.heightMm)} mm`;
};

export type SectionPiece = { kind: "poly"; points: V2[] } | { kind: "ring"; radiusMm: number; innerMm: number };

const box = (w: number, h: number, y = 0): SectionPiece => ({
  kind: "poly",
  points: [
    [-w / 2, y - h / 2],
    [w / 2, y - h / 2],
    [w / 2, y + h / 2],
    [-w / 2, y + h / 2],
  ],
});

/** The cut through a leg, middle at the origin, width across and height up, mm; a holed bar is cut at a hole. */
export function sectionPieces(s: Section): SectionPiece[] {
  switch (s.shape) {
    case "rectangle":
      return [box(s.widthMm, s.heightMm)];
    case "round":
      return [{ kind: "ring", radiusMm: s.diameterMm / 2, innerMm: 0 }];
    case "tube":
      return [{ kind: "ring", radiusMm: s.outerMm / 2, innerMm: s.innerMm / 2 }];
    case "I": {
      const w = s.widthMm / 2;
      const h = s.heightMm / 2;
      const f = h - s.flangeMm;
      const b = s.webMm / 2;
      return [
        {
          kind: "poly",
          points: [
            [-w, -h],
            [w, -h],
            [w, -f],
            [b, -f],
            [b, f],
            [w, f],
            [w, h],
            [-w, h],
            [-w, f],
            [-b, f],
            [-b, -f],
            [-w, -f],
          ],
        },
      ];
    }
    case "pinHoleBar": {
      if (s.holesRun === "foreAft") {
        const strip = (s.heightMm - s.holeMm) / 2;
        const y = (s.heightMm - strip) / 2;
        return [box(s.widthMm, strip, y), box(s.widthMm, strip, -y)];
      }
      const strip = (s.widthMm - s.holeMm) / 2;
      const x = (s.widthMm - strip) / 2;
      return [x, -x].map((at) => ({
        kind: "poly",
        points: [
          [at - strip / 2, -s.heightMm / 2],
          [at + strip / 2, -s.heightMm / 2],
          [at + strip / 2, s.heightMm / 2],
          [at - strip / 2, s.heightMm / 2],
        ],
      }));
    }
  }
}
