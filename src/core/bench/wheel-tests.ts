import type { BenchDefinition } from "./definitions.ts";
import { reachOf } from "./reach.ts";
import { choiceSetting, cornerOn, LEVEL_STEP, lengthColumn, lengthSetting, loadColumn, pathsOn, rulerStep, SCALE_STEP } from "./settings.ts";

/** Tests of the wheel's bearing, of springs and of tyres. */

const wheelTilt: BenchDefinition = {
  kind: "wheelTilt",
  minutes: 10,
  tells: "How far the wheel's bearing tilts freely (play), and how stiff it is against tilt beyond.",
  steps: [
    "Hold the hub fast at its two ball joints, the wheel upright.",
    "Stick the phone flat on the wheel, its level at work, or stand a ruler at a told distance from the axle.",
    "Pull the rim outwards along the axle's direction, a told distance below the axle, by a cord with a scale in it, in four steps or more; note pull and tilt.",
    "Pull the other way, inwards or above the axle, in the same steps and note those pulls with a minus: only both ways tell the play from the middle.",
  ],
  watch: "The hub's own give is part of the reading: hold it where the ball joints hold it, nowhere else. A phone on a wheel with spokes must not rock.",
  caution: "Pull no harder than the wheel does in a curve (a few kilograms): the lip may let go, and the wheel jumps.",
  columns: [loadColumn("pull, minus: the other way", "both"), { key: "tilt", words: "tilt", quantity: "tilt", units: ["°", "mm"], signs: "both" }],
  settings: [
    lengthSetting("pullAtMm", "pulled at this distance below the axle", "pull times distance is the moment that tilts", (s, side) => {
      return Math.round(cornerOn(s, side).wheel.radiusMm);
    }),
    lengthSetting("readAtMm", "for tilt in mm: the ruler stands at this distance from the axle", "turns mm into degrees", (s, side) =>
      Math.round(cornerOn(s, side).wheel.radiusMm),
    ),
    LEVEL_STEP,
    rulerStep(0.5),
  ],
  leastRows: 3,
  paths: (s, side) => [...pathsOn(s, side, "hub.tiltStiffnessNmmPerDeg"), ...pathsOn(s, side, "hub.tiltPlayDeg")],
  reach: (s, side) => reachOf(s, side, "wheelTilt"),
};

const springPress: BenchDefinition = {
  kind: "springPress",
  minutes: 10,
  tells: "The spring's rate and its free length, and where pressed to the end the length at which its stop begins.",
  steps: [
    "Stand the spring on a kitchen scale, on a pin or in a tube that keeps it from stepping aside, and set the scale to zero.",
    "Press it down by a board with a ruler beside it in six steps or more, and note load and length from eye to eye.",
    "Let it up again in the same steps and note them too: a damper's friction is the loop between both ways.",
    "For the stop go on until it is hard, with three readings or more beyond.",
  ],
  watch: "Length counts from eye to eye, as in the design, the packing that is under it on the bench included; tell the packing below.",
  caution: "A pressed spring can shoot out: keep your face away and wear glasses.",
  columns: [loadColumn("load"), lengthColumn("length", "length from eye to eye")],
  settings: [
    {
      ...lengthSetting("packingMm", "packing under it on the bench", "adds to its length", (s, side) => cornerOn(s, side).spring.preloadMm, 0, 200),
    },
    {
      key: "count",
      words: "springs pressed side by side",
      why: "the rate is told for one",
      unit: "",
      min: 1,
      max: 4,
      usual: () => 1,
    },
    rulerStep(0.5),
    SCALE_STEP,
  ],
  leastRows: 3,
  paths: (s, side) => [...pathsOn(s, side, "spring.rateNPerMm"), ...pathsOn(s, side, "spring.freeLengthMm")],
  reach: (s, side) => reachOf(s, side, "springPress"),
};

