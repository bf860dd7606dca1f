import type { Section } from "../design/types.ts";
import { rectangleTorsion, rectangleTorsionShear } from "./torsion.ts";

/**
 * Place on the outline (first quadrant, the others follow by symmetry) where stress is worked out:
 * sigma = |N| perN + |Mv| perMv + |Mf| perMf, tau = |T| perT; all in 1/mm² or 1/mm³.
 */
interface StressPoint {
  perN: number;
  perMv: number;
  perMf: number;
  perT: number;
}

/**
 * A cross-section: "vertical" is bending up-down (about the fore-aft axis), "foreAft" bending sideways to it.
 * mm, mm², mm^4. Shear areas are the effective ones (factor included).
 */
export interface SectionProperties {
  area: number;
  iVertical: number;
  iForeAft: number;
  /** Saint-Venant torsion constant J */
  torsion: number;
  shearAreaVertical: number;
  shearAreaForeAft: number;
  /** the weakest cross-section (through the holes); equal to the whole one where there are none */
  net: {
    area: number;
    iVertical: number;
    iForeAft: number;
    /** extra stress from the local bending of the strips beside a hole, MPa per N of shear and per N·mm of torque */
    perShearVertical: number;
    perShearForeAft: number;
    perTorque: number;
  };
  /** round sections take the resultant of both bending moments */
  round: boolean;
  /** on the net section */
  points: StressPoint[];
}

/** energy shear factor of a rectangle */
const KAPPA_RECTANGLE = 5 / 6;
/** places on half a side where the rectangle's stress is worked out, 0 middle .. 1 corner */
const SIDE_POINTS = [0, 0.25, 0.5, 0.75, 1];
/**
 * A round opening bends the strips beside it like a rectangular one of 0.45 d length and 0.9 d height
 * (common practice for round openings in beam webs, from memory).
 */
const OPENING_LENGTH = 0.45;
const OPENING_HEIGHT = 0.9;
/**
 * Under pull (and under bending that pulls a whole hole wall) the net section counts over more than the hole's length,
 * because stress needs room to flow around it: (2.06 - 1.4 d/pitch) d, fitted to plane-stress solutions with
 * d/height 0.35..0.6 (within 2 %); a lone small hole has 3π/4 = 2.36 d (Kirsch's solution).
 */
const pullLength = (hole: number, pitch: number): number => Math.max(1, 2.06 - (1.4 * hole) / pitch) * hole;

/**
 * Properties of a cross-section.
 * Round and tube: shear factor of Cowper (J. Appl. Mech. 33, 1966, from memory) with the material's Poisson ratio;
 * rectangle 5/6; I: energy factor I²/∫(S²/b) up-down, 5/6 of the flanges fore-aft, torsion as an open
 * thin-walled sum (warping left out: on the safe side for stiffness).
 * Pin-hole bar: flexibility averaged over the hole pitch, the net section taken over one hole diameter
 * (bending around the hole) or a bit more (pull), plus the local bending of the strips beside the hole; strength from the net section.
 * @throws RangeError when the holes or the bore leave nothing of the section
 */
export function sectionProperties(section: Section, poisson = 0.35): SectionProperties {
  switch (section.shape) {
    case "rectangle":
      return rectangle(section.widthMm, section.heightMm);
    case "round":
      return tube(section.diameterMm, 0, poisson);
    case "tube":
      return tube(section.outerMm, section.innerMm, poisson);
    case "I":
      return iBeam(section.widthMm, section.heightMm, section.flangeMm, section.webMm);
    case "pinHoleBar":
      return pinHoleBar(section, 2 * (1 + poisson));
  }
}

type Whole = Omit<SectionProperties, "net">;
function withoutHoles(p: Whole): SectionProperties {
  const { area, iVertical, iForeAft } = p;
  return { ...p, net: { area, iVertical, iForeAft, perShearVertical: 0, perShearForeAft: 0, perTorque: 0 } };
}

function rectangle(w: number, h: number): SectionProperties {
  const area = w * h;
  const iVertical = (w * h ** 3) / 12;
  const iForeAft = (h * w ** 3) / 12;
  const torsion = rectangleTorsion(w, h);
  const points: StressPoint[] = [];
  for (const xi of SIDE_POINTS) {
    const upright = h >= w ? "long" : "short";
    const level = h >= w ? "short" : "long";
    points.push({ perN: 1 / area, perMv: (xi * h) / (2 * iVertical), perMf: w / (2 * iForeAft), perT: rectangleTorsionShear(w, h, torsion, upright, xi) });
    if (xi < 1)
      points.push({ perN: 1 / area, perMv: h / (2 * iVertical), perMf: (xi * w) / (2 * iForeAft), perT: rectangleTorsionShear(w, h, torsion, level, xi) });
  }
  const shear = KAPPA_RECTANGLE * area;
  return withoutHoles({
    area,
    iVertical,
    iForeAft,
    torsion,
    shearAreaVertical: shear,
    shearAreaForeAft: shear,
    round: false,
    points,
  });
}

function tube(outer: number, inner: number, nu: number): SectionProperties {
  if (!(inner < outer)) throw new RangeError(`tube: inner diameter ${inner} mm must be smaller than the outer, ${outer} mm`);
  const area = (Math.PI * (outer ** 2 - inner ** 2)) / 4;
  const i = (Math.PI * (outer ** 4 - inner ** 4)) / 64;
  const m2 = (inner / outer) ** 2;
  const kappa = (6 * (1 + nu) * (1 + m2) ** 2) / ((7 + 6 * nu) * (1 + m2) ** 2 + (20 + 12 * nu) * m2);
  const r = outer / 2;
  return withoutHoles({
    area,
    iVertical: i,
    iForeAft: i,
    torsion: 2 * i,
    shearAreaVertical: kappa * area,
    shearAreaForeAft: kappa * area,
    round: true,
    points: [{ perN: 1 / area, perMv: r / i, perMf: r / i, perT: r / (2 * i) }],
  });
}

