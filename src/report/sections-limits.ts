import type { LimitName, LimitResult } from "../core/analysis.ts";
import { capital } from "../core/capital.ts";
import { cornerOf } from "../core/design/sides.ts";
import { SIDES, type Side } from "../core/design/types.ts";
import { explainLimit } from "../core/limits/explain.ts";
import { heldWords } from "../core/limits/held-words.ts";
import { LIMITS } from "../core/limits/records.ts";
import { safeSpeedAt } from "../core/studies/map-levels.ts";
import { type ChangeResult, helps, rankChanges, worsening } from "../core/studies/rank-changes.ts";
import type { SpeedMap } from "../core/studies/speed-map.ts";
import { mpsToKmh } from "../core/units.ts";
import { degrees, figures, fixed, signed, withUnit } from "../view/format.ts";
import { hatch } from "../view/geometry.ts";
import { mapWords } from "../view/map/names.ts";
import { holdsFrom } from "../view/map/words.ts";
import { rampStep } from "../view/parts/hub.ts";
import { distanceWords, SIDE_WORDS } from "../view/words.ts";
import { plain } from "./build-list.ts";
import type { ReportData } from "./data.ts";
import { mapSvg } from "./map-svg.ts";
import { at, type Cell, el, list, paragraph, say, table } from "./markup.ts";
import { section } from "./sections.ts";
import { drivingTable, pedalTail } from "./sections-push.ts";
import { toneOf } from "./tones.ts";
import { curveWords } from "./words.ts";

const BAR = { width: 104, height: 14, most: 1.36 } as const;
const HATCH_PX = [0, 9, 5, 6] as const;
const WHOLE = 1e6;

