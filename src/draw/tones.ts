import { TONES } from "../view/tones.ts";

export type Tones = ReadonlyMap<string, number>;

/** Colours of the page's tokens as numbers; read again when the theme changes. */
export function readTones(root: HTMLElement): Tones {
  const style = getComputedStyle(root);
  const out = new Map<string, number>();
  for (const name of TONES) {
    const text = style.getPropertyValue(`--${name}`).trim();
    const hex = /^#([0-9a-f]{6})$/i.exec(text)?.[1];
    if (hex) out.set(name, Number.parseInt(hex, 16));
  }
  return out;
}
