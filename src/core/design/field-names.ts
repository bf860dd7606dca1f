import { LIMIT_NAMES } from "../analysis.ts";
import { LIMIT_WORDS } from "../limit-words.ts";
import { BENCH_WORDS } from "./bench-words.ts";
import { JOINT_WORDS } from "./part-words.ts";
import { SHAPE_WORDS } from "./section-shapes.ts";
import { JOINT_NAMES } from "./types.ts";

/**
 * What every field of a scenario is called in plain words: the one place for the parameter panel, the lists of what differs and the
 * messages. Ranges, defaults and longer descriptions stand in src/scenario.
 */
export interface FieldName {
  /** the part it belongs to; empty: the design as a whole */
  part: string;
  name: string;
  /** the same in few words, beside a control whose part is named already */
  short: string;
  unit: string;
  /** a share, told in per cent */
  percent?: boolean;
  /** words of a choice, by its value in the file */
  values?: Readonly<Record<string, string>>;
  /** what it means where the file says null */
  none?: string;
}

type Told = [name: string, unit?: string, more?: Partial<Pick<FieldName, "short" | "percent" | "values" | "none">>];

const fields = new Map<string, FieldName>();
const groups = new Map<string, Pick<FieldName, "part" | "name" | "none">>();

function put(at: string, part: string, told: Readonly<Record<string, Told>>): void {
  for (const [key, [name, unit = "", more = {}]] of Object.entries(told))
    fields.set(at === "" ? key : `${at}.${key}`, { part, name, short: name, unit: more.percent ? "%" : unit, ...more });
}
const group = (at: string, part: string, name: string, none?: string): void => void groups.set(at, { part, name, ...(none === undefined ? {} : { none }) });

const OUT = "out from the middle of the car";
const UP = "above the ground";

function point(at: string, part: string, before = ""): void {
  put(at, part, { sMm: [`${before}${OUT}`, "mm"], zMm: [`${before}${UP}`, "mm"] });
  group(at, part, before.replace(/, $/, ""));
}

const LAYOUT_CHOICE: Readonly<Record<string, string>> = {
  straight: "straight (one bar)",
  split: "fork (one stem, two legs)",
  A: "A (two legs from the joint)",
  twin: "twin (two bars side by side)",
};

/** Names of the built-in materials. */
const MATERIAL_WORDS: Readonly<Record<string, string>> = {
  abs: "ABS",
  pom: "acetal (POM)",
  pa12: "nylon 12",
  pa6gf30: "nylon 6, 30 % glass",
  pc: "polycarbonate",
  pla: "PLA",
  petg: "PETG",
  aluminium: "aluminium",
  carbonRod: "carbon rod",
  absPrinted: "ABS, printed",
  plaPrinted: "PLA, printed",
  petgPrinted: "PETG, printed",
  pa12Printed: "nylon 12, printed",
};
/** A built-in material in plain words; any other name as it stands. */
export const materialWords = (name: string): string => MATERIAL_WORDS[name] ?? name;

function material(at: string, part: string): void {
  put(at, part, { material: ["material", "", { values: MATERIAL_WORDS }] });
  put(`${at}.material`, `${part}, own material`, {
    name: ["name"],
    youngMPa: ["stiffness (Young's modulus)", "MPa", { short: "stiffness" }],
    poisson: ["sideways shrinking when pulled (Poisson's ratio)", "", { short: "sideways shrinking" }],
    yieldMPa: ["stress at which it stays bent or breaks (yield)", "MPa", { short: "stays bent at" }],
    densityKgPerM3: ["density", "kg/m³"],
    plastic: ["a plastic that creeps", "", { short: "creeps" }],
    maxTempC: ["hottest in use", "°C", { short: "hottest" }],
    source: ["source of its values", "", { short: "source" }],
  });
}

