import type { LimitName } from "../analysis.ts";
import { BENCH_WORDS } from "../design/bench-words.ts";
import type { BenchKind } from "../design/tried.ts";
import type { Corner } from "../design/types.ts";

/** A bench test that the bench leads through step by step, does the sums of and takes over into the design. */
const led = (kind: BenchKind, why: string): string => `${why} The bench leads through it: “${BENCH_WORDS[kind]}”.`;

/** The test with a scale, a ruler and weights that tells most about a limit. */
const TESTS: Readonly<Record<LimitName, string>> = {
  hubRetention: led("hubPullOff", "Pull wheels straight off their hubs by a pail of water, five or more, since lips scatter."),
  armYield: led(
    "armHang",
    "Hang growing weights on a spare arm: the sag tells how stiff its material is, and the weight after which it does not spring back whether its yield is as high as was taken.",
  ),
  armSet:
    "Clamp a spare arm by its inner pins, hang this load's weight on its ball joint over night, and measure how far it stays bent: that is what standing loaded costs.",
  armBuckling:
    "Stand a spare arm on a kitchen scale and press it down along itself until it steps aside: the reading is to stay above the push along the arm in this report.",
  tyreOffRim: led("tyrePushOff", "Pull the tread sideways until the tyre leaves its rim, five times or more."),
  jointPullOut: led("jointPullOut", "Pull spare joints apart by a pail of water, five or more."),
  camber: led("wheelTilt", "Hold the hub fast and pull the rim both ways: how far the bearing tilts freely, and how stiff it is beyond."),
  springOnStop: led("springPress", "Press a spring on a kitchen scale down to where it goes hard: its rate, its free length and where its stop begins."),
  wheelLift: led("heightByTilting", "Tip the car on a board until its upper wheels come free: how high its centre of gravity stands."),
  sliding:
    "Pull the standing car sideways by a cord with a scale in it, on your own track: the pull that moves it over the car's weight goes in as the tyres' grip.",
  fit: "Press the wheel up by hand as far as it goes and feel with a card of known thickness between tyre, arm and body where this report says that they come near.",
  belowRoad: "Stand the car on a level board and press it down as far as it goes: whatever touches the board before the stops do would drag on the road.",
  wheelShift: led("armAlongRoad", "Pull an arm forwards at its ball joint: how stiff it is along the road, and with pulls both ways the play of the joint."),
  axisTilt: led("armAlongRoad", "Pull one arm after the other forwards at its ball joint: the softer one is what tilts the steering axis."),
  hubHeat:
    "Drive for five minutes and feel for the hub's warmth with a thermometer at once: what it has above the air goes up with rubbing and down with the heat given off.",
};

const RETENTION_TESTS: Partial<Record<Corner["hub"]["retention"]["kind"], string>> = {
  crossPin: led("hubPullOff", "Shear spare pins by a pail of water, in the hub or between two plates that slide on each other, five or more."),
  screwedRing: led("hubPullOff", "Pull screwed rings off spare hubs by a pail of water, five or more."),
};

const WEIGHING = led("wheelWeights", "Weigh each wheel with its share of the car.");

/** What to try on the bench before the next change. @param name what gives first; null: the car finds no steady position */
export function benchTest(name: LimitName | null, corner: Corner): string {
  if (name === null) return `${WEIGHING} ${TESTS.sliding}`;
  return (name === "hubRetention" ? RETENTION_TESTS[corner.hub.retention.kind] : undefined) ?? TESTS[name];
}

/** The kind of bench test that measures most of what a limit hangs on; null: none does. */
export const LIMIT_BENCH_KIND: Readonly<Record<LimitName, BenchKind | null>> = {
  hubRetention: "hubPullOff",
  armYield: "armHang",
  armSet: "armHang",
  armBuckling: "armHang",
  tyreOffRim: "tyrePushOff",
  jointPullOut: "jointPullOut",
  camber: "wheelTilt",
  springOnStop: "springPress",
  wheelLift: "heightByTilting",
  sliding: null,
  fit: null,
  belowRoad: null,
  hubHeat: null,
  wheelShift: "armAlongRoad",
  axisTilt: "armAlongRoad",
};
