const THIN = "\u2009";
const MINUS = "\u2212";

/** Fixed decimals with a true minus; a value that rounds to zero has no sign. */
export function fixed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

export const signed = (value: number, digits: number): string => {
  const text = fixed(value, digits);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
};

export const degrees = (value: number, digits = 1): string => `${fixed(value, digits)}°`;

/** Value and unit with a thin space; degrees and × close up. */
export const withUnit = (value: number, digits: number, unit: string): string =>
  unit === "°" ? degrees(value, digits) : `${fixed(value, digits)}${unit ? `${THIN}${unit}` : ""}`;

/** Three figures that matter: 0.85, 8.2, 34, 1950. */
export function figures(value: number): string {
  const a = Math.abs(value);
  return fixed(value, a >= 30 ? 0 : a >= 2 ? 1 : 2);
}

/** A distance to the body in words: "touches, 5.2 mm deep", "12.1 mm free". */
export const roomWords = (distanceMm: number): string =>
  distanceMm < 0 ? `touches, ${withUnit(-distanceMm, 1, "mm")} deep` : `${withUnit(distanceMm, 1, "mm")} free`;

export const newtons = (value: number): string => withUnit(value, Math.abs(value) >= 30 ? 0 : 1, "N");

export const holes = (mm: number, pitchMm: number): string => {
  const n = mm / pitchMm;
  const half = Math.round(n * 2) / 2;
  return Math.abs(n - half) < 0.01 ? String(half).replace("-", MINUS) : fixed(n, 2);
};
