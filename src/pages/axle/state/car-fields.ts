import type { Scenario } from "../../../core/design/types.ts";
import { freeName } from "../../../state/edit.ts";
import { type ActControl, type Control, flag, n, text, under } from "./control.ts";
import { pushControls } from "./push-fields.ts";

/** Fields of the design as a whole: its holes, its curves and its load cases. */

const NEW_RADIUS_M = 6;
const NEW_G = 0.5;

const act = (path: string, words: string, to: (s: Scenario) => Scenario): ActControl => ({ kind: "act", path, words, root: true, more: true, to });

const tracks = (s: Scenario): Control[] => [
  ...s.tracks.flatMap((t, i) =>
    under(
      `track ${i + 1}`,
      text(`tracks[${i}].name`, 80, { root: true, more: true }),
      { ...n(`tracks[${i}].radiusM`, 1, 40, 0.1, { root: true }), more: true },
      act(`tracks[${i}]`, `remove ${t.name || `track ${i + 1}`}`, (now) => ({ ...now, tracks: now.tracks.filter((_, k) => k !== i) })),
    ),
  ),
  ...under(
    "tracks",
    act("tracks", "add a track", (now) => ({
      ...now,
      tracks: [
        ...now.tracks,
        {
          name: freeName(
            "track",
            now.tracks.map((t) => t.name),
          ),
          radiusM: NEW_RADIUS_M,
        },
      ],
    })),
  ),
];

const loadCases = (s: Scenario): Control[] => [
  ...s.loadCases.flatMap((l, i) =>
    under(
      `load case ${i + 1}`,
      text(`loadCases[${i}].name`, 80, { root: true, more: true }),
      ...[
        n(`loadCases[${i}].lateralG`, -2, 2, 0.01, { root: true }),
        n(`loadCases[${i}].bumpLeftMm`, -25, 25, 0.5, { root: true }),
        n(`loadCases[${i}].bumpRightMm`, -25, 25, 0.5, { root: true }),
        n(`loadCases[${i}].throttle`, 0, 1, 0.01, { root: true }),
        n(`loadCases[${i}].brakeG`, 0, 1.5, 0.01, { root: true }),
      ].map((c) => ({ ...c, more: true })),
      act(`loadCases[${i}]`, `remove ${l.name || `load case ${i + 1}`}`, (now) => ({ ...now, loadCases: now.loadCases.filter((_, k) => k !== i) })),
    ),
  ),
  ...under(
    "load cases",
    act("loadCases", "add a load case", (now) => ({
      ...now,
      loadCases: [
        ...now.loadCases,
        {
          name: freeName(
            "load case",
            now.loadCases.map((l) => l.name),
          ),
          lateralG: NEW_G,
          bumpLeftMm: 0,
          bumpRightMm: 0,
          throttle: 0,
          brakeG: 0,
        },
      ],
    })),
  ),
];

export const carControls = (s: Scenario): Control[] => [
  n("holePitchMm", 2, 20, 0.1, { root: true }),
  flag("halfPitchAllowed", true),
  ...pushControls(s),
  ...tracks(s),
  ...loadCases(s),
];
