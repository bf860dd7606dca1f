import { unsprungMassKg } from "../design/mass.ts";
import { trackMm } from "../drive/wheel-speeds.ts";
import type { BenchColumn, BenchDefinition } from "./definitions.ts";
import { reachOf } from "./reach.ts";
import { choiceSetting, cornerOn, LEVEL_STEP, LOAD_UNITS, lengthSetting, SCALE_STEP } from "./settings.ts";

/** Tests of the whole car and its motors. */

const weight = (key: string, words: string, mayBeEmpty: boolean): BenchColumn => ({
  key,
  words,
  quantity: "mass",
  units: ["g", "kg"],
  signs: "positive",
  mayBeEmpty,
});

const wheelWeights: BenchDefinition = {
  kind: "wheelWeights",
  minutes: 10,
  tells: "The car's weight and how much of it stands on this axle, and what one side carries more than the other.",
  steps: [
    "Make the car ready to run, battery in, and stand each wheel on a scale of its own; where there are fewer scales, the others on blocks of the same height.",
    "Note what each scale shows; the wheels that no scale is under stay empty.",
    "Roll the car off and on, bounce it once, and weigh again: three times or more.",
  ],
  watch: "All wheels must stand at one height: a wheel a millimetre higher takes load from the others.",
  caution: "A heavy car rolls off its scales: chock it.",
  columns: [
    weight("left", "left wheel of this axle", false),
    weight("right", "right wheel of this axle", false),
    weight("otherLeft", "left wheel of the other axle, or all others", true),
    weight("otherRight", "right wheel of the other axle", true),
  ],
  settings: [SCALE_STEP],
  leastRows: 1,
  paths: () => ["body.carMassKg", "body.axleShare"],
  reach: (s, side) => reachOf(s, side, "wheelWeights"),
};

const heightByTilting: BenchDefinition = {
  kind: "heightByTilting",
  minutes: 15,
  tells: "How high the centre of gravity of what is on the springs stands.",
  steps: [
    "Block the springs, with the car at the height at which it stands, so that the body cannot lean on them.",
    "Stand the car across a board, its lower wheels against a thin strip that keeps them from sliding, and paper strips under the upper wheels.",
    "Tip the board slowly until the paper under the upper wheels comes free; note the board's angle (phone).",
    "Do it five times or more, half of them to the other side.",
  ],
  watch: "A strip higher than a few millimetres holds the wheel up; a body that still leans makes the height read too large.",
  caution: "The car tips over at once: keep a hand above it.",
  columns: [{ key: "angle", words: "board's angle when the upper wheels come free", quantity: "angle", units: ["°"], signs: "positive" }],
  settings: [
    lengthSetting("trackMm", "distance of the middles of the treads, this axle", "the car tips over the middles of its lower treads", (s) => {
      return Math.round(trackMm(s) * 10) / 10;
    }),
    lengthSetting("otherTrackMm", "the same, other axle", "each axle counts with its share of the weight", (s) => Math.round(trackMm(s) * 10) / 10),
    {
      key: "unsprungKg",
      words: "all wheels and hubs of the car, what is not on the springs",
      why: "their weight sits at the axles' height and is taken off",
      unit: "kg",
      min: 0,
      max: 100,
      usual: (s) => Math.round(1000 * Math.min(unsprungMassKg(s) / Math.max(s.body.axleShare, 0.01), 0.9 * s.body.carMassKg)) / 1000,
    },
    lengthSetting("axleHeightMm", "height of the axles above the ground", "there the unsprung weight sits", (s, side) => cornerOn(s, side).wheelCentre.zMm),
    LEVEL_STEP,
  ],
  leastRows: 1,
  paths: () => ["body.cgHeightMm"],
  reach: (s, side) => reachOf(s, side, "heightByTilting"),
};

const motor: BenchDefinition = {
  kind: "motor",
  minutes: 15,
  tells: "The torque of one motor held fast (stall torque) and its speed without a load.",
  steps: [
    "Clamp the motor, fix a lever square on its shaft and let the lever's end press on the kitchen scale.",
    "Give full power for a second only and note the highest reading; let the motor cool for a minute between readings.",
    "Take the lever off and note the speed without a load, by a counter or by the sound's pitch.",
    "Each reading has a row of its own, or both stand in one: three of each or more.",
  ],
  watch: "Use the battery of the car, charged, and its own leads: a weak battery takes from both.",
  caution: "A motor held fast burns within seconds. The lever strikes: clamp it well, keep hands and hair away.",
  columns: [
    { key: "force", words: "scale, motor held fast", quantity: "force", units: LOAD_UNITS, signs: "positive", mayBeEmpty: true },
    { key: "speed", words: "speed without a load", quantity: "turning", units: ["rpm"], signs: "positive", mayBeEmpty: true },
  ],
  settings: [
    lengthSetting("leverMm", "lever, from the shaft's middle to where it presses", "force times lever is the torque", () => 100),
    choiceSetting("at", "measured at", "gears between motor and wheel are reckoned out, with their losses", {
      motor: "the motor's own shaft",
      wheel: "the wheel, through all gears",
    }),
    SCALE_STEP,
    { key: "rpmStep", words: "smallest step of the counter", why: "readings cannot be surer", unit: "rpm", min: 0.01, max: 10_000, usual: () => 10 },
  ],
  leastRows: 1,
  paths: () => ["drive.stallTorqueNmm", "drive.noLoadRpm"],
  reach: (s, side) => reachOf(s, side, "motor"),
};

export const CAR_TESTS = { wheelWeights, heightByTilting, motor } as const;
