import type { Material } from "../design/types.ts";

/**
 * What heat leaves of a plastic, and how much rubbing it stands. Short plain rules, since data sheets differ more than they do:
 * stiffness and strength fall in a line from all at 23 °C to an end share at the highest use temperature, and nothing is credited
 * 10 K above that (common practice). End share 0.75 for glassy plastics (polycarbonate sheet: 2400/2100/1800 MPa and
 * 65/55/50 MPa at 23/60/90 °C), 0.5 for the semi-crystalline ones, which soften earlier (glass-filled polyester sheet:
 * 7700/4800/3200 MPa at the same temperatures; acetal and polyamide 0.5 at 80 °C: common practice).
 */
export const ROOM_C = 23;
const GLASSY_SHARE = 0.75;
const CRYSTALLINE_SHARE = 0.5;
/** above the highest use temperature nothing is left after this many kelvin */
const SOFTENS_WITHIN_K = 10;

/** Built-in plastics that are glassy up to their use temperature; any other plastic is taken for the worse kind. */
const GLASSY = /^(abs|pc|pla|petg)(Printed)?$/;
/** Built-in plastics that run well on metal. */
const SLIPPERY = /^(pom|pa12|pa6gf30)(Printed)?$/;

/** Share of stiffness and strength left at a temperature, 0..1; metals and fibre rods keep theirs up to their use temperature. */
export function strengthLeft(m: Material, tempC: number): number {
  if (!(tempC > ROOM_C)) return 1;
  const end = !m.plastic ? 1 : GLASSY.test(m.name) ? GLASSY_SHARE : CRYSTALLINE_SHARE;
  if (tempC <= m.maxTempC) return m.maxTempC > ROOM_C ? 1 - ((1 - end) * (tempC - ROOM_C)) / (m.maxTempC - ROOM_C) : 1;
  return Math.max(0, end * (1 - (tempC - m.maxTempC) / SOFTENS_WITHIN_K));
}

/**
 * Pressure times rubbing speed that a dry bearing of the material stands for long, MPa·m/s; null where no value is known.
 * Published tables for plastic on steel: nylon 0.105 (Mott, Machine Elements, Table 16-1), filled thermoplastics 0.035 to 0.11 (Neale,
 * Tribology Handbook). Acetal and polyamide 0.10, other plastics 0.05 (common practice).
 */
export function pvLimit(m: Material): number | null {
  if (!m.plastic) return null;
  return SLIPPERY.test(m.name) ? 0.1 : 0.05;
}

/** Heat that a kilogram stores per kelvin, J/kgK: plastics 1400, else as aluminium 900 (from memory). */
export const specificHeat = (m: Material): number => (m.plastic ? 1400 : 900);
