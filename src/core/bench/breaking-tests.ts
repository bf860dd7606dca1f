import { JOINT_WORDS } from "../design/part-words.ts";
import { JOINT_NAMES } from "../design/types.ts";
import type { BenchDefinition } from "./definitions.ts";
import { reachOf } from "./reach.ts";
import { choiceSetting, cornerOn, loadColumn, pathsOn, SCALE_STEP } from "./settings.ts";

/**
 * Tests that break or part what is tested. What they measure holds for the next part like those that were tested, which are gone: its
 * ± is the scatter from part to part, the doubt of the mean included.
 */

const SAMPLES = "Do it with five parts or more of one kind, since they scatter: three tell little.";

const hubPullOff: BenchDefinition = {
  kind: "hubPullOff",
  minutes: 20,
  tells: "The straight pull at which what holds the wheel on its hub lets go, how it scatters, and what 95 of 100 stand.",
  steps: [
    "Hold the hub with its axle upright, the wheel below, over something soft.",
    "Hang a pail on the middle of the wheel, straight along the axle, and pour in water slowly until the wheel comes off.",
    "Weigh the pail with the wheel: that is the pull.",
    SAMPLES,
  ],
  watch: "A pull beside the axle pries and reads far too low. A lip that was pulled off once holds less: take a new one each time.",
  caution: "The pail falls: keep your feet away, wear glasses, and lay something soft below.",
  columns: [loadColumn("came off at")],
  settings: [
    choiceSetting("cut", "for a cross-pin: it is cut in", "the same pull cuts one place or is shared by two", {
      two: "two places, in wheel and hub",
      one: "one place, between two plates",
    }),
    SCALE_STEP,
  ],
  leastRows: 2,
  paths: (s, side) => {
    const { kind } = cornerOn(s, side).hub.retention;
    return pathsOn(s, side, kind === "lip" ? "hub.retention.capacityN" : "hub.retention.shearStrengthMPa");
  },
  reach: (s, side) => reachOf(s, side, "hubPullOff"),
};

const jointPullOut: BenchDefinition = {
  kind: "jointPullOut",
  minutes: 15,
  tells: "The pull at which a joint comes apart, how it scatters, and what 95 of 100 stand.",
  steps: [
    "Hold one part of the joint fast, and hang a pail on the other, pulling across the pin as the arm does.",
    "Pour in water slowly until it comes apart, and weigh the pail with what hangs on it.",
    SAMPLES,
  ],
  watch: "A joint that was pulled apart once may hold less: take a new one each time.",
  caution: "The pail falls: keep your feet away, wear glasses.",
  columns: [loadColumn("came apart at")],
  settings: [
    choiceSetting(
      "joint",
      "which joint",
      "each joint has a pull of its own; take all where they are of one kind",
      { ...JOINT_WORDS, all: "all four, of one kind" },
      () => "all",
    ),
    SCALE_STEP,
  ],
  leastRows: 2,
  paths: (s, side, test) => {
    const one = JOINT_NAMES.find((n) => n === test.setUp["joint"]);
    return (one ? [one] : JOINT_NAMES).flatMap((n) => pathsOn(s, side, `joints.${n}.pullOutN`));
  },
  reach: (s, side) => reachOf(s, side, "jointPullOut"),
};

const tyrePushOff: BenchDefinition = {
  kind: "tyrePushOff",
  minutes: 10,
  tells: "The side force at which the tyre leaves its rim standing still: a stretched band's pull, or what discs or glue hold besides.",
  steps: [
    "Hold the wheel by its rim, the tread on a board that slides easily, loaded as in the car.",
    "Pull the board sideways by a cord with a scale in it until the tyre leaves the rim, and note the pull.",
    "Do it five times or more, half of them to the other side; where glue breaks, with as many wheels.",
  ],
  watch: "A tread that slips on the board reads too low: glue sandpaper on it.",
  caution: "The cord jumps when the tyre leaves: keep your face away.",
  columns: [loadColumn("left the rim at")],
  settings: [SCALE_STEP],
  leastRows: 2,
  paths: (s, side) => pathsOn(s, side, cornerOn(s, side).tyre.seat.kind === "stretchedBand" ? "tyre.seat.bandTensionN" : "tyre.seat.extraHoldN"),
  reach: (s, side) => reachOf(s, side, "tyrePushOff"),
};

export const BREAKING_TESTS = { hubPullOff, jointPullOut, tyrePushOff } as const;
