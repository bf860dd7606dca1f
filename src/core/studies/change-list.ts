import { editCorners } from "../design/edit-corners.ts";
import { sprungMassKg } from "../design/mass.ts";
import { keptOrigins } from "../design/origins.ts";
import type { Arm, ArmName, Corner, Joint, JointName, Retention, Scenario, Section } from "../design/types.ts";
import { JOINT_NAMES } from "../design/types.ts";
import { type HoleMove, holeMoves } from "./hole-moves.ts";

/** What a change costs the builder. */
export type CostKind = "setting" | "part swap" | "new print" | "re-drilling holes" | "moving weight" | "glue";

export interface Change {
  id: string;
  /** what is done, in words */
  title: string;
  costKind: CostKind;
  /** the cost in words */
  cost: string;
  scenario: Scenario;
  /** the spring is trimmed so that the car stands as high as before */
  trim: boolean;
  /** a pivot moved by holes, one of several of its kind; null: a change of its own */
  move: HoleMove | null;
}

type Draft = Omit<Change, "scenario" | "trim" | "move"> & { scenario: Scenario | null; trim?: boolean; move?: HoleMove };

const mm = (v: number): string => `${Math.round(v * 100) / 100} mm`;
const round = (v: number): number => Math.round(v * 1000) / 1000 + 0;

/** Every sensible single change to a design, pins by one to four holes. Values added (a stiffer spring, a pin of 3 mm) are steps that a builder has in the box; invented, not measured. */
export function singleChanges(s: Scenario): Change[] {
  const drafts: Draft[] = [...springs(s), ...bar(s), ...arms(s), ...joints(s), ...hub(s), ...retention(s), ...weight(s), ...holeMoves(s), ...tyres(s)];
  return drafts.flatMap((d) =>
    d.scenario === null ? [] : [{ trim: false, move: null, ...d, scenario: { ...keptOrigins(s, d.scenario), name: `${s.name}, ${d.title}`.slice(0, 120) } }],
  );
}

const both = (s: Scenario, edit: (c: Corner) => Corner): Scenario => editCorners(s, edit);

function springs(s: Scenario): Draft[] {
  return [1.25, 1.6, 0.8].map((factor): Draft => {
    const rate = round(s.corner.spring.rateNPerMm * factor);
    return {
      id: `spring×${factor}`,
      title: `${factor > 1 ? "stiffer" : "softer"} springs, ${rate} N/mm`,
      costKind: "part swap",
      cost: "other springs",
      trim: true,
      scenario: both(s, (c) => ({ ...c, spring: { ...c.spring, rateNPerMm: round(c.spring.rateNPerMm * factor) } })),
    };
  });
}

function bar(s: Scenario): Draft[] {
  const now = s.antiRollBar.rateNPerMm;
  const rate = now > 0 ? round(now * 1.5) : 1;
  const out: Draft[] = [
    {
      id: "bar",
      title: now > 0 ? `stiffer anti-roll bar, ${rate} N/mm` : `an anti-roll bar, ${rate} N/mm`,
      costKind: "part swap",
      cost: now > 0 ? "a thicker bar" : "a bar and its links",
      scenario: { ...s, antiRollBar: { ...s.antiRollBar, rateNPerMm: rate } },
    },
  ];
  if (now > 0)
    out.push({
      id: "noBar",
      title: "no anti-roll bar",
      costKind: "part swap",
      cost: "taken off",
      scenario: { ...s, antiRollBar: { ...s.antiRollBar, rateNPerMm: 0 } },
    });
  return out;
}

function scaled(section: Section, wider: number, taller: number): Section {
  switch (section.shape) {
    case "round":
      return { ...section, diameterMm: round(section.diameterMm * Math.sqrt(wider) + taller) };
    case "tube":
      return { ...section, outerMm: round(section.outerMm * Math.sqrt(wider) + taller), innerMm: round(section.innerMm * Math.sqrt(wider) + taller) };
    default:
      return { ...section, widthMm: round(section.widthMm * wider), heightMm: round(section.heightMm + taller) };
  }
}

const withArm = (c: Corner, names: readonly ArmName[], edit: (a: Arm) => Arm): Corner => {
  const out = { ...c };
  for (const n of names) {
    if (n === "upper") out.upperArm = edit(c.upperArm);
    else out.lowerArm = edit(c.lowerArm);
  }
  return out;
};

