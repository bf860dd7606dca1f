import { TONES } from "../view/tones.ts";

export type Tones = ReadonlyMap<string, number>;

/** Colours of the page's tokens as numbers; read again when the theme changes. */
export function readTones(root: HTMLElement): Tones {
  const style = getComputedStyle(root);
  const out = new Map<string, number>();
  const probe = document.createElement("i");
  for (const name of TONES) {
    const text = style.getPropertyValue(`--${name}`).trim();
    const hex = /^#([0-9a-f]{6})$/i.exec(text)?.[1];
    const value = hex ? Number.parseInt(hex, 16) : named(text, probe, root);
    if (value !== null) out.set(name, value);
  }
  probe.remove();
  return out;
}

/** A colour of the system by its name, as the browser paints it here. */
function named(text: string, probe: HTMLElement, root: HTMLElement): number | null {
  if (!probe.isConnected) root.append(probe);
  probe.style.color = text;
  const [, space, ...parts] = /^(rgba?\(|color\(srgb )([\d.]+),? ([\d.]+),? ([\d.]+)/.exec(getComputedStyle(probe).color) ?? [];
  if (!space) return null;
  const [red, green, blue] = parts.map((v) => Math.round(Number(v) * (space.startsWith("rgb") ? 1 : 255))) as [number, number, number];
  return (red << 16) | (green << 8) | blue;
}