function section(at: string, part: string, of: string): void {
  put(at, part, {
    shape: [`cross-section ${of}`, "", { short: "section", values: SHAPE_WORDS }],
    widthMm: [`width ${of}`, "mm", { short: "width" }],
    heightMm: [`height ${of}`, "mm", { short: "height" }],
    diameterMm: [`diameter ${of}`, "mm", { short: "diameter" }],
    outerMm: [`outside of the tube ${of}`, "mm", { short: "outside" }],
    innerMm: [`inside of the tube ${of}`, "mm", { short: "inside" }],
    flangeMm: [`thickness of the flanges ${of}`, "mm", { short: "flange" }],
    webMm: [`thickness of the web ${of}`, "mm", { short: "web" }],
    holeMm: [`diameter of the pin holes ${of}`, "mm", { short: "hole" }],
    holePitchMm: [`distance of the pin holes ${of}`, "mm", { short: "hole pitch" }],
    holesRun: [`way of the pin holes ${of}`, "", { short: "holes run", values: { foreAft: "fore and aft", upDown: "up and down" } }],
  });
}

for (const n of JOINT_NAMES) {
  point(`corner.${n}`, JOINT_WORDS[n]);
  put(`corner.joints.${n}`, JOINT_WORDS[n], {
    clearanceMm: ["play in its hole (radial clearance)", "mm", { short: "play" }],
    pinNPerMm: ["stiffness of the pin", "N/mm", { short: "pin stiffness" }],
    holeNPerMm: ["stiffness of the hole", "N/mm", { short: "hole stiffness" }],
    mountNPerMm: ["stiffness of its mount", "N/mm", { short: "mount stiffness" }],
    pullOutN: ["pull at which it comes apart", "N", { short: "comes apart at" }],
  });
}
put("corner.joints.*", "joints", { pullOutN: ["pull at which one comes apart", "N"], clearanceMm: ["play of a pin in its hole", "mm"] });
point("corner.wheelCentre", "middle of the wheel");
for (const n of ["upper", "lower"] as const) {
  const part = `${n} arm`;
  const at = `corner.${n}Arm`;
  put(at, part, {
    layout: ["shape", "", { values: LAYOUT_CHOICE }],
    stemShare: ["stem, share of the arm's length", "", { short: "stem", percent: true }],
    spreadMm: ["inner pins apart, fore and aft (spread)", "mm", { short: "spread" }],
    pivotStiffnessNmmPerDeg: ["stiffness of the inner pivot against turning", "N·mm/°", { short: "stiff pivot" }],
    pivotFreeAboutArm: ["inner pin also free about the arm's own axis", "", { short: "free about the arm" }],
  });
  group(at, part, "all of it");
  section(`${at}.section`, part, "of legs or bar");
  section(`${at}.stemSection`, part, "of the stem");
  group(`${at}.section`, part, "cross-section of legs or bar");
  group(`${at}.stemSection`, part, "cross-section of the stem", "as the legs");
  material(at, part);
}
for (const side of ["left", "right"] as const) group(side, "", `${side} side only`);
group("material.plastic", "", "whether the material is a plastic");

put("corner.spring", "spring", {
  rateNPerMm: ["rate of one spring", "N/mm", { short: "rate" }],
  freeLengthMm: ["free length", "mm"],
  preloadMm: ["packing under it (preload)", "mm", { short: "packing" }],
  count: ["springs side by side", "", { short: "side by side" }],
});
point("corner.spring.top", "spring", "upper end, ");
put("corner.spring.seat", "spring", {
  on: ["stands on", "", { values: { lowerArm: "the lower arm", upperArm: "the upper arm", hub: "the hub" } }],
  fraction: ["how far out along its arm it stands", "", { short: "out along the arm", percent: true }],
});
point("corner.spring.seat", "spring", "lower end on the hub, ");
group("corner.spring.seat", "spring", "lower end");
put("corner.spring.bumpStop", "spring", {
  lengthMm: ["length below which the bump stop pushes", "mm", { short: "bump stop at" }],
  rateNPerMm: ["stiffness of the bump stop", "N/mm", { short: "bump stop stiffness" }],
});
group("corner.spring.bumpStop", "spring", "bump stop");
put("corner.spring.droopStop", "spring", {
  lengthMm: ["length above which the droop stop pulls", "mm", { short: "pulls above" }],
  rateNPerMm: ["stiffness of the droop stop", "N/mm", { short: "stiffness" }],
});
group("corner.spring.droopStop", "spring", "droop stop", "none");
put("corner.spring.damping", "damper", {
  bumpNsPerM: ["damping when the wheel rises", "N·s/m", { short: "wheel rises" }],
  reboundNsPerM: ["damping when the wheel drops", "N·s/m", { short: "wheel drops" }],
});

