import type { LimitName } from "../analysis.ts";
import type { BenchKind } from "../design/tried.ts";
import type { Corner } from "../design/types.ts";

/** The test with a scale, a ruler and weights that tells most about a limit, and what its reading is entered as. */
const TESTS: Readonly<Record<LimitName, string>> = {
  hubRetention:
    "Pull a wheel straight off its hub: hang a pail on the middle of the wheel, pour in water until it comes off, and weigh the pail; five times, since lips scatter. The weight goes in as the straight pull that strips the lip.",
  armYield:
    "Clamp a spare arm by its inner pins and hang growing weights on its ball joint: note the sag for each, and the weight after which it does not spring back. Set the sag against the arm page's stiffness, and lower the material's yield if it stays bent early.",
  armSet:
    "Clamp a spare arm by its inner pins, hang this load's weight on its ball joint over night, and measure how far it stays bent: that is what standing loaded costs.",
  armBuckling:
    "Stand a spare arm on a kitchen scale and press it down along itself until it steps aside: the reading is to stay above the push along the arm in this report.",
  tyreOffRim:
    "Hold a wheel by its rim and pull the tread sideways by a cord with a scale in it until the tyre leaves. A higher reading than the hold told here goes in as sideways hold of discs or glue; a lower one lowers the band's pull.",
  jointPullOut: "Pull a spare joint apart by a hanging pail of water, and weigh the pail; five times. The weight goes in as the pull at which it comes apart.",
  camber:
    "Hold the hub fast, hang a known weight on the rim a known way below the axle and read the wheel's tilt with a square: weight times way over degrees goes in as the bearing's stiffness against tilt, what it wobbles without a weight as its play.",
  springOnStop:
    "Press a spring on a kitchen scale and note its length at four loads, down to where it goes hard: the slope is its rate, the length at the kink that of its stop.",
  wheelLift:
    "Stand the car sideways on a board against a low edge and tip the board until the upper wheels lift: half the track over the tangent of that angle is the height of the centre of gravity.",
  sliding:
    "Pull the standing car sideways by a cord with a scale in it, on your own track: the pull that moves it over the car's weight goes in as the tyres' grip.",
  fit: "Press the wheel up by hand as far as it goes and feel with a card of known thickness between tyre, arm and body where this report says that they come near.",
  belowRoad: "Stand the car on a level board and press it down as far as it goes: whatever touches the board before the stops do would drag on the road.",
  wheelShift:
    "Hold the body fast, pull one wheel forwards at its centre by a cord with a scale in it, and read against a ruler on the table how far it comes: pull over way is its stiffness along the road, what it moves without a pull its play.",
  axisTilt:
    "The same pull at the wheel's centre; read with a square against the table how far the two ball joints of the hub come forward, one over the other. Their difference over their distance in height is the tilt.",
  hubHeat:
    "Drive for five minutes and feel for the hub's warmth with a thermometer at once: what it has above the air goes up with rubbing and down with the heat given off.",
};

const RETENTION_TESTS: Partial<Record<Corner["hub"]["retention"]["kind"], string>> = {
  crossPin:
    "Cut a spare pin: put it through two plates that slide on each other, hang a pail on one, pour in water until it shears, and weigh the pail. The force over the pin's section goes in as its shear strength.",
  screwedRing:
    "Pull a screwed ring off a spare hub by a hanging pail of water, and weigh the pail. The force over π times the thread's radius times the length engaged goes in as the thread's shear strength.",
};

/** What to try on the bench before the next change. @param name what gives first; null: the car finds no steady position */
export function benchTest(name: LimitName | null, corner: Corner): string {
  if (name === null) return `Weigh each wheel with its share of the car. ${TESTS.sliding}`;
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