/** ∫ S(z)²/b dz over the height of an I, S = first moment of what lies beyond z; the exact shear energy of its rectangles. */
function iShearIntegral(w: number, h: number, tf: number, tw: number): number {
  const c = h / 2;
  const c1 = c - tf;
  // flange: S = w (c² - z²)/2, width w
  const f = (z: number) => c ** 4 * z - (2 * c * c * z ** 3) / 3 + z ** 5 / 5;
  const flange = (w / 4) * (f(c) - f(c1));
  // web: S = s1 + tw (c1² - z²)/2, width tw
  const s1 = (w * (c * c - c1 * c1)) / 2;
  const web = (s1 * s1 * c1 + s1 * tw * ((2 * c1 ** 3) / 3) + (tw * tw * 8 * c1 ** 5) / 60) / tw;
  return 2 * (flange + web);
}

function iBeam(w: number, h: number, tf: number, tw: number): SectionProperties {
  if (!(2 * tf < h && tw < w)) throw new RangeError(`I section: flanges of ${tf} mm and a web of ${tw} mm do not fit into ${w} x ${h} mm`);
  const web = h - 2 * tf;
  const area = 2 * w * tf + web * tw;
  const iVertical = (w * h ** 3 - (w - tw) * web ** 3) / 12;
  const iForeAft = (2 * tf * w ** 3 + web * tw ** 3) / 12;
  const torsion = (2 * w * tf ** 3 + web * tw ** 3) / 3;
  const corner = { perN: 1 / area, perMv: h / (2 * iVertical), perMf: w / (2 * iForeAft), perT: tf / torsion };
  const webEnd = { perN: 1 / area, perMv: web / (2 * iVertical), perMf: tw / (2 * iForeAft), perT: tw / torsion };
  return withoutHoles({
    area,
    iVertical,
    iForeAft,
    torsion,
    shearAreaVertical: iVertical ** 2 / iShearIntegral(w, h, tf, tw),
    shearAreaForeAft: KAPPA_RECTANGLE * 2 * w * tf,
    round: false,
    points: [corner, webEnd],
  });
}

function pinHoleBar(s: Extract<Section, { shape: "pinHoleBar" }>, eOverG: number): SectionProperties {
  const { widthMm: w, heightMm: h, holeMm: d, holePitchMm: p } = s;
  // `across`: the side the hole is cut out of; `along`: the side the hole's axis follows
  const foreAft = s.holesRun === "foreAft";
  const across = foreAft ? h : w;
  const along = foreAft ? w : h;
  if (!(d < across)) throw new RangeError(`pin-hole bar: a hole of ${d} mm leaves nothing of ${across} mm`);
  const gross = rectangle(w, h);
  if (d === 0) return gross;
  const share = Math.min(1, d / p);
  const strip = (across - d) / 2;
  const netArea = along * (across - d);
  const iAcross = (along * (across ** 3 - d ** 3)) / 12;
  const iAlong = ((across - d) * along ** 3) / 12;
  const netVertical = foreAft ? iAcross : iAlong;
  const netForeAft = foreAft ? iAlong : iAcross;
  const mean = (whole: number, holed: number, part = share) => 1 / ((1 - part) / whole + part / holed);
  const pulled = Math.min(1, pullLength(d, p) / p);

  const opening = Math.min(OPENING_LENGTH * d, p);
  const thin = (across - OPENING_HEIGHT * d) / 2;
  const stripIThin = (along * thin ** 3) / 12;
  const shearNet = KAPPA_RECTANGLE * netArea;
  // two strips share the shear and bend as beams held at both ends: V (opening³/24 E I) per hole, spread over the pitch
  const stripBending = opening ** 3 / (24 * eOverG * stripIThin) / p;
  const shearThrough = 1 / (1 / mean(gross.shearAreaVertical, shearNet) + stripBending);
  const shearPlain = mean(gross.shearAreaForeAft, shearNet);

  // torsion at the hole: each strip twists, and the two shear against each other at their distance
  const apart = (across + d) / 2;
  const stripArea = along * strip;
  const stripIAlong = (strip * along ** 3) / 12;
  const frame = (d * apart ** 2) / (2 * (opening ** 3 / (12 * eOverG * stripIAlong) + d / (KAPPA_RECTANGLE * stripArea)));
  const torsionHole = Math.min(gross.torsion, 2 * rectangleTorsion(along, strip) + frame);

  const perTorqueShear = 1.5 / (apart * stripArea);
  const secondary = opening / (4 * ((along * thin ** 2) / 6));
  const zNet = { perN: 1 / netArea, perT: perTorqueShear };
  return {
    area: mean(gross.area, netArea, pulled),
    iVertical: mean(gross.iVertical, netVertical, foreAft ? share : pulled),
    iForeAft: mean(gross.iForeAft, netForeAft, foreAft ? pulled : share),
    torsion: mean(gross.torsion, torsionHole),
    shearAreaVertical: foreAft ? shearThrough : shearPlain,
    shearAreaForeAft: foreAft ? shearPlain : shearThrough,
    net: {
      area: netArea,
      iVertical: netVertical,
      iForeAft: netForeAft,
      perShearVertical: foreAft ? secondary : 0,
      perShearForeAft: foreAft ? 0 : secondary,
      perTorque: opening / (2 * apart * ((strip * along ** 2) / 6)),
    },
    round: false,
    // the corner has the full bending stress; the shear of torsion is added there too, on the safe side
    points: [{ ...zNet, perMv: h / (2 * netVertical), perMf: w / (2 * netForeAft) }],
  };
}