put("corner.hub", "hub bearing", {
  tiltStiffnessNmmPerDeg: ["stiffness against tilt", "N·mm/°", { short: "bearing" }],
  tiltPlayDeg: ["tilt play to either side", "°", { short: "bearing play" }],
  bearingOffsetMm: ["inboard of the wheel's middle", "mm", { short: "bearing inboard" }],
});
put("corner.hub", "hub", { staticCamberDeg: ["lean built in (static camber)", "°", { short: "built-in lean" }] });
put("corner.hub.retention", "wheel on its hub", {
  kind: ["held by", "", { values: { lip: "a lip", crossPin: "a cross-pin", screwedRing: "a screwed ring" } }],
  radiusMm: ["radius of the lip", "mm", { short: "lip radius" }],
  capacityN: ["straight pull that strips the lip", "N", { short: "lip holds" }],
  model: ["lip and shoulder", "", { values: { ring: "equally soft (ring)", shoulder: "stiff shoulder" } }],
  shoulderRadiusMm: ["radius of the shoulder", "mm", { short: "shoulder radius" }],
  journalShare: ["share of the tilting that a journal takes", "", { short: "journal takes", percent: true }],
  pinDiameterMm: ["thickness of the cross-pin", "mm", { short: "cross-pin" }],
  shearStrengthMPa: ["shear strength of pin or thread", "MPa", { short: "shear strength" }],
  shearRadiusMm: ["radius at which the pin is sheared", "mm", { short: "sheared at radius" }],
  threadRadiusMm: ["radius of the thread", "mm", { short: "thread radius" }],
  engagedLengthMm: ["length of thread that engages", "mm", { short: "thread engages" }],
});
group("corner.hub.retention", "wheel on its hub", "what holds it");
put("corner.hub.heat", "hub, running heat", {
  friction: ["friction of the running faces", "", { short: "friction" }],
  journalRadiusMm: ["radius of the rubbing journal", "mm", { short: "journal radius" }],
  journalLengthMm: ["length of the rubbing journal", "mm", { short: "journal length" }],
  coolingAreaMm2: ["surface that cools", "mm²", { short: "cooling surface" }],
  coolingWPerM2K: ["heat given off", "W/m²K"],
});
material("corner.hub.heat", "hub, running heat");
group("corner.hub.heat", "hub", "running heat");

put("corner.wheel", "wheel", {
  radiusMm: ["radius", "mm"],
  treadWidthMm: ["tread width", "mm"],
  massKg: ["mass on the bearing, rim and tyre", "kg", { short: "rim and tyre" }],
  unsprungMassKg: ["all unsprung mass of the corner", "kg", { short: "unsprung mass" }],
});
put("corner.tyre", "tyre", {
  verticalNPerMm: ["stiffness pressed flat", "N/mm", { short: "pressed flat" }],
  effectiveWidthMm: ["width of the tread that carries", "mm", { short: "width that carries", none: "all of it" }],
  crownRadiusMm: ["crown radius across the tread", "mm", { short: "crown radius", none: "flat" }],
  lateralNPerMm: ["stiffness sideways", "N/mm", { short: "stiffness sideways", none: "does not flex" }],
  friction: ["grip, side force over wheel load", "", { short: "grip" }],
  loadExponent: ["how grip follows wheel load (exponent)", "", { short: "grip follows load" }],
});
put("corner.tyre.seat", "tyre on its rim", {
  kind: ["held by", "", { values: { stretchedBand: "a stretched band", sideDiscs: "side discs", glue: "glue" } }],
  bandTensionN: ["tension of the band as mounted", "N", { short: "band tension" }],
  bandMassGPerMm: ["mass of the band along its length", "g/mm", { short: "band mass" }],
  friction: ["friction of band on rim", "", { short: "friction on rim" }],
  extraHoldN: ["sideways hold of discs or glue", "N", { short: "discs or glue hold" }],
});
group("corner.tyre.seat", "tyre on its rim", "what holds it");

