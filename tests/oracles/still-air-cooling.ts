/**
 * Heat that a small round part gives off in still air.
 *
 * Free convection on a lying cylinder: Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))², Ra = Gr·Pr
 * (Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049). Radiation between bodies of nearly one temperature: 4 ε σ T³.
 */

/** Stefan-Boltzmann constant, W/m²K⁴ */
const SIGMA = 5.670374419e-8;
const GRAVITY = 9.80665;

/** Nusselt number of a lying cylinder. */
export function cylinderNusselt(prandtl: number, grashof: number): number {
  const blend = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27);
  return (0.6 + (0.387 * (grashof * prandtl) ** (1 / 6)) / blend) ** 2;
}

/** Properties of air at the mean of surface and surroundings; valid about 0 to 120 °C (linear fits to tables, from memory). */
export function air(meanC: number): { conductivity: number; viscosity: number; diffusivity: number; prandtl: number } {
  const d = meanC - 40;
  const viscosity = 17.0e-6 + 0.1e-6 * d;
  const diffusivity = 24.2e-6 + 0.145e-6 * d;
  return { conductivity: 0.0269 + 7.5e-5 * d, viscosity, diffusivity, prandtl: viscosity / diffusivity };
}

/** Free convection of a lying cylinder in still air, W/m²K. */
export function stillAirConvection(diameterMm: number, surfaceC: number, airC: number): number {
  const rise = Math.abs(surfaceC - airC);
  const mean = (surfaceC + airC) / 2;
  const a = air(mean);
  const d = diameterMm / 1000;
  const grashof = (GRAVITY * rise * d ** 3) / ((mean + 273.15) * a.viscosity ** 2);
  return (cylinderNusselt(a.prandtl, grashof) * a.conductivity) / d;
}

/** Radiation, W/m²K. */
export const radiation = (surfaceC: number, airC: number, emissivity = 0.9): number => 4 * emissivity * SIGMA * ((surfaceC + airC) / 2 + 273.15) ** 3;

/** Both together, W/m²K: 8 to 16 for the hubs of model cars. */
export const stillAirCooling = (diameterMm: number, surfaceC: number, airC: number): number =>
  stillAirConvection(diameterMm, surfaceC, airC) + radiation(surfaceC, airC);
