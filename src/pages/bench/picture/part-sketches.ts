import { box, circle, cordScale, held, label, measure, pail, pull, ruler, type SetUpSketch } from "./strokes.ts";

/** A joint's pin in its eye. */
export const eye = (x: number, y: number, r = 8) => [["paper", circle(x, y, r)] as const, ["hub", circle(x, y, r / 2)] as const];

/** The set-ups of arms, pins and what holds parts together. */
const armHang: SetUpSketch = {
  view: "from behind",
  strokes: [
    ...held(14, 60, 46, 58),
    ["build", "M56 88H240"],
    ["part", "M56 88Q150 88 238 110"],
    ...eye(50, 88),
    ...eye(238, 110),
    ...pail(238, 118, 158),
    ...ruler(300, 44, 176),
    ["hair", "M248 110H298"],
    measure([278, 88], [278, 110]),
    ["hair", "M244 88H298"],
  ],
  labels: [
    label(14, 50, "inner pins held"),
    label(258, 178, "load", "start", "load"),
    label(352, 34, "read the sag", "end", "read"),
    label(150, 80, "no load", "middle"),
  ],
};

const armAlongRoad: SetUpSketch = {
  view: "from above, forwards is up",
  strokes: [
    ...held(14, 46, 26, 134),
    ["build", "M42 70L130 113L42 156M130 113H236"],
    ["part", "M42 70L130 111L42 156M130 111Q184 109 236 88"],
    ...eye(44, 70, 7),
    ...eye(44, 156, 7),
    ...eye(236, 88),
    ...cordScale([236, 80], [236, 14]),
    ["hair", "M246 88H282M240 113H282"],
    measure([270, 113], [270, 88]),
  ],
  labels: [
    label(14, 36, "both inner pins held"),
    label(252, 34, "pull", "start", "load"),
    label(290, 98, "read the", "start", "read"),
    label(290, 115, "shift", "start", "read"),
  ],
};

const pinPlay: SetUpSketch = {
  view: "from behind",
  strokes: [
    ...held(14, 76, 104, 74),
    ["paper", circle(108, 113, 22)],
    ["build", "M108 103H330M108 123H330"],
    ["thin-part", "M108 119L330 119"],
    ["hub", circle(108, 119, 15)],
    ["scale", circle(160, 52, 20)],
    ["ink", "M160 52L170 42M160 72V108"],
    ...pull([230, 100], [230, 66]),
    ...pull([230, 138], [230, 172]),
  ],
  labels: [
    label(14, 68, "held"),
    label(188, 38, "read from stop to stop", "start", "read"),
    label(244, 84, "with two fingers", "start", "load"),
    label(244, 166, "and back", "start", "load"),
  ],
};

const hubPullOff: SetUpSketch = {
  view: "from the side, axle upright",
  strokes: [
    ...held(118, 10, 124, 26),
    ["wash", box(86, 70, 188, 38)],
    ["paper", box(160, 64, 40, 48)],
    ["hub", "M166 36H194V86H200V94H160V86H166Z"],
    ["gives", circle(160, 90, 9) + circle(200, 90, 9)],
    ["ink", "M160 108H200"],
    ...pail(180, 108, 150),
    ["wash", "M110 206Q180 192 250 206V214H110Z"],
  ],
  labels: [label(110, 28, "hub held", "end"), label(284, 94, "wheel"), label(200, 168, "pour in until it lets go", "start", "load"), label(258, 212, "soft")],
};

const jointPullOut: SetUpSketch = {
  view: "from the side",
  strokes: [
    ...held(128, 10, 104, 24),
    ["thin-part", "M180 34V62"],
    ["paper", circle(180, 82, 22)],
    ["gives", circle(180, 82, 22)],
    ["hub", circle(180, 86, 13)],
    ["thin-part", "M180 98V132"],
    ...pail(180, 132, 160),
  ],
  labels: [label(120, 28, "one part held", "end"), label(212, 88, "pulled across its pin"), label(204, 178, "pour in until it parts", "start", "load")],
};

export const PART_SET_UPS = { armHang, armAlongRoad, pinPlay, hubPullOff, jointPullOut } as const;