put("body", "body", {
  carMassKg: ["weight of the whole car, ready to run", "kg", { short: "whole car" }],
  axleShare: ["share of the weight on this axle", "", { percent: true, short: "on this axle" }],
  cgHeightMm: ["height of its centre of gravity", "mm", { short: "centre height" }],
  otherRollStiffnessNmmPerDeg: ["roll stiffness lent by the rest of the car", "N·mm/°", { short: "rest of car" }],
});
put("antiRollBar", "anti-roll bar", {
  rateNPerMm: ["stiffness", "N/mm", { short: "anti-roll bar" }],
  atFraction: ["how far out along the lower arms it pulls", "", { short: "pulls at, out along the arm", percent: true }],
});
const CARRIER_WORDS = { body: "the body, by a shaft", hub: "the hub", upperArm: "the upper arm", lowerArm: "the lower arm" };
put("limits", "your limit", {
  camberDeg: ["largest lean (camber)", "°", { short: "lean limit" }],
  wheelShiftMm: ["largest shift of a wheel along the road", "mm", { short: "shift limit" }],
  axisTiltDeg: ["largest tilt of the steering axis from the side", "°", { short: "axis tilt limit" }],
  spinMustHold: ["no wheel may spin or lock (counts for the safe speed)", "", { short: "none may spin or lock" }],
});
put("drive", "drive", {
  drivenWheels: ["driven wheels"],
  onThisAxle: ["the wheels of this axle are driven", "", { short: "axle is driven" }],
  carriedBy: ["motor or last gear stage sits on", "", { short: "motor sits on", values: CARRIER_WORDS }],
  motorsPerWheel: ["motors per driven wheel"],
  stallTorqueNmm: ["one motor, held fast (stall torque)", "N·mm"],
  noLoadRpm: ["one motor, running free", "rpm"],
  rollingResistance: ["rolling resistance, of weight"],
  dragNPerMps2: ["drag", "N/(m/s)²"],
  topSpeedDrivenKmh: ["top speed driven (measured)", "km/h", { short: "top speed driven", none: "not driven yet" }],
});
put("brake", "brake", {
  wheels: ["braking wheels"],
  onThisAxle: ["the wheels of this axle brake", "", { short: "axle brakes" }],
  carriedBy: ["brake sits on", "", { values: CARRIER_WORDS }],
});
put("drive.stages[]", "gear stage", {
  drivingTeeth: ["teeth of the driving gear"],
  drivenTeeth: ["teeth of the driven gear"],
  efficiency: ["power that gets through", "", { percent: true }],
});
group("drive.stages", "drive", "gear stages");
put("fit", "body fit", {
  clearanceMm: ["distance that must stay free", "mm"],
  mustHold: ["it must hold (counts for the safe speed)"],
  alongRoadMm: ["free before and behind the tyre", "mm", { none: "not measured" }],
  bumpTravelMm: ["wheel travel up that is looked at", "mm"],
  droopTravelMm: ["wheel travel down that is looked at", "mm"],
});
put("fit.outlines[]", "outline", { name: ["name"], closed: ["last point joins the first"], bothSides: ["on both sides"] });
put("fit.outlines[].points[]", "outline", { sMm: [`point ${OUT}`, "mm"], zMm: [`point ${UP}`, "mm"] });
put("fit.keepOut[]", "box to keep free", {
  name: ["name"],
  fromSMm: ["inner edge from the middle of the car", "mm"],
  toSMm: ["outer edge from the middle of the car", "mm"],
  fromZMm: ["lower edge above the ground", "mm"],
  toZMm: ["upper edge above the ground", "mm"],
  bothSides: ["on both sides"],
});
group("fit.outlines", "body fit", "outlines of the body");
group("fit.keepOut", "body fit", "boxes to keep free");
put("loadCases[]", "load case", {
  name: ["name"],
  lateralG: ["cornering, + to the left", "g", { short: "cornering" }],
  bumpLeftMm: ["road height under the left wheel", "mm", { short: "road, left wheel" }],
  bumpRightMm: ["road height under the right wheel", "mm", { short: "road, right wheel" }],
  throttle: ["throttle", "", { percent: true }],
  brakeG: ["braking", "g"],
});
group("loadCases", "", "load cases");
put("tracks[]", "track", { name: ["name"], radiusM: ["radius of the curve", "m", { short: "radius" }] });
group("tracks", "", "tracks");
put("bench[]", "bench test", {
  kind: ["kind of test", "", { values: BENCH_WORDS }],
  date: ["day"],
  note: ["note"],
  side: ["whose part was on the bench", "", { short: "whose part", values: { both: "both sides'", left: "left", right: "right" } }],
  setUp: ["how it was set up"],
  "units[]": ["unit of a column"],
  "rows[][]": ["what was read"],
});
group("bench", "", "bench tests");
put("runs[]", "run", {
  date: ["day"],
  note: ["note"],
  radiusM: ["radius of the curve", "m", { short: "radius" }],
  hand: ["way of the curve", "", { values: { left: "left-hand", right: "right-hand" } }],
  "pace.by": ["how fast, told by", "", { values: { speed: "speed", lap: "time for a circle", g: "cornering of a phone" } }],
  "pace.kmh": ["speed in the curve", "km/h", { short: "speed" }],
  "pace.seconds": ["time for a whole circle", "s", { short: "time" }],
  "pace.g": ["cornering as a phone tells it", "g", { short: "cornering" }],
  grip: ["grip of its surface", "", { none: "as the design's tyres" }],
  bumpMm: ["unevenness of the road", "mm"],
  minutes: ["how long it went on", "min", { none: "not told" }],
  "gave[].limit": ["what gave", "", { values: Object.fromEntries(LIMIT_NAMES.map((name) => [name, LIMIT_WORDS[name].row])) }],
  "gave[].side": ["side it gave on", "", { values: { left: "left", right: "right" } }],
  "gave[].at": ["joint or arm that gave", "", { values: { ...JOINT_WORDS, upper: "upper arm", lower: "lower arm" } }],
  "hub.felt": ["hub to the hand", "", { values: { cold: "cold", warm: "warm", hot: "hot" } }],
  "hub.celsius": ["temperature of the hub", "°C"],
  airCelsius: ["temperature of the air", "°C"],
  taken: ["what it told was taken into the design"],
});
group("runs", "", "runs");
group("runs[].hub", "run", "hub after the run", "nobody felt it");
put("", "", {
  $schema: ["address of the file's schema"],
  format: ["kind of file"],
  version: ["version of the file"],
  name: ["name of the design"],
  teaches: ["what the design teaches", "", { short: "what it teaches" }],
  holePitchMm: ["hole pitch of the parts", "mm", { short: "hole pitch" }],
  origins: ["how its values are known"],
  halfPitchAllowed: ["pins also at half the hole pitch", "", { short: "half holes too" }],
});

export const FIELD_NAMES: ReadonlyMap<string, FieldName> = fields;
export const GROUP_NAMES: ReadonlyMap<string, Pick<FieldName, "part" | "name" | "none">> = groups;
