import type { Material } from "../design/types.ts";

/** Fibre rods shear far more easily than E and Poisson's ratio would say: their shear modulus is given apart. */
interface BuiltInMaterial extends Material {
  /** MPa; absent: E/2(1+ν) */
  shearMPa?: number;
}

const plastic = (
  name: string,
  youngMPa: number,
  poisson: number,
  yieldMPa: number,
  densityKgPerM3: number,
  maxTempC: number,
  source: string,
): BuiltInMaterial => ({
  name,
  youngMPa,
  poisson,
  yieldMPa,
  densityKgPerM3,
  plastic: true,
  maxTempC,
  source,
});

/** share of the moulded modulus and of the strength left in a printed part: the middle of the usual 0.5-0.8 and 0.4-0.7 */
const PRINTED_MODULUS = 0.65;
const PRINTED_STRENGTH = 0.55;
function printed(m: BuiltInMaterial): BuiltInMaterial {
  return {
    ...m,
    name: `${m.name}Printed`,
    youngMPa: m.youngMPa * PRINTED_MODULUS,
    yieldMPa: m.yieldMPa * PRINTED_STRENGTH,
    source: `${m.name} times ${PRINTED_MODULUS} (stiffness, usual range 0.5-0.8) and ${PRINTED_STRENGTH} (strength across layers, usual range 0.4-0.7): common practice, no source. ${m.source}`,
  };
}

const abs = plastic(
  "abs",
  2200,
  0.37,
  40,
  1040,
  85,
  "Crawford, Plastics Engineering, 3rd ed., Table 1.5 (2.2 GPa, 38 MPa, 1040 kg/m³); Processes 13 (2025) 2733 (2.1 GPa, 40 MPa); Poisson from memory; temperature limit: common practice",
);
const pom = plastic(
  "pom",
  2750,
  0.35,
  64,
  1410,
  80,
  "producer's sheet of a copolymer (2750 MPa, 64 MPa; creep modulus 2400 after 1 h, 1200 after 1000 h); Crawford, Plastics Engineering; Poisson from memory; temperature limit: common practice",
);
const pa12 = plastic("pa12", 1450, 0.4, 45, 1010, 80, "from memory (1.2-1.7 GPa, 40-50 MPa); temperature limit: common practice");
const pa6gf30 = plastic(
  "pa6gf30",
  6000,
  0.35,
  110,
  1360,
  80,
  "from memory for the moist state (5.5-6.5 GPa, 100-120 MPa); dry 9.3 GPa in published tables; temperature limit: common practice",
);
const pc = plastic(
  "pc",
  2400,
  0.37,
  63,
  1200,
  120,
  "producer's sheet (2400 MPa and 65 MPa at 23 °C, 2100/55 at 60 °C); published range 2.3-2.4 GPa, 60-66 MPa; temperature limit: common practice",
);
const pla = plastic(
  "pla",
  3500,
  0.35,
  53,
  1250,
  50,
  "Processes 13 (2025) 2733 (3.5 GPa, 53 MPa, 1250 kg/m³); Poisson from memory; temperature limit: common practice",
);
const petg = plastic(
  "petg",
  2000,
  0.38,
  50,
  1270,
  65,
  "Processes 13 (2025) 2733 (2.0 GPa, 50 MPa, softens at 71 °C); Poisson from memory; temperature limit: common practice",
);
const aluminium: BuiltInMaterial = {
  name: "aluminium",
  youngMPa: 68900,
  poisson: 0.33,
  yieldMPa: 276,
  densityKgPerM3: 2700,
  plastic: false,
  maxTempC: 100,
  source: "6061-T6: published tables (68.9 GPa, yield 276 MPa, 2700 kg/m³; MMPDS); temperature limit from memory",
};
const carbonRod: BuiltInMaterial = {
  name: "carbonRod",
  youngMPa: 134000,
  poisson: 0.3,
  shearMPa: 4400,
  yieldMPa: 1500,
  densityKgPerM3: 1500,
  plastic: false,
  maxTempC: 80,
  source:
    "pultruded carbon fibre and epoxy, along the rod: supplier's table (134 GPa, 1650 MPa, 1500 kg/m³; here the low end of strength); shear modulus 4-5 GPa published; breaks without warning; temperature limit from memory",
};

const TABLE: ReadonlyMap<string, BuiltInMaterial> = new Map(
  [abs, pom, pa12, pa6gf30, pc, pla, petg, aluminium, carbonRod, printed(abs), printed(pla), printed(petg), printed(pa12)].map((m) => [
    m.name,
    Object.freeze(m),
  ]),
);

/** Names that a scenario may use for a built-in material. */
export const MATERIAL_NAMES: readonly string[] = [...TABLE.keys()];

/**
 * The material itself, looked up when it is a name. Values at 23 °C.
 * @throws RangeError for an unknown name, naming the allowed ones
 */
export function resolveMaterial(material: string | Material): Material {
  if (typeof material !== "string") return material;
  const found = TABLE.get(material);
  if (!found) throw new RangeError(`no material "${material}"; built in are: ${MATERIAL_NAMES.join(", ")}`);
  return found;
}

/** Shear modulus, MPa: the material's own where given apart (fibre rods), else E/2(1+ν). */
export function shearModulusMPa(m: Material): number {
  const own = (m as BuiltInMaterial).shearMPa;
  return own ?? m.youngMPa / (2 * (1 + m.poisson));
}