function arms(s: Scenario): Draft[] {
  const out: Draft[] = [];
  const groups: { id: string; words: string; names: readonly ArmName[] }[] = [
    { id: "lower", words: "lower arms", names: ["lower"] },
    { id: "upper", words: "upper arms", names: ["upper"] },
    { id: "both", words: "all arms", names: ["upper", "lower"] },
  ];
  for (const g of groups) {
    const now = g.names.map((n) => (n === "upper" ? s.corner.upperArm : s.corner.lowerArm));
    if (now.some((a) => a.layout !== "straight"))
      out.push({
        id: `straight ${g.id}`,
        title: `straight ${g.words}, one bar as thick as both legs`,
        costKind: "new print",
        cost: "new arms",
        scenario: both(s, (c) =>
          withArm(c, g.names, (a) => (a.layout === "straight" ? a : { ...a, layout: "straight", section: scaled(a.section, 2, 0), stemSection: null })),
        ),
      });
    for (const taller of [1, 2])
      out.push({
        id: `taller ${g.id} ${taller}`,
        title: `${g.words} ${taller} mm taller`,
        costKind: "new print",
        cost: "new arms",
        scenario: both(s, (c) =>
          withArm(c, g.names, (a) => ({ ...a, section: scaled(a.section, 1, taller), stemSection: a.stemSection && scaled(a.stemSection, 1, taller) })),
        ),
      });
  }
  for (const [material, words] of [
    ["pa6gf30", "glass-filled nylon"],
    ["aluminium", "aluminium"],
  ] as const) {
    const isIt = (a: Arm): boolean => (typeof a.material === "string" ? a.material === material : a.material.name.startsWith(material));
    if (isIt(s.corner.upperArm) && isIt(s.corner.lowerArm)) continue;
    out.push({
      id: `material ${material}`,
      title: `all arms of ${words}`,
      costKind: "part swap",
      cost: "the same arms in another material",
      scenario: both(s, (c) => withArm(c, ["upper", "lower"], (a) => ({ ...a, material }))),
    });
  }
  return out;
}

const withJoints = (c: Corner, edit: (j: Joint) => Joint): Corner => ({
  ...c,
  joints: Object.fromEntries(JOINT_NAMES.map((n) => [n, edit(c.joints[n])])) as Record<JointName, Joint>,
});

function joints(s: Scenario): Draft[] {
  const loosest = Math.max(...JOINT_NAMES.map((n) => s.corner.joints[n].clearanceMm));
  const tight = round(loosest / 3);
  return [
    {
      id: "tight pins",
      title: `tighter pins, ${mm(tight)} play`,
      costKind: "part swap",
      cost: "new pins or bushes",
      scenario: loosest > 0 ? both(s, (c) => withJoints(c, (j) => ({ ...j, clearanceMm: Math.min(j.clearanceMm, tight) }))) : null,
    },
    {
      id: "stiff mounts",
      title: "braced pivots, mounts twice as stiff",
      costKind: "new print",
      cost: "braces beside the pivots",
      scenario: both(s, (c) => withJoints(c, (j) => ({ ...j, mountNPerMm: j.mountNPerMm * 2 }))),
    },
    {
      id: "strong joints",
      title: "joints that hold half as much again",
      costKind: "part swap",
      cost: "other ball joints and pins",
      scenario: both(s, (c) => withJoints(c, (j) => ({ ...j, pullOutN: round(j.pullOutN * 1.5) }))),
    },
  ];
}

function hub(s: Scenario): Draft[] {
  const h = s.corner.hub;
  const set = (edit: (h: Corner["hub"]) => Corner["hub"]): Scenario => both(s, (c) => ({ ...c, hub: edit(c.hub) }));
  const out: Draft[] = [
    {
      id: "stiff bearing",
      title: "wheel bearings twice as stiff against tilting",
      costKind: "part swap",
      cost: "a wider or a second bearing",
      scenario: set((x) => ({ ...x, tiltStiffnessNmmPerDeg: x.tiltStiffnessNmmPerDeg * 2 })),
    },
    {
      id: "tight bearing",
      title: `wheel bearings with a third of the tilt play, ${round(h.tiltPlayDeg / 3)}°`,
      costKind: "part swap",
      cost: "tighter bearings or shims",
      scenario: h.tiltPlayDeg > 0 ? set((x) => ({ ...x, tiltPlayDeg: round(x.tiltPlayDeg / 3) })) : null,
    },
    {
      id: "bearing inwards",
      title: "wheel bearing 3 mm nearer to the middle of the tread",
      costKind: "new print",
      cost: "a deeper wheel or another hub",
      scenario: Math.abs(h.bearingOffsetMm) >= 3 ? set((x) => ({ ...x, bearingOffsetMm: round(x.bearingOffsetMm - 3 * Math.sign(x.bearingOffsetMm)) })) : null,
    },
  ];
  for (const step of [-1, 1])
    out.push({
      id: `camber ${step}`,
      title: `static camber ${step < 0 ? "1° more inwards" : "1° more outwards"} at the top`,
      costKind: "setting",
      cost: "an adjusted upper link, or a shim",
      scenario: set((x) => ({ ...x, staticCamberDeg: round(x.staticCamberDeg + step) })),
    });
  return out;
}