/** How far a limit is used: a bar from nought with a post at one; each step has its hatch, what gives has a torn end. */
export function barSvg(utilization: number): string {
  const { width, height, most } = BAR;
  const post = width / most;
  const torn = utilization > most;
  const to = Math.max(1, Math.min(utilization, most) * post);
  const step = rampStep(utilization);
  const end: [number, number][] = torn
    ? [
        [to, 2],
        [to - 4, 5],
        [to, 8],
        [to - 4, height - 2],
      ]
    : [
        [to, 2],
        [to, height - 2],
      ];
  const outline: [number, number][] = [[0, 2], ...end, [0, height - 2]];
  const pairs = step === 0 ? [] : [...hatch(outline, Math.PI / 4, HATCH_PX[step]), ...(step === 3 ? hatch(outline, -Math.PI / 4, HATCH_PX[step]) : [])];
  let lines = "";
  for (let i = 0; i + 1 < pairs.length; i += 2) lines += `M${at(pairs[i]![0])} ${at(pairs[i]![1])}L${at(pairs[i + 1]![0])} ${at(pairs[i + 1]![1])}`;
  const d = outline.map((p, i) => `${i === 0 ? "M" : "L"}${at(p[0])} ${at(p[1])}`).join("");
  return el(
    "svg",
    { class: "used", viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" },
    el("path", { d: `${d}Z`, fill: toneOf(`u-${step}`), stroke: toneOf(`u-${step}-line`), "stroke-width": 0.5 }),
    lines === "" ? "" : el("path", { d: lines, stroke: toneOf(`u-${step}-line`), "stroke-width": 0.75 }),
    el("path", { d: `M${at(post)} 0V${height}`, stroke: toneOf("ink"), "stroke-width": 1.5 }),
  );
}

const used = (l: LimitResult): string =>
  l.place ? withUnit(l.place.distanceMm, 1, "mm") : l.utilization > WHOLE ? "no hold" : `${fixed(100 * l.utilization, 0)} %`;

function limitRow(l: LimitResult): Cell[] {
  const words = LIMITS[l.name].words;
  const name = `${say("span", {}, words.row)} ${say("span", { class: "term" }, `${words.term}${l.caution ? ", a caution only" : ""}`)}`;
  return [
    { markup: name },
    `${SIDE_WORDS[l.wheel]}: ${l.part}`,
    distanceWords(l) ?? heldWords(l.name, figures(l.demand), figures(l.capacity), ""),
    l.place ? "" : l.unit,
    { markup: barSvg(l.utilization) },
    { markup: say("span", { class: l.utilization >= 1 ? "over" : null }, used(l)) },
  ];
}

const EXPLAINED = 3;

const HELPS_TOLD = 3;

/** What the study of single changes found for a limit of this very car. */
function whatHelps({ changes }: ReportData, name: LimitName): string {
  if (!changes) return "";
  const best = rankChanges(changes.solved, name, changes.base)
    .filter((r) => helps(r, name) && worsening(r, changes.base) === null)
    .slice(0, HELPS_TOLD)
    .map(({ change, outcome }) => `${change.title} (then ${fixed(100 * (outcome.utilization?.[name] ?? 0), 0)} %)`);
  return best.length > 0 ? `What helps, solved for this car: ${best.join("; ")}.` : "No single change that was solved for this car helps here.";
}

/** All limits, and the nearest three in plain words with what helps them. */
export function limitsSection(d: ReportData): string {
  const { report } = d.a;
  // a caution breaks nothing by itself: it comes after what gives
  const ordered = [...report.limits.filter((l) => !l.caution), ...report.limits.filter((l) => l.caution)];
  const nearest: LimitResult[] = [];
  for (const l of report.limits) if (!l.caution && !nearest.some((n) => n.name === l.name)) nearest.push(l);
  nearest.sort((a, b) => b.utilization - a.utilization);
  const explained = nearest.slice(0, EXPLAINED).map((l) => {
    const corner = cornerOf(d.request.scenario, l.wheel === "both" ? "right" : l.wheel);
    const e = explainLimit(l.name, corner);
    const inputs = l.inputs.map((i) => `${i.name} ${plain(i.value)} ${i.unit}`.trim()).join("; ");
    return (
      say("dt", {}, `${capital(e.title)} (${e.term}): ${used(l)}, ${SIDE_WORDS[l.wheel]}`) +
      say("dd", {}, e.plain) +
      el("dd", {}, "Formula: ", say("span", { class: "formula" }, e.formula), ".") +
      (inputs === "" ? "" : say("dd", { class: "small" }, `Here: ${inputs}.`)) +
      say("dd", {}, whatHelps(d, l.name))
    );
  });
  const lip = d.lip ? SIDES.map((s: Side) => (d.lip as NonNullable<ReportData["lip"]>)[s].words) : [];
  return section(
    "What gives first",
    null,
    paragraph(
      "Used is what the load asks for over what the part holds: at 100 % it gives. The post on each bar stands at 100 %. Room to body and road is told in mm; below nought parts touch.",
      "note",
    ),
    table({ head: ["limit", "where", "asked, and what holds", "unit", "", "used"], rows: ordered.map(limitRow), words: [0, 1, 3, 4] }),
    el("dl", {}, ...explained),
    lip.length > 0 ? paragraph(`Does standing the wheel up help? Read from the model at this load: ${lip.join("; ")}.`) : "",
  );
}

const HANDS = { left: "left-hand", right: "right-hand" } as const;

/** The speed map, for both hands where they differ, and the safe speeds in a table. */
export function mapSection(d: ReportData): string {
  const { request: r, map, otherMap, bMap, range } = d;
  const corner = d.a.corners.right;
  const hand = d.hand;
  const other = hand === "left" ? "right" : "left";
  const place = r.load.lateralG === 0 || r.load.bumpLeftMm !== 0 || r.load.bumpRightMm !== 0 ? null : { radiusM: r.radiusM, kmh: d.speedKmh };
  const picture = (m: SpeedMap, b: SpeedMap | null, name: string, id: string, here: typeof place): string =>
    el(
      "figure",
      {},
      mapSvg({ map: m, b, scenario: r.scenario, corner, range, place: here, id, name }),
      say("figcaption", {}, `${name}. Plain: under 60 % of every limit; wide slant: from 60 %; tight slant: from 85 %; crossed: something gives.`),
    );
  const shock = `road shock ×${plain(r.shock)}, level road${pedalTail(r.load)}`;
  const from = holdsFrom(map);
  const reach = mpsToKmh(map.reachableMps);
  const told =
    reach > 0
      ? `${map.driven ? "Top speed driven" : "The drive reaches"}${map.driven ? ":" : ""} ${withUnit(reach, 1, "km/h")}. ${from === null ? "On no curve does everything hold up to that speed." : `On curves wider than ${withUnit(from, from < 20 ? 1 : 0, "m")} nothing gives ${map.driven ? "below that" : "before the drive runs out"}.`}`
      : "";
  return section(
    "How fast through which curve",
    null,
    (told === "" ? "" : paragraph(told)) +
      picture(map, bMap, `${capital(HANDS[hand])} curves, ${shock}${bMap ? "; dashed: below this B is safe" : ""}`, "map", place),
    otherMap ? picture(otherMap, null, `${capital(HANDS[other])} curves, ${shock}`, "map-other", null) : "",
    otherMap ? "" : paragraph("The car is built alike on both sides: curves the other way give the same.", "note"),
    safeTable(d),
    drivingTable(d),
  );
}

const TABLE_RADII_M = [2, 3, 4, 6, 8, 12, 20];

function safeTable(d: ReportData): string {
  const { request: r, map, otherMap, bMap } = d;
  const radii = [...new Set([...TABLE_RADII_M, r.radiusM, ...r.scenario.tracks.map((t) => t.radiusM)])].sort((a, b) => a - b);
  const corner = d.a.corners.right;
  const cells = (m: SpeedMap, radiusM: number): string[] => {
    const p = safeSpeedAt(m, radiusM);
    const gives = p.limit ? mapWords(p.limit, corner).line : "no steady position";
    return [fixed(mpsToKmh(p.speedMps), 1), fixed(p.lateralG, 2), gives];
  };
  const other = otherMap ? ["the other hand, km/h", "g", "gives first"] : [];
  return table({
    caption: "Highest speed at which nothing gives",
    head: [
      "radius, m",
      "track",
      `${HANDS[d.hand]}, km/h`,
      "g",
      "gives first",
      ...other,
      ...(bMap ? ["B, km/h"] : []),
      map.driven ? "driven so fast" : "drive gets there",
    ],
    rows: radii.map((radiusM) => {
      const safe = Math.min(safeSpeedAt(map, radiusM).speedMps, otherMap ? safeSpeedAt(otherMap, radiusM).speedMps : Number.POSITIVE_INFINITY);
      return [
        plain(radiusM),
        r.scenario.tracks.find((t) => t.radiusM === radiusM)?.name ?? "",
        ...cells(map, radiusM),
        ...(otherMap ? cells(otherMap, radiusM) : []),
        ...(bMap ? [fixed(mpsToKmh(safeSpeedAt(bMap, radiusM).speedMps), 1)] : []),
        safe < map.reachableMps ? "yes" : "no",
      ];
    }),
    words: otherMap ? [1, 4, 7] : [1, 4],
  });
}

const BEST = 12;
const WORST = 4;
/** A change in speed below this is none, km/h. */
const NONE_KMH = 0.05;

/** What single changes buy, best first; those that make it worse are named too, so that nobody walks into them. */
export function changesSection(d: ReportData): string {
  const { changes } = d;
  if (!changes) return section("What to change first", null, paragraph("The car finds no steady position at rest, so no change can be judged."));
  const corner = d.a.corners.right;
  const row = ({ change, outcome, buys }: ChangeResult): string[] => [
    change.title,
    change.cost === change.costKind ? change.cost : `${change.costKind}: ${change.cost}`,
    signed(mpsToKmh(buys.speedMps), 1),
    fixed(mpsToKmh(outcome.safeSpeedMps), 1),
    buys.leanDeg === null ? "–" : signed(buys.leanDeg, 2),
    outcome.gives ? mapWords(outcome.gives, corner).line : "no steady position",
  ];
  const head = ["change", "cost", "buys, km/h", "then safe, km/h", "lean less, °", "gives first then"];
  const best = changes.results.slice(0, BEST).filter((c) => helps(c, "speed"));
  const worst = changes.results
    .filter((c) => mpsToKmh(c.buys.speedMps) <= -NONE_KMH)
    .slice(-WORST)
    .reverse();
  const leaned = rankChanges(changes.solved, "lean", changes.base)
    .filter((c) => (c.buys.leanDeg ?? 0) > 0)
    .slice(0, 3);
  return section(
    "What to change first",
    null,
    paragraph(
      `One change at a time, solved again and ranked by the safe speed it buys on ${curveWords(d)}, ${HANDS[d.hand]}; the lean is told at this report's load. The ride height is trimmed back where a change would raise or lower the car.`,
      "note",
    ) + (best.length > 0 ? table({ head, rows: best.map(row), words: [0, 1, 5] }) : paragraph("No single change on the list buys safe speed here.")),
    worst.length > 0 ? table({ caption: "These make it worse", head, rows: worst.map(row), words: [0, 1, 5] }) : "",
    leaned.length > 0
      ? el(
          "div",
          {},
          paragraph("Least lean for one change:"),
          list(
            leaned.map((c) => `${c.change.title}: ${degrees(c.outcome.leanDeg as number, 2)}, ${signed(-(c.buys.leanDeg as number), 2)}° (${c.change.cost})`),
          ),
        )
      : "",
    changes.refused.length > 0 ? paragraph(`Not possible: ${changes.refused.map((x) => `${x.change.title} (${x.reason})`).join("; ")}.`, "note") : "",
  );
}
