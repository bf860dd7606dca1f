/** How a stroke of a small drawing looks; the colours are those of the page's tokens. */
type Look = "part" | "ink" | "hair" | "load" | "react" | "inside" | "b" | "build" | "wash" | "gives";
export type Sketch = readonly (readonly [Look, string])[];

/** Small drawings, 96 by 66 px, seen from behind unless the words say otherwise. Wheels stand on a road at y = 60. */
const ROAD: readonly ["hair", string] = ["hair", "M4 60H92"];
const CIRCLE = (x: number, y: number, r: number): string => `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
const LEANING = "M42 60L52 14L66 17L56 63Z";
const UPRIGHT = "M58 18H74V60H58Z";
const ARMS = "M12 26L52 30M12 48L52 46";
const COIL = "M48 10L56 15L40 21L56 27L40 33L56 39L48 44";

export const SKETCHES: Record<string, Sketch> = {
  camber: [ROAD, ["wash", LEANING], ["ink", "M48 61L60 10"], ["hair", "M48 61V6"], ["load", "M48 16A45 45 0 0 1 58 18"]],
  camberBudget: [
    ["part", "M10 12H34V20H10ZM34 24H54V32H34ZM54 36H72V44H54Z"],
    ["hair", "M34 20V24M54 32V36M72 44V52"],
    ["ink", "M6 54H90"],
  ],
  utilization: [
    ["wash", "M8 14H62V24H8Z"],
    ["gives", "M8 38H84L80 42L84 48H8Z"],
    ["ink", "M66 8V56"],
  ],
  cornering: [
    ["ink", CIRCLE(26, 34, 7)],
    ["load", "M34 34H74M64 27L74 34L64 41"],
    ["hair", "M10 60A70 70 0 0 1 86 8"],
  ],
  bump: [
    ["hair", "M4 60H34L40 50H72L78 60H92"],
    ["wash", "M46 8H66V50H46Z"],
    ["react", "M28 58V44M24 49L28 44L32 49"],
  ],
  // from the side: wheel, shaft from the body and its push at the centre; motor in the hub and its push at the road
  carriedBy: [
    ["hair", "M4 60H92"],
    ["wash", CIRCLE(24, 42, 18)],
    ["wash", CIRCLE(72, 42, 18)],
    ["part", "M20 4H28V38H20Z"],
    ["part", CIRCLE(72, 42, 8)],
    ["load", "M24 42H44M38 37L44 42L38 47"],
    ["load", "M72 60H92M86 55L92 60L86 65"],
  ],
  wheelShift: [
    ["hair", "M4 60H92"],
    ["wash", CIRCLE(40, 40, 20)],
    ["b", CIRCLE(52, 40, 20)],
    ["load", "M40 40H60M54 35L60 40L54 45"],
  ],
  axisTilt: [
    ["hair", "M4 60H92M48 8V60"],
    ["wash", CIRCLE(48, 38, 22)],
    ["ink", "M40 12L56 58"],
    ["part", CIRCLE(42, 18, 4) + CIRCLE(54, 52, 4)],
  ],
  rollCentre: [ROAD, ["build", "M10 60L86 26M86 60L10 26"], ["ink", CIRCLE(48, 43, 5)], ["ink", "M40 43H56M48 35V51"]],
  instantCentre: [
    ["part", "M66 16L86 14M66 48L86 52"],
    ["build", "M66 16L14 24M66 48L14 24"],
    ["ink", CIRCLE(14, 24, 5)],
    ["wash", "M84 8H94V60H84Z"],
  ],
  motionRatio: [
    ["part", "M10 50L86 44"],
    ["ink", "M44 12L50 17L38 23L50 29L38 35L50 41L44 47"],
    ["react", "M86 62V48M82 53L86 48L90 53"],
    ["load", "M60 12V24M57 20L60 24L63 20"],
  ],
  camberGain: [ROAD, ["wash", "M56 18H70V60H56Z"], ["b", "M60 10L74 8L82 48L68 52Z"], ["react", "M34 52V22M29 29L34 22L39 29"]],
  scrubRadius: [ROAD, ["wash", "M56 16H76V60H56Z"], ["ink", "M34 8L48 60"], ["hair", "M66 16V60"], ["load", "M48 64H66M48 61V67M66 61V67"]],
  kingpin: [
    ["ink", "M34 8L52 58"],
    ["hair", "M52 58V8"],
    ["part", CIRCLE(38, 20, 4) + CIRCLE(48, 46, 4)],
    ["load", "M52 22A36 36 0 0 0 40 24"],
  ],
  wheelLoad: [ROAD, ["wash", UPRIGHT], ["react", "M66 66V64M66 50V30M60 37L66 30L72 37"], ["hair", "M58 60V52M62 60V50M66 60V48M70 60V50M74 60V52"]],
  retention: [
    ["wash", "M58 6H76V60H58Z"],
    ["part", "M14 26H52V40H14Z"],
    ["ink", "M46 26V20H52V26M46 40V46H52V40"],
    ["load", "M82 54H94M88 50L94 54L88 58"],
    ["gives", CIRCLE(50, 21, 7)],
  ],
  prying: [
    ["wash", "M56 6H74V60H56Z"],
    ["part", "M12 24H52V38H12Z"],
    ["load", "M92 58H76M82 53L76 58L82 63"],
    ["gives", "M52 20A30 30 0 0 1 66 12"],
    ["react", "M52 42V52M48 48L52 52L56 48"],
  ],
  crossPin: [
    ["wash", "M52 8H76V58H52Z"],
    ["part", "M12 26H76V40H12Z"],
    ["ink", "M64 4V62"],
    ["gives", CIRCLE(64, 26, 4) + CIRCLE(64, 40, 4)],
  ],
  buckling: [
    ["hair", "M48 6V60"],
    ["part", "M48 8Q64 33 48 58"],
    ["load", "M48 0V8M44 3L48 8L52 3M48 66V58M44 63L48 58L52 63"],
  ],
  yield: [
    ["hair", "M12 58H90M12 58V8"],
    ["ink", "M12 58L40 20Q48 14 58 14H84"],
    ["gives", CIRCLE(44, 17, 4)],
  ],
  set: [
    ["hair", "M10 24H86"],
    ["part", "M10 24Q48 50 86 24"],
    ["load", "M48 4V20M43 14L48 20L53 14"],
    ["b", "M10 24Q48 38 86 24"],
  ],
  rose: [
    ["hair", CIRCLE(48, 33, 28) + CIRCLE(48, 33, 16) + CIRCLE(48, 33, 5) + "M14 33H82M48 2V64"],
    ["ink", "M20 33Q34 25 48 23Q62 25 76 33Q62 41 48 43Q34 41 20 33Z"],
  ],
  stiffness: [
    ["part", "M10 22H78"],
    ["b", "M10 22Q50 22 78 42"],
    ["load", "M78 8V36M73 30L78 36L83 30"],
    ["hair", "M90 22V42M86 22H94M86 42H94"],
    ["ink", "M10 12V32"],
  ],
  play: [
    ["ink", CIRCLE(48, 33, 24)],
    ["part", CIRCLE(55, 33, 15)],
    ["load", "M70 33H86M80 28L86 33L80 38"],
  ],
  preload: [
    ["ink", COIL],
    ["part", "M34 44H62V50H34Z"],
    ["load", "M74 44V50M70 44H78M70 50H78"],
    ["hair", "M34 10H62M34 56H62"],
  ],
  stop: [
    ["ink", COIL],
    ["part", "M66 20H76V40H66Z"],
    ["hair", "M34 10H80M34 44H62"],
    ["load", "M26 50V30M21 36L26 30L31 36"],
    ["gives", "M66 40H76"],
  ],
  droopStop: [
    ["ink", COIL],
    ["hair", "M34 10H80M34 44H62"],
    ["part", "M70 10V52H60"],
    ["load", "M26 28V50M21 44L26 50L31 44"],
  ],
  antiRollBar: [ROAD, ["part", "M14 44V20H82V44"], ["react", "M14 58V48M10 52L14 48L18 52"], ["load", "M82 48V58M78 54L82 58L86 54"]],
  stiffer: [
    ["part", "M10 14H86"],
    ["b", "M10 14Q50 54 86 14"],
    ["ink", "M10 14Q50 46 86 14"],
    ["load", "M48 40V32M44 36L48 32L52 36"],
  ],
  safe: [
    ["hair", "M8 44H88"],
    ["gives", "M58 44H88"],
    ["ink", "M48 44C42 36 40 32 40 27A8 8 0 0 1 56 27C56 32 54 36 48 44Z"],
    ["ink", "M58 20V44"],
  ],
  unseating: [ROAD, ["wash", "M40 10H60V50H40Z"], ["b", "M48 50H78V60H48Z"], ["react", "M20 55H42M36 50L42 55L36 60"]],
  grip: [ROAD, ["wash", "M38 12H60V60H38Z"], ["react", "M86 56H64M70 51L64 56L70 61"], ["load", "M8 30H34M28 25L34 30L28 35"]],
  tipping: [ROAD, ["wash", "M70 24H84V60H70Z"], ["b", "M14 12H28V48H14Z"], ["ink", "M24 28L76 38"], ["load", "M48 14H68M62 9L68 14L62 19"]],
  heat: [
    ["ink", CIRCLE(48, 33, 22)],
    ["part", CIRCLE(48, 33, 8)],
    ["load", "M48 12Q52 16 48 20Q44 24 48 28M30 24Q35 25 37 29M66 24Q61 25 59 29"],
  ],
  fit: [
    ["hair", "M8 14Q48 0 88 14V40"],
    ["wash", "M56 16H76V60H56Z"],
    ["gives", CIRCLE(76, 16, 7)],
  ],
  belowRoad: [ROAD, ["wash", UPRIGHT], ["part", "M12 34L60 66"], ["gives", CIRCLE(58, 65, 6)]],
  pullOut: [
    ["part", CIRCLE(34, 33, 12)],
    ["ink", CIRCLE(52, 33, 7)],
    ["load", "M60 33H84M77 28L84 33L77 38"],
    ["hair", "M8 33H22"],
  ],
  bearing: [
    ["part", "M12 26H60V40H12Z"],
    ["ink", "M24 14H36V26H24ZM24 14L36 26M36 14L24 26M24 40H36V52H24ZM24 40L36 52M36 40L24 52"],
    ["wash", "M62 6H80V60H62Z"],
  ],
  treadPressure: [["wash", "M36 8H60V44H36Z"], ROAD, ["react", "M38 60V54M43 60V52M48 60V50M53 60V48M58 60V46"], ["ink", "M36 44H60"]],
  unsprungMass: [ROAD, ["wash", UPRIGHT], ["part", "M30 32H58V40H30Z"], ["ink", "M24 4L32 9L16 15L32 21L16 27L24 32"], ["hair", "M8 4H40"]],
  roll: [ROAD, ["hair", "M16 34H80M48 12V56"], ["ink", "M18 26L78 42L74 54L14 38Z"], ["load", "M70 12A40 40 0 0 1 84 34M78 30L84 34L88 27"]],
  travel: [ROAD, ["wash", UPRIGHT], ["b", "M58 6H74V48H58Z"], ["react", "M40 46V18M35 25L40 18L45 25"]],
  jacking: [
    ROAD,
    ["part", "M22 20L58 46M22 32L58 54"],
    ["load", "M84 56H66M72 51L66 56L72 61"],
    ["react", "M22 44V58M17 51L22 44L27 51"],
    ["ink", "M10 14H34"],
  ],
  fork: [
    ["part", "M14 8L56 33M14 58L56 33M56 33H84"],
    ["ink", CIRCLE(14, 8, 4) + CIRCLE(14, 58, 4) + CIRCLE(84, 33, 5)],
  ],
  arms: [["part", ARMS], ["ink", CIRCLE(12, 26, 3) + CIRCLE(12, 48, 3) + CIRCLE(52, 30, 3) + CIRCLE(52, 46, 3)], ["wash", UPRIGHT], ROAD],
};
