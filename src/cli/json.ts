import { visible } from "../scenario/words.ts";

/**
 * One JSON object with an end of line. JSON knows no infinity: an endless value (the swing arm of parallel arms) becomes null.
 * Something that is no number at all is a fault of the program and is never written.
 * Letters that a terminal would act on are written out, as JSON allows within its texts.
 */
export function jsonText(value: object): string {
  const text = JSON.stringify(value, (key, v: unknown) => {
    if (typeof v !== "number") return v;
    if (Number.isNaN(v)) throw new Error(`"${key}" is not a number`);
    return Number.isFinite(v) ? v : null;
  });
  return `${visible(text)}\n`;
}