const tyrePress: BenchDefinition = {
  kind: "tyrePress",
  minutes: 10,
  tells: "How stiff the tyre is when it is pressed flat on the road.",
  steps: [
    "Put the wheel upright on the kitchen scale, its axle held in a stand or a drill press.",
    "Lower the axle in six steps or more up to twice the wheel's load in the car; note load and how far the axle came down.",
    "Raise it again in the same steps and note them too.",
  ],
  watch: "The scale sinks as well: measure from the scale's plate to the axle, or take off what the plate moves.",
  caution: "Keep your fingers from between axle and scale.",
  columns: [loadColumn("load"), lengthColumn("sink", "axle came down by")],
  settings: [rulerStep(0.1), SCALE_STEP],
  leastRows: 3,
  paths: (s, side) => pathsOn(s, side, "tyre.verticalNPerMm"),
  reach: (s, side) => reachOf(s, side, "tyrePress"),
};

const tyreTilt: BenchDefinition = {
  kind: "tyreTilt",
  minutes: 15,
  tells: "How wide a strip of the tread really carries when the wheel leans (effective width).",
  steps: [
    "Lay a stiff board with one end on the kitchen scale and the other on a block, both on thin edges, and note their distance.",
    "Stand the loaded wheel on the middle of the board, across it, its axle held so that it can only be leaned and moves up and down freely.",
    "Note lean (phone) and scale upright, then leaned in steps to both sides up to 10°; a lean towards the scale is positive.",
    "Keep the middle of the tread on its mark, or turn the wheel about its axle's middle: tell which below.",
  ],
  watch: "The load on the wheel must stay the same: hang it on the axle, do not push. The tyre's stiffness pressed flat has to be known first.",
  caution: "Guard the weights against falling when the wheel leans.",
  columns: [
    { key: "lean", words: "lean, plus: towards the scale", quantity: "angle", units: ["°"], signs: "both" },
    { key: "scale", words: "scale under the end of the board", quantity: "force", units: ["g", "kg", "N"], signs: "positive" },
  ],
  settings: [
    {
      key: "pressKg",
      words: "weight on the wheel, its own included",
      why: "it presses the tread, and its shift is what the scale shows",
      unit: "kg",
      min: 0.01,
      max: 50,
      usual: (s) => Math.round(500 * s.body.carMassKg * s.body.axleShare) / 1000,
    },
    lengthSetting("spanMm", "distance of the board's two edges", "the shorter, the more the scale moves", () => 200, 10, 2000),
    choiceSetting("about", "the wheel is leaned about", "leaned about its axle, its tread wanders along the board besides", {
      tread: "the middle of its tread, which stays on its mark",
      axle: "the middle of its axle, which stays in place",
    }),
    SCALE_STEP,
    LEVEL_STEP,
  ],
  leastRows: 3,
  paths: (s, side) => pathsOn(s, side, "tyre.effectiveWidthMm"),
  reach: (s, side) => reachOf(s, side, "tyreTilt"),
};

const tyreSideways: BenchDefinition = {
  kind: "tyreSideways",
  minutes: 10,
  tells: "How stiff the tyre is sideways between rim and road.",
  steps: [
    "Hold the wheel's axle fast, upright, loaded as in the car, the tyre on a board that slides easily on two round sticks.",
    "Pull the board sideways by a cord with a scale in it, in five steps or more; note pull and how far the board came.",
    "Let go in the same steps and note them too; for more pull the other way, with a minus.",
  ],
  watch: "Stop before the tyre slips on the board: it then comes by itself. Note the board against the rim, not against the table.",
  caution: "A cord that slips hits the hand: wear gloves.",
  columns: [loadColumn("pull, minus: the other way", "both"), lengthColumn("shift", "board came by")],
  settings: [rulerStep(0.5), SCALE_STEP],
  leastRows: 3,
  paths: (s, side) => pathsOn(s, side, "tyre.lateralNPerMm"),
  reach: (s, side) => reachOf(s, side, "tyreSideways"),
};

export const WHEEL_TESTS = { wheelTilt, springPress, tyrePress, tyreTilt, tyreSideways } as const;
