import { s } from "../../../ui/dom.ts";
import type { Sketch } from "../../../ui/help-sketches.ts";

/** Where to put the ruler: small drawings, 96 by 66 px, seen from behind unless the words say otherwise. */
const ROAD: readonly ["hair", string] = ["hair", "M4 60H92"];
const CIRCLE = (x: number, y: number, r: number): string => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
/** a measure from one place to another, with a foot at each */
const ACROSS = (x: number, to: number, y: number): string => `M${x} ${y}H${to}M${x} ${y - 4}V${y + 4}M${to} ${y - 4}V${y + 4}`;
const UPRIGHT = (x: number, y: number, to: number): string => `M${x} ${y}V${to}M${x - 4} ${y}H${x + 4}M${x - 4} ${to}H${x + 4}`;
const WHEELS = "M10 30H24V60H10ZM72 30H86V60H72Z";
const SCALE = "M14 56H82V62H14Z";
const COIL = "M48 14L58 19L38 25L58 31L38 37L58 43L48 48";
const LINKAGE = "M16 22L58 26M16 50L58 48";
const pin = (x: number, y: number): Sketch => [
  ROAD,
  ["wash", "M66 14H82V60H66Z"],
  ["part", LINKAGE],
  ["hair", "M6 6V60"],
  ["ink", CIRCLE(x, y, 5)],
  ["load", `${ACROSS(6, x, y < 36 ? 10 : 36)}${UPRIGHT(x + 9, y, 60)}`],
];

const SKETCHES: Record<string, Sketch> = {
  weigh: [
    ["wash", "M16 36H28V56H16ZM68 36H80V56H68Z"],
    ["part", "M28 42H68"],
    ["ink", "M30 40L40 26H62L68 40"],
    ["load", SCALE],
  ],
  weighAxle: [
    ["wash", CIRCLE(22, 46, 10) + CIRCLE(72, 46, 10)],
    ["part", "M22 40H72"],
    ["load", "M10 56H34V62H10Z"],
    ["hair", "M58 56H86V62H58Z"],
  ],
  pitch: [
    ["part", "M8 36H88"],
    ["ink", CIRCLE(26, 36, 6) + CIRCLE(48, 36, 6) + CIRCLE(70, 36, 6)],
    ["load", ACROSS(26, 48, 16)],
    ["hair", "M26 20V30M48 20V30"],
  ],
  track: [ROAD, ["wash", WHEELS], ["part", "M24 44H72"], ["load", ACROSS(10, 72, 18)], ["hair", "M10 22V30M72 22V30"]],
  diameter: [ROAD, ["wash", CIRCLE(44, 36, 24)], ["ink", CIRCLE(44, 36, 4)], ["load", UPRIGHT(80, 12, 60)], ["hair", "M44 12H76"]],
  width: [ROAD, ["wash", "M34 12H60V60H34Z"], ["part", "M10 36H34"], ["load", ACROSS(34, 60, 6)]],
  wheelWeight: [
    ["wash", CIRCLE(48, 30, 20)],
    ["ink", CIRCLE(48, 30, 4)],
    ["load", SCALE],
  ],
  "pin.lowerInner": pin(16, 50),
  "pin.lowerOuter": pin(58, 48),
  "pin.upperInner": pin(16, 22),
  "pin.upperOuter": pin(58, 26),
  layout: [
    ["part", "M10 14L50 32L10 50M50 32H78"],
    ["ink", CIRCLE(10, 14, 4) + CIRCLE(10, 50, 4) + CIRCLE(80, 32, 4)],
  ],
  spread: [
    ["part", "M24 12L80 33L24 54"],
    ["ink", CIRCLE(24, 12, 4) + CIRCLE(24, 54, 4)],
    ["load", UPRIGHT(10, 12, 54)],
  ],
  thick: [
    ["wash", "M30 20H70V46H30Z"],
    ["load", `${UPRIGHT(18, 20, 46)}${ACROSS(30, 70, 58)}`],
  ],
  springTop: [
    ROAD,
    ["part", "M16 50L76 48"],
    ["ink", "M40 12L46 17L34 22L46 27L34 32L46 37L40 44"],
    ["hair", "M6 6V60"],
    ["load", `${ACROSS(6, 40, 6)}${UPRIGHT(62, 12, 60)}`],
  ],
  seat: [
    ["part", "M12 44H84"],
    ["ink", CIRCLE(12, 44, 4) + CIRCLE(84, 44, 4)],
    ["ink", "M56 8L62 13L50 18L62 23L50 28L56 34V42"],
    ["load", ACROSS(12, 56, 58)],
  ],
  sink: [
    ["ink", COIL],
    ["wash", "M30 2H66V14H30Z"],
    ["hair", "M10 60H86"],
    ["load", UPRIGHT(78, 8, 18)],
  ],
  springLength: [
    ["ink", "M16 32L22 22L32 42L42 22L52 42L62 22L72 42L80 32"],
    ["load", ACROSS(16, 80, 56)],
  ],
  pull: [
    ["wash", "M30 22H66V34H30Z"],
    ["part", "M48 4V22"],
    ["load", "M48 34V58M42 51L48 58L54 51"],
  ],
  crossPin: [
    ["part", "M14 33H70"],
    ["wash", "M60 10H76V56H60Z"],
    ["ink", CIRCLE(68, 33, 5)],
    ["load", UPRIGHT(86, 28, 38)],
  ],
  rattle: [ROAD, ["wash", "M40 16H56V60H40Z"], ["b", "M46 12L62 15L54 62L38 59Z"], ["load", "M34 12A40 40 0 0 1 66 12"]],
  teeth: [
    ["ink", `${CIRCLE(30, 34, 14)}${CIRCLE(64, 34, 20)}`],
    ["load", "M30 18V22M30 46V50M14 34H18M64 12V16M64 52V56M84 34H80"],
  ],
};

export function sketchOf(name: string): SVGSVGElement | null {
  const sketch = SKETCHES[name];
  if (!sketch) return null;
  return s(
    "svg",
    { class: "help-sketch own-sketch", viewBox: "0 0 96 66", width: 96, height: 66, "aria-hidden": "true" },
    ...sketch.map(([look, d]) => s("path", { class: `sk-${look}`, d })),
  );
}
