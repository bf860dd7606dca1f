import { armOf, seatFractionOn } from "../design/corner-geometry.ts";
import { ARM_WORDS, JOINT_WORDS } from "../design/part-words.ts";
import { JOINT_NAMES } from "../design/types.ts";
import type { BenchDefinition, BenchSetting } from "./definitions.ts";
import { reachOf } from "./reach.ts";
import { armLength, armOnBench, choiceSetting, cornerOn, lengthColumn, lengthSetting, loadColumn, pathsOn, rulerStep } from "./settings.ts";

/** Tests of arms and their pins. */

const ARM = choiceSetting("arm", "which arm", "each arm has a material and pins of its own", {
  lower: `the ${ARM_WORDS.lower}`,
  upper: `the ${ARM_WORDS.upper}`,
});

const place = (key: string, words: string, why: string): BenchSetting =>
  lengthSetting(key, words, why, (s, side, setUp = {}) => armLength(s, side, armOnBench({ setUp })));

const LENGTH = place("lengthMm", "length of this arm, inner pins to ball joint", "a spare arm on the bench may have another length than the one in the car");
const LOAD_AT = place("loadAtMm", "the load pulls at, from the inner pins", "the further out it pulls, the more the arm flexes");
const READ_AT = place("readAtMm", "the ruler stands at, from the inner pins", "further out the same bend shows more");

const PROP_SHARE = 0.6;
const seatMm: BenchSetting["usual"] = (s, side, setUp = {}) => {
  const arm = armOnBench({ setUp });
  const share = seatFractionOn(cornerOn(s, side).spring.seat, arm) || PROP_SHARE;
  return Math.round(10 * share * armLength(s, side, arm)) / 10;
};

const HELD_WHY = "what else flexes or moves besides the arm is taken off by it";

const armHang: BenchDefinition = {
  kind: "armHang",
  minutes: 15,
  tells: "How stiff the arm's material really is (Young's modulus), and with loads up and down how much play its inner pins have.",
  steps: [
    "Hold the arm level by its inner pins, as told below, so that they cannot turn.",
    "Stand a ruler at its ball joint and note what it shows without a load.",
    "Hang a pail or a bag on the ball joint and load it in five steps or more; note load and ruler each time.",
    "Take the loads off in the same steps and note them too: the loop between both ways is friction and creep.",
    "For the play of the pins turn the arm over, or pull up over a roller, and note those loads with a minus.",
  ],
  watch: "A vice or a body that gives way reads as a soft arm: watch it with the ruler too. Read within a few seconds, since plastic creeps on.",
  caution: "Stop when the arm bends by a tenth of its length or creaks: it may snap and the weights fall. Keep your feet away.",
  columns: [loadColumn("load, minus: upwards", "both"), lengthColumn("sag", "ruler, more is lower")],
  settings: [
    ARM,
    choiceSetting(
      "held",
      "how its inner end is held",
      HELD_WHY,
      {
        vice: "fast in a vice: neither play nor give of its pins",
        pins: "by its own pins in the body, kept from turning",
        springy: "by its own springy pivots in the body",
        propped: "by its own pins in the body, propped up further out",
      },
      (s, side, setUp = {}) => (armOf(cornerOn(s, side), armOnBench({ setUp })).pivotStiffnessNmmPerDeg > 0 ? "springy" : "vice"),
    ),
    {
      ...choiceSetting("sought", "what is sought", "one of the two has to be known beforehand", {
        material: "the material's stiffness",
        pivot: "the stiffness of its springy pivots",
      }),
      onlyWith: { key: "held", values: ["springy", "propped"] },
    },
    LENGTH,
    LOAD_AT,
    READ_AT,
    {
      ...lengthSetting("propAtMm", "propped up at, from the inner pins", "the arm turns about this place", seatMm),
      onlyWith: { key: "held", values: ["propped"] },
    },
    rulerStep(0.5),
  ],
  leastRows: 3,
  paths: (s, side, test) => {
    const arm = armOnBench(test);
    const { held, sought } = test.setUp;
    const pivot = sought === "pivot" && (held === "springy" || held === "propped");
    const stiff = pathsOn(s, side, pivot ? `${arm}Arm.pivotStiffnessNmmPerDeg` : `${arm}Arm.material.youngMPa`);
    return held === undefined || held === "vice" ? stiff : [...stiff, ...pathsOn(s, side, `joints.${arm}Inner.clearanceMm`)];
  },
  reach: (s, side) => reachOf(s, side, "armHang"),
};

