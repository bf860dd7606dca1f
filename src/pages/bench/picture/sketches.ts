import type { BenchKind } from "../../../core/design/tried.ts";
import { eye, PART_SET_UPS } from "./part-sketches.ts";
import {
  box,
  circle,
  coil,
  cordScale,
  corners,
  ground,
  held,
  label,
  measure,
  phone,
  polygon,
  pull,
  ruler,
  type SetUpSketch,
  scale,
  turned,
} from "./strokes.ts";

const WHEEL_BEHIND = corners(176, 34, 54, 152);
const wheelTilt: SetUpSketch = {
  view: "from behind",
  strokes: [
    ...held(14, 50, 40, 120),
    ["thin-part", "M54 72H108M54 148H108"],
    ["hub", box(106, 60, 14, 100)],
    ["build", polygon(WHEEL_BEHIND)],
    ["wash", polygon(turned(WHEEL_BEHIND, [150, 110], -6))],
    ["hub", polygon(turned(corners(120, 104, 66, 12), [150, 110], -6))],
    ...eye(108, 72, 7),
    ...eye(108, 148, 7),
    ...phone(turned(corners(230, 74, 7, 56), [150, 110], -6)),
    ...cordScale([238, 176], [346, 176]),
    ["hair", "M240 110H272"],
    measure([262, 110], [262, 176], "hair"),
  ],
  labels: [
    label(14, 40, "ball joints held"),
    label(250, 66, "phone reads", "start", "read"),
    label(250, 83, "the tilt", "start", "read"),
    label(324, 162, "pull", "middle", "load"),
    label(270, 142, "told"),
  ],
};

const springPress: SetUpSketch = {
  view: "from the side",
  strokes: [
    ...scale(96, 168, 130),
    coil(161, 82, 168, 24, 4),
    ["thin-part", "M116 76H206"],
    ...pull([161, 16], [161, 70]),
    ...ruler(262, 40, 168),
    ["hair", "M210 82H260"],
    measure([244, 82], [244, 168]),
  ],
  labels: [
    label(174, 34, "press in steps", "start", "load"),
    label(284, 118, "read the", "start", "read"),
    label(284, 135, "length", "start", "read"),
    label(161, 212, "read the scale", "middle", "read"),
  ],
};

const tyrePress: SetUpSketch = {
  view: "from the side",
  strokes: [
    ...scale(92, 158, 140),
    ["wash", "M126 158A64 64 0 1 1 198 158Z"],
    ["paper", circle(162, 105, 38)],
    ["hub", circle(162, 105, 8)],
    ...pull([162, 14], [162, 94]),
    ["hair", "M172 105H276M234 158H276"],
    measure([262, 105], [262, 158]),
  ],
  labels: [
    label(176, 30, "lower the axle in steps", "start", "load"),
    label(274, 124, "read how", "start", "read"),
    label(274, 141, "far it came", "start", "read"),
    label(162, 212, "read the scale", "middle", "read"),
  ],
};

const LEANED = turned(corners(156, 40, 48, 116), [180, 156], 9);
const tyreTilt: SetUpSketch = {
  view: "along the wheel, board from its side",
  strokes: [
    ...held(34, 184, 64, 26),
    [
      "hub",
      polygon([
        [66, 168],
        [60, 184],
        [72, 184],
      ]),
    ],
    [
      "hub",
      polygon([
        [294, 168],
        [288, 178],
        [300, 178],
      ]),
    ],
    ...scale(244, 178, 100),
    ["thin-part", "M40 162H322"],
    ["wash", polygon(LEANED)],
    [
      "ink",
      polygon(
        turned(
          [
            [132, 98],
            [244, 98],
          ],
          [180, 156],
          9,
        ),
        false,
      ),
    ],
    ["weight", polygon(turned(corners(122, 84, 20, 28), [180, 156], 9))],
    ["weight", polygon(turned(corners(234, 84, 20, 28), [180, 156], 9))],
    ["build", "M180 156V16"],
    ["read", "M180 22A134 134 0 0 1 201 24"],
    measure([66, 146], [294, 146], "hair"),
  ],
  labels: [
    label(214, 26, "read the lean", "start", "read"),
    label(238, 204, "read the scale", "end", "read"),
    label(100, 138, "told", "middle"),
    label(118, 72, "weights", "end", "load"),
  ],
};

const ROLLERS = circle(120, 170, 8) + circle(262, 170, 8);
const tyreSideways: SetUpSketch = {
  view: "from behind",
  strokes: [
    ground(178),
    ...held(14, 66, 56, 48),
    ["hub", box(70, 84, 82, 12)],
    ["wash", "M152 30H208V128L220 154H164L152 128Z"],
    ["paper", ROLLERS],
    ["thin-part", "M84 158H296"],
    ...cordScale([300, 158], [354, 158]),
    ["build", "M180 30V204"],
    measure([180, 194], [192, 194]),
    ["hair", "M192 160V204"],
  ],
  labels: [label(14, 56, "axle held"), label(332, 138, "pull", "middle", "load"), label(204, 204, "read the board's shift", "start", "read")],
};

