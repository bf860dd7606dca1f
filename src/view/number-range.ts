import { fixed } from "./format.ts";

/** "15 to 150 mm" with as many figures as are there. */
export const rangeWords = (min: number, max: number, unit: string): string => `${short(min)} to ${short(max)}${unit ? `\u2009${unit}` : ""}`;

const short = (v: number): string => fixed(v, 4).replace(/\.?0+$/, "");
