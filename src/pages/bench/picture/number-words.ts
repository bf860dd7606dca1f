import { fixed } from "../../../view/format.ts";

/** Decimals by which a doubt shows two figures that matter; an exact value shows six. */
export function decimalsOf(value: number, sd: number): number {
  const size = Number.isFinite(sd) && sd > 0 ? sd : Math.abs(value) * 1e-5;
  if (!(size > 0)) return 2;
  return Math.min(8, Math.max(0, 1 - Math.floor(Math.log10(size) + 1e-9)));
}

/** Large numbers round to the same two figures of their doubt: 2050 ± 120, not 2053 ± 118. */
function rounded(value: number, sd: number): number {
  if (!(sd >= 100)) return value;
  const unit = 10 ** (Math.floor(Math.log10(sd) + 1e-9) - 1);
  return Math.round(value / unit) * unit;
}

export const valueText = (value: number, sd: number): string => (Number.isFinite(value) ? fixed(rounded(value, sd), decimalsOf(value, sd)) : "–");
export const sdText = (value: number, sd: number): string => (Number.isFinite(sd) ? fixed(rounded(sd, sd), decimalsOf(value, sd)) : "–");
export const spanText = ([low, high]: readonly [number, number], sd: number): string =>
  Number.isFinite(low) && Number.isFinite(high) ? `${valueText(low, sd)} to ${valueText(high, sd)}` : "not known yet";
/** A value that is not in doubt here, no finer than the doubt it stands beside. */
export const plainText = (value: number, sd: number): string =>
  fixed(rounded(value, sd), decimalsOf(value, sd))
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");