const tyrePushOff: SetUpSketch = {
  view: "from behind",
  strokes: [
    ground(178),
    ...held(14, 66, 56, 48),
    ["hub", box(70, 84, 82, 12)],
    ["hub", box(152, 44, 44, 92)],
    ["wash", "M160 26H214V44H160Z"],
    ["wash", "M166 136H222L230 154H174Z"],
    ["gives", circle(156, 138, 10)],
    ["paper", ROLLERS],
    ["thin-part", "M84 158H296"],
    ...cordScale([300, 158], [354, 158]),
    ...pull([230, 66], [230, 116]),
  ],
  labels: [
    label(14, 56, "rim held"),
    label(336, 138, "read the pull", "end", "read"),
    label(242, 86, "loaded as in", "start", "load"),
    label(242, 103, "the car", "start", "load"),
    label(100, 206, "pull until the tyre leaves", "start", "load"),
  ],
};

const wheelWeights: SetUpSketch = {
  view: "from behind",
  strokes: [
    ...scale(36, 162, 96),
    ...scale(228, 162, 96),
    ["wash", box(60, 82, 48, 80) + box(252, 82, 48, 80)],
    ["part", "M108 122H252"],
    ["ink", "M96 110L118 40H242L264 110"],
    ["paper", circle(180, 84, 9)],
    ["ink", "M171 84H189M180 75V93"],
    ...pull([180, 94], [180, 146]),
  ],
  labels: [
    label(84, 210, "left", "middle", "read"),
    label(276, 210, "right", "middle", "read"),
    label(180, 178, "read both", "middle", "read"),
    label(180, 28, "all wheels at one height", "middle"),
  ],
};

const TILT = -24;
const FOOT = [66, 196] as const;
const onBoard = (points: readonly (readonly [number, number])[]) => turned(points, FOOT, TILT);
const heightByTilting: SetUpSketch = {
  view: "from behind, across the board",
  strokes: [
    ground(202),
    [
      "thin-part",
      polygon(
        onBoard([
          [50, 198],
          [346, 198],
        ]),
        false,
      ),
    ],
    ["hub", polygon(onBoard(corners(92, 184, 8, 10)))],
    ["wash", polygon(onBoard(corners(100, 136, 34, 58)))],
    ["wash", polygon(onBoard(corners(236, 136, 34, 58)))],
    [
      "part",
      polygon(
        onBoard([
          [134, 166],
          [236, 166],
        ]),
        false,
      ),
    ],
    [
      "ink",
      polygon(
        onBoard([
          [124, 156],
          [140, 104],
          [230, 104],
          [246, 156],
        ]),
        false,
      ),
    ],
    ...onBoard([[185, 132]]).flatMap(([x, y]) => [
      ["paper", circle(x, y, 9)] as const,
      ["ink", `M${x - 9} ${y}h18M${x} ${y - 9}v18`] as const,
      ["build", `M${x} ${y}V202`] as const,
    ]),
    ...phone(onBoard(corners(286, 188, 46, 7))),
    ...pull([334, 82], [334, 34]),
    [
      "read",
      `M186 202A120 120 0 0 0 ${onBoard([[186, 196]])[0]!
        .map((v) => v.toFixed(1))
        .join(" ")}`,
    ],
  ],
  labels: [
    label(44, 160, "thin strip", "middle"),
    label(202, 192, "read the angle", "start", "read"),
    label(348, 128, "paper comes", "end"),
    label(348, 145, "free here", "end"),
    label(120, 34, "centre of gravity", "middle"),
    label(324, 44, "tip slowly", "end", "load"),
  ],
};

const motor: SetUpSketch = {
  view: "along the motor's shaft",
  strokes: [
    ...held(22, 126, 108, 46),
    ["hub", circle(76, 98, 36)],
    ["part", "M76 98H250"],
    ["paper", circle(76, 98, 8)],
    ["ink", "M250 98V148"],
    ...scale(196, 148, 108),
    measure([76, 44], [250, 44], "hair"),
    ["hair", "M76 48V88M250 48V92"],
    ["load", "M44 74A40 40 0 0 1 96 64"],
    [
      "load-head",
      polygon([
        [108, 72],
        [93, 70],
        [98, 59],
      ]),
    ],
  ],
  labels: [
    label(22, 188, "motor clamped"),
    label(163, 36, "lever, told", "middle"),
    label(250, 192, "read the highest", "middle", "read"),
    label(132, 78, "full power, one second", "start", "load"),
  ],
};

/** How each test is set up: what is held, where it is loaded, what is read. */
export const SET_UPS: Readonly<Record<BenchKind, SetUpSketch>> = {
  ...PART_SET_UPS,
  wheelTilt,
  springPress,
  tyrePress,
  tyreTilt,
  tyreSideways,
  tyrePushOff,
  wheelWeights,
  heightByTilting,
  motor,
};