const armAlongRoad: BenchDefinition = {
  kind: "armAlongRoad",
  minutes: 15,
  tells: "How stiff the arm is forwards and backwards, told as its material's stiffness (Young's modulus).",
  steps: [
    "Hold the arm level by its inner pins so that it cannot swing to the side.",
    "Lay a ruler along the road's direction beside the ball joint and note what it shows.",
    "Pull the ball joint forwards by a cord with a scale in it, in five steps or more; note pull and ruler.",
    "Let go in the same steps. For the play of the joint pull backwards as well and note those pulls with a minus.",
  ],
  watch: "The cord must lie level and square to the arm. A fork is held by both its pins: a loose one makes it look soft.",
  caution: "Stop when the arm bends by a tenth of its length or creaks: it may snap.",
  columns: [loadColumn("pull, minus: backwards", "both"), lengthColumn("shift", "ruler, more is forwards")],
  settings: [
    ARM,
    choiceSetting("pulledBy", "the cord pulls at", "a joint in between adds its own play and give", {
      arm: "the arm itself",
      joint: "a part in its ball joint, at which the ruler stands too",
    }),
    LENGTH,
    LOAD_AT,
    READ_AT,
    rulerStep(0.5),
  ],
  leastRows: 3,
  paths: (s, side, test) => {
    const arm = armOnBench(test);
    const play = test.setUp["pulledBy"] === "joint" ? pathsOn(s, side, `joints.${arm}Outer.clearanceMm`) : [];
    return [...pathsOn(s, side, `${arm}Arm.material.youngMPa`), ...play];
  },
  reach: (s, side) => reachOf(s, side, "armAlongRoad"),
};

const pinPlay: BenchDefinition = {
  kind: "pinPlay",
  minutes: 5,
  tells: "The play of a pin in its hole: half of what it moves from stop to stop (radial clearance).",
  steps: [
    "Hold the part with the hole fast and stand a gauge or a ruler against the pin's part, close to the pin.",
    "Push the pin's part to one stop and pull it to the other with two fingers; note how far the reading goes in all.",
    "Do it five times or more, a little turned each time, since holes wear oval.",
  ],
  watch: "Push only as hard as two fingers do: more bends the parts, and their give counts as play.",
  caution: "Take the battery out first, so that nothing turns under your fingers.",
  columns: [lengthColumn("wiggle", "from stop to stop", "positive")],
  settings: [
    choiceSetting("joint", "which joint", "each joint has a play of its own", JOINT_WORDS, () => "lowerInner"),
    {
      key: "lever",
      words: "the reading moves so many times the pin's own way",
      why: "read further out on a lever, the play shows larger: 2 where the gauge is twice as far from the turning point as the pin",
      unit: "times",
      min: 0.1,
      max: 50,
      usual: () => 1,
    },
    rulerStep(0.05),
  ],
  leastRows: 1,
  paths: (s, side, test) => {
    const joint = JOINT_NAMES.find((n) => n === test.setUp["joint"]) ?? "lowerInner";
    return pathsOn(s, side, `joints.${joint}.clearanceMm`);
  },
  reach: (s, side) => reachOf(s, side, "pinPlay"),
};

export const ARM_TESTS = { armHang, armAlongRoad, pinPlay } as const;
