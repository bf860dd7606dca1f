import type { Section } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";

/** Height (up-down) and width (fore-aft) of a section, mm. Round ones have one measure for both. */
export function sectionSize(s: Section): { heightMm: number; widthMm: number; round: boolean } {
  switch (s.shape) {
    case "round":
      return { heightMm: s.diameterMm, widthMm: s.diameterMm, round: true };
    case "tube":
      return { heightMm: s.outerMm, widthMm: s.outerMm, round: true };
    default:
      return { heightMm: s.heightMm, widthMm: s.widthMm, round: false };
  }
}

/** The section with another height; a round one becomes thicker all round. */
export function withHeight(s: Section, mm: number): Section {
  if (s.shape === "round") return { ...s, diameterMm: mm };
  if (s.shape === "tube") return { ...s, outerMm: mm };
  return { ...s, heightMm: mm };
}

export function withWidth(s: Section, mm: number): Section {
  return s.shape === "round" || s.shape === "tube" ? withHeight(s, mm) : { ...s, widthMm: mm };
}

export const SHAPE_WORDS: Record<Section["shape"], string> = {
  rectangle: "flat bar",
  round: "round bar",
  tube: "tube",
  I: "I bar",
  pinHoleBar: "bar with pin holes",
};

/** share of the outside that a new tube, flange, web or hole takes */
const NEW = { inner: 0.6, flange: 0.22, web: 0.28, hole: 0.6 };

const tenth = (mm: number): number => Math.round(mm * 10) / 10;

/** The same outside in another shape, with plain proportions for what the old shape did not have. */
export function reshaped(s: Section, shape: Section["shape"], holePitchMm: number): Section {
  if (s.shape === shape) return s;
  const { heightMm, widthMm } = sectionSize(s);
  const least = Math.min(heightMm, widthMm);
  switch (shape) {
    case "rectangle":
      return { shape, widthMm, heightMm };
    case "round":
      return { shape, diameterMm: heightMm };
    case "tube":
      return { shape, outerMm: heightMm, innerMm: tenth(heightMm * NEW.inner) };
    case "I":
      return { shape, widthMm, heightMm, flangeMm: Math.max(0.3, tenth(heightMm * NEW.flange)), webMm: Math.max(0.3, tenth(widthMm * NEW.web)) };
    case "pinHoleBar":
      return { shape, widthMm, heightMm, holeMm: Math.max(0.3, tenth(least * NEW.hole)), holePitchMm, holesRun: "foreAft" };
  }
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
