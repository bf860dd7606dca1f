import { ARM_NAMES, SIDES } from "../core/design/types.ts";
import { atFullPush } from "../core/drive/thrust-on-arms.ts";
import { heldWords } from "../core/limits/held-words.ts";
import { safeSpeedAt } from "../core/studies/map-levels.ts";
import { mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { charts } from "../view/curves.ts";
import { differences, leaves } from "../view/differences.ts";
import { figures, fixed, signed, withUnit } from "../view/format.ts";
import { mapWords } from "../view/map/names.ts";
import { outerSide } from "../view/poses.ts";
import { compareRows, headline, type Stair, stairByMotion, stairByPart } from "../view/reading.ts";
import { worstBend } from "../view/scene.ts";
import { givesWords } from "../view/scene-labels.ts";
import { ARM_WORDS, distanceWords, leanWords } from "../view/words.ts";
import { axleSvg } from "./axle-svg.ts";
import { type BuildList, buildList, carRows, materialRows, plain } from "./build-list.ts";
import { chartSvg } from "./chart-svg.ts";
import { CURVES_TO_G, type ReportData } from "./data.ts";
import { knownTable } from "./known.ts";
import { el, list, paragraph, say, table } from "./markup.ts";
import { summaryOf } from "./summary.ts";
import { assumptions, curveWords, loadWords } from "./words.ts";

/** A heading never stands alone at the foot of a page: it is kept with what comes first. */
export const section = (title: string, className: string | null, first: string, ...inside: readonly string[]): string =>
  el("section", { class: className }, el("div", { class: "together" }, say("h2", {}, title), first), ...inside);

/** Bend of the arms in the picture, times the true one. */
const BEND = 3;

const SUMMARY_ROWS = [
  ["What gives first", "gives"],
  ["Safe speed", "safe"],
  ["The one change worth the rebuild", "change"],
  ["The bench test to do next", "bench"],
] as const;

/** The summary, one page on paper: title, the load, the four facts that matter, the picture, and what to do. */
export function headSection(d: ReportData): string {
  const { request: r, a } = d;
  const head = headline(a.report, r.scenario.limits.camberDeg);
  const first = a.report.firstToGive;
  const safe = safeHere(d);
  const { drivenMps } = d.drive;
  const reach = mpsToKmh(drivenMps ?? d.drive.topSpeedMps);
  const gives = first.utilization >= 1;
  const speed = r.load.lateralG === 0 ? "" : ` That is ${withUnit(d.speedKmh, 1, "km/h")} on a curve of ${curveWords(d)}.`;
  const bend = worstBend(a);
  const fact = (title: string, value: string, under: string, className = "value"): string =>
    el("div", { class: "fact" }, paragraph(title), say("p", { class: className }, value), paragraph(under));
  const named = r.caseName === null ? "" : `“${r.caseName}”: `;
  const told = summaryOf(d);
  return el(
    "header",
    { class: "summary" },
    say("h1", {}, r.scenario.name),
    say("p", { class: "lead" }, `Axle report of ${r.date}. ${r.scenario.teaches}`),
    d.b || d.bReason ? el("p", { class: "b" }, say("strong", {}, "B "), `${el("span", {}, textOf(r.b?.name ?? ""))}`) : "",
    paragraph(`${named}${loadWords(r.load)}.${speed}`, "strong"),
    el(
      "div",
      { class: "facts" },
      fact(head.title, head.number, `${head.way} (${head.term}), ${head.limit}${head.band ? `; ${head.band}` : ""}`, head.past ? "value gives" : "value"),
      fact(
        gives ? "Gives under this load" : "Nearest to giving",
        first.place ? withUnit(first.place.distanceMm, 1, "mm") : `${fixed(100 * Math.min(first.utilization, 99), 0)} %`,
        `${givesWords(first)}${first.wheel === "both" ? "" : `, ${first.wheel} wheel`}: ${distanceWords(first) ?? heldWords(first.name, figures(first.demand), figures(first.capacity), first.unit)}`,
        gives ? "value gives" : "value",
      ),
      fact(`Safe speed, ${d.hand}-hand`, `${fixed(safe.kmh, 1)} km/h`, `on ${curveWords(d)}, ${fixed(safe.g, 2)} g; beyond that: ${safe.gives}`),
      fact(
        drivenMps === null ? "The drive reaches" : "Top speed driven",
        reach > 0 ? `${fixed(reach, 1)} km/h` : "nothing",
        drivenMps !== null
          ? `measured; by its motors and gears ${fixed(mpsToKmh(d.drive.topSpeedMps), 1)} km/h`
          : reach > 0
            ? `on a flat straight road (${fixed(d.drive.topSpeedMps, 1)} m/s)`
            : "the motors cannot start the car",
      ),
    ),
    el(
      "figure",
      {},
      axleSvg(a, d.b, BEND, `${r.scenario.name} from behind, ${loadWords(r.load)}`),
      say(
        "figcaption",
        {},
        `Seen from behind; one dot is one hole, ${plain(r.scenario.holePitchMm)} mm apart. ${bend ? `The ${bend.side} ${ARM_WORDS[bend.arm]} bends ${fixed(bend.mm, 1)} mm, the most of all; bends are drawn ×${BEND}.` : "No arm bends by a tenth of a millimetre."}${d.b ? " Dashed: design B." : ""}${d.bReason ? ` B has no answer at this load: ${d.bReason}` : ""}`,
      ),
    ),
    el(
      "dl",
      {},
      ...SUMMARY_ROWS.map(([title, key]) => say("dt", {}, title) + say("dd", {}, told[key])),
      ...told.known.map((line) => say("dt", {}, "How its values are known") + say("dd", {}, line)),
    ),
    el("div", { class: "note" }, say("strong", {}, "Cautions"), list(told.cautions)),
  );
}

const textOf = (text: string): string => say("span", {}, text);

function safeHere(d: ReportData): { kmh: number; g: number; gives: string } {
  const base = d.changes?.base;
  if (!base) return { kmh: 0, g: 0, gives: "the car finds no rest" };
  const words = mapWords(base.gives ?? "camber", d.a.corners.right);
  return { kmh: mpsToKmh(base.safeSpeedMps), g: base.safeLateralG, gives: base.gives ? `${words.part} ${words.does}` : "there is no steady position" };
}

function stairTable(caption: string, left: Stair, right: Stair): string {
  const keys = [...new Map([...left.steps, ...right.steps].map((s) => [s.key, s.words]))];
  const cell = (stair: Stair, key: string): string => {
    const step = stair.steps.find((s) => s.key === key);
    return step ? signed(step.deg, 2) : "";
  };
  return table({
    caption,
    head: ["", "left wheel, °", "right wheel, °"],
    rows: [
      ...keys.map(([key, words]) => [words, cell(left, key), cell(right, key)]),
      ["together (camber)", { markup: say("strong", {}, signed(left.total, 2)) }, { markup: say("strong", {}, signed(right.total, 2)) }],
    ],
    words: [0],
  });
}

/** Why the wheels lean, told in both ways, and the forces. */
export function leanSection(d: ReportData): string {
  const { report } = d.a;
  const both = (f: (side: "left" | "right") => string): string[] => SIDES.map(f);
  const band = (r: [number, number] | null): string => (r && r[1] - r[0] > 0.005 ? `${signed(r[0], 2)} to ${signed(r[1], 2)}` : "none");
  return section(
    "Why the wheels lean",
    null,
    el(
      "div",
      { class: "charts" },
      stairTable("By the part that gives, both sides of the car together", stairByPart(report, "left"), stairByPart(report, "right")),
      stairTable("By what moved", stairByMotion(report, "left"), stairByMotion(report, "right")),
    ),
    table({
      caption: "Lean, loads and forces",
      head: ["", "left wheel", "right wheel"],
      rows: [
        ["lean (camber), + is top outwards", ...both((s) => `${signed(report[s].camberDeg, 2)}°, ${leanWords(report[s].camberDeg)}`)],
        ["lean that play leaves open, °", ...both((s) => band(report[s].camberBandDeg))],
        ["lean, depending on how the tyres share the side force, °", ...both((s) => band(report[s].camberByLoadExponentDeg))],
        ["load on the road, N", ...both((s) => fixed(report[s].verticalLoadN, 1))],
        ["side force, N, + to the right", ...both((s) => signed(report[s].lateralLoadN, 1))],
        ["wheel travel against the body, mm, + up", ...both((s) => signed(report[s].wheelTravelMm, 1))],
        ["spring force, N", ...both((s) => fixed(report[s].springForceN, 1))],
        ...ARM_NAMES.map((n) => [`${ARM_WORDS[n]} along itself, N, + pulled`, ...both((s) => signed(report[s].armAxialForceN[n], 1))]),
      ],
      words: [0],
    }),
    paragraph(
      `The body leans ${fixed(Math.abs(report.rollDeg), 2)}° (roll)${Math.abs(report.rollDeg) < 0.005 ? "" : `, ${report.rollDeg > 0 ? "left" : "right"} side up`}, and stands ${signed(report.heaveMm, 1)} mm against as built (heave).`,
      "note",
    ),
  );
}

export function compareSection(d: ReportData): string {
  const { request: r, a, b } = d;
  if (!r.b || !b) return "";
  const at = (map: ReportData["map"] | null): number | null => (map ? mpsToKmh(safeSpeedAt(map, r.radiusM).speedMps) : null);
  const rows = compareRows(a.report, b.report, { radiusM: r.radiusM, a: at(d.map), b: at(d.bMap) }, { a: atFullPush(r.scenario), b: atFullPush(r.b) });
  const apart = differences(r.scenario, r.b).flatMap(leaves);
  return section(
    "A against B",
    null,
    el("p", {}, say("strong", {}, "A "), textOf(`${r.scenario.name}; `), el("span", { class: "b" }, say("strong", {}, "B "), textOf(r.b.name))) +
      table({ caption: "Under the same load", head: ["", "A", "B", "B − A"], rows: rows.map((x) => [x.what, x.a, x.b, x.change]), words: [0] }),
    apart.length === 0
      ? paragraph("The two designs are the same.")
      : table({
          caption: "What differs",
          head: ["value", "A", "B"],
          rows: apart.map((x) => [x.name, x.aWords, x.bWords]),
          words: [0, 1, 2],
          className: "loose",
        }),
  );
}

/** The page for the bench. */
export function buildSection(d: ReportData): string {
  const b: BuildList = buildList(d.request.scenario, d.a.corners, d.a.state, d.alike);
  const car = carRows(d.request.scenario, d.drive.trackMm).map(([what, value]) => [what, value, ...(b.alike ? [] : [""])]);
  const off = b.holes.filter((h) => !h.onGrid && h.what !== "spring seat");
  const sides = b.alike ? [] : ["side"];
  const side = (s: string): string[] => (b.alike ? [] : [s]);
  const shift = sides.length;
  const partRows = b.parts.map((p) => [
    `${p.group}: ${p.what}`,
    ...(b.alike || p.left === p.right ? (b.alike ? [p.right] : [p.left, "the same"]) : [p.left, p.right]),
  ]);
  return section(
    "Building list",
    "fresh",
    paragraph(
      `${b.alike ? "Both sides alike. " : ""}Out is measured from the car's middle line, up from the road, as built and unloaded. One hole is ${plain(b.pitchMm)} mm.`,
      "note",
    ),
    table({
      caption: "Holes",
      head: ["point", ...sides, "out, mm", "up, mm", "out, holes", "up, holes"],
      rows: b.holes.map((h) => [h.what, ...side(h.side), plain(h.outMm), plain(h.upMm), plain(h.outHoles), plain(h.upHoles)]),
      words: [0, ...sides.map(() => 1)],
    }),
    off.length > 0
      ? paragraph(`Between the holes: ${[...new Set(off.map((h) => h.what))].join(", ")}. These need a part of their own, or another place.`, "note")
      : "",
    table({
      caption: "Arms",
      head: ["arm", ...sides, "length, mm", "holes", "built as", "section, mm", "material"],
      rows: b.arms.map((x) => [ARM_WORDS[x.arm], ...side(x.side), plain(x.lengthMm), plain(x.lengthHoles), x.layout, x.section, x.material]),
      words: [0, ...sides.map(() => 1), 3 + shift, 4 + shift, 5 + shift],
    }),
    table({
      caption: "Springs, joints, hubs, wheels and car",
      head: b.alike ? ["part", "each side"] : ["part", "left", "right"],
      rows: [...partRows, ...car],
      words: b.alike ? [0, 1] : [0, 1, 2],
    }),
  );
}

export function curvesSection(d: ReportData): string {
  const { load, scenario } = d.request;
  const travel = d.a.report[outerSide(load.lateralG)].wheelTravelMm;
  const models = charts(d.curves, load.lateralG, travel, CURVES_TO_G, scenario.limits.camberDeg);
  const end = d.curves.a.sweep.endsAtG;
  return section(
    "Curves",
    "together",
    el("div", { class: "charts" }, ...models.map((m) => el("figure", {}, chartSvg(m)))),
    paragraph(
      `Upright line: the load of this report. Lean and loads over cornering under this road; the last three over the travel of the outer wheel alone.${end === null ? "" : ` The curves over cornering end at ${fixed(end, 2)} g: ${d.curves.a.sweep.endsBy}.`}${d.b ? " Dashed: B." : ""}`,
      "note",
    ),
  );
}

export function groundSection(d: ReportData): string {
  return section(
    "Taken for granted",
    null,
    list(assumptions(d)),
    table({
      caption: "Materials",
      head: ["material", "used for", "stiffness, MPa", "yields at, MPa", "where the values come from"],
      rows: materialRows(d.a.corners).map((m) => [m.name, m.used, plain(m.youngMPa, 0), plain(m.yieldMPa, 1), m.source]),
      words: [0, 1, 4],
    }),
    knownTable(d.request.scenario),
    el("section", { class: "together" }, say("h3", {}, "Caution"), list(CAUTIONS)),
  );
}