function retention(s: Scenario): Draft[] {
  const r = s.corner.hub.retention;
  const to = (id: string, title: string, cost: string, next: (r: Retention) => Retention, costKind: CostKind = "new print"): Draft => ({
    id,
    title,
    costKind,
    cost,
    scenario: both(s, (c) => ({ ...c, hub: { ...c.hub, retention: next(c.hub.retention) } })),
  });
  const radius = r.kind === "lip" ? r.radiusMm : r.kind === "crossPin" ? r.shearRadiusMm : r.threadRadiusMm;
  const out: Draft[] = [];
  if (r.kind !== "crossPin")
    out.push(
      to(
        "cross-pin",
        "cross-pin the wheel, 3 mm pin",
        "a hole through wheel and hub, and a pin",
        (x) => ({ kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: radius, journalShare: x.journalShare }),
        "re-drilling holes",
      ),
    );
  if (r.kind !== "screwedRing")
    out.push(
      to("screwed ring", "hold the wheel with a screwed ring", "new hub and ring with a thread", (x) => ({
        kind: "screwedRing",
        threadRadiusMm: round(radius + 1),
        engagedLengthMm: 3,
        shearStrengthMPa: 20,
        journalShare: x.journalShare,
      })),
    );
  if (r.kind === "lip") {
    out.push(
      to("wider lip", "a lip 1 mm further out", "new hub and wheel", (x) =>
        x.kind === "lip" ? { ...x, radiusMm: round(x.radiusMm + 1), shoulderRadiusMm: round(x.shoulderRadiusMm + 1) } : x,
      ),
    );
    out.push(
      to("stronger lip", "a lip that holds a quarter more", "a thicker lip", (x) => (x.kind === "lip" ? { ...x, capacityN: round(x.capacityN * 1.25) } : x)),
    );
  }
  if (r.kind === "crossPin")
    out.push(
      to(
        "thicker pin",
        "a cross-pin 1 mm thicker",
        "a larger hole and pin",
        (x) => (x.kind === "crossPin" ? { ...x, pinDiameterMm: x.pinDiameterMm + 1 } : x),
        "re-drilling holes",
      ),
    );
  if (r.journalShare < 0.7)
    out.push(
      to("journal", "a longer stub that carries 30 % more of the tilting", "a longer stub and bore", (x) => ({
        ...x,
        journalShare: round(Math.min(1, x.journalShare + 0.3)),
      })),
    );
  return out;
}

function weight(s: Scenario): Draft[] {
  const { body } = s;
  return [
    {
      id: "lower",
      title: "lower the weight by 10 mm",
      costKind: "moving weight",
      cost: "move the battery",
      scenario: body.cgHeightMm > 20 ? { ...s, body: { ...body, cgHeightMm: round(body.cgHeightMm - 10) } } : null,
    },
    {
      id: "lighter",
      title: "10 % lighter body",
      costKind: "moving weight",
      cost: "leave something out",
      trim: true,
      // a tenth of what is on the springs, front and rear alike: the share on this axle stays
      scenario: body.axleShare > 0 ? { ...s, body: { ...body, carMassKg: round(body.carMassKg - (0.1 * sprungMassKg(s)) / body.axleShare) } } : null,
    },
  ];
}

function tyres(s: Scenario): Draft[] {
  const { seat } = s.corner.tyre;
  const set = (kind: "glue" | "sideDiscs", extraHoldN: number): Scenario =>
    both(s, (c) => ({ ...c, tyre: { ...c.tyre, seat: { ...c.tyre.seat, kind, extraHoldN: Math.max(extraHoldN, c.tyre.seat.extraHoldN) } } }));
  return [
    {
      id: "glue",
      title: "glue the tyres",
      costKind: "glue",
      cost: "glue; the tyres stay on these rims",
      scenario: seat.kind === "glue" ? null : set("glue", 60),
    },
    {
      id: "discs",
      title: "side discs for the tyres",
      costKind: "new print",
      cost: "two discs per wheel",
      scenario: seat.kind === "stretchedBand" ? set("sideDiscs", 25) : null,
    },
    {
      id: "stiffer tyre",
      title: "tyres a quarter stiffer",
      costKind: "part swap",
      cost: "firmer inserts",
      scenario: both(s, (c) => ({ ...c, tyre: { ...c.tyre, verticalNPerMm: round(c.tyre.verticalNPerMm * 1.25) } })),
    },
  ];
}
